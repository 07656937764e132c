"""[blade.spar.*]: what runs along the blade and carries, one model for each kind, with what the rules ask of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Annotated, ClassVar, Literal, NamedTuple

from pydantic import Discriminator, Field, Tag, WrapValidator

from geomgen.design.schema.kinds import TAG, told_by_kind
from geomgen.design.schema.place import At, Height, Place
from geomgen.design.schema.table import Table, leave_gap
from geomgen.design.schema.values import AtBothEnds, Play, Share, Slope, Small, Words
from geomgen.figures import at_least, mm

SubPath = tuple[str | int, ...]  # keys beneath a spar's own table
ROOT, TIP = Place(name="root"), Place(name="tip")
Stock = Words
Chord = Annotated[tuple[Share, Share], AtBothEnds()]


class MadeOf(NamedTuple):
    """A stock that a spar or a construction names: under which key, of which kind it must be, and how to say so."""

    path: SubPath
    stock: str
    kind: Literal["length", "sheet", "volume"]
    what: str
    flat: bool = False  # whether it must be a strip, with width and height


class Wrong(NamedTuple):
    """What is wrong with a table's own values: as a fault, its path beneath the table."""

    path: SubPath
    wrong: str
    allowed: str = ""
    remedy: str = ""


class Reader(NamedTuple):
    """What a spar judges its own places by.

    r     : r of a place [mm]
    exact : two r closer than this are one [mm]
    """

    r: Callable[[Place], float]
    exact: float


class Joint(Table):
    """How pieces are joined where the stock is shorter than the spar. [mm]."""

    kind: Literal["scarf", "sleeve"] = Field(description="a scarf in wood, a sleeve in a tube", examples=["scarf"])
    slope: Slope = Field(12.0, description="of a scarf: 1 in so much", examples=[12])
    stock: Stock | None = Field(None, description="of a sleeve: the rod or tube that fits inside")
    length: Small | None = Field(None, description="of a sleeve: its length; left out: 8 times the tube's outside")


class Run(Table):
    """What every spar has. [mm].

    made_of  : kind of stock that it is cut from
    flat     : whether that is a strip, with width and height
    built_up : whether it is built into the ribs, from the root on; a plain length is threaded through them, may reach
               into the hub, and can lie in a foam core
    """

    made_of: ClassVar[Literal["length", "sheet"]]
    flat: ClassVar[bool] = False
    built_up: ClassVar[bool] = True

    stock: Stock = Field(description="what it is cut from", examples=["carbon_tube_10"])
    from_: At = Field(ROOT, alias="from", description="where it begins")
    to: At = Field(TIP, description="where it ends")
    fit: Play = Field(0.1, description="its hole, notch or slot is this much wider")
    joint: Joint | None = Field(None, description="how it is joined where the stock is shorter")

    def stocks(self) -> Iterator[MadeOf]:
        """Every stock that it names."""
        yield MadeOf((), self.stock, self.made_of, "this kind of spar is", self.flat)
        if self.joint is not None and self.joint.stock is not None:
            yield MadeOf(("joint",), self.joint.stock, "length", "a sleeve is")

    def places(self) -> Iterator[tuple[SubPath, Place]]:
        """Places along the blade that it names besides its ends."""
        return iter(())

    def wrongs(self, read: Reader) -> Iterator[Wrong]:
        """What is wrong between values of its own, where every place is known."""
        return iter(())

    def heights(self) -> tuple[Height, Height]:
        """Heights of its line in the section, at its two ends."""
        return "camber", "camber"


class Spar(Run):
    """A straight length of stock through the ribs: on the feather axis, or at a place in the chord."""

    made_of = "length"
    built_up = False

    kind: Literal["single"] = Field("single", description="a tube, rod or strip through holes in the ribs")
    on: Literal["feather axis"] | None = Field(None, description="lies on the feather axis and turns in the hub")
    chord: Chord | None = Field(
        None, description="where it crosses the chord: one value, or [at from, at to]", examples=[0.6]
    )
    height: Annotated[tuple[Height, Height], AtBothEnds()] = Field(
        ("camber", "camber"), description="its height in the section: one value, or [at from, at to]"
    )

    def wrongs(self, read: Reader) -> Iterator[Wrong]:
        """It has one place: on the feather axis, or in the chord."""
        if self.on is None and self.chord is None:
            remedy = 'give chord = 0.6, or on = "feather axis" to the main spar'
            yield Wrong(("chord",), "the spar has no place in the chord", remedy=remedy)
        for key in ("chord", "height"):
            if self.on is not None and key in self.model_fields_set:
                wrong = "has no meaning for a spar on the feather axis"
                yield Wrong((key,), wrong, remedy=f"leave out {key}, or on")

    def heights(self) -> tuple[Height, Height]:
        """As the design has them."""
        return self.height


class Webs(Table):
    """Shear webs between two caps, one in each bay, their grain upright. [mm]."""

    stock: Stock = Field(description="sheet they are cut from", examples=["balsa_1_5"])
    from_: At = Field(ROOT, alias="from", description="where they begin")
    to: At = Field(TIP, description="where they end")
    side: Literal["ahead", "behind"] = Field("behind", description="the side of the caps they are glued to")


class CapSpar(Run):
    """Two strips let into the ribs' edges above and below, alone or with shear webs between them. [mm]."""

    made_of = "length"
    flat = True

    kind: Literal["caps"]
    chord: Chord = Field(
        description="where their middle crosses the chord: one value, or [at from, at to]", examples=[0.3]
    )
    layers: Annotated[tuple[At, ...], Field(min_length=1, max_length=8)] = Field(
        (TIP,), description="r at which each lamination ends, the outermost in the section first", examples=[["tip"]]
    )
    web: Webs | None = Field(None, description="shear webs between the caps")

    def stocks(self) -> Iterator[MadeOf]:
        """Its own, its sleeves' and its webs'."""
        yield from super().stocks()
        if self.web is not None:
            yield MadeOf(("web",), self.web.stock, "sheet", "webs are")

    def places(self) -> Iterator[tuple[SubPath, Place]]:
        """Where laminations end, and webs begin and end."""
        yield from ((("layers", index), place) for index, place in enumerate(self.layers))
        if self.web is not None:
            yield from ((("web", "from"), self.web.from_), (("web", "to"), self.web.to))

    def wrongs(self, read: Reader) -> Iterator[Wrong]:
        """Laminations end one before the other, and both they and webs end beyond where they begin."""
        begin, before = read.r(self.from_), read.r(self.layers[0])
        for index, place in enumerate(self.layers):
            here, r = ("layers", index), read.r(place)
            if r > before + read.exact:
                wrong = f"ends at r {mm(r)}, farther out than the lamination before it, at {mm(before)}"
                yield Wrong(here, wrong, remedy="write the longest first")
            yield from _backward(read, here, begin, r)
            before = r
        if self.web is not None:
            yield from _backward(read, ("web", "to"), read.r(self.web.from_), read.r(self.web.to))


class BoxSpar(Run):
    """A box folded or glued up from sheet, as deep as the section leaves inside. [mm]."""

    made_of = "sheet"

    kind: Literal["box"]
    chord: Chord = Field(
        description="where its middle crosses the chord: one value, or [at from, at to]", examples=[0.4]
    )
    width: Small = Field(description="its width over all, along the chord", examples=["30 mm"])


class UprightSpar(Run):
    """An upright sheet as deep as the ribs, halved into them. [mm]."""

    made_of = "sheet"

    kind: Literal["sheet"]
    chord: Chord = Field(description="where it crosses the chord: one value, or [at from, at to]", examples=[0.5])


AnySpar = Annotated[
    Annotated[Spar, Tag(f"{TAG}single")]
    | Annotated[CapSpar, Tag(f"{TAG}caps")]
    | Annotated[BoxSpar, Tag(f"{TAG}box")]
    | Annotated[UprightSpar, Tag(f"{TAG}sheet")],
    Discriminator(told_by_kind("single")),
    WrapValidator(leave_gap),
]


def _backward(read: Reader, path: SubPath, begin_mm: float, end_mm: float) -> Iterator[Wrong]:
    if end_mm <= begin_mm + read.exact:
        yield Wrong(path, f"ends at r {mm(end_mm)}, before it begins", f"more than {at_least(begin_mm)}")


def on_axis(spar: Run) -> bool:
    """Whether a spar is the one that lies on the feather axis."""
    return isinstance(spar, Spar) and spar.on is not None

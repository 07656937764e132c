"""[blade.spar.*]: what runs along the blade and carries, one model for each kind."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Discriminator, Field, Tag, WrapValidator

from geomgen.design.schema.kinds import TAG, told_by_kind
from geomgen.design.schema.place import At, Height, Place
from geomgen.design.schema.table import Table, leave_gap
from geomgen.design.schema.values import AtBothEnds, Distance, Share, Size, Slope, Words

ROOT, TIP = Place(name="root"), Place(name="tip")
Stock = Words
Chord = Annotated[tuple[Share, Share], AtBothEnds()]


class Joint(Table):
    """How pieces are joined where the stock is shorter than the spar. [mm]."""

    kind: Literal["scarf", "sleeve"] = Field(description="a scarf in wood, a sleeve in a tube", examples=["scarf"])
    slope: Slope = Field(12.0, description="of a scarf: 1 in so much", examples=[12])
    stock: Stock | None = Field(None, description="of a sleeve: the rod or tube that fits inside")
    length: Size | None = Field(None, description="of a sleeve: its length; left out: 8 times the tube's outside")


class Run(Table):
    """What every spar has. [mm]."""

    stock: Stock = Field(description="what it is cut from", examples=["carbon_tube_10"])
    from_: At = Field(ROOT, alias="from", description="where it begins")
    to: At = Field(TIP, description="where it ends")
    fit: Distance = Field(0.1, description="its hole, notch or slot is this much wider")
    joint: Joint | None = Field(None, description="how it is joined where the stock is shorter")


class Spar(Run):
    """A straight length of stock through the ribs: on the feather axis, or at a place in the chord."""

    kind: Literal["single"] = Field("single", description="a tube, rod or strip through holes in the ribs")
    on: Literal["feather axis"] | None = Field(None, description="lies on the feather axis and turns in the hub")
    chord: Chord | None = Field(
        None, description="where it crosses the chord: one value, or [at from, at to]", examples=[0.6]
    )
    height: Annotated[tuple[Height, Height], AtBothEnds()] = Field(
        ("camber", "camber"), description="its height in the section: one value, or [at from, at to]"
    )


class Webs(Table):
    """Shear webs between two caps, one in each bay, their grain upright. [mm]."""

    stock: Stock = Field(description="sheet they are cut from", examples=["balsa_1_5"])
    from_: At = Field(ROOT, alias="from", description="where they begin")
    to: At = Field(TIP, description="where they end")
    side: Literal["ahead", "behind"] = Field("behind", description="the side of the caps they are glued to")


class CapSpar(Run):
    """Two strips let into the ribs' edges above and below, alone or with shear webs between them. [mm]."""

    kind: Literal["caps"]
    chord: Chord = Field(
        description="where their middle crosses the chord: one value, or [at from, at to]", examples=[0.3]
    )
    layers: Annotated[tuple[At, ...], Field(min_length=1, max_length=8)] = Field(
        (TIP,), description="r at which each lamination ends, the outermost in the section first", examples=[["tip"]]
    )
    web: Webs | None = Field(None, description="shear webs between the caps")


class BoxSpar(Run):
    """A box folded or glued up from sheet, as deep as the section leaves inside. [mm]."""

    kind: Literal["box"]
    chord: Chord = Field(
        description="where its middle crosses the chord: one value, or [at from, at to]", examples=[0.4]
    )
    width: Size = Field(description="its width over all, along the chord", examples=["30 mm"])


class SheetSpar(Run):
    """An upright sheet as deep as the ribs, halved into them. [mm]."""

    kind: Literal["sheet"]
    chord: Chord = Field(description="where it crosses the chord: one value, or [at from, at to]", examples=[0.5])


AnySpar = Annotated[
    Annotated[Spar, Tag(f"{TAG}single")]
    | Annotated[CapSpar, Tag(f"{TAG}caps")]
    | Annotated[BoxSpar, Tag(f"{TAG}box")]
    | Annotated[SheetSpar, Tag(f"{TAG}sheet")],
    Discriminator(told_by_kind("single")),
    WrapValidator(leave_gap),
]


def on_axis(spar: Spar | CapSpar | BoxSpar | SheetSpar) -> bool:
    """Whether a spar is the one that lies on the feather axis."""
    return isinstance(spar, Spar) and spar.on is not None

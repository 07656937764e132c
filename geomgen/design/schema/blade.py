"""[blade] and its named tables: ribs, skins, spars, channels."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from geomgen.design.schema.place import At, Height, Place
from geomgen.design.schema.section import Section
from geomgen.design.schema.table import Table
from geomgen.design.schema.values import AtBothEnds, Distance, Length, Share, Size, SmallAngle, Words

ROOT, TIP = Place(name="root"), Place(name="tip")
Stock = Words


class Feather(Table):
    """The straight line the blade turns on to set pitch."""

    chord: Share = Field(0.25, description="where it crosses the chord, from the leading edge", examples=[0.25])
    height: Height = Field("camber", description="its height in the section", examples=["camber"])


class Entry(Table):
    """The blade at one r. A column left out is read straight between its neighbours. [mm], [deg]."""

    at: At = Field(description="r of this entry", examples=["100 %"])
    chord: Size | None = Field(None, description="chord of the section", examples=["150 mm"])
    twist: SmallAngle | None = Field(None, description="angle of the chord line, leading edge up", examples=["5 deg"])
    section: Section | None = Field(None, description="the aerofoil", examples=["naca 4412"])
    offset: Length | None = Field(None, description="section moved forward against the feather axis by this")


class Ribbed(Table):
    """Ribs under a skin. [mm]."""

    kind: Literal["ribbed"] = Field(description="how the blade is built", examples=["ribbed"])
    web: Size = Field(2.0, description="least wood left between holes, and from a hole to the edge")
    least_tail: Size = Field(2.5, description="a rib ends at the tail where it gets thinner than this")


class Lighten(Table):
    """Lightening holes. [mm]."""

    web: Size = Field(description="wood left all round each hole", examples=["5 mm"])
    least: Size = Field(8.0, description="no hole smaller than this")


class Ribs(Table):
    """A run of ribs along r. [mm]."""

    from_: At = Field(ROOT, alias="from", description="r of its first rib")
    to: At = Field(TIP, description="r of its last rib")
    every: Size = Field(description="greatest distance between ribs", examples=["60 mm"])
    stock: Stock = Field(description="sheet they are cut from", examples=["balsa_3"])
    lighten: Lighten | None = Field(None, description="lightening holes")


class Skin(Table):
    """A run of skin, all round the ribs."""

    from_: At = Field(ROOT, alias="from", description="where it begins")
    to: At = Field(TIP, description="where it ends")
    stock: Stock = Field(description="sheet it is cut from", examples=["foam_sheet_2"])


class Spar(Table):
    """A straight length of stock through the ribs: on the feather axis, or at a place in the chord."""

    stock: Stock = Field(description="length of stock it is cut from", examples=["carbon_tube_10"])
    on: Literal["feather axis"] | None = Field(None, description="lies on the feather axis and turns in the hub")
    chord: Annotated[tuple[Share, Share], AtBothEnds()] | None = Field(
        None, description="where it crosses the chord: one value, or [at from, at to]", examples=[0.6]
    )
    height: Annotated[tuple[Height, Height], AtBothEnds()] = Field(
        ("camber", "camber"), description="its height in the section: one value, or [at from, at to]"
    )
    from_: At = Field(ROOT, alias="from", description="where it begins")
    to: At = Field(TIP, description="where it ends")
    fit: Distance = Field(0.1, description="its hole is this much wider")


class Passes(Table):
    """What is threaded through a channel."""

    largest: Size = Field(description="the largest thing that must pass: plug, bullet", examples=["7.5 mm"])
    wires: tuple[Words, ...] = Field((), description="names of the [wire.*] tables that lie in it")


class Channel(Table):
    """A straight round way for wires through the ribs. [mm]."""

    chord: Annotated[tuple[Share, Share], AtBothEnds()] = Field(
        description="where it crosses the chord: one value, or [at from, at to]", examples=[0.4]
    )
    height: Annotated[tuple[Height, Height], AtBothEnds()] = Field(
        ("camber", "camber"), description="its height in the section: one value, or [at from, at to]"
    )
    diameter: Size = Field(description="diameter of its holes", examples=["9 mm"])
    from_: At = Field(ROOT, alias="from", description="where it begins")
    to: At = Field(TIP, description="where it ends")
    passes: Passes = Field(description="what is threaded through it")


class Blade(Table):
    """One blade; all blades of a craft are alike."""

    feather: Feather = Field(default_factory=Feather, description="the feather axis")
    along: tuple[Entry, ...] = Field(description="chord, twist, section and offset along r, straight between entries")
    construction: Ribbed = Field(description="how it is built")
    ribs: dict[str, Ribs] = Field(description="runs of ribs, by name")
    skin: dict[str, Skin] = Field(default_factory=dict, description="runs of skin, by name")
    spar: dict[str, Spar] = Field(description="spars, by name")
    channel: dict[str, Channel] = Field(default_factory=dict, description="ways for wires, by name")

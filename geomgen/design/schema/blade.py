"""[blade] and its named tables: ribs, skins, channels, jig, tip; its spars and construction have files of their own."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from geomgen.design.schema.balance import BladePocket
from geomgen.design.schema.construction import Construction
from geomgen.design.schema.place import At, Height
from geomgen.design.schema.section import Section
from geomgen.design.schema.spar import ROOT, TIP, AnySpar, Stock
from geomgen.design.schema.table import Table
from geomgen.design.schema.values import (
    AtBothEnds,
    ChordLength,
    Half,
    Margin,
    Offset,
    Share,
    Size,
    Small,
    SmallAngle,
    Spacing,
    Thin,
    Words,
)

MOST, FEW = 100, 20  # of a table's entries


class Feather(Table):
    """The straight line the blade turns on to set pitch."""

    chord: Share = Field(0.25, description="where it crosses the chord, from the nose", examples=[0.25])
    height: Height = Field("camber", description="its height in the section", examples=["camber"])


class Entry(Table):
    """The blade at one r. A column left out is read straight between its neighbours. [mm], [deg]."""

    at: At = Field(description="r of this entry", examples=["100 %"])
    chord: ChordLength | None = Field(None, description="chord of the section", examples=["150 mm"])
    twist: SmallAngle | None = Field(None, description="angle of the chord line, leading edge up", examples=["5 deg"])
    section: Section | None = Field(None, description="the aerofoil", examples=["naca 4412"])
    offset: Offset | None = Field(None, description="section moved forward against the feather axis by this")


class Lighten(Table):
    """Lightening: round holes, or a truss. [mm]."""

    by: Literal["holes", "truss"] = Field("holes", description="round holes, or triangles that leave a truss")
    web: Thin = Field(description="wood left all round each hole; width of a truss's members", examples=["5 mm"])
    least: Small = Field(8.0, description="no hole smaller than this")


class Ribs(Table):
    """A run of ribs along r. [mm]."""

    from_: At = Field(ROOT, alias="from", description="r of its first rib")
    to: At = Field(TIP, description="r of its last rib")
    every: Spacing = Field(description="greatest distance between ribs", examples=["60 mm"])
    stock: Stock = Field(description="sheet they are cut from", examples=["balsa_3"])
    lighten: Lighten | None = Field(None, description="lightening holes")


class Doubler(Table):
    """A second rib of another sheet glued to one that is there."""

    at: At = Field(description="r of the rib; the nearest one is taken", examples=["root"])
    stock: Stock = Field(description="sheet it is cut from", examples=["ply_1"])


class Skin(Table):
    """A run of skin, all round the ribs of a ribbed blade."""

    from_: At = Field(ROOT, alias="from", description="where it begins")
    to: At = Field(TIP, description="where it ends")
    stock: Stock = Field(description="sheet it is cut from", examples=["foam_sheet_2"])


class Passes(Table):
    """What is threaded through a channel."""

    largest: Small = Field(description="the largest thing that must pass: plug, bullet", examples=["7.5 mm"])
    wires: tuple[Words, ...] = Field((), max_length=MOST, description="names of the [wire.*] tables that lie in it")


class Exit(Table):
    """Where a channel's wires come out through the skin, at the channel's outer end. [mm]."""

    side: Half = Field("lower", description="the side they come out on")
    length: Small = Field(description="length of the opening along the blade", examples=["25 mm"])


class Channel(Table):
    """A straight round way for wires through the ribs. [mm]."""

    chord: Annotated[tuple[Share, Share], AtBothEnds()] = Field(
        description="where it crosses the chord: one value, or [at from, at to]", examples=[0.4]
    )
    height: Annotated[tuple[Height, Height], AtBothEnds()] = Field(
        ("camber", "camber"), description="its height in the section: one value, or [at from, at to]"
    )
    diameter: Small = Field(description="diameter of its holes", examples=["9 mm"])
    from_: At = Field(ROOT, alias="from", description="where it begins")
    to: At = Field(TIP, description="where it ends")
    passes: Passes = Field(description="what is threaded through it")
    exit: Exit | None = Field(None, description="where its wires come out through the skin")
    tie: Margin = Field(
        2.5, description="diameter of the hole beside it, near root and end, through which its wires are tied; 0: none"
    )


class Tip(Table):
    """The outermost end: the frame stops short of the radius, and a flat piece in the chord's plane ends it. [mm]."""

    kind: Literal["square", "rounded", "raked"] = Field(
        description="square: nothing beyond the last rib; rounded or raked: a shaped piece", examples=["rounded"]
    )
    depth: Size | None = Field(None, description="how far the shaped piece reaches, out to the radius")
    stock: Stock | None = Field(None, description="sheet the shaped piece is cut from")


class Jig(Table):
    """What holds the blade true while it is built: feet on the ribs, a board they stand on, gauges. [mm]."""

    foot: Small | None = Field(None, description="width of a foot; left out: the ribs get no feet", examples=["10 mm"])
    side: Literal["lower", "upper"] = Field("lower", description="the side of the ribs the feet stand on")
    clear: Small = Field(12.0, description="room between the board and the ribs' lowest point")
    board: Stock | None = Field(None, description="sheet the board is cut from", examples=["ply_3"])
    gauge: Stock | None = Field(None, description="sheet the incidence gauges are cut from; left out: none")


class Blade(Table):
    """One blade; all blades of a craft are alike."""

    feather: Feather = Field(default_factory=Feather, description="the feather axis")
    along: tuple[Entry, ...] = Field(
        max_length=MOST, description="chord, twist, section and offset along r, straight between entries"
    )
    construction: Construction = Field(description="how it is built")
    ribs: dict[str, Ribs] = Field(max_length=MOST, description="runs of ribs, by name")
    doubler: dict[str, Doubler] = Field(default_factory=dict, max_length=MOST, description="second ribs, by name")
    skin: dict[str, Skin] = Field(default_factory=dict, max_length=FEW, description="runs of skin, by name")
    spar: dict[str, AnySpar] = Field(max_length=FEW, description="spars, by name")
    channel: dict[str, Channel] = Field(default_factory=dict, max_length=FEW, description="ways for wires, by name")
    tip: Tip | None = Field(None, description="the outermost end; left out: square")
    jig: Jig | None = Field(None, description="what holds it true while it is built")
    trim: dict[str, BladePocket] = Field(
        default_factory=dict, max_length=FEW, description="pockets for trim weights in each blade, by name"
    )

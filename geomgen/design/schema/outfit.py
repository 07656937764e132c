"""Bought things and the shop: [wire.*], [fitting.*], [glue], [laser], [printer]."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from geomgen.design.schema.place import At, Height
from geomgen.design.schema.table import Table
from geomgen.design.schema.values import (
    Angle,
    Areal,
    ChordPlace,
    Colour,
    Distance,
    Flag,
    Linear,
    Margin,
    Mass,
    Play,
    Screw,
    Screws,
    Share,
    Size,
    Small,
    SmallAngle,
    Thin,
    Things,
    Words,
)


class Wire(Table):
    """One kind of wire along a blade. outside [mm], mass [g/m], spare [mm]."""

    outside: Thin = Field(description="outside diameter of one wire", examples=["3 mm"])
    mass: Linear = Field(description="mass per length of one wire", examples=["18 g/m"])
    count: Things = Field(1, description="wires of this kind in one blade")
    spare: Distance = Field(0.0, description="slack at both ends together, for each wire")
    bend: Small | None = Field(None, description="least radius it is bent to; left out: 10 times the bundle it lies in")


class Mount(Table):
    """How a fitting is fixed to its rib: screws on a circle round its place, and a hole in the middle. [mm]."""

    screw: Screw = Field(description="size of the screws, metric or in inches", examples=["M2", "#2-56"])
    count: Screws = Field(description="screws", examples=[4])
    circle: Small = Field(description="radius of the circle they stand on", examples=["8 mm"])
    first: Angle = Field(45.0, description="angle of the first one from the chord line, towards the leading edge up")
    bore: Margin = Field(0.0, description="diameter of the hole in the middle; 0 for none")


class Fitting(Table):
    """A bought thing, with its mass and place. [mm], [g], [deg]."""

    on: Literal["blade", "hub"] = Field(description="one set on each blade, or once on the hub", examples=["blade"])
    at: At = Field(description="its r: a length, a share of the radius, root, tip or hub", examples=["94 %"])
    chord: ChordPlace | None = Field(
        None, description="on a blade: where in the chord; left out: on the feather axis", examples=[0.25]
    )
    height: Height | None = Field(
        None, description='on a blade: "camber" where left out; on the hub: above its floor, 0 where left out'
    )
    mass: Mass = Field(description="mass of one", examples=["58 g"])
    plus_minus: Share = Field(0.0, description="how far the mass may be out", examples=["10 %"])
    count: Things = Field(1, description="how many, for one blade or on the hub (there spread evenly round)")
    rib: Flag = Field(False, description="a rib stands where it is fixed")
    rib_stock: Words | None = Field(None, description="sheet of that rib; left out: that of the run it stands in")
    mount: Mount | None = Field(None, description="how it is fixed to that rib")
    level_at: SmallAngle | None = Field(
        None, description="pitch at which it pulls along the tangent: its mount's holes are turned for that"
    )
    stuck: Flag = Field(False, description="on a blade: it sticks to the cover by its own adhesive")
    azimuth: Angle | None = Field(None, description="on the hub: angle from blade 1, anticlockwise seen from above")


class Glue(Table):
    """Glue: exactly one of a name from the catalogue, a coverage [g/m2], or a mass for one blade [g]."""

    kind: Words | None = Field(None, description="name in the catalogue; weighed by joint area", examples=["wood glue"])
    coverage: Areal | None = Field(None, description="mass per joint area", examples=["180 g/m2"])
    mass: Mass | None = Field(None, description="mass for one blade, as known", examples=["12 g"])


class Colours(Table):
    """Colour of each operation in the cutting files."""

    inside: Colour = Field("red", description="inside cuts, made first")
    outside: Colour = Field("blue", description="outside cuts")
    mark: Colour = Field("green", description="marks and letters")
    reference: Colour = Field("grey", description="lines to look at, not to cut")


class Laser(Table):
    """The maker's own laser. [mm]."""

    bed: tuple[Size, Size] | None = Field(None, description="[width, depth] of its bed", examples=[[600, 400]])
    kerf: dict[str, Play] = Field(default_factory=dict, max_length=200, description="width of the cut, by stock")
    colour: Colours = Field(default_factory=Colours, description="colour of each operation")


class Printer(Table):
    """The maker's own printer. [mm]."""

    bed: tuple[Size, Size] | None = Field(None, description="[width, depth] of its bed", examples=[[256, 256]])
    line: Thin = Field(0.45, description="width of one printed line")

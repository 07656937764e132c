"""[pitch] and [hub]."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Discriminator, Field, Tag

from geomgen.design.schema.balance import HubPockets
from geomgen.design.schema.kinds import TAG, told_by_kind
from geomgen.design.schema.place import At, Place
from geomgen.design.schema.table import Table
from geomgen.design.schema.values import (
    Angle,
    FewPins,
    Margin,
    Mass,
    Play,
    Screw,
    Screws,
    Small,
    SmallAngle,
    SteadyAngle,
    Thin,
    Words,
)


class Clip(Table):
    """What is fixed round a pin behind the fixed cap, so that it can't leave outwards. [mm], [g]."""

    outside: Thin = Field(description="its outside diameter", examples=["6 mm"])
    mass: Mass = Field(description="mass of one", examples=["0.1 g"])


class Pin(Table):
    """The pins that lock the pitch. [mm]."""

    diameter: Thin = Field(description="diameter of a pin", examples=["3 mm"])
    count: FewPins = Field(description="pins in place at once, for one blade", examples=[2])
    fit: Play = Field(0.2, description="its holes are this much wider")
    web: Thin = Field(1.6, description="least material left between index holes, and to the edge")
    stock: Words = Field(description="length of stock they are cut from", examples=["steel_rod_3"])
    clip: Clip | None = Field(
        None,
        description="a clip or collar on each behind the fixed cap; left out: blind holes in a printed turning cap end "
        "them",
    )


class Fixing(Table):
    """The screws that hold the turning cap to the root rib, inside the section."""

    screw: Screw = Field(description="size of the screws, metric or in inches", examples=["M3", "#4-40"])
    count: Screws = Field(description="screws for one blade", examples=[4])


class Cap(Table):
    """One pitch cap. [mm]."""

    stock: Words = Field(description="what it is made of", examples=["print_petg"])
    thickness: Thin = Field(description="its thickness along the feather axis", examples=["4 mm"])


class Wedge(Table):
    """The pieces of a wedge pattern, one for each pitch, that go into the fixed cap's windows. [mm]."""

    stock: Words | None = Field(
        None, description="what they are made of; left out: as the fixed cap", examples=["print_petg"]
    )
    thickness: Thin | None = Field(
        None, description="their thickness along the feather axis; left out: the sheet's, or the fixed cap's"
    )
    fit: Play = Field(0.1, description="their windows are this much longer and wider")


class Scatter(Table):
    """How far things come out from where they are drawn, either way, as the maker measured it. [mm], [deg]."""

    holes: Play | None = Field(
        None, description="places of holes in caps and wedges; left out: 0.1 mm where cut, 0.2 mm where printed"
    )
    rib: SteadyAngle = Field(0.3, description="the root rib, glued askew about the feather axis")
    washout: SteadyAngle = Field(0.3, description="what jig and gauges leave of the twist from root to zero_at")


class Pitch(Table):
    """How pitch is set and locked. [deg], [mm]."""

    set: SmallAngle = Field(description="pitch to fly at", examples=["8 deg"])
    range: tuple[SmallAngle, SmallAngle] = Field(
        description="lowest and highest pitch with a hole", examples=[["2 deg", "14 deg"]]
    )
    step: Angle = Field(description="from one hole to the next", examples=["6 deg"])
    zero_at: At = Field(Place(share=0.75), description="the r whose chord line is meant by a pitch")
    pin: Pin = Field(description="the pins that lock it")
    fixing: Fixing = Field(description="the screws of the turning cap")
    turning_cap: Cap = Field(description="the cap on the root rib, which turns with the blade")
    fixed_cap: Cap = Field(description="the cap on the hub, which carries the index holes")
    pattern: Literal["plain", "paired", "wedge"] | None = Field(
        None, description="how a pitch is locked; left out: the first of these that fits"
    )
    rim: Small | None = Field(None, description="largest radius of a cap that will do; left out: the root's half width")
    wedge: Wedge | None = Field(None, description="the pieces of a wedge pattern; left out: as the fixed cap")
    scatter: Scatter = Field(default_factory=Scatter, description="how far holes, root rib and washout come out")
    index_circle: Small | None = Field(
        None, description="radius of the index holes of a plain pattern; left out: the least that fits"
    )
    wire_clearance: Margin = Field(1.0, description="room around the wires where they pass the caps")


class Bay(Table):
    """The room in the middle of the hub. [mm]."""

    radius: Small = Field(description="its radius", examples=["45 mm"])
    height: Small = Field(description="its height", examples=["32 mm"])


class Socket(Table):
    """The bearing of the main spar, one for each blade. [mm]."""

    fit: Play = Field(0.3, description="clearance on the spar's diameter; the spar turns here")


class Glued(Table):
    """A collar glued on the spar. [mm]."""

    kind: Literal["glued"] = Field(description="how the collar is fixed", examples=["glued"])
    length: Small = Field(description="length of the glue line along the spar", examples=["8 mm"])
    glue: Words = Field("epoxy", description="name in the catalogue of glues")


class Pinned(Table):
    """A collar held by a pin across it and the spar. [mm]."""

    kind: Literal["pinned"] = Field(description="how the collar is fixed", examples=["pinned"])
    diameter: Thin = Field(description="diameter of the pin", examples=["2 mm"])
    stock: Words = Field(description="length of stock it is cut from", examples=["steel_rod_2"])


class Clamped(Table):
    """A split collar, drawn together by screws."""

    kind: Literal["clamped"] = Field(description="how the collar is fixed", examples=["clamped"])
    screw: Screw = Field(description="size of the screws, metric or in inches", examples=["M3", "#4-40"])
    count: Screws = Field(1, description="screws")


Fixed = Annotated[
    Annotated[Glued, Tag(f"{TAG}glued")]
    | Annotated[Pinned, Tag(f"{TAG}pinned")]
    | Annotated[Clamped, Tag(f"{TAG}clamped")],
    Discriminator(told_by_kind()),
]


class Collar(Table):
    """What holds a blade in against its pull: a collar fixed to the spar behind the socket. [mm], [g]."""

    outside: Small = Field(description="its outside diameter", examples=["20 mm"])
    length: Small = Field(description="its length along the spar", examples=["8 mm"])
    mass: Mass = Field(description="mass of one, without what fixes it", examples=["7 g"])
    fixing: Fixed | None = Field(None, description="how it is fixed to the spar")


class PrintedHub(Table):
    """A hub printed in one piece. [mm]."""

    kind: Literal["printed"] = Field(description="how the hub is made", examples=["printed"])
    stock: Words = Field(description="what it is printed of", examples=["print_petg"])
    wall: Thin = Field(3.0, description="thickness of its walls")
    floor: Thin = Field(5.0, description="thickness of its floor")
    bore: Small = Field(description="diameter of the hole for the mast", examples=["8 mm"])
    bay: Bay = Field(description="the room in the middle, for battery and wires")
    socket: Socket = Field(default_factory=Socket, description="the bearing of the main spar")
    collar: Collar = Field(description="what holds a blade in, behind the socket")
    bolt: Screw = Field("M4", description="size of the bolts that hold the hub down, metric or in inches")
    bolts: Screws = Field(4, description="how many bolts")
    bolt_circle: Small = Field(description="radius of the bolts' circle", examples=["26 mm"])
    clearance: Literal["fine", "medium", "coarse"] = Field(
        "medium",
        description="series of the clearance holes, ISO 273; in inches close, normal, loose, ASME B18.2.8",
    )
    trim: HubPockets | None = Field(None, description="pockets for trim weights, round the hub")
    layers: Literal["flat", "upright"] = Field(
        "flat",
        description="how it lies on the printer's bed: flat on its underside, with layers in the rotor's plane, or "
        "upright on its side",
    )

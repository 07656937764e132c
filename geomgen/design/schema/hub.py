"""[pitch] and [hub]."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from geomgen.design.schema.place import At, Place
from geomgen.design.schema.table import Table
from geomgen.design.schema.values import Angle, Count, Distance, Mass, Screw, Size, SmallAngle, Words


class Pin(Table):
    """The pins that lock the pitch. [mm]."""

    diameter: Size = Field(description="diameter of a pin", examples=["3 mm"])
    count: Count = Field(description="pins in place at once, for one blade", examples=[2])
    fit: Distance = Field(0.2, description="its holes are this much wider")
    web: Size = Field(1.6, description="least material left between index holes, and to the edge")
    stock: Words = Field(description="length of stock they are cut from", examples=["steel_rod_3"])


class Fixing(Table):
    """The screws that hold the turning cap to the root rib, inside the section."""

    screw: Screw = Field(description="size of the screws", examples=["M3"])
    count: Count = Field(description="screws for one blade", examples=[4])


class Cap(Table):
    """One pitch cap. [mm]."""

    stock: Words = Field(description="what it is made of", examples=["print_petg"])
    thickness: Size = Field(description="its thickness along the feather axis", examples=["4 mm"])


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
    index_circle: Size | None = Field(None, description="radius of the index holes; left out: the least that fits")
    wire_clearance: Distance = Field(1.0, description="room around the wires where they pass the caps")


class Bay(Table):
    """The room in the middle of the hub. [mm]."""

    radius: Size = Field(description="its radius", examples=["45 mm"])
    height: Size = Field(description="its height", examples=["32 mm"])


class Socket(Table):
    """The bearing of the main spar, one for each blade. [mm]."""

    fit: Distance = Field(0.3, description="clearance on the spar's diameter; the spar turns here")


class Collar(Table):
    """What holds a blade in against its pull: a collar fixed to the spar behind the socket. [mm], [g]."""

    outside: Size = Field(description="its outside diameter", examples=["20 mm"])
    length: Size = Field(description="its length along the spar", examples=["8 mm"])
    mass: Mass = Field(description="mass of one", examples=["7 g"])


class PrintedHub(Table):
    """A hub printed in one piece. [mm]."""

    kind: Literal["printed"] = Field(description="how the hub is made", examples=["printed"])
    stock: Words = Field(description="what it is printed of", examples=["print_petg"])
    wall: Size = Field(3.0, description="thickness of its walls")
    floor: Size = Field(5.0, description="thickness of its floor")
    bore: Size = Field(description="diameter of the hole for the mast", examples=["8 mm"])
    bay: Bay = Field(description="the room in the middle, for battery and wires")
    socket: Socket = Field(default_factory=Socket, description="the bearing of the main spar")
    collar: Collar = Field(description="what holds a blade in, behind the socket")
    bolt: Screw = Field("M4", description="size of the bolts that hold the hub down")
    bolts: Count = Field(4, description="how many bolts")
    bolt_circle: Size = Field(description="radius of the bolts' circle", examples=["26 mm"])
    clearance: Literal["fine", "medium", "coarse"] = Field(
        "medium", description="series of the clearance holes, ISO 273"
    )

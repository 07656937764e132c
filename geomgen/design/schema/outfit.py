"""Bought things: [wire.*], [fitting.*], [fan.*], [pack.*], [glue]."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from geomgen.design.schema.place import At, Height
from geomgen.design.schema.table import Table
from geomgen.design.schema.values import (
    Angle,
    Areal,
    Cells,
    Charge,
    ChordPlace,
    Copper,
    Distance,
    DragCoefficient,
    Flag,
    Frontal,
    Gauge,
    Inertia,
    Linear,
    Margin,
    Mass,
    Power,
    Price,
    Resistance,
    Rpm,
    Screw,
    Screws,
    Share,
    Small,
    SmallAngle,
    Thin,
    Things,
    Thrust,
    Voltage,
    Words,
)


class Wire(Table):
    """One kind of wire along a blade. outside [mm], mass [g/m], spare [mm], copper [mm2]."""

    outside: Thin = Field(description="outside diameter of one wire", examples=["3 mm"])
    mass: Linear = Field(description="mass per length of one wire", examples=["18 g/m"])
    count: Things = Field(1, description="wires of this kind in one blade")
    spare: Distance = Field(0.0, description="slack at both ends together, for each wire")
    bend: Small | None = Field(None, description="least radius it is bent to; left out: 10 times the bundle it lies in")
    copper: Copper | None = Field(None, description="cross-section of its copper; or its awg", examples=["1.3 mm2"])
    awg: Gauge | None = Field(None, description="American wire gauge, instead of copper", examples=[16])


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
    price: Price | None = Field(None, description="of one", examples=[12.5])
    count: Things = Field(1, description="how many, for one blade or on the hub (there spread evenly round)")
    rib: Flag = Field(False, description="a rib stands where it is fixed")
    rib_stock: Words | None = Field(None, description="sheet of that rib; left out: that of the run it stands in")
    mount: Mount | None = Field(None, description="how it is fixed to that rib")
    level_at: SmallAngle | None = Field(
        None, description="pitch at which it pulls along the tangent: its mount's holes are turned for that"
    )
    stuck: Flag = Field(False, description="on a blade: it sticks to the cover by its own adhesive")
    azimuth: Angle | None = Field(None, description="on the hub: angle from blade 1, anticlockwise seen from above")
    fan: Words | None = Field(None, description="on a blade: the fan that it is, a table [fan.*]", examples=["small"])
    pack: Words | None = Field(None, description="on the hub: the pack that it is, a table [pack.*]", examples=["main"])
    controls: list[Words] = Field(
        default_factory=list, description="fittings with a fan whose speed it controls", examples=[["fan"]]
    )


class Static(Table):
    """A fan measured standing, at full throttle. thrust [N], power [W], voltage [V]."""

    thrust: Thrust = Field(description="what it pulls on a scale", examples=["1.7 N"])
    power: Power = Field(description="what it takes, by a watt meter at the pack", examples=["80 W"])
    voltage: Voltage = Field(description="at the pack's plug meanwhile", examples=["10.5 V"])


class BodyDrag(Table):
    """What a body in the stream takes. frontal [mm2]."""

    frontal: Frontal = Field(description="area seen from ahead, duct's opening left out", examples=["16 cm2"])
    coefficient: DragCoefficient = Field(description="drag coefficient by that area", examples=[0.35])


class Fan(Table):
    """What a ducted fan does: measured standing, or of a class. inside, centre [mm], inertia [g cm2], speed [rpm]."""

    inside: Small = Field(description="inside diameter of its duct", examples=["40 mm"])
    centre: Small = Field(description="diameter of the body in its middle", examples=["20 mm"])
    static: Static | None = Field(None, description="measured standing; or its class")
    class_: Words | None = Field(
        None, alias="class", description="its class in the catalogue, instead of static", examples=["40 mm"]
    )
    plus_minus: Share | None = Field(
        None, description="how far its power may be out at a thrust; left out: 15 %, or its class's band"
    )
    drag: BodyDrag | None = Field(None, description="its duct's drag outside; left out: from its diameter")
    turn: Literal["clockwise", "anticlockwise"] | None = Field(None, description="of its rotor, seen from behind")
    inertia: Inertia | None = Field(None, description="of all that spins in it")
    speed: Rpm | None = Field(
        None,
        description="of its rotor at full throttle: by it, turn and inertia the blade is twisted",
        examples=["40000 rpm"],
    )


class Pack(Table):
    """A battery pack. capacity [Ah], resistance [ohm], floor [V]."""

    cells: Cells = Field(description="one after the other", examples=[3])
    capacity: Charge = Field(description="of the pack", examples=["2.2 Ah"])
    resistance: Resistance | None = Field(None, description="of one cell; left out: from its capacity")
    floor: Voltage = Field(3.4, description="of one cell under load, where flying ends", examples=["3.5 V"])
    feeds: list[Words] = Field(description="fittings with a fan that it feeds", examples=[["fan"]])


class Glue(Table):
    """Glue: a name from the catalogue, or its coverage [g/m2], or a mass for one blade [g], beside which names count
    for strength alone; and a name for what holds on tubes.
    """

    kind: Words | None = Field(
        None,
        description="name in the catalogue; weighed by joint area, or beside coverage or mass for strength alone",
        examples=["wood glue"],
    )
    coverage: Areal | None = Field(None, description="mass per joint area", examples=["180 g/m2"])
    mass: Mass | None = Field(None, description="mass for one blade, as known", examples=["12 g"])
    on_tube: Words | None = Field(
        None,
        description="kind of glue where a part sits on a tube or rod that isn't wood, a name in the catalogue; left "
        "out: kind; beside coverage or mass it counts for strength alone",
        examples=["epoxy"],
    )

"""[balance], and the pockets for masses to trim with: [blade.trim.*], [hub.trim]."""

from __future__ import annotations

from pydantic import Field

from geomgen.design.schema.place import At, Height
from geomgen.design.schema.table import Table
from geomgen.design.schema.values import (
    Angle,
    ChordPlace,
    Distance,
    MassStep,
    Offset,
    PocketMass,
    Pockets,
    Small,
    StaticMoment,
)


class NoseWeight(Table):
    """A weight that brings a blade's centre of gravity to a place along its chord. [mm]."""

    at: At = Field(description="r of the weight", examples=["60 %"])
    chord: ChordPlace = Field(description="where in the chord it sits", examples=[0.02])
    height: Height = Field("camber", description="its height in the section")
    to: Offset = Field(
        0.0, description="where the centre is wanted: from the feather axis, + forward", examples=["0 mm"]
    )


class Balance(Table):
    """What to balance it to, and with what. aim [g mm], step [g]."""

    aim: StaticMoment | None = Field(
        None, description="unbalance to be left at most; left out: it is only stated", examples=["60 g mm"]
    )
    step: MassStep = Field(0.5, description="mass of one of the weights at hand: a washer, a drop of solder")
    nose_weight: NoseWeight | None = Field(None, description="a weight asked for, to bring each blade's centre forward")


class BladePocket(Table):
    """A pocket for trim weights, one in each blade; nothing is cut for it. most [g]."""

    at: At = Field(description="its r", examples=["tip"])
    chord: ChordPlace | None = Field(None, description="where in the chord; left out: on the feather axis")
    height: Height = Field("camber", description="its height in the section")
    most: PocketMass = Field(description="mass that it holds at most", examples=["6 g"])


class HubPockets(Table):
    """Pockets for trim weights, evenly round the hub; nothing is cut for them. circle, height [mm], most [g]."""

    circle: Small = Field(description="radius of the circle that they stand on", examples=["48 mm"])
    count: Pockets = Field(description="how many", examples=[8])
    azimuth: Angle = Field(0.0, description="angle of the first from blade 1, anticlockwise seen from above")
    height: Distance = Field(0.0, description="above the hub's floor")
    most: PocketMass = Field(description="mass that each holds at most", examples=["10 g"])

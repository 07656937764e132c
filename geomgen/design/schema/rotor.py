"""[rotor] and [duty]."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from geomgen.design.schema.table import Table
from geomgen.design.schema.values import (
    Altitude,
    Count,
    LiftCoefficient,
    Mass,
    Radius,
    Root,
    Rpm,
    Share,
    SmallAngle,
    Temperature,
)


class Rotor(Table):
    """The rotor as a whole. Lengths [mm], angles [deg]."""

    blades: Count = Field(description="how many blades, 2 to 8", examples=[2])
    turn: Literal["anticlockwise", "clockwise"] = Field(
        description="sense of rotation seen from above", examples=["anticlockwise"]
    )
    radius: Radius = Field(description="axis to blade tip", examples=["800 mm"])
    root: Root = Field(description="axis to where the section begins", examples=["130 mm"])
    coning: SmallAngle = Field(0.0, description="how far the feather axis rises outward", examples=["2 deg"])


class Air(Table):
    """The air it turns in. height [mm], temperature [degC]."""

    height: Altitude = Field(0.0, description="height above sea level", examples=["40 m"])
    temperature: Temperature = Field(15.0, description="temperature of the air", examples=["15 degC"])


class Duty(Table):
    """What it is for. Speeds [rpm], masses [g]."""

    rpm: Rpm = Field(description="usual speed of the rotor", examples=["260 rpm"])
    rpm_max: Rpm = Field(description="highest speed it will ever see; pulls are stated here", examples=["340 rpm"])
    mass_guess: Mass | None = Field(None, description="guess of the whole craft's mass", examples=["1.6 kg"])
    payload: Mass = Field(0.0, description="mass carried besides what this file lists", examples=["150 g"])
    lift_coefficient: LiftCoefficient = Field(0.5, description="mean lift coefficient over the blade", examples=[0.5])
    lift_left: Share = Field(
        0.2, description="lift to be left at full throttle, by the weight; verdict and best pitch go by it"
    )
    air: Air = Field(default_factory=Air, description="the air it turns in")

"""The kinds of value a key may hold. Each reads text or a bare number into house units."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, Literal, NamedTuple

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from geomgen import units
from geomgen.design.schema.table import Reading
from geomgen.figures import bound, spelled
from geomgen.units import Kind, UnitError


def refuse(wrong: str, allowed: str = "", remedy: str = "") -> PydanticCustomError:
    """The error that a value's reader raises; `faults.py` turns it into a `Fault`."""
    return PydanticCustomError("refused", "{wrong}", {"wrong": wrong, "allowed": allowed, "remedy": remedy})


@dataclass(frozen=True)
class Quantity:
    """Reads one quantity into its house unit and holds it within bounds.

    kind      : kind of quantity
    low, high : bounds [house unit]; `above` leaves `low` itself out
    """

    kind: Kind
    low: float
    high: float
    above: bool = False

    def read(self, value: Any, info: ValidationInfo) -> float:
        """The quantity in its house unit; raises the error of `refuse`."""
        try:
            number = units.read(value, self.kind, self.bare(info))
        except UnitError as error:
            raise refuse(error.wrong, error.allowed, error.remedy) from None
        if number < self.low or number > self.high or (self.above and number <= self.low):
            raise refuse("is out of bounds", self.bounds())
        return number

    def bare(self, info: ValidationInfo) -> str | None:
        """The unit of a bare number; None where it must carry one."""
        if self.kind is units.LENGTH:
            return Reading.of(info).bare
        return {units.SPEED.name: "rpm", units.SHARE.name: "", units.PRICE.name: ""}.get(self.kind.name)

    def bounds(self) -> str:
        """What is allowed, in words."""
        low, high = (bound(self.kind.house, x, up=up) for x, up in ((self.low, True), (self.high, False)))
        return f"{'more than' if self.above else 'from'} {low} {'up ' if self.above else ''}to {high}"

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        bare = self.kind in (units.LENGTH, units.SPEED, units.SHARE, units.PRICE)
        words = f"{self.kind.name} in {', '.join(self.kind.units)}: {spelled(self.bounds())}"
        return {"type": ["string", "number"] if bare else "string", "examples": [self.kind.example], "title": words}


_FAR = 20_000.0  # no length in a design is longer [mm]
Length = Annotated[float, Quantity(units.LENGTH, -_FAR, _FAR)]
Distance = Annotated[float, Quantity(units.LENGTH, 0, _FAR)]
Size = Annotated[float, Quantity(units.LENGTH, 0.01, _FAR)]
Radius = Annotated[float, Quantity(units.LENGTH, 100, 10_000)]  # of a rotor
Root = Annotated[float, Quantity(units.LENGTH, 15, 5_000)]  # of a blade
ChordLength = Annotated[float, Quantity(units.LENGTH, 25, 2_000)]
Offset = Annotated[float, Quantity(units.LENGTH, -2_000, 2_000)]  # of a section against the feather axis
Spacing = Annotated[float, Quantity(units.LENGTH, 0.01, 5_000)]  # of ribs
Small = Annotated[float, Quantity(units.LENGTH, 0.01, 500)]  # parts, holes and openings
Thin = Annotated[float, Quantity(units.LENGTH, 0.001, 100)]  # sheets, walls, webs, wires
Margin = Annotated[float, Quantity(units.LENGTH, 0, 500)]  # what is added, or left free
Play = Annotated[float, Quantity(units.LENGTH, 0, 10)]  # fits, kerfs
Altitude = Annotated[float, Quantity(units.LENGTH, -500e3, 9000e3)]
Angle = Annotated[float, Quantity(units.ANGLE, -360, 360)]
SmallAngle = Annotated[float, Quantity(units.ANGLE, -45, 45)]
SteadyAngle = Annotated[float, Quantity(units.ANGLE, 0, 45)]  # how far something may be out
Mass = Annotated[float, Quantity(units.MASS, 0, 1e5)]
SomeMass = Annotated[float, Quantity(units.MASS, 0, 1e5, above=True)]
Linear = Annotated[float, Quantity(units.LINEAR, 0, 1e6)]
Rpm = Annotated[float, Quantity(units.SPEED, 0, 100_000, above=True)]
Temperature = Annotated[float, Quantity(units.TEMPERATURE, -60, 60)]
Share = Annotated[float, Quantity(units.SHARE, 0, 1)]
ChordPlace = Annotated[float, Quantity(units.SHARE, -2, 3)]
Times = Annotated[float, Quantity(units.SHARE, 0, 10)]
Slope = Annotated[float, Quantity(units.SHARE, 4, 50)]
Thrust = Annotated[float, Quantity(units.FORCE, 0, 1e4, above=True)]
Power = Annotated[float, Quantity(units.POWER, 0, 1e5, above=True)]
Voltage = Annotated[float, Quantity(units.VOLTAGE, 0, 1000, above=True)]
Charge = Annotated[float, Quantity(units.CHARGE, 0.001, 1000)]
Resistance = Annotated[float, Quantity(units.RESISTANCE, 0, 10, above=True)]
Copper = Annotated[float, Quantity(units.AREA, 0.001, 1000)]  # of one wire
Frontal = Annotated[float, Quantity(units.AREA, 1, 1e6)]  # seen from ahead
StaticMoment = Annotated[float, Quantity(units.MOMENT, 0, 1e6, above=True)]
MassStep = Annotated[float, Quantity(units.MASS, 0.01, 1000)]  # of one of many weights
PocketMass = Annotated[float, Quantity(units.MASS, 0, 1000, above=True)]  # what a pocket holds
Inertia = Annotated[float, Quantity(units.INERTIA, 0, 1e7, above=True)]
Feed = Annotated[float, Quantity(units.FEED, 0, 10_000, above=True)]  # of a laser's head
Duration = Annotated[float, Quantity(units.TIME, 0.05, 600)]  # of a run-up
LoadFactor = Annotated[float, Quantity(units.SHARE, 1, 20)]
Price = Annotated[float, Quantity(units.PRICE, 0, 1e6)]
LiftCoefficient = Annotated[float, Quantity(units.SHARE, 0, 3, above=True)]
DragCoefficient = Annotated[float, Quantity(units.SHARE, 0, 3, above=True)]
Count = Annotated[int, Field(strict=True, ge=1, le=1000)]
FewPins = Annotated[int, Field(strict=True, ge=1, le=12)]
Screws = Annotated[int, Field(strict=True, ge=1, le=24)]
Cells = Annotated[int, Field(strict=True, ge=1, le=24)]  # one after the other in a pack
Gauge = Annotated[int, Field(strict=True, ge=0, le=40)]  # AWG
Beads = Annotated[int, Field(strict=True, ge=1, le=100)]  # of a printed wall, side by side
Layers = Annotated[int, Field(strict=True, ge=0, le=1000)]
Spares = Annotated[int, Field(strict=True, ge=0, le=20)]
Pockets = Annotated[int, Field(strict=True, ge=1, le=24)]
Things = Annotated[int, Field(strict=True, ge=1, le=50)]  # wires of a kind, bought things
Words = Annotated[
    str, Field(strict=True, min_length=1, max_length=200, pattern=r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]*$")
]
Flag = Annotated[bool, Field(strict=True)]
Screw = Literal[
    "M2", "M2.5", "M3", "M4", "M5", "M6", "M8",
    "#0-80", "#1-72", "#2-56", "#3-48", "#4-40", "#5-40", "#6-32", "#8-32", "#10-24", "#10-32",
    "1/4-20", "1/4-28", "5/16-18",
]  # fmt: skip
Half = Literal["upper", "lower"]  # of a section, or of what covers it
HALVES: tuple[Half, Half] = ("upper", "lower")
Colour = Literal["red", "yellow", "green", "cyan", "blue", "magenta", "black", "grey"]


class Spread(NamedTuple):
    """A figure as (low, typical, high), all in one house unit; one value given stands for all three."""

    low: float
    typical: float
    high: float


@dataclass(frozen=True)
class SpreadOf:
    """Reads one value, or [low, typical, high], into a `Spread`."""

    quantity: Quantity

    def read(self, value: Any, info: ValidationInfo) -> Spread:
        """The spread in its house unit; raises the error of `refuse`."""
        if not isinstance(value, list):
            return Spread(*[self.quantity.read(value, info)] * 3)
        if len(value) != 3:
            raise refuse(f"has {len(value)} values", "one value, or three: [low, typical, high]")
        spread = Spread(*(self.quantity.read(item, info) for item in value))
        if not spread.low <= spread.typical <= spread.high:
            raise refuse("is not in order", "[low, typical, high], each at least the one before")
        return spread

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        one = self.quantity.__get_pydantic_json_schema__(schema, handler)
        return {"anyOf": [one, {"type": "array", "items": one, "minItems": 3, "maxItems": 3}]}


Density = Annotated[Spread, SpreadOf(Quantity(units.DENSITY, 0, 30_000, above=True))]
Solidity = Annotated[Spread, SpreadOf(Quantity(units.SHARE, 0, 1, above=True))]
Areal = Annotated[Spread, SpreadOf(Quantity(units.AREAL, 0, 1e6, above=True))]
Stress = Annotated[Spread, SpreadOf(Quantity(units.STRESS, 0, 20_000, above=True))]
Modulus = Annotated[Spread, SpreadOf(Quantity(units.STRESS, 0, 1e6, above=True))]
ForceByWidth = Annotated[Spread, SpreadOf(Quantity(units.BY_WIDTH, 0, 1e5, above=True))]
LinearSpread = Annotated[Spread, SpreadOf(Quantity(units.LINEAR, 0, 1e6, above=True))]


def _twice(value: Any) -> Any:
    return value if isinstance(value, list) else [value, value]


class AtBothEnds:
    """Reads one value, or [at from, at to], into a pair."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(_twice, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        pair = handler(schema)
        return {"anyOf": [pair["prefixItems"][0], pair]}

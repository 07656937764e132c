"""What the tables of the reading floor hold: text with a unit becomes a figure, and nothing is out of bounds."""

from __future__ import annotations

from typing import Annotated, Any, NamedTuple

from pydantic import BaseModel, BeforeValidator, ConfigDict

UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "g": 1.0, "kg": 1000.0, "oz": 28.349523125}
UNITS |= {"deg": 1.0, "g/m": 1.0, "g/m2": 1.0, "kg/m3": 1.0, "rpm": 1.0, "degC": 1.0}
UNITS |= {"mm/s": 1.0, "N": 1.0, "W": 1.0, "V": 1.0, "Ah": 1.0, "mohm": 1e-3, "cm2": 100.0, "g cm2": 1.0, "g mm": 1.0}
UNITS |= {"MPa": 1.0, "GPa": 1000.0, "N/mm": 1.0, "s": 1.0}


def figure(value: Any) -> float:
    """A number, or text of a number and its unit, in the unit that geomgen keeps; bare lengths are millimetres."""
    if isinstance(value, int | float):
        return float(value)
    number, unit = value.split(maxsplit=1)
    return float(number) / 100.0 if unit == "%" else float(number) * UNITS[unit]


class Place(NamedTuple):
    """One of three: r [mm], share of the radius, name."""

    mm: float | None = None
    share: float | None = None
    name: str | None = None


def place(value: Any) -> Place:
    """As `figure`, or a name."""
    if isinstance(value, str) and value[0].isalpha():
        return Place(name=value)
    return Place(share=figure(value)) if isinstance(value, str) and value.endswith("%") else Place(mm=figure(value))


def twice(value: Any) -> Any:
    """One value for both ends, or the two."""
    return value if isinstance(value, list) else [value, value]


def spread(value: Any) -> tuple[float, ...]:
    """One value for low, typical and high, or the three."""
    return tuple(map(figure, value)) if isinstance(value, list) else (figure(value),) * 3


Figure = Annotated[float, BeforeValidator(figure)]
At = Annotated[Place, BeforeValidator(place)]
Height = Annotated[str | float, BeforeValidator(lambda value: value if value in ("camber", "chord") else figure(value))]
Shares = Annotated[tuple[Figure, Figure], BeforeValidator(twice)]
Heights = Annotated[tuple[Height, Height], BeforeValidator(twice)]
Spread = Annotated[tuple[float, float, float], BeforeValidator(spread)]
ROOT, TIP = Place(name="root"), Place(name="tip")


class Table(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")

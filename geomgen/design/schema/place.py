"""Where along the blade, and how high in the section."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import CoreSchema, core_schema

from geomgen import units
from geomgen.design.near import near
from geomgen.design.schema.values import Quantity, refuse
from geomgen.figures import mm, spelled

NAMED_PLACES = ("root", "tip", "hub")
_DISTANCE = Quantity(units.LENGTH, 0, 10_000)
_SHARE = Quantity(units.SHARE, 0, 1)
_HEIGHT = Quantity(units.LENGTH, -500, 500)


@dataclass(frozen=True)
class Place:
    """A distance r from the rotor axis, as written: exactly one of three is given.

    mm    : r [mm]
    share : share of the rotor's radius, 0..1 [-]
    name  : "root", "tip", "hub" (the edge of the hub's bay), or a fitting's name
    """

    mm: float | None = None
    share: float | None = None
    name: str | None = None

    def __str__(self) -> str:
        if self.name is not None:
            return self.name
        return spelled(mm(self.mm, significant=4)) if self.mm is not None else f"{100 * (self.share or 0):g} %"


class PlaceReader:
    """Reads a length, a percentage of the radius or a name into a `Place`."""

    def read(self, value: Any, info: ValidationInfo) -> Place:
        """The place; raises the error of `refuse`."""
        if isinstance(value, Place):
            return value
        text = value.strip() if isinstance(value, str) else ""
        if text[:1].isalpha():
            return Place(name=text)
        if text.endswith("%"):
            return Place(share=_SHARE.read(text, info))
        if isinstance(value, str | int | float) and not isinstance(value, bool):
            return Place(mm=_DISTANCE.read(value, info))
        raise refuse(
            "is not a place along r", 'a length, "60 %" of the radius, "root", "tip", "hub" or a fitting\'s name'
        )

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        text = core_schema.to_string_ser_schema()
        return core_schema.with_info_plain_validator_function(self.read, serialization=text)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        words = 'r from the axis: a length, "60 %" of the radius, "root", "tip", "hub" or a fitting\'s name'
        return {"type": ["string", "number"], "title": words, "examples": ["130 mm", "60 %", "root"]}


class HeightReader:
    """Reads "camber", "chord" or a length above the chord line."""

    def read(self, value: Any, info: ValidationInfo) -> Any:
        """The height [mm] or its word; raises the error of `refuse`."""
        if value in ("camber", "chord"):
            return value
        if isinstance(value, str) and value.strip()[:1].isalpha():
            remedy = near(value, ("camber", "chord"))
            raise refuse("is not a height", '"camber", "chord" or a length above the chord line', remedy)
        return _HEIGHT.read(value, info)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        words = '"camber" (the mean line), "chord" (the chord line) or a length above the chord line'
        return {"type": ["string", "number"], "title": words, "examples": ["camber", "4 mm"]}


At = Annotated[Place, PlaceReader()]
Height = Annotated[float | Literal["camber", "chord"], HeightReader()]

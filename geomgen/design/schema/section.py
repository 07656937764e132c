"""Which aerofoil, as written in the design file; `geomgen.section` finds it."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from geomgen.design.schema.table import Table
from geomgen.design.schema.values import Share, Times, Words

_FILE = re.compile(r".+\.(dat|txt|csv)", re.IGNORECASE)
_FAMILY = re.compile(r"naca[ _-]?(?P<digits>\S.*)", re.IGNORECASE)


def _from_text(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    text = value.strip()
    if family := _FAMILY.fullmatch(text):
        return {"naca": family["digits"]} if not _FILE.fullmatch(text) else {"file": text}
    return {"file": text} if _FILE.fullmatch(text) else {"profile": text}


def _digits(value: Any) -> Any:
    family = _FAMILY.fullmatch(value.strip()) if isinstance(value, str) else None
    return family["digits"] if family else value


class SectionSpec(Table):
    """An aerofoil: exactly one of `naca`, `file`, `profile`, then what is done to it."""

    naca: Annotated[str, Field(strict=True, pattern=r"^[0-9]{4,5}(-[0-9]{2})?$"), BeforeValidator(_digits)] | None = (
        Field(
            None, description="digits of a published family: 4412, 0012-64, 23012, 23112 (reflexed)", examples=["4412"]
        )
    )
    file: Words | None = Field(None, description="coordinate file, its path taken from the design file's folder")
    profile: Words | None = Field(None, description="name of a profile that ships with geomgen")
    tail: Literal["open", "closed"] = Field("open", description="the tail as published, or closed to a point")
    flat_from: Share | None = Field(None, description="straight below, aft of this share of the chord")
    thickness_times: Times = Field(1.0, description="thickness multiplied by this")
    camber_times: Times = Field(1.0, description="camber multiplied by this")
    polar: Words | None = Field(
        None, description="your table of what it does in the air, CSV; left out: stated from its shape"
    )

    def __str__(self) -> str:
        return f"naca {self.naca}" if self.naca else self.file or self.profile or ""


class SectionReader:
    """Reads "naca 4412", "some.dat", a profile's name, or a table of `SectionSpec`."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(_from_text, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        text = {"type": "string", "title": "a published family, a coordinate file, or a profile's name"}
        return {"anyOf": [text | {"examples": ["naca 4412", "my_section.dat"]}, handler(schema)]}


Section = Annotated[SectionSpec, SectionReader()]

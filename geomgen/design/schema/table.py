"""The base of every table in a design file, and the context it is read in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Self

from pydantic import BaseModel, ConfigDict, ValidationError, ValidationInfo, field_validator, model_validator
from pydantic_core.core_schema import ValidatorFunctionWrapHandler

from geomgen.design.schema.gaps import GAP


@dataclass(frozen=True)
class Reading:
    """How a design is being read.

    bare  : the unit of a bare length; None where `units` is not given
    gappy : leave a gap where a value can't be read, instead of refusing the whole
    """

    bare: str | None = None
    gappy: bool = False

    @staticmethod
    def of(info: ValidationInfo) -> Reading:
        """The reading under way."""
        return info.context if isinstance(info.context, Reading) else Reading()


def leave_gap(value: Any, handler: ValidatorFunctionWrapHandler, info: ValidationInfo) -> Any:
    """Read a value; in a gappy reading, give a gap where it can't be read."""
    if info.context is None or not info.context.gappy:  # the usual case, once for every value: kept short
        return handler(value)
    if value is GAP:
        return GAP
    try:
        return handler(value)
    except ValidationError:
        return GAP


class Table(BaseModel):
    """One table of the design file: frozen, no unknown keys, attribute names as the keys (`from` is `from_`)."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    @classmethod
    def keys(cls) -> dict[str, str]:
        """The table's keys as written -> attribute names."""
        return {field.alias or name: name for name, field in cls.model_fields.items()}

    @field_validator("*", mode="wrap")
    @classmethod
    def _field_or_gap(cls, value: Any, handler: ValidatorFunctionWrapHandler, info: ValidationInfo) -> Any:
        return leave_gap(value, handler, info)

    @model_validator(mode="wrap")
    @classmethod
    def _table_or_gap(cls, value: Any, handler: ValidatorFunctionWrapHandler, info: ValidationInfo) -> Self:
        if Reading.of(info).gappy and isinstance(value, dict):
            known = cls.keys()
            needed = {key: GAP for key, name in known.items() if cls.model_fields[name].is_required()}
            value = needed | {key: item for key, item in value.items() if key in known}
        result: Self = leave_gap(value, handler, info)
        return result

"""From raw tables to a checked `Design`, or every fault in them."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from geomgen.design.faults import as_written, look_up, read_faults
from geomgen.design.keypath import KeyPath, parsed
from geomgen.design.options import Laid, Raw
from geomgen.design.rules import rule_faults
from geomgen.design.schema.design import Design
from geomgen.design.schema.table import Reading, Table
from geomgen.errors import Fault
from geomgen.units import LENGTH

Found = tuple[tuple[KeyPath, Fault], ...]


@dataclass(frozen=True)
class Verdict:
    """What came of raw tables.

    design : the design; None where a value could not be read
    faults : every fault, each with its key path in the raw tables
    """

    design: Design | None
    faults: Found


def judge(laid: Laid, like: tuple[Raw, Design] | None = None) -> Verdict:
    """Read raw tables into a design and judge it by all rules, also where some values could not be read.

    like : other raw tables and the design they were read into, in the same units: what both share isn't read again
    """
    raw = laid.raw
    bare = own_unit(raw) or ("mm" if "units" in raw else None)
    if like is not None:
        with suppress(ValidationError):
            design = Design.model_validate(_reusing(raw, *like), context=Reading(bare))
            return Verdict(design, _by_rules(design, laid))
    try:
        design = Design.model_validate(raw, context=Reading(bare))
    except ValidationError as error:
        removed = frozenset(path for path in laid.origins if look_up(raw, path) is False)
        gappy = Design.model_validate(raw, context=Reading(bare, gappy=True))
        return Verdict(None, (*read_faults(error, raw, removed), *_by_rules(gappy, laid)))
    return Verdict(design, _by_rules(design, laid))


def own_unit(raw: Raw) -> str | None:
    """The unit of length that raw tables say is theirs; None where they say none."""
    unit = raw.get("units")
    return unit if isinstance(unit, str) and unit in LENGTH.units else None


def _reusing(raw: Any, before: Any, read: Any) -> Any:
    """Raw tables, with what was read from it before in the place of every table that is still the same."""
    if raw is before and isinstance(read, Table):
        return read
    if isinstance(raw, dict) and isinstance(before, dict) and isinstance(read, Table | dict):
        names = read.keys() if isinstance(read, Table) else {key: key for key in read}
        inside = read.__dict__ if isinstance(read, Table) else read
        return {
            key: _reusing(value, before[key], inside[names[key]]) if key in before and key in names else value
            for key, value in raw.items()
        }
    if isinstance(raw, list) and isinstance(before, list) and isinstance(read, tuple) and len(raw) == len(before):
        return [_reusing(*each) for each in zip(raw, before, read, strict=True)]
    return raw


def _by_rules(design: Design, laid: Laid) -> Found:
    faults = []
    for fault in rule_faults(design):
        path = parsed(fault.path)
        value = fault.value or as_written(look_up(laid.raw, path))
        faults.append((path, Fault(fault.path, value, fault.wrong, fault.allowed, fault.remedy)))
    return tuple(faults)

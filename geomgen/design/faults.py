"""pydantic's errors, told as faults a maker can mend."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from typing import Any, get_args

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from geomgen.design.keypath import KeyPath, written
from geomgen.design.near import names_in, near
from geomgen.design.schema.design import Design
from geomgen.design.schema.kinds import TAG
from geomgen.design.schema.table import Table
from geomgen.design.synonyms import ours, plain
from geomgen.errors import Fault
from geomgen.figures import either, figure, spelled
from geomgen.units import (
    AREA,
    AREAL,
    BY_WIDTH,
    DENSITY,
    FORCE,
    INERTIA,
    LENGTH,
    LINEAR,
    MASS,
    MOMENT,
    STRESS,
    TEMPERATURE,
    UnitError,
    read,
)

Raw = Mapping[str, Any]
MOST_READ = 500  # faults are looked at in one design
MOST_SHOWN = 60  # characters of a value
_MISSING = object()
_EXAMPLE = re.compile(r'(?:(?<=as )|(?<== ))"(-?[\d.]+ [^"]+)"')
EXAMPLES = (
    LENGTH,
    MASS,
    AREAL,
    DENSITY,
    LINEAR,
    TEMPERATURE,
    FORCE,
    AREA,
    INERTIA,
    MOMENT,
    STRESS,
    BY_WIDTH,
)  # kinds that have units of either system
MISSING, UNKNOWN = "is missing", "is a key we don't know"
_TRUE: tuple[Any, ...] = ("true", "yes", "on", "y", 1, "1")
_FALSE: tuple[Any, ...] = ("false", "no", "off", "n", "none", 0, "0")


def read_faults(error: ValidationError, raw: Raw, removed: frozenset[KeyPath]) -> Iterator[tuple[KeyPath, Fault]]:
    """Each fault with its key path in the raw tables.

    error   : what pydantic found in `raw`
    removed : paths where an option says `false`
    """
    found: dict[tuple[KeyPath, str], Fault] = {}
    meant = set()  # what is missing because it stands there under another name
    for details in error.errors(include_url=False)[:MOST_READ]:
        path = _path(details, raw)
        fault = _fault(details, path, raw, path in removed)
        found.setdefault((path, fault.wrong), fault)
        if fault.wrong == UNKNOWN:
            meant |= {(*path[:-1], name) for name in names_in(fault.remedy)}
    for (path, wrong), fault in found.items():
        if wrong != MISSING or path not in meant:
            yield path, fault


def look_up(raw: Any, path: KeyPath) -> Any:
    """The raw value at a key path, or a marker that is neither true nor false where there is none."""
    for step in path:
        try:
            raw = raw[step]
        except (KeyError, IndexError, TypeError):
            return _MISSING
    return raw


def as_written(value: Any) -> str:
    """A raw value as the maker would write it, cut short; "" where there is none."""
    if value is _MISSING:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        text = "{ " + ", ".join(f"{key} = ..." for key in list(value)[:6]) + " }"
    elif isinstance(value, list):
        text = "[" + ", ".join("[...]" if isinstance(item, list) else as_written(item) for item in value[:6]) + "]"
    else:
        text = json.dumps(value, ensure_ascii=False) if isinstance(value, str) else _number(value)
    return shown(text)


def shown(text: str) -> str:
    """A text as a fault shows it: what can't be printed by its code, and no longer than `MOST_SHOWN`."""
    text = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in text)
    return text if len(text) <= MOST_SHOWN else f"{text[: MOST_SHOWN - 3]}..."


def _number(value: Any) -> str:
    try:
        return str(value)
    except ValueError:  # an integer of thousands of digits
        return "a number of thousands of digits"


def _path(details: ErrorDetails, raw: Raw) -> KeyPath:
    """The error's place as a key path: without marks of unions, and no deeper than what the maker wrote."""
    path: KeyPath = ()
    value: Any = raw
    for step in details["loc"]:
        if isinstance(step, str) and step.startswith(TAG) and step not in (value if isinstance(value, dict) else ()):
            continue
        inside = isinstance(value, list) and isinstance(step, int) and step < len(value)
        if not inside and not (isinstance(value, dict) and isinstance(step, str)):
            break
        path += (step,)
        value = look_up(value, (step,))
    return (*path, "kind") if details["type"].startswith("union_tag") else path


def _fault(details: ErrorDetails, path: KeyPath, raw: Raw, removes: bool) -> Fault:
    kind, context = details["type"], details.get("ctx", {})
    value = look_up(raw, path)
    name = str(path[-1]) if path else ""
    if removes and kind in ("model_type", "dict_type", "model_attributes_type", "union_tag_not_found"):
        wrong, allowed, remedy = "there is nothing here to take away", "false takes a table away", ""
        siblings = look_up(raw, path[:-1])
        if isinstance(siblings, dict):
            remedy = near(name, (key for key in siblings if key != name))
    elif kind == "missing" and value is _MISSING:
        wrong, allowed, remedy = MISSING, *_example(path, raw)
    elif kind == "extra_forbidden":
        wrong, allowed, remedy = unknown_key(path, raw)
    elif kind in ("literal_error", "union_tag_invalid", "union_tag_not_found"):
        wrong, allowed, remedy = _choice(context, value, path, raw)
    elif kind == "refused":
        wrong, allowed, remedy = context["wrong"], context["allowed"], context["remedy"]
    else:
        wrong, allowed, remedy = *_plain(kind, context, value, details["msg"]), _unquoted(kind, value)
    return Fault(written(path), as_written(value), wrong, in_own(allowed), in_own(remedy))


def in_own(words: str) -> str:
    """Words with examples of what may be written, `as "25 mm"` or `length = "25 mm"`, in the design's own system."""
    return _EXAMPLE.sub(_example_in_own, words)


def _example_in_own(match: re.Match[str]) -> str:
    for kind in EXAMPLES:
        with suppress(UnitError):
            own = spelled(figure(kind.house, read(match[1], kind), significant=3), "in")
            return either(match[0], f'"{own}"')
    return match[0]


def _plain(kind: str, context: Mapping[str, Any], value: Any, message: str) -> tuple[str, str]:
    if kind in ("missing", "too_long", "too_short") and isinstance(value, list | dict):
        return _size(context, value)
    words = {
        "model_type": ("is not a table", "a table with its own keys"),
        "model_attributes_type": ("is not a table", "a table with its own keys"),
        "dict_type": ("is not a table", "tables by name"),
        "tuple_type": ("is not a list", "a list, [ ... ]"),
        "int_parsing_size": ("is too large", "a number of a few digits"),
        "int_type": ("is not a whole number", "a whole number, without quotes"),
        "greater_than_equal": ("is too small", f"at least {context.get('ge')}"),
        "less_than_equal": ("is too large", f"at most {context.get('le')}"),
        "bool_type": ("is neither true nor false", "true or false, without quotes"),
        "string_type": ("is not a text", "a text in quotes"),
        "string_too_short": ("is empty", "a text in quotes"),
        "string_too_long": ("is too long", f"at most {context.get('max_length')} characters"),
        "string_pattern_mismatch": (
            ("holds characters that can't be printed", "letters, figures and signs on one line")
            if isinstance(value, str) and not value.isprintable()
            else ("is no section of a published family", 'as "naca 4412", "naca 0012-64", "naca 23012"')
        ),
    }
    return words.get(kind, (message, ""))


def _size(context: Mapping[str, Any], value: list[Any] | dict[str, Any]) -> tuple[str, str]:
    most = context.get("max_length")
    if isinstance(value, dict):
        return f"has {len(value)} entries", f"at most {most}"
    if most is None or most == 2:
        return f"has {len(value)} values", "2 values"
    return f"has {len(value)} values", f"at most {most}" if len(value) > most else "at least 1"


def _unquoted(kind: str, value: Any) -> str:
    """What to write for true, false or a whole number that stands in quotes, or in other words."""
    word = plain(value) if isinstance(value, str) else value
    if kind == "bool_type" and word in _TRUE + _FALSE:
        return f"write {'true' if word in _TRUE else 'false'}"
    if kind == "int_type" and isinstance(value, str) and value.strip().isdecimal() and len(value) < 9:
        return f"write {int(value)}"
    if kind == "int_type" and isinstance(value, float) and value.is_integer() and abs(value) < 1e9:
        return f"write {int(value)}"
    return ""


def _choice(context: Mapping[str, Any], value: Any, path: KeyPath, raw: Raw) -> tuple[str, str, str]:
    expected = str(context.get("expected") or context.get("expected_tags") or "")
    choices = re.findall(r"'([^']*)'", expected.replace(TAG, "")) or expected.split(" or ") if expected else []
    if not choices:
        choices = [
            kind for table in tables_at(path[:-1], raw) for kind in get_args(table.model_fields["kind"].annotation)
        ]
    quoted = [choice if choice.isdigit() else f'"{choice}"' for choice in choices]
    allowed = f"one of {', '.join(quoted)}"
    if value is _MISSING:
        return MISSING, allowed, _kind_elsewhere(look_up(raw, path[:-1]), choices)
    given = str(value) if isinstance(value, str | float) or type(value) is int else ""
    return "is not known here", allowed, near(given, choices) if given else ""


def _kind_elsewhere(table: Any, choices: list[str]) -> str:
    """What to write where a table says its kind under another key."""
    for key, value in table.items() if isinstance(table, dict) else ():
        if isinstance(value, str) and "kind" in ours(key, ["kind"]):
            (kind,) = names_in(near(value, choices))[:1] or ("...",)
            return f'write kind = "{kind}" instead of {key}'
    return ""


def unknown_key(path: KeyPath, raw: Raw) -> tuple[str, str, str]:
    """What is wrong, allowed and near where a table is given a key that it doesn't have."""
    keys = [key for table in tables_at(path[:-1], raw) for key in table.keys()]  # noqa: SIM118 - not a dict
    if path[:-1] == ():
        keys.append("option")
    remedy = near(str(path[-1]), keys)
    return UNKNOWN, "" if remedy else f"keys here: {', '.join(keys)}", remedy


def _example(path: KeyPath, raw: Raw) -> tuple[str, str]:
    name = str(path[-1])
    for table in tables_at(path[:-1], raw):
        if name in table.keys():  # noqa: SIM118 - not a dict
            field = table.model_fields[table.keys()[name]]
            example = f"for instance {name} = {as_written(field.examples[0])}" if field.examples else ""
            return field.description or "", example
    return "", ""


def tables_at(path: KeyPath, raw: Raw) -> list[type[Table]]:
    """The tables that may stand at a key path; of several kinds, the one the maker chose."""
    annotation: Any = Design
    for end, step in enumerate(path):
        if _named(annotation) or isinstance(step, int):
            annotation = get_args(_bare(annotation))[-1 if _named(annotation) else 0]
            continue
        having = [table for table in _chosen(annotation, path[:end], raw) if step in table.keys()]  # noqa: SIM118
        if not having:
            return []
        annotation = having[0].model_fields[having[0].keys()[step]].annotation
    return _chosen(annotation, path, raw)


def _chosen(annotation: Any, path: KeyPath, raw: Raw) -> list[type[Table]]:
    """The tables of an annotation; of several kinds, the one that `kind` names, or that stands for none."""
    tables = _tables_in(annotation)
    kinds = {table: table.model_fields["kind"] for table in tables if "kind" in table.model_fields}
    kind = look_up(raw, (*path, "kind"))
    chosen = [
        table
        for table, field in kinds.items()
        if kind in get_args(field.annotation) or (kind is _MISSING and len(tables) > 1 and not field.is_required())
    ]
    return chosen or tables


def _bare(annotation: Any) -> Any:
    """An annotation without `Annotated` and `| None`."""
    while hasattr(annotation, "__metadata__"):
        annotation = annotation.__origin__
    args = get_args(annotation)
    rest = [item for item in args if item is not type(None)]
    return _bare(rest[0]) if len(args) == 2 and len(rest) == 1 else annotation


def _named(annotation: Any) -> bool:
    return getattr(_bare(annotation), "__origin__", None) is dict


def _tables_in(annotation: Any) -> list[type[Table]]:
    annotation = _bare(annotation)
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return [annotation]
    if _named(annotation):
        return []
    return [table for item in get_args(annotation) for table in _tables_in(item)]

"""What a fault says would do, taken out of its words and written into the file, as a maker would."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from geomgen.design.keypath import KeyPath, parsed
from geomgen.errors import Fault

FIGURE = r"-?[\d.]+(?:e[-+]?\d+)?"
UNIT = r"(?: (?:mm|cm|m|in|ft|g|kg|oz|lb|deg|rpm|degC|degF|g/m2|kg/m3|g/m|oz/ft2|lb/ft3|oz/ft|%)(?![\w/]))?"
BEYOND = 1.001  # a bound that may not be reached itself is passed by so much


def said_to_do(fault: Fault) -> Iterator[tuple[KeyPath, Any]]:
    """Key paths and values that a fault names: each is said to do."""
    path, text = parsed(fault.path), f"{fault.allowed}; {fault.remedy}"
    if not path or fault.wrong.startswith("is no name for"):
        return
    key = path[-1] if isinstance(path[-1], str) else path[-2]
    if (
        (found := re.search(rf'(?:write|for instance)(?: at| {key}) = ("[^"]*"|\[[^\]]*\]|[^\s;]+)', text))
        or (found := re.search(r'write kind = ("\w+")', text))
        or (found := re.search(r'write ("[^"]+"|-?[\d.]+|true|false)(?=[;, (]|$)', text))
    ):
        yield path, found[1]
    elif found := re.search(r'do you mean "([^"]*)"', text):
        yield path, f'"{found[1]}"'
    elif found := re.search(r'one of ("[^"]*"|\d+)', text):
        yield path, found[1]
    yield from _bounds(path, fault.allowed)


def _bounds(path: KeyPath, text: str) -> Iterator[tuple[KeyPath, Any]]:
    number = rf"({FIGURE}){UNIT}"
    if found := re.search(rf"^at (?:least|most) (?:the root, )?({FIGURE}{UNIT})(?! of| or |\w)", text):
        yield path, _as_value(found[1])
    elif found := re.search(rf"\bfrom ({FIGURE}{UNIT}) to ({FIGURE}{UNIT})$", text):
        yield from ((path, _as_value(each)) for each in found.groups())
    elif found := re.search(rf"\bmore than (?:the root, )?{number}", text):
        yield path, _as_value(_times(found[0], found[1], BEYOND))
    elif found := re.search(rf"\bless than (?:the root, |the outside, )?{number}", text):
        yield path, _as_value(_times(found[0], found[1], 1 / BEYOND))
    elif found := re.search(rf"\bbetween ({FIGURE}{UNIT}) and ({FIGURE})({UNIT})", text):
        low = re.match(FIGURE, found[1])
        assert low
        yield path, _as_value(f"{(float(low[0]) + float(found[2])) / 2:g}{found[3]}")


def _times(whole: str, number: str, times: float) -> str:
    unit = whole.rsplit(number, 1)[1]
    return f"{float(number) * times or 0.001:.7g}{unit}"


def _as_value(text: str) -> str:
    return text if re.fullmatch(r"-?\d+", text) else f'"{text}"' if re.search("[a-z%]", text) else text


def put(raw: dict[Any, Any], path: KeyPath, value: Any) -> dict[Any, Any] | None:
    """Raw tables with a value written at a key path; None where its table isn't there."""
    if len(path) == 1:
        return raw | {path[0]: value}
    inside = raw.get(path[0])
    if isinstance(inside, list) and isinstance(path[1], int):
        done = put(dict(enumerate(inside)), path[1:], value)
        return None if done is None else raw | {path[0]: list(done.values())}
    done = put(inside, path[1:], value) if isinstance(inside, dict) else None
    return None if done is None else raw | {path[0]: done}


def rename(raw: dict[Any, Any], path: KeyPath, name: str) -> dict[Any, Any]:
    """Raw tables with a key under another name, in its place."""
    if len(path) == 1:
        return {name if key == path[0] else key: item for key, item in raw.items()}
    inside = raw[path[0]]
    if isinstance(inside, list):
        return raw | {path[0]: list(rename(dict(enumerate(inside)), path[1:], name).values())}
    return raw | {path[0]: rename(inside, path[1:], name)}


def toml(value: Any) -> str:
    """A value as TOML, on one line."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{toml(key)} = {toml(item)}" for key, item in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + "".join(c if c.isprintable() and c not in '"\\' else f"\\U{ord(c):08x}" for c in value) + '"'
    return value.isoformat() if hasattr(value, "isoformat") else repr(value)


def file_of(raw: dict[Any, Any]) -> str:
    """Raw tables as a design file, a key a line."""
    return "\n".join(f"{toml(key)} = {toml(item)}" for key, item in raw.items()) + "\n"

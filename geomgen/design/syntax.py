"""A design file's tables, as TOML has them; where it isn't TOML, what is wrong in plain words."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from geomgen.design.keypath import KeyPath, written
from geomgen.design.source import Source, refused
from geomgen.errors import DesignError, Fault

DEEPEST = 20  # tables within tables
_QUOTES = 'text and values with a unit stand in quotes, as "25 mm"'
_CLOSE = "each quote needs its other one"
_WHERE = re.compile(r"\s*\(at (?:line (?P<line>[0-9]+), column (?P<column>[0-9]+)|end of document)\)$")
_PLAIN_WORDS = (  # how tomllib's message begins, what is wrong, what would do
    ("Expected newline or end of document", "something is left over after the value", _QUOTES),
    ("Invalid value", "there is no value that TOML knows", _QUOTES),
    ("Expected '=' after a key", "a key is not followed by =", "write key = value"),
    ("Invalid initial character for a key", "no key can begin with this", "letters, digits, _ and -, or quotes"),
    ("Invalid statement", "this is neither a key nor a [table]", "write key = value, [table], or # before a remark"),
    ("Expected ']' at the end of a table", "a [table] is not closed", "write ] after its name"),
    ("Unclosed array", "a list is not closed", "each [ needs its ], values are parted by commas"),
    ("Unclosed inline table", "an inline table is not closed", "each { needs its }, on the same line"),
    ("Unterminated string", "a text is not closed", _CLOSE),
    ("Expected '\"'", "a text is not closed", _CLOSE),
    ("Expected \"'\"", "a text is not closed", _CLOSE),
    ("Illegal character '\\n'", "a text is not closed on its line", _CLOSE),
    ("Illegal character", "a character that can't be typed stands here", "take it out"),
    ("Found invalid character", "a character that can't be typed stands here", "take it out"),
    ("Unescaped '\\'", "a \\ in a text means more than itself", "write \\\\, or take single quotes"),
)  # fmt: skip
_TWICE = ("Cannot declare", "Cannot overwrite", "Duplicate inline", "Cannot mutate", "Cannot redefine")


def tables(source: Source) -> dict[str, Any]:
    """The tables of a design file, as `tomllib` gives them.

    raises : DesignError with line and column where it is not TOML, or a key stands twice
    """
    try:
        raw = tomllib.loads(source.text)
    except tomllib.TOMLDecodeError as error:
        raise DesignError(_syntax_fault(source, str(error))) from None
    except RecursionError:
        raise refused(source.name, "has tables within tables, too deep to read") from None
    except ValueError as error:
        raise refused(source.name, f"holds a value that can't be read: {error}".splitlines()[0]) from None
    if path := _too_deep(raw):
        fault = Fault(written(path), "", "lies too deep: tables within tables within tables")
        raise DesignError(source.place(fault, path))
    return raw


def _syntax_fault(source: Source, message: str) -> Fault:
    where = _WHERE.search(message)
    line = int(where["line"]) if where and where["line"] else source.text.rstrip().count("\n") + 1
    if message.startswith(_TWICE) and source.lines.twice:
        path, first, second = source.lines.twice[0]
        fault = Fault(written(path), "", f"stands twice, first in line {first}", remedy="keep one of the two")
        return fault.at(source.name, second)
    text = _WHERE.sub("", message)
    wrong, remedy = next(
        ((wrong, remedy) for start, wrong, remedy in _PLAIN_WORDS if message.startswith(start)),
        (text[:1].lower() + text[1:], ""),
    )
    if message.startswith(_TWICE):
        wrong, remedy = "a key or table stands twice, or is both a key and a table", "keep one of the two"
    column = f"column {where['column']}: " if where and where["column"] else "at the end: "
    shown = source.text.split("\n")[line - 1].strip()
    return Fault("", shown if len(shown) <= 60 else f"{shown[:57]}...", column + wrong, remedy=remedy).at(
        source.name, line
    )


def _too_deep(raw: dict[str, Any]) -> KeyPath:
    """The path of a value that lies too deep, or ()."""
    rest: list[tuple[KeyPath, Any]] = [((), raw)]
    while rest:
        path, value = rest.pop()
        if len(path) > DEEPEST:
            return path
        if isinstance(value, dict):
            rest += [((*path, key), item) for key, item in value.items()]
        elif isinstance(value, list):
            rest += [((*path, index), item) for index, item in enumerate(value)]
    return ()

"""A design file's tables, as TOML has them; where it isn't TOML, what is wrong in plain words."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from geomgen.design.faults import shown
from geomgen.design.key_lines import brackets_too_deep, key_too_deep
from geomgen.design.keypath import KeyPath, written
from geomgen.design.source import Source, refused
from geomgen.errors import DesignError, Fault

DEEPEST = 20  # tables within tables
MOST_KEYS = 5000  # keys and values in one file
DEEP = "lies too deep: tables within tables within tables"
DEEP_ALLOWED = f"at most {DEEPEST} within one another"
_QUOTES = 'text and values with a unit stand in quotes, as "25 mm" or "1 in"'
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
    if line := key_too_deep(source.text, DEEPEST):
        raise _deep(source, line)
    try:
        raw = tomllib.loads(source.text)
    except tomllib.TOMLDecodeError as error:
        raise DesignError(_syntax_fault(source, str(error))) from None
    except RecursionError:
        raise _deep(source, brackets_too_deep(source.text, DEEPEST) or 1) from None
    except ValueError:
        raise _no_value(source) from None
    if (count := _count(raw)) > MOST_KEYS:
        raise refused(source.name, f"holds {count} keys and values", f"at most {MOST_KEYS}")
    if path := _too_deep(raw):
        fault = Fault(written(path), "", DEEP, DEEP_ALLOWED)
        raise DesignError(source.place(fault, path))
    return raw


def _deep(source: Source, line: int) -> DesignError:
    return DesignError(Fault("", _shown(source, line), DEEP, DEEP_ALLOWED, "", source.name, line))


def _no_value(source: Source) -> DesignError:
    """A number that has too many digits to be read, the only thing that TOML allows and Python doesn't."""
    digits = max(re.finditer(r"[0-9_]+", source.text), key=lambda found: found.end() - found.start())
    line = source.text.count("\n", 0, digits.start()) + 1
    wrong = f"a number of {digits.end() - digits.start()} digits can't be read"
    return DesignError(Fault("", _shown(source, line), wrong, "a number of a few digits", "", source.name, line))


def _shown(source: Source, line: int) -> str:
    """A line as a fault shows it."""
    return shown(source.text.split("\n")[line - 1].strip())


def _syntax_fault(source: Source, message: str) -> Fault:
    where = _WHERE.search(message)
    line = int(where["line"]) if where and where["line"] else source.text.rstrip().count("\n") + 1
    column = int(where["column"]) if where and where["column"] else 0
    if message.startswith(_TWICE) and source.lines.twice:
        path, first, second = source.lines.twice[0]
        fault = Fault(written(path), "", f"stands twice, first in line {first}", remedy="keep one of the two")
        return fault.at(source.name, second)
    row = source.text.split("\n")[line - 1]
    wrong, remedy = _in_plain_words(_WHERE.sub("", message), row[column - 1 : column] if column else "")
    return Fault(
        "",
        _shown(source, line),
        f"{f'column {column}' if column else 'at the end'}: {wrong}",
        "",
        remedy,
        source.name,
        line,
    )


def _in_plain_words(message: str, here: str) -> tuple[str, str]:
    """What is wrong and what would do. here : the character where tomllib stopped, if any."""
    if not here.isascii():
        return f"{here} stands without quotes", "texts, and keys with such letters, stand in quotes"
    if message.startswith(_TWICE):
        return "a key or table stands twice, or is both a key and a table", "keep one of the two"
    for start, wrong, remedy in _PLAIN_WORDS:
        if message.startswith(start):
            return wrong, remedy
    return message[:1].lower() + message[1:], ""


def _count(raw: dict[str, Any]) -> int:
    """Keys and values in all tables and lists."""
    count, rest = 0, list[Any]([raw])
    while rest:
        inside = rest.pop()
        count += len(inside)
        rest += [
            item for item in (inside.values() if isinstance(inside, dict) else inside) if type(item) in (dict, list)
        ]
    return count


def _too_deep(raw: dict[str, Any]) -> KeyPath:
    """The path of a value that lies too deep, or ()."""
    level: list[tuple[KeyPath, dict[Any, Any]]] = [((), raw)]
    for _ in range(DEEPEST):
        inside = [((*path, key), item) for path, table in level for key, item in table.items()]
        level = [
            (path, item if isinstance(item, dict) else dict(enumerate(item)))
            for path, item in inside
            if isinstance(item, dict | list)
        ]
    return next(((*path, key) for path, table in level for key in table), ())

"""Which line each key of a TOML file stands in. Asked only when there is a fault to place.

The text is one that `tomllib` has read, or has refused for a key that stands twice: the scan trusts its grammar.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import accumulate

from geomgen.design.keypath import KeyPath

_TOKEN = re.compile(
    r"""(?P<skip>[ \t\r]+|\#[^\n]*)
    | (?P<newline>\n)
    | (?P<text>\"{3}(?:\\[\s\S]|[^\\])*?\"{3,5} | '{3}[\s\S]*?'{3,5} | "(?:\\.|[^"\\\n])*" | '[^'\n]*')
    | (?P<mark>[\[\]{},=.])
    | (?P<bare>[^\s\[\]{},=.\#"']+)""",
    re.VERBOSE,
)


class _Broken(Exception):
    """The document is broken from here on; what was found before stands."""


@dataclass
class Lines:
    """The lines of a file's keys.

    first  : key path -> line where it is written [from 1]
    parent : key path -> line where it is first implied, for tables that have no header of their own
    twice  : (key path, first line, second line) of keys that stand twice
    """

    first: dict[KeyPath, int] = field(default_factory=dict)
    parent: dict[KeyPath, int] = field(default_factory=dict)
    twice: list[tuple[KeyPath, int, int]] = field(default_factory=list)

    def note(self, path: KeyPath, line: int) -> None:
        """Write down that a key stands in a line."""
        for end in range(1, len(path)):
            self.parent.setdefault(path[:end], line)
        if path in self.first:
            self.twice.append((path, self.first[path], line))
        self.first.setdefault(path, line)

    def nearest(self, path: KeyPath) -> int:
        """The line of a key, or of its nearest parent that is there; 1 where none is."""
        for end in range(len(path), 0, -1):
            line = self.first.get(path[:end]) or self.parent.get(path[:end])
            if line is not None:
                return line
        return 1


@dataclass
class _Token:
    kind: str
    text: str
    line: int


def find_lines(text: str) -> Lines:
    """The line of every key.

    text    : a TOML document
    returns : `Lines`; as far as the scan came where the document is broken
    """
    lines = Lines()
    with suppress(_Broken, RecursionError, ValueError):
        _document(_Tokens(text), lines)
    return lines


def key_too_deep(text: str, most: int) -> int:
    """The line of a dotted key or header of more than so many steps, which would take minutes to read; 0 for none."""
    if all(line.count(".") < most for line in text.split("\n")):
        return 0
    steps, line, dotted = 0, 0, False
    for token in _tokens(text):
        if token.kind == "mark" and token.text == ".":
            dotted = True
        elif token.kind in ("bare", "text"):
            steps = steps + 1 if dotted and token.line == line else 1
            line, dotted = token.line, False
            if steps > most:
                return line
        else:
            steps, dotted = 0, False
    return 0


def brackets_too_deep(text: str, most: int) -> int:
    """The line where more than so many lists and inline tables are open; 0 for none."""
    depth = 0
    for token in _tokens(text):
        if token.kind == "mark" and token.text in "[{":
            depth += 1
            if depth > most:
                return token.line
        elif token.kind == "mark" and token.text in "]}":
            depth = max(0, depth - 1)
    return 0


class _Tokens:
    """The document's tokens, one after another, with one to look at ahead."""

    def __init__(self, text: str) -> None:
        self._rest = _tokens(text)
        self.ahead: _Token | None = next(self._rest, None)

    def take(self) -> _Token:
        token = self.ahead
        if token is None:
            raise _Broken
        self.ahead = next(self._rest, None)
        return token

    def at(self, *texts: str) -> bool:
        return self.ahead is not None and self.ahead.kind in ("mark", "newline") and self.ahead.text in texts


def _tokens(text: str) -> Iterator[_Token]:
    starts = list(accumulate((len(line) + 1 for line in text.split("\n")), initial=0))
    for match in _TOKEN.finditer(text):
        kind = match.lastgroup or ""
        if kind != "skip":
            yield _Token(kind, match.group(), bisect_right(starts, match.start()))


def _document(tokens: _Tokens, lines: Lines) -> None:
    table: KeyPath = ()
    counts: dict[KeyPath, int] = {}
    while tokens.ahead is not None:
        if tokens.at("\n"):
            tokens.take()
        elif tokens.at("["):
            table = _header(tokens, lines, counts)
        else:
            _pair(tokens, lines, table)


def _header(tokens: _Tokens, lines: Lines, counts: dict[KeyPath, int]) -> KeyPath:
    line = tokens.take().line
    array = tokens.at("[")
    if array:
        tokens.take()
    path: KeyPath = ()
    steps = _key(tokens, "]")
    for step in steps[:-1]:
        path += (step,)
        if path in counts:
            path += (counts[path] - 1,)
    path += (steps[-1],)
    if array:
        tokens.take()
        counts[path] = counts.get(path, 0) + 1
        lines.parent.setdefault(path, line)
        path += (counts[path] - 1,)
    lines.note(path, line)
    return path


def _pair(tokens: _Tokens, lines: Lines, table: KeyPath) -> None:
    line = tokens.ahead.line if tokens.ahead else 0
    path = table + _key(tokens, "=")
    lines.note(path, line)
    _value(tokens, lines, path)


def _key(tokens: _Tokens, end: str) -> tuple[str, ...]:
    steps = []
    while not tokens.at(end):
        token = tokens.take()
        if token.kind == "text":
            steps.append(tomllib.loads(f"key = {token.text}")["key"])
        elif token.kind == "bare":
            steps.append(token.text)
    tokens.take()
    if not steps:
        raise _Broken
    return tuple(steps)


def _value(tokens: _Tokens, lines: Lines, path: KeyPath) -> None:
    if tokens.at("["):
        tokens.take()
        index = 0
        while not _closed(tokens, "]"):
            lines.note((*path, index), tokens.ahead.line if tokens.ahead else 0)
            _value(tokens, lines, (*path, index))
            index += 1
    elif tokens.at("{"):
        tokens.take()
        while not _closed(tokens, "}"):
            _pair(tokens, lines, path)
    elif tokens.at(",", "]", "}", "\n"):
        raise _Broken  # no value here: nothing after it can be trusted
    else:
        while tokens.ahead is not None and not tokens.at(",", "]", "}", "\n"):
            tokens.take()


def _closed(tokens: _Tokens, end: str) -> bool:
    """Whether an array or inline table ends here; takes commas, new lines and the end."""
    while tokens.at(",", "\n"):
        tokens.take()
    if tokens.at(end):
        tokens.take()
        return True
    if tokens.ahead is None:
        raise _Broken
    return False

"""The text of a coordinate file into points, each with its line."""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray, IntArray
from geomgen.errors import DesignError, Fault

MOST_BYTES = 100_000
MOST_POINTS = 1000
_MOST_FAULTS = 10
_BIG = 1e9

_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?", re.IGNORECASE)
_NOT_TEXT = re.compile(rb"[\x00-\x08\x0e-\x1a\x1c-\x1f]")


@dataclass(frozen=True)
class Origin:
    """Which file is being read, for whom.

    file  : its name as a fault gives it
    path  : key path in the design file
    value : what stands there
    """

    file: str
    path: str
    value: str

    def fault(self, line: int | None, wrong: str, allowed: str = "", remedy: str = "") -> Fault:
        """A fault in this file."""
        return Fault(self.path, self.value, wrong, allowed, remedy, self.file, line)

    def refusal(self, line: int | None, wrong: str, allowed: str = "", remedy: str = "") -> DesignError:
        """The error with one fault in this file."""
        return DesignError(self.fault(line, wrong, allowed, remedy))


@dataclass(frozen=True, eq=False)
class Listing:
    """Points as a file lists them.

    title  : its heading, "" where it has none
    xy     : (n, 2) as written
    lines  : (n,) line of each point, from 1
    counts : points in the first and the second list; None where they run in one loop
    """

    title: str
    xy: FloatArray
    lines: IntArray
    counts: tuple[int, int] | None


def parse(data: bytes, origin: Origin) -> Listing:
    """The points in a coordinate file.

    One point a line, x and y with blanks, a comma or a semicolon between them. The first line may be a title; lines
    without a digit may follow before the points. What follows `#` is left out, as is a line that begins with `!`, `%`,
    `;` or `//`. Two whole numbers ahead of the points are the counts of two lists.

    raises : DesignError with every line at fault
    """
    rows, title, faults = _rows(_text(data, origin), origin)
    if faults:
        more = len(faults) - _MOST_FAULTS
        rest = [origin.fault(None, f"{more} more lines are at fault")] if more > 0 else []
        raise DesignError([*faults[:_MOST_FAULTS], *rest])
    if not rows:
        raise origin.refusal(None, "holds no points", "one point a line, x and y")
    lines, xy = np.array([line for line, _ in rows], dtype=np.intp), np.array([point for _, point in rows])
    counts = _counts(xy, int(lines[0]), origin)
    if counts:
        xy, lines = xy[1:], lines[1:]
    if len(xy) > MOST_POINTS:
        raise origin.refusal(int(lines[MOST_POINTS]), f"holds {len(xy)} points", f"at most {MOST_POINTS}")
    return Listing(title, xy, lines, counts)


def _text(data: bytes, origin: Origin) -> str:
    if len(data) > MOST_BYTES:
        raise origin.refusal(None, f"is longer than {MOST_BYTES // 1000} kB, too long for a coordinate file")
    if _NOT_TEXT.search(data):
        raise origin.refusal(None, "is not a text file", "plain text, one point a line")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")


def _rows(text: str, origin: Origin) -> tuple[list[tuple[int, tuple[float, float]]], str, list[Fault]]:
    """(line, (x, y)) of each point, the title, and the lines that are neither."""
    rows: list[tuple[int, tuple[float, float]]] = []
    faults: list[Fault] = []
    title, begun = "", False
    for number, whole in enumerate(re.split(r"\r\n|\r|\n", text), start=1):
        line = whole.split("#")[0].strip()
        words = re.split(r"[\s,;]+", line)
        if not line or line.startswith(("!", "%", ";", "//")):
            continue
        values = [float(word) for word in words if _NUMBER.fullmatch(word)]
        if len(words) == len(values) == 2 and max(map(abs, values)) < _BIG:
            rows.append((number, (values[0], values[1])))
        elif not begun and not _nearly_a_point(words):
            title = line
        elif rows or re.search(r"\d", line):
            faults.append(_neither(origin, number, line, words))
        begun = True
    return rows, title, faults


def _nearly_a_point(words: list[str]) -> bool:
    """Whether a first line is a point with a slip in it rather than a title."""
    begins = re.match(r"[+-]?\.?\d", words[0])
    return bool(begins) and len(words) <= 3 and any("." in word and _NUMBER.fullmatch(word) for word in words)


def _neither(origin: Origin, number: int, line: str, words: list[str]) -> Fault:
    shown = line if len(line) <= 40 else line[:37] + "..."
    comma = len(words) == 4 and line.count(",") == 2
    remedy = "write a decimal point, not a comma" if comma else ""
    return origin.fault(number, f'"{shown}" is not a point', "two numbers on a line, x and y", remedy)


def _counts(xy: FloatArray, line: int, origin: Origin) -> tuple[int, int] | None:
    """The counts of two lists, if the first row is that."""
    first, second = xy[0]
    if min(first, second) < 2.0 or first % 1.0 or second % 1.0:
        return None
    follow = len(xy) - 1
    if first + second == follow:
        return int(first), int(second)
    if np.max(np.abs(xy[1:]), initial=0.0) > 2.0:
        return None  # a point of a file that is not at chord 1
    wrong = f"two lists of {first:.0f} and {second:.0f} points are announced, {follow} points follow"
    raise origin.refusal(line, wrong, "", f"the two counts must add up to {follow}")

"""Plain-text tables: columns in line, numbers by their right edge, a rule under the head."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen import units


def table(head: Sequence[str], rows: Sequence[Sequence[str]], left: int = 1, foot: int = 0) -> str:
    """Rows in columns as wide as they need to be, two spaces apart.

    head    : titles of the columns; "" for all = no head
    rows    : texts, one row each, as many as the head
    left    : the first so many columns are set to the left, the others to the right
    foot    : a rule stands above the last so many rows
    returns : lines without trailing spaces, no newline at the end
    """
    cells = ([list(head)] if any(head) else []) + [list(row) for row in rows]
    widths = [max(len(row[i]) for row in cells) for i in range(len(head))]
    lines = ["  ".join(_set(row[i], widths[i], i < left) for i in range(len(head))).rstrip() for row in cells]
    rule = "-" * max(len(line) for line in lines)
    if foot:
        lines.insert(len(lines) - foot, rule)
    if any(head):
        lines.insert(1, rule)
    return "\n".join(lines)


def length(value_mm: float, unit: str) -> str:
    """A length in the design's own unit, without its name: 0.1 mm, 0.01 cm, 0.001 in and so on.

    value_mm : [mm]
    unit     : "mm" | "cm" | "m" | "in" | "ft"
    """
    digits = {"mm": 1, "cm": 2, "m": 4, "in": 3, "ft": 4}[unit]
    return fixed(units.in_unit(value_mm, units.LENGTH, unit), digits)


def fixed(value: float, digits: int) -> str:
    """A number to so many decimals, never "-0.0"."""
    return f"{round(value, digits) + 0.0:.{digits}f}"


def mass(value_g: float) -> str:
    """A mass in grams: two decimals below 10 g, one below 1000 g, none above."""
    return fixed(value_g, 2 if abs(value_g) < 9.995 else 1 if abs(value_g) < 999.95 else 0)


def _set(text: str, width: int, left: bool) -> str:
    return text.ljust(width) if left else text.rjust(width)

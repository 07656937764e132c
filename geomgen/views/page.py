"""A page of figures and words that any medium can write: sections of paragraphs, tables and lists."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from geomgen.views.quantity import Quantity

Cell = str | int | Quantity
Row = tuple[Cell, ...]
Column = tuple[str, str]  # what stands above it, its unit; a unit of "mm" means the design's own


@dataclass(frozen=True)
class Table:
    """Rows in columns.

    columns : title and unit of each; no head where all titles are ""
    rows    : as many cells as there are columns
    left    : the first so many columns hold words, the others figures
    foot    : the last so many rows are sums
    behind  : words behind each row; none where empty
    lead    : the first so many columns begin each piece of a table that is too wide; 0 where it is never split
    """

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    left: int = 1
    foot: int = 0
    behind: tuple[str, ...] = ()
    lead: int = 0


@dataclass(frozen=True)
class Item:
    """One of a list.

    kind  : to know, to beware of, a step of work, parts that a step takes, what to beware of in it, a change
    words : of it
    mark  : a step's number, a change's kind
    """

    kind: Literal["note", "caution", "step", "takes", "beware", "change"]
    words: str
    mark: str = ""


Block = str | Table | Item
Section = tuple[Block, ...]  # what belongs together: paragraphs, tables, lists, in their order


@dataclass(frozen=True)
class Page:
    """A whole page.

    unit : lengths are shown in it
    """

    sections: tuple[Section, ...]
    unit: str = "mm"


def as_columns(*titles: str) -> tuple[Column, ...]:
    """Columns from "r, mm" and the like."""
    return tuple((name, unit) for name, _, unit in (title.partition(", ") for title in titles))


Record = dict[str, Any]  # key -> words or a figure


@dataclass(frozen=True)
class Sheet:
    """A table to sort and filter: keys with units in their names, and a value or none under each.

    keys   : of the columns
    rows   : key -> words or a figure
    digits : most decimals of a figure
    """

    keys: tuple[str, ...]
    rows: tuple[Record, ...]
    digits: int = 4

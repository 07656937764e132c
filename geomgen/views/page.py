"""A page of figures and words that any medium can write: sections of paragraphs, tables, lists and pictures.

A `Page` is a section after another; a `Book` has them in chapters, with links and pictures between them.
A section of more than one block that begins with a paragraph has that for its title.
"""

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
    names   : of each row, for links to it; none where empty
    """

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    left: int = 1
    foot: int = 0
    behind: tuple[str, ...] = ()
    lead: int = 0
    names: tuple[str, ...] = ()


@dataclass(frozen=True)
class Link:
    """Where a piece of some words leads.

    words : the piece
    to    : a file beside the page, "cut/all.dxf"; or "#" and the name of a chapter, of a figure or of a table's row
    """

    words: str
    to: str


@dataclass(frozen=True)
class Item:
    """One of a list.

    kind  : to know, to shake one's head at, to beware of, a step of work, parts that a step takes, what to beware of
            in it, a change
    words : of it
    mark  : a step's number, a change's kind
    links : from pieces of its words, in their order
    """

    kind: Literal["note", "warning", "caution", "step", "takes", "beware", "change"]
    words: str
    mark: str = ""
    links: tuple[Link, ...] = ()


@dataclass(frozen=True)
class Figure:
    """A picture with what there is to say of it.

    picture : its name; the picture itself goes to the writer beside the page
    title   : a few words
    words   : what it shows
    notes   : what to know of it
    links   : to files of it
    name    : of the figure, for links to it; "" where none leads there
    wide    : it wants all the width there is
    """

    picture: str
    title: str
    words: str = ""
    notes: tuple[str, ...] = ()
    links: tuple[Link, ...] = ()
    name: str = ""
    wide: bool = False


Block = str | Table | Item | Figure
Section = tuple[Block, ...]  # what belongs together: paragraphs, tables, lists, pictures, in their order


@dataclass(frozen=True)
class Page:
    """A whole page.

    unit : lengths are shown in it
    """

    sections: tuple[Section, ...]
    unit: str = "mm"


@dataclass(frozen=True)
class Chapter:
    """Sections under one title.

    title    : of the chapter
    name     : a short word of its own, for links to it
    sections : in their order
    """

    title: str
    name: str
    sections: tuple[Section, ...]


@dataclass(frozen=True)
class Book:
    """Chapters that are read, opened and printed as one.

    title    : of the whole
    about    : a sentence under it
    chapters : in their order, names all different
    unit     : lengths are shown in it
    """

    title: str
    about: str
    chapters: tuple[Chapter, ...]
    unit: str = "mm"


def headed(section: Section) -> tuple[str, Section]:
    """A section's title, "" where it has none, and what comes after it."""
    if len(section) > 1 and isinstance(section[0], str):
        return section[0], section[1:]
    return "", section


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

"""Pages as plain text: columns in line, figures by their right edge, words wrapped."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from geomgen.figures import name_in, spelled
from geomgen.views.page import Block, Cell, Figure, Item, Page, Table

WIDTH = 110
WIDEST = 130  # of a table that can be split
_APART = 3  # spaces between a table and the words behind it
_FEWEST = 30  # letters of a line of those words
# kind of item -> what its first line begins with, how far its others stand in, their width
_LEADS = {
    "note": ("  ", 4, WIDTH), "warning": ("warning: ", 4, WIDTH), "caution": ("! ", 2, WIDTH),
    "change": ("{:<9}", 9, 100), "step": ("{:>2}. ", 4, 100), "takes": ("    ", 5, 100),
    "beware": ("    ! ", 6, 100),
}  # fmt: skip


def page_text(page: Page) -> str:
    """A page's sections, an empty line between them; no newline at the end."""
    return "\n\n".join("\n".join(_block(b, page.unit) for b in one) for one in spelled(page.sections, page.unit))


def table_text(table: Table, unit: str) -> str:
    """Rows in columns as wide as they need to be, two spaces apart, a rule under the head and above the foot.

    unit    : lengths are written in it
    returns : lines without trailing spaces, no newline at the end
    """
    head = titles_in(table, unit)
    cells = [head, *([cell_text(cell, unit) for cell in row] for row in table.rows)]
    pieces = _pieces(cells, table.lead) if table.lead else [range(len(head))]
    return "\n\n".join(_piece([[row[i] for i in piece] for row in cells], table) for piece in pieces)


def titles_in(table: Table, unit: str) -> list[str]:
    """What stands above each column, with its unit in a design's own system."""
    return [f"{title}, {name_in(own, unit)}" if own else title for title, own in table.columns]


def _pieces(cells: Sequence[Sequence[str]], lead: int) -> list[list[int]]:
    """Numbers of the columns of each piece of a table: as many as go side by side, the leading ones in each."""
    widths = [2 + max(map(len, column)) for column in zip(*cells, strict=True)]
    pieces = [list(range(lead))]
    for k in range(lead, len(widths)):
        if len(pieces[-1]) > lead and sum(widths[i] for i in (*pieces[-1], k)) > WIDEST:
            pieces.append(list(range(lead)))
        pieces[-1].append(k)
    return pieces


def _piece(cells: Sequence[Sequence[str]], table: Table) -> str:
    start = int(any(cells[0]))
    widths = [max(map(len, column)) for column in zip(*cells[1 - start :], strict=True)]
    lines = [
        "  ".join(_set(text, widths[i], i < table.left) for i, text in enumerate(row)).rstrip()
        for row in cells[1 - start :]
    ]
    rule = "-" * max(map(len, lines))
    if table.behind:
        behind = zip(lines[start:], table.behind, strict=True)
        lines[start:] = [_with_words(line, words, len(rule)) for line, words in behind]
    if table.foot:
        lines.insert(len(lines) - table.foot, rule)
    if start:
        lines.insert(1, rule)
    return "\n".join(lines)


def cell_text(cell: Cell, unit: str) -> str:
    """What stands in a cell."""
    return str(cell) if isinstance(cell, str | int) else cell.shown(unit)


def _block(block: Block, unit: str) -> str:
    match block:
        case Table():
            return table_text(block, unit)
        case Item(kind=kind, words=words, mark=mark):
            lead, hanging, width = _LEADS[kind]
            return _filled(words, width, lead.format(mark), " " * hanging, hyphens=kind != "change")
        case Figure(title=title, words=words, notes=notes):
            return "\n".join(_filled(line) for line in (f"{title}: {words}" if words else title, *notes))
        case _:
            return "\n".join(_filled(line) for line in block.split("\n"))


def _filled(words: str, width: int = WIDTH, first: str = "", rest: str = "", hyphens: bool = True) -> str:
    wrap = textwrap.TextWrapper(width, first, rest, break_long_words=False, break_on_hyphens=hyphens)
    return wrap.fill(words)


def _with_words(line: str, words: str, wide: int) -> str:
    """A table's row with words behind it, wrapped."""
    first, *more = textwrap.wrap(words, max(WIDTH - wide - _APART, _FEWEST)) or [""]
    beside = " " * (wide + _APART)
    return "\n".join([f"{line:<{wide}}{' ' * _APART}{first}".rstrip(), *(beside + text for text in more)])


def _set(text: str, width: int, left: bool) -> str:
    return text.ljust(width) if left else text.rjust(width)

"""The first pages: how to print, cut and join, what each kind of line is, cautions, and the list of templates."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from geomgen.figures import mm, spelled
from geomgen.paper.caption import count_words
from geomgen.paper.drawn import Drawn, Item, Line, Style, Words
from geomgen.paper.shapes import box, line
from geomgen.paper.sizes import Page, Paper
from geomgen.paper.square import side_mm, side_words
from geomgen.paper.template import Template
from geomgen.paper.wording import broken, cut_off, fitting_mm, width_mm
from geomgen.plane.path import Bounds

ROLL_COVER_MM = 297.0  # length of a roll's first page
_TITLE_MM, _HEAD_MM, _WORDS_MM, _NOTES_MM = 7.0, 3.8, 3.1, 2.7
_LEAST_MM = 60.0  # width of words beside the square; where there is less, they stand below it
_NAME_MM = 70.0  # most width of a part's name in the list
_PITCH = 1.4
_COLUMN_MM, _GAP_MM = 200.0, 8.0  # greatest width of a column, and between columns
_KEYS = (
    (Style.CUT, "cut: the middle of the line is the edge"),
    (Style.FOLD, "fold or score, don't cut through"),
    (Style.MARK, "copy onto the part: ribs, spars, letters"),
    (Style.REFERENCE, "to look at: chord lines, where sheets meet"),
    (Style.SEAM, "join pages along it, diamonds on diamonds"),
)


@dataclass(frozen=True)
class _Row:
    """A paragraph: text, size, whether it is a heading, space above it, a name ahead of it, indent [mm]."""

    text: str
    size: float
    bold: bool = False
    above: float = 0.0
    lead: str = ""
    indent: float = 0.0


@dataclass(frozen=True)
class About:
    """What the first pages say of all templates.

    title      : of the design
    unit       : the design's own unit of length
    overlap_mm : that neighbouring tiles share [mm]
    cautions   : what a cutter should mind, a paragraph each
    """

    title: str
    unit: str
    overlap_mm: float
    cautions: tuple[str, ...]


def cover_pages(
    templates: Sequence[Template], on: Sequence[Sequence[int]], paper: Paper, about: About
) -> tuple[Drawn, ...]:
    """The first pages, without their own numbers; the list on them counts them.

    on : pages of each template, counted from the first that isn't a cover
    """
    return _flowed(templates, on, paper, about, len(_flowed(templates, on, paper, about, 0)))


def _flowed(
    templates: Sequence[Template], on: Sequence[Sequence[int]], paper: Paper, about: About, covers: int
) -> tuple[Drawn, ...]:
    title, unit = about.title, about.unit
    page = Page(paper.wide_mm, ROLL_COVER_MM if paper.roll else paper.long_mm)
    side = side_mm(unit)
    x0, y0, x1, y1 = page.printable
    foot = y0 + 6.0  # the page's number stands below
    size = fitting_mm(title, x1 - x0, _TITLE_MM, 4.0, bold=True)
    items: list[Item] = [Words(cut_off(title, x1 - x0, size, bold=True), (x0, y1 - 0.95 * size), size, bold=True)]
    top = y1 - _TITLE_MM - 3.0
    first = _columns((x0, foot, x1, top))[0]
    items += _square((first[2] - side - 0.5, top - side), unit)
    advice = [*_advice(about), *(_Row(spelled(text, unit), _WORDS_MM, above=1.5) for text in about.cautions)]
    beside = first[0], foot, first[2] - side - _GAP_MM, top
    low, rows = top, advice
    if beside[2] - beside[0] >= _LEAST_MM:
        drawn, low, rows = _filled(advice, beside)
        items += drawn
    under = min(low, top - side) - 3.0
    columns = [(first[0], foot, first[2], under), *_columns((x0, foot, x1, top))[1:]]
    rows = [*rows, *_listed(templates, on, covers, unit)]
    pages = []
    while True:
        for column in columns:
            drawn, _, rows = _filled(rows, column)
            items += drawn
        pages.append(Drawn(page, tuple(items)))
        if not rows:
            return tuple(pages)
        items, columns = [], _columns((x0, foot, x1, y1))


def _advice(about: About) -> Iterator[_Row]:
    yield _Row("Printing", _HEAD_MM, bold=True)
    yield _Row(
        "Print at 100 %, not fitted to the page. Then measure the square, here and on every page: each side is "
        f"{side_words(about.unit)}. If it isn't, change the printer's scale before anything is cut.",
        _WORDS_MM,
    )
    yield _Row("Cutting", _HEAD_MM, bold=True, above=2.0)
    yield _Row(
        "Stick the paper on the face that is named beside the part. The middle of a whole black line is the part's "
        "edge, outside and inside alike. Inside cuts first, the outline last.",
        _WORDS_MM,
    )
    yield _Row("Joining pages", _HEAD_MM, bold=True, above=2.0)
    overlap = spelled(mm(about.overlap_mm, 0), about.unit)
    yield _Row(
        f"Neighbours share {overlap}. Cut one of both along the blue line through its diamonds, lay it on the other so "
        "that the lines meet and the halves make whole diamonds, and tape. First the pages of a row, A1 to A2 and so "
        "on, then row to row.",
        _WORDS_MM,
    )
    if about.cautions:
        yield _Row("Cautions", _HEAD_MM, bold=True, above=2.0)


def _listed(templates: Sequence[Template], on: Sequence[Sequence[int]], covers: int, unit: str) -> Iterator[_Row]:
    """The list of templates, each with its pages and its notes."""
    yield _Row("Templates", _HEAD_MM, bold=True, above=2.0)
    for template, pages in zip(templates, on, strict=True):
        first, last = covers + min(pages), covers + max(pages)
        where = f"page {first}" if first == last else f"pages {first} to {last}"
        said = " · ".join([where, count_words(template.copies), *spelled(template.words, unit)])
        yield _Row(said, _WORDS_MM, above=1.5, lead=cut_off(template.name, _NAME_MM, _WORDS_MM, bold=True))
        yield from (_Row(f"– {spelled(note, unit)}", _NOTES_MM, indent=3.0) for note in template.notes)


def _square(at: tuple[float, float], unit: str) -> list[Item]:
    """The square, with the kinds of line in it."""
    (x, y), side = at, side_mm(unit)
    items: list[Item] = [Line((box((x, y, x + side, y + side)),), Style.GUIDE)]
    items.append(Words(f"Measure this square: {side_words(unit)} both ways", (x + 5.0, y + side - 8.0), 3.6, bold=True))
    for k, (style, words) in enumerate(_KEYS):
        height = y + side - 20.0 - 9.0 * k
        items.append(Line((line((x + 5.0, height), (x + 25.0, height)),), style))
        items.append(Words(words, (x + 29.0, height - 1.1), _WORDS_MM))
    return items


def _columns(bounds: Bounds) -> list[Bounds]:
    """A wide page in columns of one width."""
    x0, y0, x1, y1 = bounds
    count = max(1, round((x1 - x0) / _COLUMN_MM))
    wide = (x1 - x0 - (count - 1) * _GAP_MM) / count
    return [(x0 + k * (wide + _GAP_MM), y0, x0 + k * (wide + _GAP_MM) + wide, y1) for k in range(count)]


def _filled(rows: Sequence[_Row], column: Bounds) -> tuple[list[Item], float, list[_Row]]:
    """Rows from the top of a column down: what is drawn, how far down it reaches, and the rows that are left over.

    A row goes to the next column whole, with the heading above it, unless it would fill this one by itself.
    """
    items, y = list[Item](), column[3]
    for k, row in enumerate(rows):
        indent = row.indent + (width_mm(row.lead, row.size, bold=True) + 3.0 if row.lead else 0.0)
        lines = broken(row.text, column[2] - column[0] - indent, row.size, row.bold)
        down = y - (row.above if items else 0.0)
        kept = _PITCH * rows[k + 1].size if row.bold and k + 1 < len(rows) else 0.0
        fit = int((down - column[1] - kept + 1e-6) / (_PITCH * row.size))
        if fit < len(lines) and (items or fit < 1):
            return items, y, list(rows[k:])
        if row.lead:
            items.append(Words(row.lead, (column[0], down - (_PITCH - 0.3) * row.size), row.size, bold=True))
        for n, line_of_words in enumerate(lines[:fit], 1):
            base = down - (n * _PITCH - 0.3) * row.size
            items.append(Words(line_of_words, (column[0] + indent, base), row.size, row.bold))
        y = down - min(fit, len(lines)) * _PITCH * row.size
        if fit < len(lines):
            return items, y, [replace(row, text=" ".join(lines[fit:]), lead="", above=0.0), *rows[k + 1 :]]
    return items, y, []

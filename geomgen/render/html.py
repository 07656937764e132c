"""Books as one page of HTML that needs nothing else: no network, no script; its pictures stand in it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from html import escape
from itertools import groupby
from urllib.parse import quote

from geomgen.figures import spelled
from geomgen.render.page_style import STYLE
from geomgen.render.svg import styles
from geomgen.render.text import cell_text, titles_in
from geomgen.views.page import Block, Book, Chapter, Figure, Item, Link, Section, Table, headed

_WORDY = 40  # letters of a cell from which it wants some width


@dataclass(frozen=True)
class _Around:
    """What a block stands in: the unit of lengths, pictures by their names, what the title above is called."""

    unit: str
    pictures: Mapping[str, str]
    head: str = ""


def html(book: Book, pictures: Mapping[str, str]) -> str:
    """The whole page.

    pictures : by the names that figures have, as `render.svg.inline` writes them
    raises   : KeyError where a figure's picture isn't there
    """
    book = spelled(book, book.unit)
    title = escape(book.title)
    return "\n".join(
        (
            "<!DOCTYPE html>",
            '<html lang="en">',
            '<head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">',
            f"<title>{title}</title>",
            f"<style>\n{STYLE}{styles()}\n</style></head>",
            f"<body>\n<header><h1>{title}</h1><p>{escape(book.about)}</p>{_contents(book.chapters)}</header>",
            "<main>",
            *(_chapter(chapter, _Around(book.unit, pictures)) for chapter in book.chapters),
            "</main>\n</body>\n</html>",
            "",
        )
    )


def _contents(chapters: Sequence[Chapter]) -> str:
    items = "".join(f"<li>{_link(Link(one.title, f'#{one.name}'))}</li>" for one in chapters)
    return f'\n<nav aria-label="On this page"><ul>{items}</ul></nav>'


def _chapter(chapter: Chapter, around: _Around) -> str:
    name, head = escape(chapter.name), escape(f"{chapter.name}-title")
    lines = [
        f'<section id="{name}" aria-labelledby="{head}">',
        f'<h2 id="{head}">{escape(chapter.title)}</h2>',
    ]
    for k, section in enumerate(chapter.sections, start=1):
        lines += _section(section, f"{chapter.name}-{k}", replace(around, head=head))
    return "\n".join([*lines, "</section>"])


def _section(section: Section, name: str, around: _Around) -> Iterator[str]:
    """A section under its own title, which has that name, or under the chapter's where it has none."""
    title, blocks = headed(section)
    if title:
        name = escape(name)
        around = replace(around, head=name)
        yield f'<h3 id="{name}">{_lines(title)}</h3>'
    for kind, same in groupby(blocks, key=_kind):
        yield from _RUNS[kind](list(same), around)


def _kind(block: Block) -> str:
    """What stands side by side as one list or one row of pictures."""
    match block:
        case str():
            return "paragraph"
        case Table():
            return "table"
        case Figure():
            return "figure"
        case Item(kind="caution" | "warning"):
            return "caution"
        case Item(kind="step" | "takes" | "beware"):
            return "step"
        case Item():
            return "note"


_Run = Callable[[list[Block], _Around], Iterator[str]]


def _paragraphs(blocks: list[Block], around: _Around) -> Iterator[str]:
    for block in blocks:
        assert isinstance(block, str)
        yield from (f"<p>{escape(line)}</p>" for line in block.split("\n"))


def _tables(blocks: list[Block], around: _Around) -> Iterator[str]:
    for block in blocks:
        assert isinstance(block, Table)
        yield from _table(block, around)


def _figures(blocks: list[Block], around: _Around) -> Iterator[str]:
    yield '<div class="figures">'
    for block in blocks:
        assert isinstance(block, Figure)
        yield _figure(block, around.pictures[block.picture])
    yield "</div>"


def _cautions(blocks: list[Block], around: _Around) -> Iterator[str]:
    for item in _items(blocks):
        word = "Warning." if item.kind == "warning" else "Beware."
        yield f'<p class="caution"><strong>{word}</strong> {_linked(item.words, item.links)}</p>'


def _notes(blocks: list[Block], around: _Around) -> Iterator[str]:
    yield "<ul>"
    for item in _items(blocks):
        mark = f"<strong>{escape(item.mark)}</strong> " if item.mark else ""
        yield f"<li>{mark}{_linked(item.words, item.links)}</li>"
    yield "</ul>"


def _steps(blocks: list[Block], around: _Around) -> Iterator[str]:
    """Steps with what they take and what to beware of in them."""
    open_ = False
    yield "<ol>"
    for item in _items(blocks):
        words = _linked(item.words, item.links)
        if item.kind == "step" or not open_:
            yield f'{"</li>" * open_}<li class="step"{_value(item.mark)}><p>{words}</p>'
            open_ = True
        elif item.kind == "takes":
            yield f'<p class="takes">{words}</p>'
        else:
            yield f'<p class="beware"><strong>Beware.</strong> {words}</p>'
    yield "</li>\n</ol>"


_RUNS: dict[str, _Run] = {
    "paragraph": _paragraphs,
    "table": _tables,
    "figure": _figures,
    "caution": _cautions,
    "note": _notes,
    "step": _steps,
}


def _items(blocks: list[Block]) -> Iterator[Item]:
    for block in blocks:
        assert isinstance(block, Item)
        yield block


def _value(mark: str) -> str:
    return f' value="{mark}"' if mark.isdecimal() else ""


def _table(table: Table, around: _Around) -> Iterator[str]:
    """Rows in their own box, which scrolls where the page is narrower; read out under the title above."""
    yield f'<div class="scroll" role="region" tabindex="0" aria-labelledby="{around.head}"><table>'
    titles = titles_in(table, around.unit)
    if any(titles):
        heads = "".join(_head(title, k >= table.left) for k, title in enumerate(titles))
        yield f"<thead><tr>{heads}{'<td></td>' * bool(table.behind)}</tr></thead>"
    rows = [_row(table, k, around.unit) for k in range(len(table.rows))]
    body = len(rows) - table.foot
    yield from ("<tbody>", *rows[:body], "</tbody>")
    if table.foot:
        yield from ("<tfoot>", *rows[body:], "</tfoot>")
    yield "</table></div>"


def _head(title: str, figure: bool) -> str:
    return f'<th scope="col"{_class("figure" * figure)}>{escape(title)}</th>' if title else "<td></td>"


def _class(name: str) -> str:
    return f' class="{name}"' if name else ""


def _row(table: Table, k: int, unit: str) -> str:
    name = f' id="{escape(table.names[k])}"' if table.names else ""
    first, *rest = (cell_text(cell, unit) for cell in table.rows[k])
    cells = [f'<th scope="row"{_class("figure" * (not table.left))}>{escape(first)}</th>']
    for i, text in enumerate(rest, start=1):
        kind = "words" if len(text) > _WORDY else "figure" * (i >= table.left)
        cells.append(f"<td{_class(kind)}>{escape(text)}</td>")
    if table.behind:
        cells.append(f'<td class="words">{escape(table.behind[k])}</td>')
    return f"<tr{name}>{''.join(cells)}</tr>"


def _figure(figure: Figure, picture: str) -> str:
    name = f' id="{escape(figure.name)}"' if figure.name else ""
    notes = "".join(f"<li>{escape(note)}</li>" for note in figure.notes)
    words = f"<p>{_linked(figure.words, figure.links)}</p>" if figure.words else ""
    caption = f"<strong>{escape(figure.title)}</strong>{words}{f'<ul>{notes}</ul>' if notes else ''}"
    return "\n".join(
        (f"<figure{name}{_class('wide' * figure.wide)}>", picture, f"<figcaption>{caption}</figcaption>", "</figure>")
    )


def _lines(words: str) -> str:
    return "<br>".join(map(escape, words.split("\n")))


def _linked(words: str, links: Sequence[Link]) -> str:
    """Words, pieces of which lead somewhere; raises ValueError for a piece that isn't in them, in its order."""
    done, at = "", 0
    for link in links:
        start = words.index(link.words, at)
        done += escape(words[at:start]) + _link(link)
        at = start + len(link.words)
    return done + escape(words[at:])


def _link(link: Link) -> str:
    lead, to = ("#", link.to[1:]) if link.to.startswith("#") else ("", link.to)
    return f'<a href="{lead}{escape(quote(to))}">{escape(link.words)}</a>'

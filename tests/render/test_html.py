"""The HTML writer on books made up for it: what another parser makes of them, whatever words stand in them."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from urllib.parse import unquote

import pytest
from pages import SVG, ids, links, named, parsed, part, reaches_out, rows, table_under, words

from geomgen.render.html import html
from geomgen.render.svg import COLOURS, inline, styles
from geomgen.views.drawing import Drawing, Words, rectangle
from geomgen.views.page import Block, Book, Chapter, Figure, Item, Link, Section, Table, as_columns
from geomgen.views.quantity import Length, Number

HOSTILE = "</style></title><script>alert(1)</script> \"quoted\" 'single' & <b>bold</b> &amp; Größe →"
PICTURE = Drawing((0.0, 0.0, 40.0, 20.0), HOSTILE, HOSTILE, (Words(HOSTILE, (1.0, 2.0), 3.0),))


def page(*sections: Section, unit: str = "mm", **pictures: str) -> str:
    chapters = (Chapter("First", "first", sections), Chapter("Second", "second", (("Only words.",),)))
    return html(Book("Title", "About.", chapters, unit), pictures)


def block(*blocks: Block) -> ET.Element:
    """The first chapter of a page of these blocks, without error by the standard."""
    root, errors = parsed(page(blocks))
    assert not errors
    return part(root, "first")


def test_any_words_stay_words() -> None:
    table = Table(as_columns(HOSTILE, "n"), ((HOSTILE, 1),), behind=(HOSTILE,), names=("row-1",))
    figure = Figure("p", HOSTILE, HOSTILE, (HOSTILE,), (Link("quoted", "a b&c/ü#1.dxf"),), "fig-ü")
    items = (Item("note", HOSTILE), Item("caution", HOSTILE), Item("step", HOSTILE, "1"), Item("takes", HOSTILE))
    sections: tuple[Section, ...] = ((HOSTILE, HOSTILE, table), (figure,), items)
    chapter = Chapter(HOSTILE, "one", sections)
    text = html(Book(HOSTILE, HOSTILE, (chapter,)), {"p": inline(PICTURE, "p")})
    root, errors = parsed(text)
    assert not errors and not reaches_out(root)
    assert not list(root.iter("b")) and words(next(root.iter("title"))) == HOSTILE
    assert words(root).count(HOSTILE) == text.count("Größe") == 20
    (file,) = (to for to in links(root) if not to.startswith("#"))
    assert unquote(file) == "a b&c/ü#1.dxf" and "#" not in file and " " not in file


def test_a_picture_is_read_out_by_its_title_and_what_it_is_about() -> None:
    """As XML too, so that it can be cut out of the page."""
    text = inline(PICTURE, "rib R1")
    root = ET.fromstring(text)
    told = {element.attrib["id"]: element.text for element in root.iter() if element.tag in ("title", "desc")}
    assert root.attrib["role"] == "img" and [told[name] for name in root.attrib["aria-labelledby"].split()] == [
        HOSTILE,
        HOSTILE,
    ]
    assert root.attrib["viewBox"] == "0 -20 40 20"
    shown, errors = parsed(page((Figure("rib R1", "A rib"),), **{"rib R1": text}))
    assert not errors and len(ids(shown)) == len(set(ids(shown)))
    assert len(list(shown.iter(f"{SVG}svg"))) == 1


def test_colours_of_a_picture_are_its_own() -> None:
    first, second = (
        inline(
            Drawing((0.0, 0.0, 9.0, 9.0), "", "", (rectangle(1, 1, 2, 2, "hub-5"),), colours=(("hub-5", c, c),)), name
        )
        for name, c in (("a", "#111111"), ("b", "#222222"))
    )
    assert 'svg[id="picture-a"] .hub-5{fill:#111111' in first and 'svg[id="picture-b"] .hub-5{fill:#222222' in second


def test_the_page_has_every_style_dark_on_a_screen_and_light_on_paper() -> None:
    light, _, dark = styles().partition("@media screen and (prefers-color-scheme:dark)")
    for name, (by_day, by_night) in COLOURS.items():
        assert f".{name}{{stroke:{by_day}}}" in light and f".{name}{{stroke:{by_night}}}" in dark
    text = page(())
    assert len(re.findall(r"@media screen and \(prefers-color-scheme:dark\)", text)) == 2
    assert "(prefers-color-scheme" not in text.replace("@media screen and (prefers-color-scheme", "")
    assert "@page" in text and "break-inside:avoid" in text


def test_headings_go_down_one_at_a_time_and_name_their_sections() -> None:
    root, _ = parsed(page(("Under it", "words"), ("Alone.",)))
    levels = [int(element.tag[1]) for element in named(root) if re.fullmatch(r"h[1-6]", element.tag)]
    assert levels == [1, 2, 3, 2]
    for section in root.iter("section"):
        assert part(root, section.attrib["aria-labelledby"]).tag == "h2"
    assert links(next(root.iter("nav"))) == ["#first", "#second"]
    assert root.attrib["lang"] == "en"


def test_a_table_has_scopes_units_sums_and_rows_to_link_to() -> None:
    table = Table(
        as_columns("part", "", "long, mm"),
        (("rib", "a", Length(25.4)), ("spar", "", Length(50.8)), ("together", "", Number(2.0, 0))),
        left=2,
        foot=1,
        names=("r1", "r2", "r3"),
    )
    root, errors = parsed(page(("Lengths", table), unit="in"))
    assert not errors
    assert table_under(root, "Lengths") == [
        ["part", "", "long, in"], ["rib", "a", "1.000"], ["spar", "", "2.000"], ["together", "", "2"],
    ]  # fmt: skip
    heads = [(cell.attrib["scope"], words(cell)) for cell in root.iter("th")]
    assert heads == [("col", "part"), ("col", "long, in"), ("row", "rib"), ("row", "spar"), ("row", "together")]
    assert len(list(next(root.iter("tfoot")).iter("tr"))) == 1
    assert words(part(root, "r2")) == "spar 2.000".replace(" ", "") and part(root, "r2").tag == "tr"
    (box,) = (one for one in root.iter("div") if one.attrib.get("class") == "scroll")
    assert box.attrib["tabindex"] == "0" and box.attrib["role"] == "region"


def test_a_table_of_figures_only_and_one_without_a_head() -> None:
    assert rows(block(Table(as_columns("a", "b"), ((1, 2),), left=0))) == [["a", "b"], ["1", "2"]]
    bare = block(Table((("", ""), ("", "")), (("mass", 2),), behind=("in all",)))
    assert rows(bare) == [["mass", "2", "in all"]] and not list(bare.iter("thead"))


def test_steps_hold_what_they_take_and_what_to_beware_of() -> None:
    steps = (
        Item("step", "Cut.", "1"),
        Item("step", "Glue.", "2"),
        Item("takes", "[rib R1, spar]", links=(Link("rib R1", "#part-rib_R1"), Link("spar", "#part-spar"))),
        Item("beware", "Fumes."),
    )
    root = block(*steps)
    (listed,) = root.iter("ol")
    assert [(item.attrib["value"], words(item)) for item in listed] == [
        ("1", "Cut."),
        ("2", "Glue. [rib R1, spar] Beware. Fumes."),
    ]
    assert links(root) == ["#part-rib_R1", "#part-spar"]


def test_lists_of_one_kind_are_one_list() -> None:
    root = block(Item("note", "a"), Item("note", "b"), Item("caution", "c"), Item("change", "rib R1", "new"), "p\nq")
    assert [len(list(one)) for one in root.iter("ul")] == [2, 1]
    assert [words(one) for one in root.iter("p")] == ["Beware. c", "p", "q"]


def test_what_is_missing_is_no_page() -> None:
    with pytest.raises(KeyError):
        page((Figure("lost", "A rib"),))
    with pytest.raises(ValueError, match="substring"):
        page((Item("note", "words", links=(Link("other words", "a.dxf"),)),))

"""A design in inches and ounces shows no metric figure: on no page, picture, list or file, in no note or warning.

What a maker wrote and what a source says are let pass: names of stocks and screws ("M3 x 12" is bought by that name in
any country), and the catalogue's words on where a figure comes from.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator

import pymupdf
import pytest
from other_system import metric_figures, other_system
from pages import parsed, words

from geomgen import making
from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.cutting import toolpaths
from geomgen.design.library import example_path
from geomgen.design.reader import DesignFile, read_from
from geomgen.design.source import Source
from geomgen.folder import Changes
from geomgen.making import craft_files, sheet_files
from geomgen.model.part import Flat
from geomgen.render.data import json_text
from geomgen.render.text import page_text
from geomgen.study.comparison import compare
from geomgen.views import verdict
from geomgen.views.check import check_data, check_page
from geomgen.views.hover import hover_page
from geomgen.views.hover_data import hover_data
from geomgen.views.loads import loads_page
from geomgen.views.loads_data import loads_data
from geomgen.views.make import made_page
from geomgen.views.weigh import weigh_page
from geomgen.views.weigh_data import weigh_data

OWN = {
    '"0.2 mm"': '"0.008 in"', '"3.5 g/m"': '"0.04 oz/ft"', '"0.4 mm"': '"0.016 in"', '"0.03 mm"': '"0.0012 in"',
    '"0.75 mm2"': '"0.00116 in2"',
}  # fmt: skip
CRAFTS = [
    *(("kite_day", option) for option in (None, "naca", "foam_core", "upright")),
    *(("lantern", option) for option in (None, "film", "balsa", "foam_on_ply", "foam_board")),
    ("starter", None),
]
CraftOf = Callable[..., tuple[Craft, DesignFile]]
HEAVY = ('mass_guess = "3 1/2 lb"', 'mass_guess = "2 lb"'), ("rpm        = 275", "rpm        = 150")


def text_of(example: str) -> str:
    """An example in inches, without the few metric values in it."""
    text = example_path(example).read_text(encoding="utf-8")
    if 'units  = "mm"' in text:
        return other_system(text)
    for metric, own in OWN.items():
        text = text.replace(metric, own)
    return text


def read(example: str, option: str | None, *edits: tuple[str, str]) -> DesignFile:
    text = text_of(example)
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new)
    return read_from(Source(f"{example}.toml", text, example_path(example).parent), option)


@pytest.fixture(scope="module")
def crafted(cache: Cache) -> CraftOf:
    def make(example: str, option: str | None, *edits: tuple[str, str]) -> tuple[Craft, DesignFile]:
        file = read(example, option, *edits)
        return Craft(file.design, file.source.folder, cache, exact=False), file

    return make


def said(craft: Craft, file: DesignFile) -> Iterator[tuple[str, str]]:
    """Every page of a craft that needs no solid, as text and as data."""
    warnings = [file.locate(warning) for warning in craft.warnings]
    changes = Changes(("a",), (), (), ())
    yield "check", page_text(check_page(craft, warnings, notes=True))
    yield "weigh", page_text(weigh_page(craft, warnings))
    yield "make", page_text(made_page(changes, craft, warnings, notes=True))
    yield "hover", page_text(hover_page(craft, warnings))
    yield "loads", page_text(loads_page(craft, warnings))
    pages = (check_data, weigh_data, hover_data, loads_data)
    for data in (page(craft, None, warnings) for page in pages):
        yield "json", json_text(data, craft.design.units or "mm")
    flats = [part.shape for part in craft.flat_parts if isinstance(part.shape, Flat)]
    yield "engraved", "; ".join(text.text for flat in flats for text in flat.texts)


def shown(name: str, data: bytes) -> str:
    """What is read of a file: of a page and a picture the words, sizes of the paper and styles left out."""
    if name.endswith("pdf"):
        with pymupdf.open(stream=data, filetype="pdf") as pages:
            return "\n".join(page.get_text() for page in pages)
    if not name.endswith(("html", "svg")):
        return data.decode()
    root, _ = parsed(data.decode())
    for style in [one for one in root.iter() if str(one.tag).endswith("style")]:
        style.text = ""
    return words(root)


@pytest.mark.parametrize(("example", "option"), CRAFTS)
def test_pages_have_no_metric_figure(crafted: CraftOf, example: str, option: str) -> None:
    craft, file = crafted(example, option)
    for page, text in said(craft, file):
        assert metric_figures(text) == [], page
        assert not re.search("[\ue000-\uf8ff]", text), page


def test_warnings_have_none(crafted: CraftOf) -> None:
    craft, file = crafted("kite_day", None, *HEAVY)
    told = [str(file.locate(warning)) for warning in craft.warnings]
    assert len(told) >= 2 and any(" lb" in one for one in told)
    assert metric_figures("\n".join(told)) == []


@pytest.mark.parametrize("example", ["kite_day", "lantern"])
def test_files_have_none(crafted: CraftOf, example: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every list and picture, the page, and what is written on cutting files."""
    strokes, written = toolpaths.strokes, list[str]()
    monkeypatch.setattr(toolpaths, "strokes", lambda text, size: (written.append(text), strokes(text, size))[1])
    for module in (craft_files, sheet_files):  # cutting files are drawn anew
        monkeypatch.setattr(module, "kept", lambda cache, content, draw: draw())
    craft, _ = crafted(example, None)
    made = making.make(craft)
    for name, data in made.files.items():
        if name.endswith((".dxf", ".stl")):
            continue
        text = shown(name, data)
        assert metric_figures(text) == [], name
        assert not re.search("[\ue000-\uf8ff]", text), name
    assert len(written) > 2 * len(craft.flat_parts) and "4 in" in written
    assert metric_figures("; ".join(written)) == []


@pytest.mark.parametrize("example", ["kite_day", "lantern"])
def test_options_side_by_side_have_none(cache: Cache, example: str) -> None:
    found = compare(read(example, None), cache=cache)
    assert found.units == "in" and all(column.figures for column in found.columns)
    for name, data in making.compare_files(found).files.items():
        text = shown(name, data)
        assert metric_figures(text) == [], name
        assert not re.search("[\ue000-\uf8ff]", text), name


def test_a_metric_figure_is_found(crafted: CraftOf, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever writes a figure with its unit by hand is told by this file."""
    craft, file = crafted("kite_day", None)
    monkeypatch.setattr(verdict, "newton", lambda values, *_: f"{values[0]:.1f} N")
    pages = dict(said(craft, file))
    assert len(metric_figures(pages["weigh"])) == 1 and metric_figures(pages["engraved"]) == []
    assert len(metric_figures("a web of 1.5 mm, M3 x 12, balsa_3; 36 g/m2, 3/32 in, 2 oz")) == 2


def test_data_keep_house_units(crafted: CraftOf) -> None:
    """Keys name mm, g and N: figures under them stay in these, whatever the design's system."""
    craft, _ = crafted("kite_day", None)
    told = json.loads(json_text(weigh_data(craft, None), "in"))
    assert told["blade"]["mass_g"]["typical"] == craft.mass.blade.mass_g.typical

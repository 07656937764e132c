"""Tiles cover what they are for, each but for the overlap once; papers and overlaps that can't do are refused."""

from __future__ import annotations

import math
import re
import subprocess
import sys
from dataclasses import replace

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from paper_parts import part, plate, skin, templates
from paper_reader import pages

from geomgen.paper.pdf import paper_pdf
from geomgen.paper.sizes import A4, Paper, roll
from geomgen.paper.template import template
from geomgen.paper.tiles import Tile, seams, tiled

side = st.floats(20.0, 2500.0)
share = st.floats(0.0, 1.0)


@given(side, side, st.sampled_from([(189.0, 244.0), (276.0, 157.0)]), st.floats(8.0, 40.0), share, share)
def test_tiles_cover_the_drawing_and_share_the_overlap(
    wide: float, high: float, room: tuple[float, float], overlap: float, before_x: float, before_y: float
) -> None:
    tiles = tiled((-5.0, 7.0, wide - 5.0, high + 7.0), room, overlap, (before_x, before_y))
    whole = shapely.union_all([shapely.box(*tile.window) for tile in tiles])
    assert whole.buffer(1e-6).covers(shapely.box(-5.0, 7.0, wide - 5.0, high + 7.0))
    columns, rows = 1 + max(tile.column for tile in tiles), 1 + max(tile.row for tile in tiles)
    assert whole.area == pytest.approx(
        (columns * room[0] - (columns - 1) * overlap) * (rows * room[1] - (rows - 1) * overlap), rel=1e-9
    )
    least = [math.ceil(long / size - 1e-9) for long, size in ((wide, room[0]), (high, room[1]))]
    assert columns >= least[0] and rows >= least[1]
    for seam in seams(tiles):
        first, second = (shapely.box(*next(t.window for t in tiles if t.name == n)) for n in (seam.first, seam.second))
        shared = first.intersection(second)
        line = shapely.LineString([seam.start, seam.end])
        assert shared.area == pytest.approx(line.length * overlap, rel=1e-6)
        assert shapely.LineString([*shared.minimum_rotated_rectangle.exterior.coords]).distance(line) < 1e-6
        assert line.hausdorff_distance(shared.boundary) == pytest.approx(overlap / 2, rel=1e-3, abs=1e-3)
        assert len(seam.marks) >= 2 and all(line.distance(shapely.Point(mark)) < 1e-6 for mark in seam.marks)


def test_names_go_on_past_z() -> None:
    names = [Tile(row, 2, (0.0, 0.0, 1.0, 1.0)).name for row in (0, 1, 25, 26, 27, 52)]
    assert names == ["A3", "B3", "Z3", "AA3", "AB3", "BA3"]


def test_what_just_fits_is_one_tile() -> None:
    assert len(tiled((0.0, 0.0, 189.0, 244.0), (189.0, 244.0))) == 1
    assert len(tiled((0.0, 0.0, 189.1, 244.0), (189.0, 244.0))) == 2


@pytest.mark.parametrize("overlap", [0.0, 7.9, 95.0])
def test_overlaps_that_cant_be_marked_are_refused(overlap: float) -> None:
    with pytest.raises(ValueError, match="overlap"):
        paper_pdf([template(part(skin()), 1, clockwise=False)], A4, overlap, title="Lantern")


def test_papers_too_small_and_no_parts_are_refused() -> None:
    with pytest.raises(ValueError, match="at least"):
        Paper("card", 100.0, 148.0)
    with pytest.raises(ValueError, match="at most"):
        roll(914.0, 6000.0)
    with pytest.raises(ValueError, match="no part"):
        paper_pdf([], A4, title="Lantern")


def test_the_list_names_each_parts_pages() -> None:
    """Where the first pages send to for a part, its name stands; with so many notes that the list takes several."""
    notes = tuple(f"note {k}: " + "mind the grain and the feet before that side is covered " * 2 for k in range(4))
    few = [replace(each, notes=notes) for each in templates()]
    found = pages(paper_pdf(few, A4, title="Lantern"))
    listed = " ".join(page.text for page in found if "– note" in page.text)
    assert sum("– note" in page.text for page in found) >= 2
    for each in few:
        first, last = re.search(rf"{each.name} pages? (\d+)(?: to (\d+))? ·", listed).groups()
        on = [k for k, page in enumerate(found, 1) if each.name in page.text and "– note" not in page.text]
        assert on == list(range(int(first), int(last or first) + 1))
    assert all(f"page {k} of {len(found)}" in page.text for k, page in enumerate(found, 1))


def test_nothing_heavy_is_loaded_before_a_page_is_written() -> None:
    code = "import sys, geomgen.paper.pdf, geomgen.paper.template; print('reportlab' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout.strip() == "False"


def test_names_in_letters_that_the_pages_fonts_lack() -> None:
    """Accents that they lack are left off, whole letters are a question mark; the file's own title has them all."""
    named = template(part(plate(60.0, 40.0), "žebro číslo Ж–1 “A”"), 1, clockwise=False)
    found = pages(paper_pdf([named], A4, title="Žluťoučký rotor"))
    assert "žebro císlo ?–1 “A”" in found[1].text
    assert "Žlutoucký rotor" in found[0].text
    assert found[0].page.parent.metadata["title"] == "Žluťoučký rotor"

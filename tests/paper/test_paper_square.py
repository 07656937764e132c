"""A printer can be measured on every page: the square is as long as it says, in the file's lines and in pixels."""

from __future__ import annotations

import numpy as np
import pytest
from paper_parts import part, skin, strip, templates
from paper_reader import MM, PageRead, pages

from geomgen.paper.pdf import paper_pdf
from geomgen.paper.sizes import A3, A4, LETTER, Paper, roll
from geomgen.paper.template import template

PAPERS = (A4, A3, LETTER, roll(), roll(610.0), roll(420.0, 900.0))
NAMES = [f"{paper.name} {paper.wide_mm:.0f}" for paper in PAPERS]
SIZES = {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "Letter": (215.9, 279.4)}  # ISO 216; ANSI/ASME Y14.1
DPI = 300


def sides(corners: np.ndarray) -> list[float]:
    """Both sides, both ends of each, from corners in rows from below, each from the left."""
    low_left, low_right, high_left, high_right = corners
    pairs = ((low_left, low_right), (high_left, high_right), (low_left, high_left), (low_right, high_right))
    return [float(np.hypot(*(b - a))) for a, b in pairs]


def read(paper: Paper, unit: str = "mm") -> list[PageRead]:
    return pages(paper_pdf(templates(), paper, title="Lantern", unit=unit))


@pytest.mark.parametrize("paper", PAPERS, ids=NAMES)
def test_every_page_has_a_square_of_100_mm(paper: Paper) -> None:
    found = read(paper)
    assert len(found) >= 2
    for page in found:
        assert len(page.square()) == 4
        assert sides(page.square()) == pytest.approx([100.0] * 4, abs=0.02)
        assert "100 mm" in page.text


@pytest.mark.parametrize("paper", PAPERS[:3], ids=NAMES[:3])
def test_pages_have_the_standards_size_upright_or_lying(paper: Paper) -> None:
    short, long = SIZES[paper.name]
    for page in read(paper):
        assert sorted(page.size) == pytest.approx([short, long], abs=0.01)


def test_a_design_in_inches_has_a_square_of_4_in_and_says_so() -> None:
    for page in read(LETTER, unit="in"):
        assert sides(page.square()) == pytest.approx([101.6] * 4, abs=0.02)
        assert "4 in" in page.text
        assert " mm" not in page.text


def middle(pixels: np.ndarray, at_mm: float) -> float:
    """Middle of the dark line within 1 mm of a place along a row of pixels, by its darkness [mm]."""
    start, count = round((at_mm - 1.0) * DPI / 25.4), round(2.0 * DPI / 25.4)
    dark = 255.0 - pixels[start : start + count].astype(float)
    return float((dark * (start + np.arange(count) + 0.5)).sum() / dark.sum() * 25.4 / DPI)


@pytest.mark.parametrize("paper", [A4, A3, LETTER, roll(420.0, 900.0)], ids=lambda paper: paper.name)
def test_the_square_is_100_mm_in_pixels(paper: Paper) -> None:
    """Its upright and level arms, in pixels of a renderer that isn't ours; on a tile and on a page of small parts."""
    found = pages(paper_pdf(templates(), paper, title="Lantern"))
    for page in (found[1], found[-1]):
        pixels = page.pixels(DPI)[:, :, 0]  # red: blue lines are dark in it
        (x0, y0), (x1, y1) = page.square()[0], page.square()[3]
        for y in (y0 + 8.0, y1 - 8.0):
            row = pixels[round((page.size[1] - y) * DPI / 25.4)]
            assert middle(row, x1) - middle(row, x0) == pytest.approx(100.0, abs=0.1)
        for x in (x0 + 8.0, x1 - 8.0):
            column = pixels[::-1, round(x * DPI / 25.4)]
            assert middle(column, y1) - middle(column, y0) == pytest.approx(100.0, abs=0.1)


def test_the_file_asks_to_be_printed_unscaled() -> None:
    document = pages(paper_pdf(templates()[:1], A4, title="Lantern"))[0].page.parent
    kind, value = document.xref_get_key(document.pdf_catalog(), "ViewerPreferences")
    found = document.xref_object(int(value.split()[0])) if kind == "xref" else value
    assert "/PrintScaling/None" in found.replace(" ", "")


@pytest.mark.parametrize("paper", PAPERS, ids=NAMES)
def test_nothing_is_drawn_in_the_margins(paper: Paper) -> None:
    """Within 10 mm of the page's rim: by the lines with their widths, by the boxes of words, and by pixels."""
    margin = 10.0
    long = [template(part(strip(), "strip"), 1, clockwise=False), *templates()]
    title, cautions = "A lantern that stays up " * 8, ("Mind the blade. " * 30,)
    for page in pages(paper_pdf(long, paper, title=title, cautions=cautions)):
        wide, high = page.size
        for stroke in page.strokes:
            low, up = stroke.points.min(axis=0) - stroke.width / 2, stroke.points.max(axis=0) + stroke.width / 2
            assert (low >= margin - 0.2).all() and (up <= np.array([wide, high]) - margin + 0.2).all()
        for x0, y0, x1, y1, *_ in page.page.get_text("words"):
            assert x0 * MM >= margin - 0.3 and x1 * MM <= wide - margin + 0.3
            assert y0 * MM >= margin - 2.0 and y1 * MM <= high - margin + 2.0  # boxes are higher than letters
        if wide * high < 2e5:
            blank = page.pixels(50)
            rim = round((margin - 0.6) * 50 / 25.4)
            blank = blank.copy()
            blank[rim:-rim, rim:-rim] = 255
            assert blank.min() == 255


def test_skin_on_its_tiles_reaches_the_window() -> None:
    """The check above would pass for a page left blank: lines do reach within 1 mm of what may be printed."""
    found = pages(paper_pdf([template(part(skin()), 1, clockwise=False)], A4, title="Lantern"))
    reach = [stroke.points.min(axis=0)[0] for page in found[1:] for stroke in page.of("black whole")]
    assert 10.0 < min(reach) < 11.0

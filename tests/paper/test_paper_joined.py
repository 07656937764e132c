"""Pages joined at their marks, as read out of the file, give the part again."""

from __future__ import annotations

import hashlib
import math
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from paper_parts import RIBS, part, plate, skin, strip, templates
from paper_reader import PageRead, pages

from geomgen.model.part import Flat
from geomgen.paper.pdf import paper_pdf
from geomgen.paper.sizes import A3, A4, LETTER, Paper, roll
from geomgen.paper.template import template

WITHIN = 0.2
Joined = dict[str, list[shapely.LineString]]  # pen -> lines, all tiles in the first one's frame


def tiles(flat: Flat, paper: Paper, overlap_mm: float = 12.0) -> dict[str, PageRead]:
    """Pages of one part by the name of their tile, which is read."""
    found = pages(paper_pdf([template(part(flat), 1, clockwise=False)], paper, overlap_mm, title="Lantern"))[1:]
    return {page.text.split(" tile ")[1].split(":")[0] if " tile " in page.text else "A1": page for page in found}


def places(found: dict[str, PageRead]) -> dict[str, NDArray[np.float64]]:
    """How far each tile is moved so that the marks of its seams fall on those of its neighbours."""
    at = {next(iter(found)): np.zeros(2)}
    marks = {name: page.diamonds() for name, page in found.items()}
    for _ in found:
        for name in found:
            if name in at:
                continue
            for seam, mine in marks[name].items():
                other = next(each for each in seam.split("|") if each != name)
                if other not in at:
                    continue
                theirs = np.array(marks[other][seam])
                assert len(mine) == len(theirs) >= 2
                off = theirs + at[other] - np.array(mine)
                assert np.ptp(off, axis=0).max() < 0.02, f"{seam}: the marks are as far apart on both pages"
                at[name] = off.mean(axis=0)
                break
    assert set(at) == set(found), "every tile is joined to another"
    return at


def joined(flat: Flat, paper: Paper, overlap_mm: float = 12.0) -> Joined:
    found = tiles(flat, paper, overlap_mm)
    lines: Joined = {}
    for name, off in places(found).items():
        for stroke in found[name].strokes:
            in_window = stroke.points[:, 1].min() > 10.0 + 30.0 + 1.0  # above the band of words
            if in_window:
                lines.setdefault(stroke.pen, []).append(shapely.LineString(stroke.points + off))
    return lines


def along(line: shapely.Geometry, step: float = 0.7) -> NDArray[np.object_]:
    """Points all along a line."""
    return shapely.points(shapely.get_coordinates(shapely.segmentize(line, step)))


def aligned(lines: Joined, nominal: shapely.Geometry) -> tuple[float, float]:
    """From the first page's frame to the part's own, by the lower left corners of both outlines."""
    drawn = shapely.MultiLineString(lines["black whole"]).bounds
    return nominal.bounds[0] - drawn[0], nominal.bounds[1] - drawn[1]


@pytest.mark.parametrize("paper", [A4, A3, LETTER, roll(420.0, 500.0)], ids=lambda paper: paper.name)
def test_joined_tiles_are_the_part(paper: Paper) -> None:
    """Every point of what is cut lies on the nominal outline or a hole, and the other way round."""
    flat = skin()
    nominal = flat.region.to_shapely(0.005).boundary
    lines = joined(flat, paper)
    drawn = shapely.affinity.translate(shapely.MultiLineString(lines["black whole"]), *aligned(lines, nominal))
    assert shapely.distance(along(drawn), nominal).max() < WITHIN
    assert shapely.distance(along(nominal), drawn).max() < WITHIN


def test_the_area_joined_is_the_parts() -> None:
    """Pieces with the overlap cut off at the middle make one region as large as the part, by polygons of shapely's."""
    flat = skin()
    lines = joined(flat, A4)
    grid = shapely.set_precision(shapely.union_all(shapely.MultiLineString(lines["black whole"]).buffer(0.01)), 0.0)
    rings = [shapely.Polygon(ring) for each in shapely.get_parts(grid) for ring in each.interiors]
    assert max(ring.area for ring in rings) == pytest.approx(abs(flat.region.outer.area()), rel=2e-4)


@pytest.mark.parametrize("paper", [A4, LETTER], ids=lambda paper: paper.name)
def test_rib_lines_go_on_over_the_seams(paper: Paper) -> None:
    """Marked lines of all tiles lie on the nominal ones, all along, and in an overlap on one another."""
    flat = skin()
    nominal = flat.region.to_shapely(0.005).boundary
    lines = joined(flat, paper)
    off = aligned(lines, nominal)
    ribs = [shapely.LineString(rib.flattened(0.005)) for rib in flat.marks]
    drawn = shapely.affinity.translate(shapely.MultiLineString(lines["grey whole"]), *off)
    for rib in ribs:
        assert shapely.distance(along(rib), drawn).max() < WITHIN
    near = shapely.union_all(ribs).buffer(10.0)
    long = [line for line in shapely.get_parts(drawn) if line.length > 20.0 and near.contains(line)]
    assert len(long) > len(RIBS)  # cut by seams
    for line in long:
        assert shapely.distance(along(line), shapely.MultiLineString(ribs)).max() < WITHIN


@pytest.mark.parametrize("overlap", [8.0, 12.0, 25.4])
def test_neighbours_share_the_overlap(overlap: float) -> None:
    """A mark lies as far from the rim of the window on both pages: half of what is shared."""
    found = tiles(skin(), A4, overlap)
    for name, page in found.items():
        wide, high = page.size
        window = (10.5, 10.0 + 30.0 + 2.0, wide - 10.5, high - 10.5)
        for seam, marks in page.diamonds().items():
            first, second = seam.split("|")
            row = first[0] != second[0]
            rim = {(True, True): 1, (True, False): 3, (False, True): 2, (False, False): 0}[row, name == first]
            for mark in marks:
                assert abs(mark[1 if row else 0] - window[rim]) == pytest.approx(overlap / 2, abs=0.01)


def test_marks_stand_apart_along_the_whole_seam() -> None:
    for page in tiles(skin(), A3).values():
        for marks in page.diamonds().values():
            steps = [math.dist(a, b) for a, b in pairwise(marks)]
            assert len(marks) >= 2 and max(steps) < 145.0 and min(steps) > 50.0


def test_a_tile_with_nothing_on_it_is_left_out() -> None:
    """A strip laid askew misses the corners of its box."""
    region = strip(700.0, 60.0).region.turned(35.0)
    found = tiles(Flat(region, 1.0), A4)
    rows = {name[0] for name in found}
    columns = {name[1:] for name in found}
    assert len(found) < len(rows) * len(columns)
    lines = joined(Flat(region, 1.0), A4)
    nominal = region.to_shapely(0.005).boundary
    drawn = shapely.affinity.translate(shapely.MultiLineString(lines["black whole"]), *aligned(lines, nominal))
    assert shapely.distance(along(nominal), drawn).max() < WITHIN


def test_a_long_part_takes_many_pages_or_one_of_a_roll() -> None:
    flat = strip()  # 1900 mm and round ends of 60 mm: 2020 mm
    on_pages = tiles(flat, A4)
    assert len(on_pages) == math.ceil((2020.0 + 6.0 - 12.0) / (297.0 - 21.0 - 12.0))  # lying, along x
    assert {name[0] for name in on_pages} == {"A"}
    (page,) = tiles(flat, roll()).values()
    wide, high = page.size
    assert high == pytest.approx(914.0, abs=0.01) and 2020.0 + 20.0 < wide < 2020.0 + 40.0
    (cut,) = page.of("black whole")[:1]
    assert np.ptp(cut.points[:, 0]) == pytest.approx(2020.0, abs=0.05)
    assert len(tiles(strip(6000.0), roll())) == 2  # longer than the longest page that is asked for


SHAPES = {
    "many sizes": [each.flat for each in templates()[1:]],
    "wide and tall": [plate(250.0, 40.0), plate(60.0, 210.0), plate(70.0, 200.0), plate(240.0, 60.0), plate(90.0, 9.0)],
    "tall": [plate(50.0 + k, 215.0) for k in range(4)],
}


@pytest.mark.parametrize("shapes", SHAPES.values(), ids=SHAPES)
@pytest.mark.parametrize("paper", [A4, roll(420.0, 900.0)], ids=lambda paper: paper.name)
def test_small_parts_are_whole_and_apart(shapes: list[Flat], paper: Paper) -> None:
    """Each is drawn once, at full size, on one page, and no outline touches another."""
    few = [template(part(flat, f"plate {k:02}"), 2, clockwise=False) for k, flat in enumerate(shapes)]
    found = pages(paper_pdf(few, paper, title="Lantern"))
    sizes = []
    for page in found[1:]:
        wide, high = page.size
        closed = [
            shapely.Polygon(stroke.points)
            for stroke in page.of("black whole")
            if len(stroke.points) > 24 and stroke.points[:, 1].min() > 42.0
        ]
        outer = [each for each in closed if not any(other is not each and other.contains(each) for other in closed)]
        for k, one in enumerate(outer):
            assert shapely.box(10.0, 42.0, wide - 10.0, high - 10.0).contains(one)
            assert all(not one.intersects(other) for other in outer[k + 1 :])
        sizes += [(each.bounds[2] - each.bounds[0], each.bounds[3] - each.bounds[1]) for each in outer]
    wanted = [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in (flat.region.bounds() for flat in shapes)]
    assert np.allclose(sorted(sizes), sorted(wanted), atol=0.01)
    text = " ".join(page.text for page in found[1:])
    assert all(each.name in text for each in few) and text.count("cut 2, all alike") == len(few)


def test_equal_input_gives_equal_bytes() -> None:
    """Here twice, and in a fresh interpreter with other hashes."""
    code = (
        "import sys, hashlib; sys.path.insert(0, sys.argv[1])\n"
        "from paper_parts import templates\nfrom geomgen.paper.pdf import paper_pdf\n"
        "from geomgen.paper.sizes import A4\n"
        "print(hashlib.sha256(paper_pdf(templates(), A4, title='Lantern', cautions=('Mind the blade.',))).hexdigest())"
    )
    once, twice = (
        hashlib.sha256(paper_pdf(templates(), A4, title="Lantern", cautions=("Mind the blade.",))).hexdigest()
        for _ in range(2)
    )
    command = [sys.executable, "-c", code, str(Path(__file__).parent)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)
    assert once == twice == done.stdout.strip()

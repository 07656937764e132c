"""What is marked on skins and cut into them, where sheets are joined, and the file that is cut from."""

from __future__ import annotations

import io
import math
from collections.abc import Callable

import ezdxf
import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from skin_designs import Made, sheets
from wing import FloatArray, Wing, along, crossing, is_rib, length, named, rib_lines, sides

from geomgen.craft import Craft
from geomgen.cutting.colours import LAYERS
from geomgen.cutting.dxf import part_dxf
from geomgen.design.schema import SheetStock
from geomgen.model.part import Flat
from geomgen.plane.path import from_points
from geomgen.plane.region import Region
from geomgen.structure.covers.sheets import sheet_plan

Get = Callable[[str], Made]


def on_line(wing: Wing, chord: float, r0: float, r1: float, r: float) -> float:
    """x [mm] in the section at r of a straight line in space between camber points at a share of the chord."""
    ends = []
    for at in (r0, r1):
        own = float(wing.chord_at(np.array([at]))[0])
        ends.append(wing.in_space(at, own * np.array([[chord, wing.camber(chord)]]))[0])
    share = (r - r0) / (r1 - r0)
    return float(wing.in_section(ends[0] + share * (ends[1] - ends[0]))[0])


def from_nose(made: Made, half: str, rib: FloatArray, line: FloatArray) -> float:
    """Length along a rib's line from the nose, or from a panel's edge by it, to a line along the blade [mm]."""
    if len(made.sheet.halves) == 2:
        return abs(crossing(rib, line) - crossing(rib, named(made.flat, "nose")[0]))
    return length(rib) - crossing(rib, line) if half == "upper" else crossing(rib, line)


@pytest.mark.parametrize("name", ["wrap", "wrap, clockwise", "panel above", "panel below", "half above"])
def test_spar_lines_lie_over_the_spars(piece: Get, name: str) -> None:
    """The main spar on the feather axis at a quarter chord; the rear one straight from 62 % of the chord to 62 %."""
    made = piece(name)
    ribs = sorted(rib_lines(made.flat), key=length, reverse=True)
    for spar, end in (("main", 700.0), ("rear", 644.0)):
        found = named(made.flat, f"spar {spar}")
        assert len(found) == len(made.sheet.halves)
        for half, line in zip(made.sheet.halves, found, strict=True):
            for rib, r in zip(ribs, made.ribs, strict=True):
                if r > end - 40.0:  # drawn from row to row: a bay may be left out at its end
                    continue
                chord = float(made.wing.chord_at(np.array([r]))[0])
                x = 0.25 * chord if spar == "main" else on_line(made.wing, 0.62, 120.0, 644.0, r)
                wanted = made.wing.to_x(r, half, made.sheet.depth, x) - made.sheet.ends(made.wing, r, half)[0]
                assert from_nose(made, half, rib, line) == pytest.approx(wanted, abs=0.06)


@pytest.mark.parametrize("name", ["wrap", "wrap, clockwise"])
def test_the_nose_line_parts_upper_from_lower(piece: Get, name: str) -> None:
    made = piece(name)
    for rib, r in zip(sorted(rib_lines(made.flat), key=length, reverse=True), made.ribs, strict=True):
        upper = made.sheet.ends(made.wing, r, "upper")[1]
        assert crossing(rib, named(made.flat, "nose")[0]) == pytest.approx(upper, abs=0.04)


@pytest.mark.parametrize("name", ["wrap", "half above", "half below"])
def test_bevels_begin_where_the_section_is_two_sheets_thick(piece: Get, name: str) -> None:
    """Both halves are bevelled inside as far ahead of the tail as they would stand in one another."""
    made = piece(name)
    sheet = 2.0 * made.sheet.depth
    lines = named(made.flat, "bevel")
    for half, line in zip(made.sheet.halves, lines, strict=True):
        for rib, r in zip(sorted(rib_lines(made.flat), key=length, reverse=True), made.ribs, strict=True):
            chord = float(made.wing.chord_at(np.array([r]))[0])
            x = np.linspace(0.5, 0.999, 20001)
            upper, lower = (np.interp(x, *made.wing.sides[side][0][100:].T) for side in ("upper", "lower"))
            met = x[np.flatnonzero(chord * (upper - lower) >= 2.0 * sheet)[-1]] * chord
            wanted = made.wing.to_x(r, half, made.sheet.depth, met) - made.sheet.ends(made.wing, r, half)[0]
            assert from_nose(made, half, rib, line) == pytest.approx(wanted, abs=0.06)


@pytest.mark.parametrize("name", ["wrap", "wrap, clockwise", "panel below", "half below"])
def test_the_wires_opening_lies_over_its_channel(piece: Get, name: str) -> None:
    """30 by 9 mm, its outer end where the channel ends at the fan (r 672 mm), its middle at r 657 on the lower side."""
    made = piece(name)
    (hole,) = made.flat.region.holes
    x0, y0, x1, y1 = hole.bounds()
    assert (x1 - x0, y1 - y0) == pytest.approx((30.0, 9.0), abs=1e-6)
    assert abs(hole.area()) == pytest.approx(21.0 * 9.0 + np.pi / 4 * 81.0)
    r = 657.0
    x = on_line(made.wing, 0.38, 120.0, 672.0, r)
    start, end = made.sheet.ends(made.wing, r, "lower")
    share = (made.wing.to_x(r, "lower", made.sheet.depth, x) - start) / (end - start)
    ribs = sorted(rib_lines(made.flat), key=length, reverse=True)
    near = []
    for k in (-3, -2):  # the ribs at 642 and 672 mm
        upper = made.sheet.ends(made.wing, made.ribs[k], "upper")[1] if len(made.sheet.halves) == 2 else 0.0
        low, high = made.sheet.ends(made.wing, made.ribs[k], "lower")
        near.append(along(ribs[k], np.array([upper + share * (high - low)]))[0])
    at = (r - made.ribs[-3]) / (made.ribs[-2] - made.ribs[-3])
    wanted = near[0] + at * (near[1] - near[0])
    assert (0.5 * (x0 + x1), 0.5 * (y0 + y1)) == pytest.approx(tuple(wanted), abs=0.06)


@pytest.mark.parametrize("name", ["panel above", "half above", "nose box above", "nose box below"])
def test_no_opening_where_the_channel_does_not_come_out(piece: Get, name: str) -> None:
    assert piece(name).flat.region.holes == ()


@pytest.mark.parametrize(("name", "side"), [("wrap", "low"), ("wrap, clockwise", "low"), ("half above", "low")])
def test_the_seam_stands_beyond_the_tail_of_the_half_that_goes_on_first(piece: Get, name: str, side: str) -> None:
    """4 mm as asked, 2 mm where a sheeted blade says nothing; the blade's own edge is marked."""
    width = 4.0 if name.startswith("wrap") else 2.0
    seam(piece(name).flat, side, width)


def test_the_lower_half_may_go_on_first(skin_craft: Callable[[str], Craft]) -> None:
    flat = sheets(skin_craft("wrap, lower first"))[0].shape
    assert isinstance(flat, Flat)
    seam(flat, "high", 4.0)


def seam(flat: Flat, side: str, width: float) -> None:
    assert flat.stays is not None
    own, outer = sides(flat.stays.outer), sides(flat.region.outer)
    away = shapely.distance(shapely.LineString(own[side]), shapely.points(outer[side]))
    assert away == pytest.approx(width, abs=0.02)
    middle = np.mean(own[side][[0, -1], 0])
    beyond = np.interp(middle, *outer[side].T) - np.interp(middle, *own[side].T)
    assert beyond == pytest.approx(width if side == "high" else -width, rel=0.02)
    other = "low" if side == "high" else "high"
    assert outer[other] == pytest.approx(own[other], abs=1e-9)
    line = shapely.LineString(own[side])
    marks = [shapely.LineString(mark.flattened(1e-3)) for mark in flat.marks if not is_rib(mark)]
    assert sum(shapely.hausdorff_distance(mark, line) < 0.01 for mark in marks) == 1


@pytest.mark.parametrize("name", ["panel above", "panel below", "half below", "nose box above"])
def test_no_seam_on_strips_nor_on_the_half_that_goes_on_last(piece: Get, name: str) -> None:
    assert piece(name).flat.stays is None


# Sheets


def cells(region: Region, joints: tuple[FloatArray, ...]) -> list[tuple[float, float, float, float]]:
    """Bounds of the pieces that joints cut a pattern's box into, by a general geometry library."""
    box = shapely.box(*region.bounds())
    lines = [box.exterior, *(shapely.LineString(line) for line in joints)]
    noded = shapely.union_all(lines, grid_size=1e-6)  # on a grid, so that ends that touch meet
    return [cell.bounds for cell in shapely.polygonize([noded]).geoms]


def judge(found: list[tuple[float, float, float, float]], long: float, wide: float, stagger: float) -> None:
    """No piece larger than a sheet; where pieces touch side by side, their ends stand apart."""
    x0, x1 = min(c[0] for c in found), max(c[2] for c in found)
    for a in found:
        assert a[2] - a[0] <= long + 1e-5 and a[3] - a[1] <= wide + 1e-5
        for b in found:
            if abs(a[3] - b[1]) < 1e-5:  # b lies on top of a
                inner = [(p, q) for p in (a[0], a[2]) for q in (b[0], b[2]) if x0 < p < x1 and x0 < q < x1]
                assert all(abs(p - q) >= stagger - 1e-5 for p, q in inner)


def test_narrow_sheets_are_joined_to_the_width_and_length(piece: Get) -> None:
    """Sheets of 250 by 100 mm round some 390 mm of girth and 580 mm of blade: of them
    a laser keeps 2 mm from each edge, and a kerf may take 1 mm: five side by side."""
    made = piece("all round")
    girth = made.sheet.girth(made.wing, 120.0) + 2.0
    found = cells(made.flat.region, tuple(line.flattened(0.01) for line in made.flat.reference))
    judge(found, 250.0, 100.0, 100.0)
    assert len({round(c[1], 6) for c in found}) == math.ceil(girth / 95.0) == 5
    assert made.part.facts["sheets"] == len(found) == 5 * 3
    assert made.flat.grain == 0.0


@settings(max_examples=60, deadline=None)
@given(
    st.floats(100.0, 2000.0),
    st.floats(30.0, 600.0),
    st.floats(120.0, 1200.0),
    st.floats(50.0, 300.0),
    st.floats(1.0, 200.0),
    st.booleans(),
)
def test_any_pattern_is_covered_by_sheets_it_takes(
    length_mm: float, width_mm: float, long: float, wide: float, stagger: float, stepped: bool
) -> None:
    """Strips straight across, and, of boards, one strip whose joints step along a line."""
    long = max(long, wide)
    region = Region(from_points([(0, 0), (length_mm, 0), (length_mm, width_mm), (0, width_mm)], closed=True))
    stock = SheetStock(kind="sheet", of="balsa", thickness="1 mm", size=(f"{long} mm", f"{wide} mm"), grain="long")
    step = np.array([(0.0, 0.4 * width_mm), (length_mm, 0.4 * width_mm)]) if stepped else None
    plan = sheet_plan(stock, region, stagger, step)
    joints = tuple(line.flattened(0.01) for line in plan.joints)
    found = cells(region, joints)
    assert plan.sheets == len(found)
    asked = min(stagger, (long - 2.0) / 2.0)
    if plan.strips > 1:
        judge(found, long, wide, asked)
        assert plan.apart_mm >= asked - 1e-6
    elif step is None:
        judge(found, long, wide, 0.0)
    else:
        for cell in found:
            assert cell[2] - cell[0] <= long + 1e-5 and cell[3] - cell[1] <= wide + 1e-5
        assert plan.apart_mm >= min(stagger, (long - 2.0) / 3.0) - 1e-6
    least = math.ceil(length_mm / long - 1e-9) * math.ceil(width_mm / wide - 1e-9)
    assert plan.sheets >= least


# The file


@pytest.mark.parametrize("name", ["wrap, clockwise", "half below"])
def test_the_cutting_file_holds_the_same_pattern(piece: Get, name: str) -> None:
    """Read again by another library: rib lines are marked, as long as on the surface; outline and opening cut."""
    made = piece(name)
    craft = made.craft
    data = part_dxf(made.part, craft.design.laser.colour.model_dump(), craft.design.rotor.blades)
    space = ezdxf.read(io.StringIO(data.decode("utf-8"))).modelspace()

    def lines(operation: str) -> list[FloatArray]:
        found = []
        for entity in space.query(f'LWPOLYLINE[layer=="{LAYERS[operation]}"]'):
            path = ezdxf.path.make_path(entity)
            found.append(np.array([(p.x, p.y) for p in path.flattening(1e-3)]))
        return found

    marked = [length(line) for line in lines("mark") if np.ptp(line[:, 1]) > 2.0 * np.ptp(line[:, 0])]
    for r in made.ribs:
        wanted = made.sheet.girth(made.wing, r)
        assert min(abs(each - wanted) for each in marked) < max(0.05, 2e-4 * wanted)
    (outside,) = lines("outside")
    assert shapely.Polygon(outside).area == pytest.approx(made.flat.region.area() + opening(made.flat), rel=1e-5)
    (inside,) = lines("inside")
    assert shapely.Polygon(inside).area == pytest.approx(opening(made.flat), rel=1e-3)


def opening(flat: Flat) -> float:
    return sum(abs(hole.area()) for hole in flat.region.holes)

"""Fit coupons, cut by a disc that runs along the reopened file's paths: what goes in, and what is typed back."""

from __future__ import annotations

import re
import tomllib
from itertools import pairwise

import numpy as np
import pytest
import shapely
from known_parts import COLOURS
from reopened import Line, lines

from geomgen.cutting.fit_coupon import FitCoupon, fit_coupon, fit_coupon_dxf
from geomgen.cutting.fit_tries import Round
from geomgen.figures import spelled
from geomgen.marking.lettering import written
from geomgen.units import LENGTH

RODS = (Round("rod", 8.0, "blade.spar.main"), Round("pin", 2.0, "pitch.pin"), Round("tube", 12.0), Round("pin", 3.0))
STEP = {"mm": 0.05, "in": 0.002 * 25.4}


def beam(line: Line, kerf: float) -> shapely.Geometry:
    return line.line.buffer(kerf / 2, quad_segs=64)


class Cut:
    """The coupon as a beam of some width leaves it."""

    def __init__(self, data: bytes, kerf: float) -> None:
        (outside,) = lines(data, "outside cut")
        inside = lines(data, "inside cut")
        (self.window,) = [each.polygon for each in inside if each.closed and len(each.line.coords) == 5]
        self.between = [each for each in inside if not each.closed]
        self.holes = [each.polygon.buffer(kerf / 2, quad_segs=64) for each in inside if len(each.line.coords) > 5]
        self.plate = outside.polygon.buffer(-kerf / 2, quad_segs=64)
        x0, y0, x1, y1 = self.plate.bounds
        self.box = shapely.box(x0, y0, x1, y1)
        self.slots = [each for each in shapely.get_parts(self.box.difference(self.plate)) if each.area > 0.5]
        cuts = shapely.union_all([beam(each, kerf) for each in inside])
        self.strips = shapely.get_parts(self.window.difference(cuts))
        self.marks = [each.line for each in lines(data, "mark")]

    def slot_widths(self) -> list[float]:
        """From left to right, in the middle of each."""
        middle = self.box.bounds[3] - 5.0
        across = shapely.LineString([(self.box.bounds[0], middle), (self.box.bounds[2], middle)])
        return [across.intersection(each).length for each in sorted(self.slots, key=lambda slot: slot.bounds[0])]

    def hole_widths(self, count: int) -> list[list[float]]:
        """Row by row from above, each from left to right, by their areas."""
        found = sorted(self.holes, key=lambda hole: (-round(hole.centroid.y, 2), hole.centroid.x))
        widths = [2 * np.sqrt(hole.area / np.pi) for hole in found]
        return [widths[k : k + count] for k in range(0, len(widths), count)]


def typed(line: str, stock: str, unit: str = "mm") -> tuple[str, float]:
    """What a line sets, by a TOML reader: "kerf" or "fit", and how much [mm]."""
    table = tomllib.loads(line)
    ((key, value),) = table.items()
    if key == "kerf":
        ((name, value),) = value.items()
        assert name == stock
    if isinstance(value, str):
        figure, own = value.split()
        assert own == unit
        value = float(figure) * LENGTH.units[own]
    return key, float(value)


CASES = [
    (thickness, rods, kerf, unit)
    for thickness in (0.8, 1.5, 3.0, 6.0)
    for rods, kerf, unit in (
        (RODS, None, "mm"), (RODS[:1], 0.18, "mm"), ((), None, "in"), (RODS, 0.4, "in"), (RODS[1:2], 0.0, "mm"),
    )
]  # fmt: skip


@pytest.mark.parametrize(("thickness", "rods", "kerf", "unit"), CASES)
def test_nothing_overlaps_and_enough_is_left_between(
    thickness: float, rods: tuple[Round, ...], kerf: float | None, unit: str
) -> None:
    """2.5 mm between any two cuts and to the plate's edge, by a beam of the kerf, or of 0.4 mm where it isn't known."""
    coupon = fit_coupon("ply_2", thickness, rods, kerf_mm=kerf, unit=unit)
    cut = Cut(fit_coupon_dxf(coupon, COLOURS, unit), 0.4 if kerf is None else kerf)
    assert len(cut.slots) == len(coupon.rows[0].tries) and len(cut.holes) == sum(len(r.tries) for r in coupon.rows[1:])
    all_of_them = [*cut.slots, *cut.holes, cut.window]
    tree = shapely.STRtree(all_of_them)
    near = tree.query(all_of_them, predicate="dwithin", distance=2.5)
    assert np.array_equal(near[0], near[1])
    for each in (*cut.holes, cut.window):
        assert cut.box.contains(each) and each.distance(cut.box.exterior) > 2.5
    away = shapely.union_all([*all_of_them, cut.box.exterior])
    assert all(cut.box.contains(mark) and mark.distance(away) > 0.9 for mark in cut.marks)
    words = [shapely.box(*shapely.union_all(_drawn(written(text))).bounds) for text in coupon.flat.texts]
    left, right = shapely.STRtree(words).query(words, predicate="dwithin", distance=0.9)
    assert np.array_equal(left, right)
    width, height = cut.box.bounds[2] - cut.box.bounds[0], cut.box.bounds[3] - cut.box.bounds[1]
    assert 99.0 < width < 125.0 and height < 140.0


def _drawn(paths: list) -> list[shapely.LineString]:  # type: ignore[type-arg]
    return [shapely.LineString(path.flattened(0.01)) for path in paths]


@pytest.mark.parametrize("beam_mm", [0.07, 0.18, 0.33])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_first_that_goes_in_tells_an_unknown_kerf(beam_mm: float, unit: str) -> None:
    """To a step: what is cut is wider than it is drawn by the beam, and what goes in is at most as wide as that."""
    coupon = fit_coupon("ply_2", 2.0, RODS[:2], unit=unit)
    cut = Cut(fit_coupon_dxf(coupon, COLOURS, unit), beam_mm)
    for row, widths in zip(coupon.rows, [cut.slot_widths(), *_rows(cut, coupon)], strict=True):
        assert list(np.diff(widths)) == pytest.approx([STEP[unit]] * 9, abs=2e-3)
        first = next(k for k, width in enumerate(widths) if width >= row.size_mm)
        key, value = typed(row.tries[first].line, "ply_2", unit)
        assert key == "kerf" and beam_mm - STEP[unit] - 1e-3 < value < beam_mm + 1e-3


def _rows(cut: Cut, coupon: FitCoupon) -> list[list[float]]:
    """Widths of each row's holes, whose lines of equal length follow one another."""
    flat = [width for line in cut.hole_widths(1) for width in line]
    ends = np.cumsum([0, *(len(row.tries) for row in coupon.rows[1:])])
    return [flat[i:j] for i, j in pairwise(ends)]


@pytest.mark.parametrize("wider", [0.0, 0.12, 0.26])
def test_with_a_kerf_that_is_right_the_first_that_goes_in_tells_the_fit(wider: float) -> None:
    """A thing that is wider than its size by a little needs just that fit, to a step."""
    coupon = fit_coupon("ply_2", 2.0, RODS[:2], kerf_mm=0.18)
    cut = Cut(fit_coupon_dxf(coupon, COLOURS), 0.18)
    for row, widths in zip(coupon.rows, [cut.slot_widths(), *_rows(cut, coupon)], strict=True):
        assert widths == pytest.approx([each.width_mm for each in row.tries], abs=2e-3)
        first = next(k for k, width in enumerate(widths) if width >= row.size_mm + wider - 2e-3)
        key, value = typed(row.tries[first].line, "ply_2")
        assert key == "fit" and wider - 1e-2 <= value < wider + 0.05


def test_with_a_kerf_that_is_too_small_it_tells_the_right_one() -> None:
    coupon = fit_coupon("ply_2", 2.0, RODS[:1], kerf_mm=0.10)
    cut = Cut(fit_coupon_dxf(coupon, COLOURS), 0.22)
    for row, widths in zip(coupon.rows, [cut.slot_widths(), *_rows(cut, coupon)], strict=True):
        first = next(k for k, width in enumerate(widths) if width >= row.size_mm)
        assert typed(row.tries[first].line, "ply_2") == ("kerf", pytest.approx(0.20))


@pytest.mark.parametrize("kerf", [None, 0.3])
@pytest.mark.parametrize(("unit", "whole"), [("mm", 50.0), ("in", 50.8)])
def test_the_stack_of_strips_is_short_by_a_kerf_for_each(kerf: float | None, unit: str, whole: float) -> None:
    coupon = fit_coupon("ply_2", 2.0, RODS[:1], kerf_mm=kerf, unit=unit)
    cut = Cut(fit_coupon_dxf(coupon, COLOURS, unit), 0.22)
    assert coupon.stack_mm == pytest.approx(whole) and len(cut.strips) == 10
    stack = sum(strip.bounds[2] - strip.bounds[0] for strip in cut.strips)
    assert (coupon.stack_mm - stack) / 10 == pytest.approx(0.22, abs=1e-6)


def test_strips_are_cut_apart_before_they_fall_out() -> None:
    found = lines(fit_coupon_dxf(fit_coupon("ply_2", 2.0, RODS), COLOURS))
    order = [each.layer for each in found if each.layer != "reference"]
    assert order == sorted(order, key=["mark", "inside cut", "outside cut"].index)
    window = next(
        k for k, each in enumerate(found) if each.layer == "inside cut" and len(each.line.coords) == 5 and each.closed
    )
    assert max(k for k, each in enumerate(found) if each.layer == "inside cut" and not each.closed) < window


def test_letters_stand_below_what_they_name() -> None:
    coupon = fit_coupon("ply_2", 3.0, RODS, kerf_mm=0.2)
    cut = Cut(fit_coupon_dxf(coupon, COLOURS), 0.2)
    letters = [text for text in coupon.flat.texts if re.fullmatch("[A-J]", text.text)]
    holes = sorted(cut.holes, key=lambda hole: (-round(hole.centroid.y, 2), hole.centroid.x))
    slots = sorted(cut.slots, key=lambda slot: slot.bounds[0])
    tries = [each for row in coupon.rows for each in row.tries]
    for text, shape, each in zip(letters, [*slots, *holes], tries, strict=True):
        assert text.text == each.letter
        assert text.at[0] == pytest.approx(shape.centroid.x, abs=1e-3)
        assert 0.0 < shape.bounds[1] - (text.at[1] + text.height_mm / 2) < 2.0
    names = [text.text for text in coupon.flat.texts if text.text.endswith("mm")]
    assert names == ["3 mm", "8 mm", "8 mm", "2 mm", "12 mm", "12 mm", "3 mm", "3 mm", "kerf 0.20 mm"]


def test_lines_to_type_are_those_of_the_design_file() -> None:
    assert [each.line for each in fit_coupon("ply_2", 2.0, ()).rows[0].tries][::3] == [
        "kerf = { ply_2 = 0.45 }", "kerf = { ply_2 = 0.30 }", "kerf = { ply_2 = 0.15 }", "kerf = { ply_2 = 0.00 }",
    ]  # fmt: skip
    known = [each.line for each in fit_coupon("1/8 ply", 3.175, (), kerf_mm=0.2032, unit="in").rows[0].tries]
    assert known[0] == 'kerf = { "1/8 ply" = "0.014 in" }' and known[3:5] == ['fit = "0.000 in"', 'fit = "0.002 in"']
    assert fit_coupon("ply", 2.0, (), kerf_mm=0.1, unit="cm").rows[0].tries[4].line == 'fit = "0.05 mm"'
    assert [each.letter for each in fit_coupon("ply", 2.0, ()).rows[0].tries] == list("ABCDEFGHIJ")


def test_what_is_said_beside_it() -> None:
    said = spelled(fit_coupon("ply_2", 2.0, RODS[:1], kerf_mm=0.18).words())
    assert said[:3] == ("fit coupon of ply_2, 2 mm", "2 mm: a strip of the sheet itself", "8 mm: rod, blade.spar.main")
    assert "  A  kerf = { ply_2 = 0.33 }" in said and "  F  fit = 0.10" in said
    assert said[-1] == "the 10 strips pressed together: kerf = (50 mm - their stack) / 10"
    imperial = spelled(fit_coupon("ply_2", 3.175, (), unit="in").words(), "in")
    assert imperial[0] == "fit coupon of ply_2, 0.125 in" and not any(" mm" in line for line in imperial)


def test_like_things_are_tried_once() -> None:
    twice = fit_coupon("ply_2", 2.0, (RODS[0], RODS[0], Round("tube", 8.0, "blade.spar.rear")))
    assert [row.path for row in twice.rows] == ["", "blade.spar.main", "blade.spar.rear"]


def test_thin_sheets_have_fewer_slots_and_wrong_figures_none() -> None:
    thin = fit_coupon("card", 0.4, ())
    assert [each.letter for each in thin.rows[0].tries] == list("FGHIJ")
    assert min(each.width_mm for each in fit_coupon("card", 0.4, (), kerf_mm=0.3).rows[0].tries) == pytest.approx(0.35)
    with pytest.raises(ValueError, match=r"0\.2 mm thick"):
        fit_coupon("film", 0.1, ())
    with pytest.raises(ValueError, match="kerf"):
        fit_coupon("ply_2", 2.0, (), kerf_mm=-0.1)


def test_bytes_of_a_coupon_repeat() -> None:
    one, two = (fit_coupon_dxf(fit_coupon("ply_2", 2.0, RODS, kerf_mm=0.2), COLOURS) for _ in range(2))
    assert one == two

"""Stepped ribs and ribs between edge strips, against points offset from the sections' published equations.

Equations: NACA Report 460 (thickness, mean line of the four-digit family, thickness laid off normal to the mean line);
what covers the rib is taken off along the normal of the surface, which a fine numerical derivative gives.
"""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.blade.cover import Cover
from geomgen.blade.station import Station
from geomgen.blade.under_cover import under_covers
from geomgen.blade.under_skin import Outline, under_skins
from geomgen.errors import MakeError
from geomgen.plane.arcs import join
from geomgen.plane.path import Path
from geomgen.plane.smooth import smooth_arcs
from geomgen.section.families import naca
from geomgen.section.reshape import flattened
from geomgen.section.section import Section
from geomgen.tolerances import STANDARD


def equation(digits: str, chord: float, up: float, count: int = 40_000) -> tuple[np.ndarray, np.ndarray]:
    """Points of one surface from the published equations, nose to tail, and its inward normals."""
    m, p, t = int(digits[0]) / 100, int(digits[1]) / 10, int(digits[2:]) / 100
    x = np.linspace(0.0, 1.0, count) ** 2
    yt = 5 * t * (0.29690 * np.sqrt(x) - 0.12600 * x - 0.35160 * x**2 + 0.28430 * x**3 - 0.10150 * x**4)
    yc, slope = np.zeros_like(x), np.zeros_like(x)
    if m:
        yc = np.where(x < p, m / p**2 * (2 * p * x - x**2), m / (1 - p) ** 2 * (1 - 2 * p + 2 * p * x - x**2))
        slope = np.where(x < p, 2 * m / p**2 * (p - x), 2 * m / (1 - p) ** 2 * (p - x))
    a = np.arctan(slope)
    points = chord * np.column_stack([x - up * yt * np.sin(a), yc + up * yt * np.cos(a)])
    way = np.gradient(points, np.linspace(0.0, 1.0, count), axis=0, edge_order=2)
    way /= np.hypot(*way.T)[:, None]
    return points, up * np.column_stack([way[:, 1], -way[:, 0]])


def covered(digits: str, chord: float, cover: Cover, up: float) -> np.ndarray:
    """One edge by brute force: each point of the equation moved in by the depth that lies there."""
    points, inwards = equation(digits, chord, up)
    at = np.inf if cover.step is None else cover.step * chord
    behind = (points[:, 0] > at) & (np.arange(len(points)) > 2000)
    return points + np.where(behind, cover.behind_mm, cover.ahead_mm)[:, None] * inwards


def station(section: Section | str, chord: float) -> Station:
    return Station(100.0, chord, 0.0, naca(section) if isinstance(section, str) else section, (0.0, 0.0))


def drawn(section: Section | str, chord: float, cover: Cover, least_tail: float = 2.5) -> tuple[Outline, Path]:
    outline = under_covers([station(section, chord)], [cover], least_tail, ["blade.ribs.all"])[0]
    assert outline is not None
    return outline, join(smooth_arcs(outline.pieces, STANDARD), closed=True)


CASES = [
    ("4415", 210.0, Cover(1.5, 0.0, 0.35)),
    ("4415", 210.0, Cover(1.5, 0.0, 0.35, 8.0, 14.0)),
    ("4412", 150.0, Cover(1.0, 1.6, 0.15, 0.0, 20.0)),
    ("0015", 300.0, Cover(2.0, 0.05, 0.6, 12.0, 25.0)),
    ("2412", 120.0, Cover(0.05, 0.05, None, 6.0, 15.0)),
    ("4412", 150.0, Cover(2.2, 0.0, 0.3, 5.0)),  # the sheet can't follow the nose, but the strip is there
]


@pytest.mark.parametrize(("digits", "chord", "cover"), CASES)
def test_outline_lies_on_the_equation_both_ways(digits: str, chord: float, cover: Cover) -> None:
    outline, path = drawn(digits, chord, cover)
    edge = shapely.LineString(np.vstack([path.flattened(1e-4), path.flattened(1e-4)[:1]]))
    curves = [covered(digits, chord, cover, up) for up in (1.0, -1.0)]
    both = shapely.MultiLineString(curves)  # the jump at the step is a line here too, half a spacing off at the most
    shapely.prepare([edge, both])
    for curve in curves:
        inside = (curve[:, 0] > outline.nose_mm + 1e-6) & (curve[:, 0] < outline.tail_mm - 1e-6)
        assert shapely.dwithin(edge, shapely.points(curve[inside][::20]), 0.01).all()
    points = shapely.get_coordinates(shapely.segmentize(edge, 0.8))
    ends = points[:, 0] >= outline.tail_mm - 0.02
    if cover.nose_mm:
        ends |= points[:, 0] <= cover.nose_mm + 0.02
    spacing = np.hypot(*np.diff(equation(digits, chord, 1.0)[0], axis=0).T).max()
    assert shapely.dwithin(both, shapely.points(points[~ends]), 0.01 + spacing / 2).all()


@pytest.mark.parametrize(("digits", "chord", "cover"), CASES)
def test_area_is_that_of_the_brute_force_polygon(digits: str, chord: float, cover: Cover) -> None:
    outline, path = drawn(digits, chord, cover)
    ring = np.vstack([covered(digits, chord, cover, 1.0)[::-1], covered(digits, chord, cover, -1.0)])
    box = shapely.box(cover.nose_mm or -10.0, -100.0, outline.tail_mm, 100.0)
    judge = shapely.Polygon(ring).buffer(0).intersection(box)
    assert path.area() == pytest.approx(judge.area, rel=2e-4)
    assert shapely.Polygon(path.flattened(1e-3)).symmetric_difference(judge).area <= 0.01 * path.length()


def test_the_step_lies_on_the_normal_where_the_sheet_ends() -> None:
    """Its two corners are the depths ahead and behind, off the surface point at the step's x."""
    outline, _ = drawn("4415", 210.0, Cover(1.5, 0.4, 0.35))
    for up, name in ((1.0, "upper step"), (-1.0, "lower step")):
        points, inwards = equation("4415", 210.0, up)
        i = int(np.searchsorted(points[2000:, 0], 0.35 * 210.0)) + 2000
        found = [np.array(place) for corner, place in outline.corners if corner == name]
        assert len(found) == 2
        for place, depth in zip(found, (1.5, 0.4), strict=True):
            assert place == pytest.approx(points[i] + depth * inwards[i], abs=0.02)


def test_strips_end_the_rib_square_to_the_chord() -> None:
    outline, path = drawn("4415", 210.0, Cover(1.5, 0.0, 0.35, 8.0, 14.0))
    corners = dict(outline.corners)
    for upper, lower, x in (("upper nose", "lower nose", 8.0), ("upper tail", "lower tail", 196.0)):
        assert corners[upper][0] == pytest.approx(x, abs=1e-9)
        assert corners[lower][0] == pytest.approx(x, abs=1e-9)
        assert corners[upper][1] > corners[lower][1] + 2.5
    assert not outline.blunt and not outline.cut_tail
    assert path.bounds()[0] == pytest.approx(8.0, abs=1e-9) and path.bounds()[2] == pytest.approx(196.0, abs=1e-9)


def test_a_rib_too_thin_ahead_of_the_strip_ends_where_it_gets_so() -> None:
    outline, _ = drawn("4415", 210.0, Cover(1.5, 1.5, None, 0.0, 4.0))
    corners = dict(outline.corners)
    assert outline.cut_tail and outline.tail_mm < 200.0
    assert corners["upper tail"][1] - corners["lower tail"][1] == pytest.approx(2.5, abs=1e-6)


def test_a_nose_the_sheet_cant_follow_begins_behind_both() -> None:
    narrow, _ = drawn("4412", 150.0, Cover(3.0, 0.0, 0.4, 2.0))
    wide, _ = drawn("4412", 150.0, Cover(3.0, 0.0, 0.4, 6.0))
    assert narrow.blunt and narrow.nose_mm > 2.0
    assert not wide.blunt and wide.nose_mm == pytest.approx(6.0, abs=1e-9)


@pytest.mark.parametrize("step", [0.2, 0.3, 0.3005, 0.45])
def test_a_flattened_section_with_its_own_corner(step: float) -> None:
    """A general geometry library's mitred offsets, ahead and behind, as the judge of area."""
    section = flattened(naca("2415"), 0.3)
    _, path = drawn(section, 200.0, Cover(2.0, 0.5, step, 0.0, 30.0))
    whole = shapely.Polygon(200.0 * np.vstack([section.upper.xy[::-1], section.lower.xy[1:]]))
    parts = [
        whole.buffer(-depth, join_style="mitre").intersection(shapely.box(low, -100, high, 100))
        for depth, low, high in ((2.0, -10, 200 * step), (0.5, 200 * step, 170.0))
    ]
    judge = shapely.union_all(parts)
    assert path.area() == pytest.approx(judge.area, rel=5e-4)
    assert shapely.Polygon(path.flattened(1e-3)).is_valid


@given(
    chord=st.floats(80.0, 320.0),
    step=st.floats(0.1, 0.7),
    ahead=st.floats(0.3, 2.0),
    behind=st.floats(0.0, 1.0),
    nose=st.sampled_from([0.0, 5.0, 10.0]),
    tail=st.sampled_from([0.0, 0.08, 0.15]),
)
@settings(max_examples=60, deadline=None)
def test_any_step_makes_one_ring_inside_the_section(
    chord: float, step: float, ahead: float, behind: float, nose: float, tail: float
) -> None:
    cover = Cover(ahead, behind, step, nose, tail * chord)
    try:
        outline, path = drawn("4415", chord, cover)
    except MakeError as error:  # too thin where the sheet ends
        assert error.faults[0].path == "blade.construction.to"
        return
    ring = shapely.Polygon(path.flattened(1e-3))
    section = naca("4415")
    whole = shapely.Polygon(chord * np.vstack([section.upper.xy[::-1], section.lower.xy[1:]]))
    assert ring.is_valid and path.area() > 0
    assert ring.difference(whole.buffer(0.02 - min(ahead, behind))).area < 1e-6
    assert outline.nose_mm >= nose - 1e-9 and outline.tail_mm <= chord - cover.tail_mm + 1e-6
    middle = outline.middle()
    assert np.all(np.diff(middle[:, 0]) > 0) and ring.buffer(1e-2).contains(shapely.LineString(middle[1:-1]))


def test_many_covers_at_once_are_as_one_by_one() -> None:
    sections = [naca("4415"), naca("0012"), flattened(naca("2415"), 0.3), naca("23012"), naca("0012-04")]
    covers = [Cover(1.5, 0.0, 0.33), Cover(1.0, 1.0), Cover(0.05, 0.05, None, 6.0, 20.0), Cover(3.0, 1.0, 0.3, 0, 25.0)]
    stations = [station(section, chord) for section in sections for chord in (120.0, 210.0)]
    some = [covers[k % len(covers)] for k in range(len(stations))]
    together = under_covers(stations, some, 2.0, [""] * len(stations))
    for one, cover, outline in zip(stations, some, together, strict=True):
        alone = under_covers([one], [cover], 2.0, [""])[0]
        assert outline is not None and alone is not None
        assert outline.blunt == alone.blunt and len(outline.pieces) == len(alone.pieces)
        for a, b in zip(outline.pieces, alone.pieces, strict=True):
            assert a.xy == pytest.approx(b.xy, abs=1e-9)


def test_one_depth_all_round_is_a_plain_skin_to_the_bit() -> None:
    stations = [station("4415", 210.0), station("0012", 90.0), station(flattened(naca("2415"), 0.3), 150.0)]
    covers = [Cover(2.0, 2.0), Cover(0.0, 0.0), Cover(3.0, 3.0)]
    plain = under_skins(stations, [2.0, 0.0, 3.0], 2.0, [""] * 3)
    for outline, skin in zip(under_covers(stations, covers, 2.0, [""] * 3), plain, strict=True):
        assert outline is not None and skin is not None and outline.corners == skin.corners
        assert all(np.array_equal(a.xy, b.xy) for a, b in zip(outline.pieces, skin.pieces, strict=True))


def test_strips_that_leave_nothing_between() -> None:
    assert under_covers([station("4412", 60.0)], [Cover(0.1, 0.1, None, 30.0, 31.0)], 1.0, [""]) == [None]
    assert under_covers([station("0006", 40.0)], [Cover(1.2, 1.2, None, 5.0)], 2.0, [""]) == [None]
    assert under_covers([], [], 2.0, []) == []


def test_a_waist_where_the_sheet_ends_is_refused() -> None:
    with pytest.raises(MakeError) as caught:
        drawn("4412", 150.0, Cover(3.0, 0.0, 0.8))
    fault = caught.value.faults[0]
    inner = []
    for up in (1.0, -1.0):
        points, inwards = equation("4412", 150.0, up)
        at = int(np.searchsorted(points[2000:, 0], 120.0)) + 2000
        inner.append((points + 3.0 * inwards)[at, 1])
    depth = inner[0] - inner[1]
    assert fault.path == "blade.construction.to" and fault.value == "0.8"
    assert all(words in str(fault) for words in (f"leaves {depth:.2f} mm", "r 100.0 mm", "at least 2.5 mm"))

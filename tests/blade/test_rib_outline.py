"""Rib outlines against the sections' own published equations, written out here, both ways.

Equations: NACA Report 460 (thickness, mean line of the four-digit family, thickness laid off normal to the mean line);
the skin is taken off along the normal of the surface, which the equations' derivative gives.
"""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from geomgen.blade.station import Station
from geomgen.blade.under_skin import Outline, under_skin, under_skins
from geomgen.plane.arcs import join
from geomgen.plane.path import Path
from geomgen.plane.smooth import smooth_arcs
from geomgen.section.families import naca
from geomgen.section.reshape import flattened
from geomgen.tolerances import STANDARD


def surface(digits: str, chord: float, skin: float, up: float, count: int = 40_000) -> np.ndarray:
    """Points of one surface less the skin, from the published equations with a fine numerical derivative."""
    m, p, t = int(digits[0]) / 100, int(digits[1]) / 10, int(digits[2:]) / 100
    x = np.linspace(0.0, 1.0, count) ** 2
    yt = 5 * t * (0.29690 * np.sqrt(x) - 0.12600 * x - 0.35160 * x**2 + 0.28430 * x**3 - 0.10150 * x**4)
    if m:
        yc = np.where(x < p, m / p**2 * (2 * p * x - x**2), m / (1 - p) ** 2 * (1 - 2 * p + 2 * p * x - x**2))
        slope = np.where(x < p, 2 * m / p**2 * (p - x), 2 * m / (1 - p) ** 2 * (p - x))
    else:
        yc, slope = np.zeros_like(x), np.zeros_like(x)
    a = np.arctan(slope)
    points = chord * np.column_stack([x - up * yt * np.sin(a), yc + up * yt * np.cos(a)])
    way = np.gradient(points, np.linspace(0.0, 1.0, count), axis=0, edge_order=2)
    way /= np.hypot(*way.T)[:, None]
    return points + skin * up * np.column_stack([way[:, 1], -way[:, 0]])


def drawn(digits: str, chord: float, skin: float, tail: float) -> tuple[Outline, Path]:
    outline = under_skin(Station(0.0, chord, 0.0, naca(digits), (0.0, 0.0)), skin, tail)
    assert outline is not None
    return outline, join(smooth_arcs(outline.pieces, STANDARD), closed=True)


CASES = [
    ("0012", 150.0, 0.0, 0.0),
    ("0015", 300.0, 2.0, 2.5),
    ("4415", 210.0, 2.0, 2.5),
    ("4412", 150.0, 1.0, 1.5),
    ("2412", 90.0, 0.0, 0.0),
    ("4415", 210.0, 5.0, 3.0),
    ("4412", 150.0, 3.0, 2.5),  # skin thicker than the nose radius
]


@pytest.mark.parametrize(("digits", "chord", "skin", "tail"), CASES)
def test_outline_lies_on_the_equation_both_ways(digits: str, chord: float, skin: float, tail: float) -> None:
    outline, path = drawn(digits, chord, skin, tail)
    curves = [surface(digits, chord, skin, up) for up in (1.0, -1.0)]
    edge = shapely.LineString(np.vstack([path.flattened(1e-4), path.flattened(1e-4)[:1]]))
    both = shapely.MultiLineString(list(curves))
    shapely.prepare([edge, both])
    # from the equation to the outline: every point between the rib's ends, on the part that is not folded over
    for curve, side in zip(curves, (outline.upper, outline.lower), strict=True):
        inside = (curve[:, 0] > outline.nose_mm + 1e-6) & (curve[:, 0] < outline.tail_mm - 1e-6)
        forward = np.append(np.diff(curve[:, 0]) > 0, True) if outline.blunt else np.ones(len(curve), dtype=bool)
        start = np.flatnonzero(~forward[: len(curve) // 2])
        forward[: start[-1] + 1 if len(start) else 0] = False
        some = curve[inside & forward][::5]
        assert shapely.dwithin(edge, shapely.points(some), 0.01).all()
        assert side.length_mm > 0
    # from the outline to the equation: every point but those on the straight ends
    points = shapely.segmentize(edge, 0.2)
    points = shapely.get_coordinates(points)
    ends = points[:, 0] >= outline.tail_mm - 0.02
    if outline.blunt:
        ends |= points[:, 0] <= outline.nose_mm + 0.02
    assert shapely.dwithin(both, shapely.points(points[~ends]), 0.01).all()


@pytest.mark.parametrize(("digits", "chord", "skin", "tail"), CASES)
def test_few_smooth_segments(digits: str, chord: float, skin: float, tail: float) -> None:
    outline, path = drawn(digits, chord, skin, tail)
    segments = path.segments()
    assert len(path.xy) <= 60
    chords = np.hypot(*(segments.end - segments.start).T)
    named = np.array([place for _, place in outline.corners])
    # tangent at start and end of each arc: chord direction less / plus half the included angle, which is 4 atan(bulge)
    heading = np.arctan2(*(segments.end - segments.start).T[::-1])
    half = 2 * np.arctan(segments.bulge)
    leave, arrive = heading + half, np.roll(heading - half, -1)
    kink = np.degrees(np.abs((arrive - leave + np.pi) % (2 * np.pi) - np.pi))
    corner = np.min(np.hypot(*(segments.end[:, None] - named[None]).T).T, axis=1) < 1e-6
    assert kink[~corner].max() <= 0.1
    short = chords < 0.2 - 1e-9
    straight_end = (
        np.abs(segments.end[:, 0] - segments.start[:, 0]) < 1e-6
    )  # the tail of a bare section is as thick as it is
    assert not (short & ~straight_end).any()


@pytest.mark.parametrize(("t", "chord"), [(12, 150.0), (15, 210.0), (21, 80.0)])
def test_bare_symmetric_area_in_closed_form(t: int, chord: float) -> None:
    """0.685083 t c²: twice the integral of the published equation, term by term."""
    exact = 10 * (0.29690 * 2 / 3 - 0.12600 / 2 - 0.35160 / 3 + 0.28430 / 4 - 0.10150 / 5)
    assert exact == pytest.approx(0.685083, abs=1e-6)
    _, path = drawn(f"00{t:02d}", chord, 0.0, 0.0)
    assert path.area() == pytest.approx(exact * t / 100 * chord**2, rel=3e-4)


def test_tail_ends_where_the_depth_is_as_asked() -> None:
    outline, path = drawn("4415", 210.0, 2.0, 2.5)
    ends = np.array([place for name, place in outline.corners if "tail" in name])
    assert abs(ends[0, 1] - ends[1, 1]) == pytest.approx(2.5, abs=1e-6)
    assert ends[0, 0] == pytest.approx(ends[1, 0], abs=1e-9)
    upper, lower = (surface("4415", 210.0, 2.0, up) for up in (1.0, -1.0))
    depth = np.interp(ends[0, 0], *upper.T) - np.interp(ends[0, 0], *lower.T)
    assert depth == pytest.approx(2.5, abs=1e-3)
    assert path.bounds()[2] == pytest.approx(ends[0, 0], abs=1e-9)


def test_a_skin_thicker_than_the_nose_radius_cuts_the_nose() -> None:
    """Nose radius of a four-digit section: 1.1019 t² c (NACA Report 460), 2.38 mm here, less 3 mm of skin."""
    outline, _ = drawn("4412", 150.0, 3.0, 2.5)
    assert outline.blunt
    assert outline.nose_radius_mm == pytest.approx(1.1019 * 0.12**2 * 150 - 3.0, abs=0.35)  # the mean line adds to it
    ends = np.array([place for name, place in outline.corners if "nose" in name])
    assert abs(ends[0, 1] - ends[1, 1]) == pytest.approx(1.0, abs=1e-6)


def test_skins_that_leave_nothing() -> None:
    assert under_skin(Station(0.0, 40.0, 0.0, naca("0006"), (0.0, 0.0)), 2.0, 2.0) is None


@pytest.mark.parametrize("skin", [0.0, 2.0])
def test_a_flattened_section_keeps_its_corner(skin: float) -> None:
    """Offset of a polygon by a general geometry library, with mitred corners, as the judge of area."""
    section = flattened(naca("2415"), 0.3)
    outline = under_skin(Station(0.0, 200.0, 0.0, section, (0.0, 0.0)), skin, 2.0)
    assert outline is not None
    path = join(smooth_arcs(outline.pieces, STANDARD), closed=True)
    whole = shapely.Polygon(200.0 * np.vstack([section.upper.xy[::-1], section.lower.xy[1:]]))
    kept = whole.buffer(-skin, join_style="mitre").intersection(shapely.box(-10, -100, outline.tail_mm, 100))
    assert path.area() == pytest.approx(kept.area, rel=5e-4)
    assert shapely.Polygon(path.flattened(1e-3)).difference(kept.buffer(0.02)).area < 1e-9


def test_a_nose_folded_over_begins_where_there_is_wood() -> None:
    """2 mm of skin on a 40 mm 0012 leave 0.8 mm at the deepest: what is left is one ring that doesn't cross itself."""
    outline = under_skin(Station(0.0, 40.0, 0.0, naca("0012"), (0.0, 0.0)), 2.0, 0.5)
    assert outline is not None and outline.blunt
    path = join(smooth_arcs(outline.pieces, STANDARD), closed=True)
    polygon = shapely.Polygon(path.flattened(1e-3))
    assert polygon.is_valid and path.area() > 0
    section = naca("0012")
    whole = shapely.Polygon(40.0 * np.vstack([section.upper.xy[::-1], section.lower.xy[1:]]))
    assert polygon.difference(whole.buffer(-2.0, quad_segs=64).buffer(0.02)).area < 1e-6


def test_many_ribs_at_once_are_as_one_by_one() -> None:
    sections = [naca("4415"), naca("0012"), flattened(naca("2415"), 0.3), naca("23012"), naca("0012-04")]
    stations = [Station(0.0, chord, 0.0, section, (0.0, 0.0)) for section in sections for chord in (90.0, 210.0)]
    skins = [(0.0, 1.0, 3.0)[k % 3] for k in range(len(stations))]
    together = under_skins(stations, skins, 2.0, [""] * len(stations))
    for station, skin, outline in zip(stations, skins, together, strict=True):
        alone = under_skin(station, skin, 2.0)
        assert (alone is None) == (outline is None)
        if alone is None or outline is None:
            continue
        assert outline.blunt == alone.blunt and len(outline.pieces) == len(alone.pieces)
        for a, b in zip(outline.pieces, alone.pieces, strict=True):
            assert a.xy == pytest.approx(b.xy, abs=1e-9)
        tails = np.array([place for name, place in outline.corners if name.endswith("tail")])
        if outline.cut_tail:
            assert abs(tails[0, 1] - tails[1, 1]) == pytest.approx(2.0, abs=1e-8)

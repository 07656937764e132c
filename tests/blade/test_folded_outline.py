"""Ribs under a folded board: edges parallel to the flats, judged by lines and by a general geometry library."""

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
from geomgen.section.folding import Folds, folded
from geomgen.section.section import Section
from geomgen.tolerances import STANDARD

BOARD, NOSE, TAIL = 5.0, 6.0, 2.0  # mm
CHORDS = [150.0, 180.0, 210.0]


def section(digits: str, chord: float) -> Section:
    return folded(naca(digits), Folds((0.2, 0.45, 0.7), (0.3,), NOSE / chord))


def drawn(digits: str, chord: float) -> tuple[Outline, Path]:
    outline = under_skin(Station(0.0, chord, 0.0, section(digits, chord), (0.0, 0.0)), BOARD, TAIL)
    assert outline is not None
    return outline, join(smooth_arcs(outline.pieces, STANDARD), closed=True)


@pytest.mark.parametrize("chord", CHORDS)
def test_long_edges_are_lines_a_board_inside_the_flats(chord: float) -> None:
    """Each flat's line moved 5 mm inwards: the rib's long lines lie on them; corners where two such lines cross."""
    outline, path = drawn("4415", chord)
    made = section("4415", chord)
    assert not outline.blunt and outline.cut_tail
    assert outline.nose_radius_mm == pytest.approx(NOSE - BOARD, rel=1e-3)
    segments = path.segments()
    length = np.hypot(*(segments.end - segments.start).T)
    lines = []
    for surface, inward in ((made.upper, 1.0), (made.lower, -1.0)):
        corners = chord * surface.xy[[*surface.corners, -1]]
        first = surface.tangent[surface.corners[0]]
        ways = [first, *(way / np.hypot(*way) for way in np.diff(corners, axis=0))]
        for point, way in zip(corners, ways, strict=True):
            lines.append((point + BOARD * inward * np.array([way[1], -way[0]]), way))
    drawn_on = []
    long = (length > TAIL + 1.0) & (segments.bulge == 0.0)
    for start, end in zip(segments.start[long], segments.end[long], strict=True):
        off = [max(abs((p - at) @ [-way[1], way[0]]) for p in (start, end)) for at, way in lines]
        assert min(off) < 1e-6
        drawn_on.append(int(np.argmin(off)))
    assert sorted(drawn_on) == list(range(6))  # one line for each of four flats above and two below
    met = [np.array(place) for name, place in outline.corners if name in ("upper", "lower")]
    for corner, (a, b) in zip(met, [(0, 1), (1, 2), (2, 3), (4, 5)], strict=True):
        (p, v), (q, w) = lines[a], lines[b]
        crossing = p + np.linalg.solve(np.column_stack([v, -w]), q - p)[0] * v
        assert corner == pytest.approx(crossing, abs=1e-6)
    tails = np.array([place for name, place in outline.corners if name.endswith("tail")])
    assert abs(tails[0, 1] - tails[1, 1]) == pytest.approx(TAIL, abs=1e-8)


@pytest.mark.parametrize("chord", CHORDS)
@pytest.mark.parametrize("digits", ["4415", "23112"])
def test_outline_is_the_section_shrunk_by_the_board(digits: str, chord: float) -> None:
    """By a general geometry library: the polygon moved inwards with mitred corners."""
    outline, path = drawn(digits, chord)
    made = section(digits, chord)
    upper, lower = (
        s.at(np.unique(np.append(np.linspace(0, s.length, 4000), s.along)))[0] for s in (made.upper, made.lower)
    )
    whole = shapely.Polygon(chord * np.vstack([upper[::-1], lower[1:]]))
    kept = whole.buffer(-BOARD, join_style="mitre").intersection(shapely.box(-10, -100, outline.tail_mm, 100))
    ring = shapely.Polygon(path.flattened(1e-4))
    assert ring.is_valid
    assert ring.symmetric_difference(kept).area < 1e-5 * kept.length * chord
    assert shapely.hausdorff_distance(ring.exterior, kept.exterior, 0.1) < 0.005


def test_folded_and_smooth_ribs_together_are_as_one_by_one() -> None:
    stations = [Station(0.0, chord, 0.0, section("4415", chord), (0.0, 0.0)) for chord in CHORDS]
    stations.append(Station(0.0, 180.0, 0.0, naca("4415"), (0.0, 0.0)))
    together = under_skins(stations, [BOARD] * 4, TAIL, [""] * 4)
    for station, outline in zip(stations, together, strict=True):
        alone = under_skin(station, BOARD, TAIL)
        assert alone is not None and outline is not None
        for a, b in zip(outline.pieces, alone.pieces, strict=True):
            assert a.xy == pytest.approx(b.xy, abs=1e-9)


def test_a_nose_rolled_tighter_than_the_board_leaves_a_blunt_rib() -> None:
    """Nothing follows the inside of a 5 mm board rolled to 4 mm outside."""
    made = folded(naca("4415"), Folds((0.2, 0.45, 0.7), (), 4.0 / 180.0))
    outline = under_skin(Station(0.0, 180.0, 0.0, made, (0.0, 0.0)), BOARD, TAIL)
    assert outline is not None and outline.blunt
    assert outline.nose_radius_mm == pytest.approx(-1.0, abs=0.01)
    ring = shapely.Polygon(join(smooth_arcs(outline.pieces, STANDARD), closed=True).flattened(1e-3))
    whole = shapely.Polygon(180.0 * np.vstack([made.upper.xy[::-1], made.lower.xy[1:]]))
    assert ring.is_valid
    assert ring.difference(whole.buffer(-BOARD, quad_segs=64).buffer(0.02)).area < 1e-6

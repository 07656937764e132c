"""Pieces laid on sheets: cases that are closed by hand, and distances by shapely whatever the pieces."""

from __future__ import annotations

import itertools
import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from geomgen.nesting.fill import COARSE_MM, FINE_MM, FINE_UP_TO_MM2, Ground, Piece, Spot, filled

GAP, EDGE = 3.0, 5.0
HALVES, QUARTERS = (0.0, 180.0), (0.0, 90.0, 180.0, 270.0)


def box(long: float, wide: float) -> shapely.Polygon:
    return shapely.box(0.0, 0.0, long, wide)


def laid(pieces: Sequence[Piece], spots: Sequence[Spot], ground: int | None = None) -> list[shapely.Polygon]:
    """Where they lie, by shapely's turn and move; all, or those of one sheet."""
    return [
        affinity.translate(affinity.rotate(pieces[s.piece].shape, s.turn_deg, origin=(0, 0)), *s.at)
        for s in spots
        if ground in (None, s.ground)
    ]


def least(shapes: Sequence[shapely.Polygon]) -> float:
    """Least distance of any two."""
    return min((float(shapely.distance(a, b)) for a, b in itertools.combinations(shapes, 2)), default=np.inf)


def lay(pieces: Sequence[Piece], new: Ground | None, *there: Ground) -> tuple[Spot, ...]:
    return filled(pieces, there, new, GAP, EDGE)


# By hand


def test_four_that_just_fit() -> None:
    """2 x 50 + 3 + 2 x 5 by 2 x 20 + 3 + 2 x 5."""
    pieces = [Piece(box(50, 20), HALVES, 4)]
    spots = lay(pieces, Ground((113.0, 53.0)))
    assert {spot.ground for spot in spots} == {0}
    corners = sorted(shape.bounds[:2] for shape in laid(pieces, spots))
    assert corners == [(5.0, 5.0), (5.0, 28.0), (58.0, 5.0), (58.0, 28.0)]
    for size, sheets in (((112.9, 53.0), 2), ((113.0, 52.9), 2), ((112.9, 52.9), 4)):
        assert len({spot.ground for spot in lay(pieces, Ground(size))}) == sheets


def test_the_edge_to_a_hair() -> None:
    """What is as long as the sheet less its edges goes on it; what is 0.01 mm longer doesn't, nor 0.01 mm wider."""
    ground = Ground((100.0, 60.0))
    (spot,) = lay([Piece(box(90, 50), (0.0,))], ground)
    assert spot.at == (5.0, 5.0)
    for size in ((90.01, 50), (90, 50.01)):
        with pytest.raises(ValueError, match="piece 0 goes on no sheet"):
            lay([Piece(box(*size), (0.0,))], ground)


def test_two_side_by_side_keep_the_gap() -> None:
    """And at most two cells more, whatever their size."""
    for more in (0.0, 0.1, 0.26, 0.49):
        pieces = [Piece(box(40 + more, 50), (0.0,), 2)]
        gap = least(laid(pieces, lay(pieces, Ground((100.0, 60.0)))))
        assert GAP <= gap <= GAP + 2 * FINE_MM


def test_only_what_may_be_turned_is() -> None:
    """10 x 50 goes on 60 x 24 only when turned."""
    ground = Ground((60.0, 24.0))
    (spot,) = lay([Piece(box(10, 50), QUARTERS)], ground)
    assert spot.turn_deg in (90.0, 270.0)
    with pytest.raises(ValueError, match="goes on no sheet"):
        lay([Piece(box(10, 50), HALVES)], ground)


def test_wedges_lie_nose_to_tail() -> None:
    """Two right triangles of 80 x 40 on one sheet of 100 x 60, where two boxes of 80 x 40 take two."""
    ground = Ground((100.0, 60.0))
    wedge = shapely.Polygon([(0, 0), (80, 0), (0, 40)])
    pieces = [Piece(wedge, HALVES, 2)]
    spots = lay(pieces, ground)
    assert {spot.ground for spot in spots} == {0} and {spot.turn_deg for spot in spots} == {0.0, 180.0}
    assert least(laid(pieces, spots)) >= GAP
    assert len({spot.ground for spot in lay([Piece(wedge, (0.0,), 2)], ground)}) == 2
    assert len({spot.ground for spot in lay([Piece(box(80, 40), HALVES, 2)], ground)}) == 2


def test_nothing_lies_across_a_wall() -> None:
    """50 long at a wall at 60: one before it, the next from an edge behind it on; a millimetre less, and it doesn't."""
    pieces = [Piece(box(50, 20), (0.0,), 2)]
    spots = lay(pieces, Ground((120.0, 30.0), walls=(60.0,)))
    assert [spot.ground for spot in spots] == [0, 0]
    first, second = sorted(laid(pieces, spots), key=lambda shape: shape.bounds[0])
    assert first.bounds[0] == 5.0 and first.bounds[2] <= 55.0
    assert 65.0 <= second.bounds[0] <= 65.0 + 2 * FINE_MM
    assert len({spot.ground for spot in lay(pieces, Ground((119.0, 30.0), walls=(60.0,)))}) == 2


def test_what_lies_there_is_kept_clear_of() -> None:
    """A disc of 30 mm in the middle of the sheet: bars lie beside it, none nearer than the gap."""
    disc = shapely.Point(100.0, 50.0).buffer(30.0, quad_segs=64)
    pieces = [Piece(box(60, 12), (0.0,), 8)]
    spots = lay(pieces, None, Ground((200.0, 100.0), lying=(disc,)))
    assert {spot.ground for spot in spots} == {0}
    assert least([disc, *laid(pieces, spots)]) >= GAP


def test_small_ones_lie_in_holes_only_where_these_are_holes() -> None:
    """A frame of 90 x 50, its hole 50 x 30, fills its sheet; a disc goes into the hole, or on a sheet of its own."""
    ground, disc = Ground((100.0, 60.0)), Piece(shapely.Point(0.0, 0.0).buffer(11.0), (0.0,))
    frame = box(90, 50) - shapely.box(20, 10, 70, 40)
    pieces = [Piece(frame, (0.0,)), disc]
    spots = lay(pieces, ground)
    assert {spot.ground for spot in spots} == {0} and least(laid(pieces, spots)) >= GAP
    filled_up = [Piece(shapely.Polygon(frame.exterior), (0.0,)), disc]
    assert {spot.ground for spot in lay(filled_up, ground)} == {0, 1}
    later = lay([disc], ground, Ground((100.0, 60.0), lying=(affinity.translate(frame, 5.0, 5.0),)))
    assert [spot.ground for spot in later] == [0]


def test_sheets_that_are_there_come_first() -> None:
    pieces = [Piece(box(40, 20), (0.0,), 4)]
    spots = lay(pieces, Ground((100.0, 60.0)), Ground((50.0, 30.0)), Ground((30.0, 10.0)), Ground((50.0, 30.0)))
    assert [spot.ground for spot in spots] == [0, 2, 3, 3]


def test_what_has_no_place_is_told() -> None:
    assert lay([], None) == ()
    with pytest.raises(ValueError, match="no sheet to lay"):
        lay([Piece(box(40, 20), (0.0,))], None)
    with pytest.raises(ValueError, match="no room for piece 0"):
        lay([Piece(box(40, 20), (0.0,), 2)], None, Ground((60.0, 30.0)))


# Whatever the pieces


@settings(max_examples=25)
@given(st.integers(0, 10**9), st.sampled_from([0.0, 1.0, 3.0, 3.2032]), st.sampled_from([0.0, 2.0, 5.0]))
def test_none_too_near(seed: int, gap: float, edge: float) -> None:
    """Ragged shapes, some with holes, on sheets of 220 x 100, one with things on it and a wall: by shapely."""
    random = np.random.default_rng(seed)
    pieces = [Piece(_ragged(random), QUARTERS, int(random.integers(1, 4))) for _ in range(5)]
    there = affinity.translate(_ragged(random), 60.0, 45.0)
    grounds = [Ground((220.0, 100.0), (there,), (130.0,))]
    spots = filled(pieces, grounds, Ground((220.0, 100.0)), gap, edge)
    assert [spot.piece for spot in spots] == [k for k, piece in enumerate(pieces) for _ in range(piece.count)]
    for ground in {spot.ground for spot in spots}:
        shapes = [*laid(pieces, spots, ground), *([there] if ground == 0 else [])]
        assert least(shapes) >= gap - 1e-9
        for shape in shapes[: len(shapes) - (ground == 0)]:
            x0, y0, x1, y1 = shape.bounds
            assert min(x0, y0) >= edge - 1e-6 and x1 <= 220.0 - edge + 1e-6 and y1 <= 100.0 - edge + 1e-6
            assert ground > 0 or x1 <= 130.0 - edge + 1e-6 or x0 >= 130.0 + edge - 1e-6


def _ragged(random: np.random.Generator) -> shapely.Polygon:
    """A star round a disc, or its hull; half of them with a hole."""
    angles = (np.arange(9) + random.uniform(0.0, 0.8, 9)) * 2.0 * np.pi / 9.0
    star = np.column_stack((np.cos(angles), np.sin(angles))) * random.uniform(0.3, 1.0, 9)[:, None]
    disc = shapely.Point(0.0, 0.0).buffer(0.4)
    whole = shapely.union(shapely.Polygon(star).buffer(0.02), disc) if random.random() < 0.7 else disc
    shape = affinity.scale(shapely.Polygon(whole.exterior), 30, 20, origin=(0.0, 0.0))
    return shape - affinity.scale(disc, 12, 8, origin=(0.0, 0.0)) if random.random() < 0.5 else shape


def test_large_sheets_are_laid_in_coarser_cells_and_keep_the_gap() -> None:
    size = (1000.0, 700.0)
    assert size[0] * size[1] > FINE_UP_TO_MM2
    pieces = [Piece(box(300.3, 200.7), (0.0,), 6)]
    spots = lay(pieces, Ground(size))
    assert {spot.ground for spot in spots} == {0}
    assert GAP <= least(laid(pieces, spots)) <= GAP + 2 * COARSE_MM


# The same again


def test_equal_pieces_keep_their_order() -> None:
    """A piece wanted three times lies where three pieces of the same form lie."""
    shape = shapely.Polygon([(0, 0), (80, 0), (0, 25)])
    once = lay([Piece(shape, HALVES, 3)], Ground((200.0, 60.0)))
    each = lay([Piece(shape, HALVES)] * 3, Ground((200.0, 60.0)))
    assert [(spot.ground, spot.at, spot.turn_deg) for spot in once] == [
        (spot.ground, spot.at, spot.turn_deg) for spot in each
    ]


SCRIPT = """
import numpy as np, shapely
from geomgen.nesting.fill import Ground, Piece, filled
random = np.random.default_rng(5)
shapes = [shapely.convex_hull(shapely.multipoints(random.uniform(0, 40, (6, 2)))) for _ in range(12)]
print(filled([Piece(s, (0.0, 90.0, 180.0, 270.0), 2) for s in shapes], [], Ground((200.0, 100.0)), 3.0, 5.0))
"""


def test_the_same_whatever_the_hash_seed_and_the_threads() -> None:
    top = Path(__file__).parents[2]
    said = set()
    for seed, threads in (("0", "1"), ("1", "4"), ("2", "4")):
        env = {**os.environ, "PYTHONHASHSEED": seed, "OMP_NUM_THREADS": threads, "PYTHONPATH": str(top)}
        done = subprocess.run([sys.executable, "-c", SCRIPT], env=env, capture_output=True, text=True, check=True)
        said.add(done.stdout)
    assert len(said) == 1 and said.pop().count("Spot(") == 24

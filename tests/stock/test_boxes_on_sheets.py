"""Boxes on sheets, against packings made by hand, bounds that no packing beats, and brute force."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.stock.packing import Box, fits, packed, sheets_of

SHEET = (100.0, 60.0)
SIZES = st.tuples(st.floats(5, 100), st.floats(5, 60), st.booleans())
BOXES = st.lists(SIZES.map(lambda size: Box(*size)), min_size=1, max_size=12)


# Boxes on sheets


@pytest.mark.parametrize(
    ("boxes", "gap", "sheets"),
    [
        ([Box(100, 60)], 3.0, 1),  # just the sheet
        ([Box(60, 100)], 3.0, 1),  # the same turned
        ([Box(50, 60)] * 2, 0.0, 1),
        ([Box(50, 60)] * 2, 3.0, 2),  # no room for the gap
        ([Box(48.5, 28.5)] * 4, 3.0, 1),  # two by two, gaps between only
        ([Box(48.5, 28.5)] * 5, 3.0, 2),
        ([Box(60, 20, False)] * 3, 0.0, 1),  # three shelves of one
        ([Box(60, 20, False)] * 4, 0.0, 2),
        ([Box(60, 20)] * 4, 0.0, 1),  # the same, where they may turn: five stand side by side
        ([Box(60, 40), Box(40, 60), Box(60, 20)], 0.0, 1),  # one stands, two lie beside it
        ([], 3.0, 0),
    ],
)
def test_boxes_packed_by_hand(boxes: list[Box], gap: float, sheets: int) -> None:
    assert sheets_of(packed(boxes, SHEET, gap)) == sheets


@settings(max_examples=60, deadline=None)
@given(BOXES, st.sampled_from([0.0, 3.0]))
def test_nothing_overlaps_or_hangs_over(boxes: list[Box], gap: float) -> None:
    """Placed boxes judged by shapely: inside the sheet, a gap apart, each once and of its own size."""
    spots = packed(boxes, SHEET, gap)
    assert sorted(spot.box for spot in spots) == list(range(len(boxes)))
    sheet = shapely.box(0, 0, *SHEET).buffer(1e-5)
    for spot in spots:
        box = boxes[spot.box]
        lies = (spot.long_mm, spot.wide_mm) == (box.long_mm, box.wide_mm)
        assert lies or (box.turns and (spot.wide_mm, spot.long_mm) == (box.long_mm, box.wide_mm))
        assert sheet.contains(shapely.box(spot.x_mm, spot.y_mm, spot.x_mm + spot.long_mm, spot.y_mm + spot.wide_mm))
    for a, b in itertools.combinations(spots, 2):
        if a.sheet == b.sheet:
            ours, theirs = (shapely.box(s.x_mm, s.y_mm, s.x_mm + s.long_mm, s.y_mm + s.wide_mm) for s in (a, b))
            assert ours.intersection(theirs).area < 1e-3
            apart = max(abs(a.x_mm + a.long_mm / 2 - b.x_mm - b.long_mm / 2) - (a.long_mm + b.long_mm) / 2,
                        abs(a.y_mm + a.wide_mm / 2 - b.y_mm - b.wide_mm / 2) - (a.wide_mm + b.wide_mm) / 2)  # fmt: skip
            assert apart >= gap - 1e-5
    used = {spot.sheet for spot in spots}
    assert used == set(range(len(used)))
    assert len(used) >= math.ceil(sum(box.long_mm * box.wide_mm for box in boxes) / (SHEET[0] * SHEET[1]) - 1e-9)


def one_sheet_holds(boxes: tuple[Box, ...]) -> bool:
    """Whether any packing at all puts these boxes on one sheet, without gap: tried at every normal place.

    Any packing can be pushed left and down until each box stands at a sum of the others' sizes (Herz 1972, from
    memory), so trying those places tries all.
    """
    ways = [[(b.long_mm, b.wide_mm)] + ([(b.wide_mm, b.long_mm)] if b.turns else []) for b in boxes]
    return any(_placed(sizes, [], list(range(len(sizes)))) for sizes in itertools.product(*ways))


def _placed(sizes: tuple[tuple[float, float], ...], done: list[tuple[float, ...]], left: list[int]) -> bool:
    if not left:
        return True
    k, rest = left[0], left[1:]
    others = [sizes[i] for i in range(len(sizes)) if i != k]
    xs, ys = ({sum(c) for n in range(len(others) + 1) for c in itertools.combinations([o[axis] for o in others], n)}
              for axis in (0, 1))  # fmt: skip
    for x, y in itertools.product(xs, ys):
        x1, y1 = x + sizes[k][0], y + sizes[k][1]
        if x1 > SHEET[0] + 1e-9 or y1 > SHEET[1] + 1e-9:
            continue
        if all(
            x >= b[2] - 1e-9 or x1 <= b[0] + 1e-9 or y >= b[3] - 1e-9 or y1 <= b[1] + 1e-9 for b in done
        ) and _placed(sizes, [*done, (x, y, x1, y1)], rest):
            return True
    return False


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(2, 10), st.integers(2, 6), st.booleans()), min_size=2, max_size=3))
def test_never_fewer_than_brute_force_needs(sizes: list[tuple[int, int, bool]]) -> None:
    boxes = tuple(Box(10.0 * long, 10.0 * wide, turns) for long, wide, turns in sizes)
    ours = sheets_of(packed(boxes, SHEET, 0.0))
    groupings = (groups for groups in itertools.product(range(len(boxes)), repeat=len(boxes)))
    least = min(
        len(set(groups))
        for groups in groupings
        if all(one_sheet_holds(tuple(b for b, g in zip(boxes, groups, strict=True) if g == n)) for n in set(groups))
    )
    assert least <= ours <= least + 1
    if len(boxes) == 2:
        assert ours == least  # two boxes that share a sheet at all stand side by side on it


def test_what_fits() -> None:
    assert fits(Box(60, 100), SHEET) and not fits(Box(60, 100, False), SHEET) and not fits(Box(101, 5), SHEET)

"""Letters on parts: inside, clear of every edge, as large as fits, or reported."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from known_parts import known_part

from geomgen.figures import spelled
from geomgen.marking.lettering import letter, written
from geomgen.marking.room import Room
from geomgen.model.label import Arrow
from geomgen.model.part import Flat, Text
from geomgen.plane.path import Circle, from_points
from geomgen.plane.region import Region

LINES = ("R7", "r 410", "root side")
ARROWS = (Arrow("UP", "up"), Arrow("FWD", "left"))


def plate(width: float, height: float, holes: tuple[Circle, ...] = ()) -> Flat:
    corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
    return Flat(Region(from_points(corners, closed=True), holes), 3.0)


def rib(chord: float, depth: float, holes: int) -> Flat:
    """A lens of two arcs with round holes along its middle."""
    bulge = depth / chord
    outer = from_points([(0.0, 0.0), (chord, 0.0)], closed=True)
    lens = type(outer)(outer.xy, np.array([bulge, bulge]), True)
    places = np.linspace(0.2, 0.7, holes) * chord if holes else []
    return Flat(Region(lens, tuple(Circle((float(x), 0.0), 0.2 * depth) for x in places)), 3.0)


def engraved(before: Flat, after: Flat) -> list[shapely.LineString]:
    """What was added, as lines."""
    assert after.region is before.region
    assert after.texts[: len(before.texts)] == before.texts and after.marks[: len(before.marks)] == before.marks
    new = [path for text in after.texts[len(before.texts) :] for path in written(text)]
    return [shapely.LineString(path.flattened(0.001)) for path in (*new, *after.marks[len(before.marks) :])]


@settings(deadline=None, max_examples=60)
@given(
    chord=st.floats(25.0, 300.0),
    depth=st.floats(0.06, 0.2),
    holes=st.integers(0, 6),
    words=st.lists(st.text("Rrgy0123456789 .Q(", min_size=1, max_size=9).filter(str.strip), max_size=4),
)
def test_every_stroke_is_inside_and_clear_of_every_edge(
    chord: float, depth: float, holes: int, words: list[str]
) -> None:
    flat = rib(chord, depth * chord, holes)
    lettered, notes = letter(flat, [*words, *ARROWS])
    exact = flat.region.to_shapely(0.001)
    lines = engraved(flat, lettered)
    assert all(exact.contains(line) and exact.boundary.distance(line) >= 1.0 - 0.002 for line in lines)
    written_words = [text.text for text in lettered.texts]
    left_off = notes[0].split("left off: ")[1].split(", ") if notes else []
    asked = [*words, "UP", "FWD"]
    assert sorted(written_words + left_off) == sorted(asked)  # each is there or reported, none twice
    heights = {text.height_mm for text in lettered.texts}
    assert len(heights) <= 1 and all(2.0 <= height <= 5.0 for height in heights)


@pytest.mark.parametrize("corner", [(0.0, 0.0), (80.0, 0.0), (0.0, 40.0), (80.0, 40.0)])
def test_room_is_used_up_to_the_clearance_and_no_further(corner: tuple[float, float]) -> None:
    """Boxes of many sizes pushed into each corner of a plate, exactly measured."""
    random = np.random.default_rng(5)
    region = plate(80.0, 40.0).region
    room, edge = Room.of(region, 1.0), region.to_shapely(0.01).boundary
    gaps = []
    for width, height in random.uniform((3.0, 2.0), (30.0, 9.0), (200, 2)).tolist():
        x, y = corner[0] - (width if corner[0] else 0.0), corner[1] - (height if corner[1] else 0.0)
        box = room.find(width, height, (x, y, x, y + height))
        assert box is not None
        gaps.append(edge.distance(shapely.box(*box)))
    assert 1.0 <= min(gaps) < 1.2 and max(gaps) < 1.6


def test_room_keeps_clear_of_what_is_taken_however_thin() -> None:
    random = np.random.default_rng(6)
    room = Room.of(plate(80.0, 40.0).region, 1.0)
    gaps = []
    for x, y, width, height in random.uniform((20.0, 10.0, 3.0, 2.0), (60.0, 30.0, 15.0, 6.0), (200, 4)).tolist():
        taken = (x, y, x + 0.01, y + 12.0)  # a hair, upright
        box = room.without([taken]).find(width, height, taken)
        assert box is not None
        gaps.append(shapely.box(*taken).distance(shapely.box(*box)))
    assert min(gaps) >= 1.0 and max(gaps) < 4.0


def test_words_do_not_run_into_one_another() -> None:
    lettered, notes = letter(plate(160.0, 30.0), [*LINES, *ARROWS])
    assert notes == []
    boxes = [shapely.box(*shapely.total_bounds([shapely.LineString(p.xy) for p in written(t)])) for t in lettered.texts]
    for k, box in enumerate(boxes):
        assert all(box.distance(other) >= 4.0 for other in boxes[:k])


@pytest.mark.parametrize(
    ("depth", "height"),
    [(7.5, 5.0), (7.0, 4.5), (6.5, 4.0), (6.0, 3.5), (5.5, 3.0), (5.0, 2.5), (4.5, 2.0), (3.9, 0.0)],
)
def test_as_large_as_fits_between_two_edges(depth: float, height: float) -> None:
    """A plate is 2 mm deeper than the letters on it, and less than one step of heights more than that."""
    lettered, notes = letter(plate(60.0, depth), ["H 1"])
    assert [text.height_mm for text in lettered.texts] == ([height] if height else [])
    assert bool(notes) == (height == 0.0)


def test_what_fits_is_large_even_where_something_else_does_not_fit() -> None:
    lettered, notes = letter(plate(30.0, 8.0), ["R7", "far too long for so small a part"])
    assert [(text.text, text.height_mm) for text in lettered.texts] == [("R7", 5.0)]
    assert spelled(notes) == ["no room for letters of 2 mm, left off: far too long for so small a part"]


def test_too_small_a_part_is_left_as_it_is_and_reported() -> None:
    flat = plate(8.0, 3.0)
    lettered, notes = letter(flat, [*LINES, *ARROWS])
    assert (lettered.texts, lettered.marks) == ((), ())
    assert "R7, r 410, root side, UP, FWD" in notes[0]


def test_what_is_marked_already_is_kept_clear() -> None:
    flat = known_part().shape
    assert isinstance(flat, Flat)
    lettered, _ = letter(flat, ["A1", "B2"])
    old = [shapely.LineString(p.xy) for p in (*flat.marks, *(q for text in flat.texts for q in written(text)))]
    assert min(shapely.distance(shapely.union_all(old), line) for line in engraved(flat, lettered)) >= 1.0


@pytest.mark.parametrize(
    ("towards", "ahead"), [("up", (0, 1)), ("down", (0, -1)), ("left", (-1, 0)), ("right", (1, 0))]
)
def test_arrows_point_where_they_are_told(towards: str, ahead: tuple[int, int]) -> None:
    """The middle of the barbs is the tip; the shaft runs to it from behind; the word isn't in the way."""
    lettered, _ = letter(plate(60.0, 30.0), [Arrow("FWD", towards)])  # type: ignore[arg-type]
    shaft, head = lettered.marks
    assert np.allclose(head.xy[1], shaft.xy[1])
    along = shaft.xy[1] - shaft.xy[0]
    assert np.allclose(along / np.hypot(*along), ahead)
    assert all((barb - head.xy[1]) @ ahead < 0.0 for barb in (head.xy[0], head.xy[2]))
    word = shapely.union_all([shapely.LineString(path.flattened(0.01)) for path in written(lettered.texts[0])])
    assert word.distance(shapely.LineString(shaft.xy)) >= 1.0
    if towards in ("left", "right"):
        assert (np.array(word.centroid.coords[0]) - shaft.xy[0]) @ ahead < 0.0  # behind the arrow


def test_written_puts_the_middle_of_the_capitals_at_the_place() -> None:
    for turn in (0.0, 37.0, 180.0):
        paths = written(Text("HH", (12.0, -7.0), 4.0, turn))
        points = np.vstack([path.xy for path in paths]) - (12.0, -7.0)
        c, s = np.cos(np.radians(turn)), np.sin(np.radians(turn))
        back = points @ np.array(((c, -s), (s, c)))
        low, high = back.min(axis=0), back.max(axis=0)
        assert (low[1], high[1]) == pytest.approx((-2.0, 2.0), abs=1e-9)
        assert low[0] == pytest.approx(-high[0], abs=0.05)


def test_equal_parts_get_equal_letters() -> None:
    one, other = (letter(rib(180.0, 22.0, 5), [*LINES, *ARROWS])[0] for _ in range(2))
    assert one.texts == other.texts
    assert all(np.array_equal(a.xy, b.xy) for a, b in zip(one.marks, other.marks, strict=True))

"""Parts finished: mirrored where the craft turns clockwise, and lettered by their label."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from geomgen.cache import Cache
from geomgen.marking import finish
from geomgen.marking.lettering import written
from geomgen.model.label import Arrow, Label, Radius
from geomgen.model.part import Flat, Length, Part, Text
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point
from geomgen.plane.path import Circle, Path, from_points
from geomgen.plane.region import Region

LABEL = Label(groups=(("R7", Radius(406.4), Arrow("UP", "up"), Arrow("FWD", "left")), (Arrow("GRAIN", "right"),)))


def finished(part: Part, *, clockwise: bool, units: str | None) -> Part:
    """One part as it is cut."""
    (done,) = finish.finished([part], clockwise=clockwise, units=units, cache=Cache(None))
    return done


def plate(width: float, height: float) -> Region:
    corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
    return Region(from_points(corners, closed=True), (Circle((0.25 * width, 0.5 * height), 0.2 * height),))


def part(flat: Flat) -> Part:
    place = np.eye(4)
    return Part("P", Role.RIB, "ply", "blade.ribs.0", flat, Assembly.BLADE, 1, point(np.zeros(3)), (place,))


def shape(done: Part) -> Flat:
    assert isinstance(done.shape, Flat)
    return done.shape


def strokes(flat: Flat) -> list[shapely.LineString]:
    return [shapely.LineString(path.flattened(0.001)) for text in flat.texts for path in written(text)]


def heading(mark: Path) -> tuple[float, ...]:
    """Which way the line of an arrow goes."""
    return tuple(np.sign(mark.xy[-1] - mark.xy[0]).tolist())


@pytest.mark.parametrize("clockwise", [False, True])
def test_arrows_turn_with_the_part_and_words_stay_to_be_read(clockwise: bool) -> None:
    done = shape(finished(part(Flat(plate(160.0, 30.0), 3.0, label=LABEL)), clockwise=clockwise, units=None))
    side = -1.0 if clockwise else 1.0
    assert [text.text for text in done.texts] == ["R7", "r 406", "UP", "FWD", "GRAIN"]
    assert all(text.turn_deg == 0.0 for text in done.texts)
    assert [heading(mark) for mark in done.marks[::2]] == [(0.0, 1.0), (-side, 0.0), (side, 0.0)]
    inside = done.region.to_shapely(0.001)
    assert inside.bounds[0] == pytest.approx(min(0.0, side * 160.0))
    assert all(inside.contains(line) for line in strokes(done))
    assert not done.label.groups


def test_a_mirrored_part_lies_where_it_was() -> None:
    drawn = part(Flat(plate(160.0, 30.0), 3.0, corners=(("tail", (160.0, 0.0)),), label=LABEL))
    done = finished(drawn, clockwise=True, units=None)
    at = np.array((*shape(done).corners[0][1], 0.0, 1.0))
    assert (done.places[0] @ at).tolist() == [160.0, 0.0, 0.0, 1.0]


def test_a_direction_without_sense_is_not_turned() -> None:
    label = Label(groups=((Arrow("GRAIN", "right", turns=False),),))
    done = shape(finished(part(Flat(plate(160.0, 30.0), 3.0, label=label)), clockwise=True, units=None))
    assert heading(done.marks[0]) == (1.0, 0.0)


def test_a_radius_is_written_in_the_designs_own_unit() -> None:
    done = shape(finished(part(Flat(plate(160.0, 30.0), 3.0, label=LABEL)), clockwise=False, units="in"))
    assert "r 16.00 in" in [text.text for text in done.texts]


@pytest.mark.parametrize(("turn", "mirrored"), [(0.0, 0.0), (90.0, 90.0), (-90.0, -90.0), (30.0, -30.0)])
def test_letters_of_the_drawing_are_read_from_the_same_side(turn: float, mirrored: float) -> None:
    drawn = Flat(plate(160.0, 30.0), 3.0, texts=(Text("A", (120.0, 15.0), 3.0, turn),), label=LABEL)
    text = shape(finished(part(drawn), clockwise=True, units=None)).texts[0]
    assert (text.at, text.turn_deg) == ((-120.0, 15.0), mirrored)


def test_what_finds_no_room_is_noted_last() -> None:
    drawn = part(Flat(plate(20.0, 6.0), 3.0, label=Label(groups=(("A", "far too long for this"),))))
    done = finished(drawn, clockwise=False, units=None)
    assert done.notes == ("no room for letters of 2 mm, left off: far too long for this",)


def test_letters_stay_on_what_stays() -> None:
    stays = Region(from_points([(80.0, 0.0), (160.0, 0.0), (160.0, 30.0), (80.0, 30.0)], closed=True))
    drawn = Flat(plate(160.0, 30.0), 3.0, stays=stays, label=Label(groups=(("A1",),), on_stays=True))
    done = shape(finished(part(drawn), clockwise=False, units=None))
    assert all(stays.to_shapely(0.001).contains(line) for line in strokes(done))
    assert done.region is drawn.region


@pytest.mark.parametrize(("clear_of", "crossed"), [("all", False), ("short", False), ("upright", True), ("none", True)])
def test_marks_that_letters_keep_clear_of(clear_of: str, crossed: bool) -> None:
    """A line along the middle leaves no room beside it, and only counts where all lines do."""
    line = from_points([(0.0, 4.0), (60.0, 4.0)], closed=False)
    label = Label(groups=(("AA",),), clear_of=clear_of)  # type: ignore[arg-type]
    corners = [(0.0, 0.0), (60.0, 0.0), (60.0, 8.0), (0.0, 8.0)]
    drawn = Flat(Region(from_points(corners, closed=True)), 3.0, marks=(line,), label=label)
    done = shape(finished(part(drawn), clockwise=False, units=None))
    across = shapely.LineString(line.xy)
    assert any(stroke.intersects(across) for stroke in strokes(done)) == crossed
    assert len(done.texts) == crossed
    assert done.marks == (line,)


def test_letters_may_stand_beside_a_bowed_line() -> None:
    """Its box is the whole plate; in short lengths it leaves room."""
    line = Path(np.array([(0.0, 1.0), (60.0, 1.0)]), np.array([-0.9, 0.0]), False)
    corners = [(0.0, 0.0), (60.0, 0.0), (60.0, 30.0), (0.0, 30.0)]
    region, words = Region(from_points(corners, closed=True)), (("A1",),)
    found = [
        shape(finished(part(Flat(region, 3.0, marks=(line,), label=label)), clockwise=False, units=None)).texts
        for label in (Label(words), Label(words, clear_of="short"))
    ]
    assert [len(texts) for texts in found] == [0, 1]


def test_what_has_no_label_is_left_as_it_is() -> None:
    for bare in (
        part(Flat(plate(160.0, 30.0), 3.0)),
        Part("S", Role.SPAR, "", "", Length(1.0), Assembly.BLADE, 1, point(np.zeros(3))),
    ):
        assert finished(bare, clockwise=False, units=None) is bare

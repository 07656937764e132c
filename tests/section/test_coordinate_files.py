"""Coordinate files read back in every order and dress, against the section they were written from."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from geomgen.section import coordinates
from geomgen.section.families import naca
from geomgen.section.listing import Listing, Origin
from geomgen.section.measures import measures
from geomgen.section.section import Section

FloatArray = NDArray[np.float64]

NOWHERE = Origin("points.dat", "", "")


def points(section: Section, each: int = 81) -> FloatArray:
    """One loop from the upper tail to the lower."""
    rows = coordinates.text(section, "title", each).splitlines()[1:]
    return np.array([[float(word) for word in row.split()] for row in rows])


def rows(xy: FloatArray, form: str = "{:.7f} {:.7f}") -> str:
    return "\n".join(form.format(*point) for point in xy) + "\n"


def two_lists(xy: FloatArray, lower_first: bool = False) -> str:
    nose = int(np.argmin(np.hypot(*xy.T)))
    lists = [xy[: nose + 1][::-1], xy[nose:]]
    if lower_first:
        lists.reverse()
    return f"title\n {len(lists[0])}.  {len(lists[1])}.\n\n" + "\n".join(map(rows, lists))


def read(text: str | bytes, tmp_path: Path, name: str = "some.dat") -> Section:
    file = tmp_path / name
    file.write_bytes(text.encode() if isinstance(text, str) else text)
    return coordinates.read(file)


def worst(a: Section, b: Section) -> float:
    x = np.linspace(0.001, 0.999, 1500)
    return float(max(np.max(np.abs(a.upper_y(x) - b.upper_y(x))), np.max(np.abs(a.lower_y(x) - b.lower_y(x)))))


def turned(xy: FloatArray, degrees: float, times: float, move: tuple[float, float]) -> FloatArray:
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    return times * xy @ np.array([[c, s], [-s, c]]) + move


@pytest.fixture(scope="module")
def cambered() -> Section:
    """4412 in the frame that files are read in: nose farthest from the tail."""
    xy = points(naca("4412"))
    return coordinates.section(Listing("", xy, np.arange(1, len(xy) + 1), None), NOWHERE, "")


def test_symmetric_section_comes_back_exactly(tmp_path: Path) -> None:
    for digits in ("0012", "0015", "0012-64"):
        section = naca(digits)
        found = read(coordinates.text(section, digits), tmp_path)
        assert worst(found, section) < 1e-6
        assert found.tail_gap == pytest.approx(section.tail_gap, abs=2e-7)
        assert found.round_nose
        assert measures(found).nose_radius == pytest.approx(measures(section).nose_radius, rel=0.03)


def test_cambered_section_comes_back_in_the_frame_of_its_farthest_nose(tmp_path: Path, cambered: Section) -> None:
    """By hand: the point of the published section farthest from (1, 0), and the section turned about it."""
    section = naca("4412")
    around = np.vstack([s.at(np.linspace(0.0, 0.05, 200_001))[0] for s in (section.upper, section.lower)])
    nose = around[np.argmax(np.hypot(around[:, 0] - 1.0, around[:, 1]))]
    chord = float(np.hypot(*(nose - [1.0, 0.0])))
    tilt = float(np.arctan2(nose[1], 1.0 - nose[0]))
    for surface, found in ((section.upper, cambered.upper), (section.lower, cambered.lower)):
        at = turned(surface.xy - nose, np.degrees(tilt), 1.0 / chord, (0.0, 0.0))
        at = at[at[:, 0] > 0.002]
        assert np.max(np.abs(found.y(at[:, 0]) - at[:, 1])) < 2e-6
    assert np.degrees(tilt) == pytest.approx(0.18, abs=0.01)


@pytest.mark.parametrize("lower_first", [False, True])
def test_two_lists_are_the_loop(lower_first: bool, tmp_path: Path, cambered: Section) -> None:
    assert worst(read(two_lists(points(naca("4412")), lower_first), tmp_path), cambered) < 1e-6


@pytest.mark.parametrize(
    "dress",
    [
        lambda xy: "title\n" + rows(xy[::-1]),
        lambda xy: rows(xy),
        lambda xy: "0012\n" + rows(xy),
        lambda xy: "NACA 4412 0.3\nx y\n\n" + rows(xy),
        lambda xy: ("title\n" + rows(xy)).replace("\n", "\r\n"),
        lambda xy: ("title\n" + rows(xy)).replace("\n", "\r"),
        lambda xy: "\ufeff" + "title\n" + rows(xy),
        lambda xy: "Flügel für Grün\n" + rows(xy),
        lambda xy: ("Flügel\n" + rows(xy)).encode("latin-1"),
        lambda xy: "title\n" + rows(xy, "{:.7f},{:.7f}"),
        lambda xy: "title\n" + rows(xy, "{:.7f}; {:.7f}"),
        lambda xy: "title\n" + rows(xy, "\t{:.7E}\t{:+.7e}  "),
        lambda xy: "# made up\ntitle\n! more\n" + rows(xy, "{:.7f} {:.7f}  # a remark"),
        lambda xy: "title\n" + rows(np.repeat(xy, 2, axis=0)),
        lambda xy: "title\n" + rows(np.vstack([xy[:1], xy[:1], xy[:60], xy[59:], xy[-1:], xy[-1:]])),
        lambda xy: "title\n" + rows(turned(xy, 0.0, 210.0, (0.0, 0.0))),
        lambda xy: "title\n" + rows(turned(xy, 25.0, 1.0, (0.0, 0.0))),
        lambda xy: "title\n" + rows(turned(xy, 180.0, 100.0, (-300.0, 40.0))),
        lambda xy: "title\n" + rows(turned(xy, -90.0, 0.5, (3.0, 4.0))[::-1]),
        lambda xy: two_lists(turned(xy, -3.0, 1.1, (0.0, 0.0)) - turned(xy, -3.0, 1.1, (0.0, 0.0))[80]),
    ],
    ids=[
        "other way round", "no title", "title of digits", "heading", "CRLF", "CR", "byte order mark", "UTF-8 title",
        "Latin title", "commas", "semicolons", "exponents", "comments", "every point twice", "ends and one point twice",
        "in millimetres", "turned", "nose to the right", "upright and backwards", "lists turned",
    ],
)  # fmt: skip
def test_the_same_section_in_any_dress(dress: object, tmp_path: Path, cambered: Section) -> None:
    text = dress(points(naca("4412")))  # type: ignore[operator]
    assert worst(read(text, tmp_path), cambered) < 2e-6


@settings(max_examples=30, deadline=None)
@given(
    degrees=st.floats(-180.0, 180.0),
    times=st.floats(1e-3, 1e4),
    move=st.tuples(st.floats(-5.0, 5.0), st.floats(-5.0, 5.0)),
    back=st.booleans(),
)
def test_size_place_slope_and_direction_never_matter(
    degrees: float, times: float, move: tuple[float, float], back: bool
) -> None:
    xy = points(naca("2412"))
    plain = coordinates.section(Listing("", xy, np.arange(len(xy)), None), NOWHERE, "")
    moved = turned(xy + move, degrees, times, (0.0, 0.0))[:: -1 if back else 1]
    found = coordinates.section(Listing("", moved, np.arange(len(xy)), None), NOWHERE, "")
    assert worst(found, plain) < 1e-8
    assert np.allclose(found.upper.xy[0], 0.0, atol=0.0)
    assert np.allclose(0.5 * (found.upper.xy[-1] + found.lower.xy[-1]), [1.0, 0.0], atol=1e-12)


@pytest.mark.parametrize("extra", ["middle", "edge again", "both"])
def test_the_edge_of_an_open_tail_is_left_out(extra: str, tmp_path: Path, cambered: Section) -> None:
    xy = points(naca("4412"))
    middle = np.array([[1.0, 0.0]])
    loop = {
        "middle": np.vstack([middle, xy, middle]),
        "edge again": np.vstack([xy, xy[:1]]),
        "both": np.vstack([middle, xy, xy[:1]]),
    }[extra]
    assert worst(read("title\n" + rows(loop), tmp_path), cambered) < 1e-6


def test_closed_tail_stays_closed(tmp_path: Path) -> None:
    section = naca("0012", tail="closed")
    found = read(coordinates.text(section, "closed"), tmp_path)
    assert found.tail_gap == 0.0
    assert worst(found, section) < 1e-6
    assert [name for name, _ in found.corners()] == ["tail"]


def test_sparse_classical_table_comes_close(tmp_path: Path) -> None:
    """18 stations a surface, as classical tables list them: the curve between is ours, good to 0.1 % of the chord."""
    x = np.array([0, 1.25, 2.5, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 95, 100]) / 100.0
    section = naca("0012")
    xy = np.round(
        np.vstack([np.column_stack([x, section.upper_y(x)])[::-1], np.column_stack([x, section.lower_y(x)])[1:]]), 4
    )
    assert worst(read("title\n" + rows(xy), tmp_path), section) < 1e-3


def test_surface_is_smooth_through_the_points_and_round_the_nose(tmp_path: Path) -> None:
    """Points of an ellipse, known in closed form between them too."""
    angle = np.linspace(0.0, 2.0 * np.pi, 121)
    xy = np.column_stack([0.5 + 0.5 * np.cos(angle), 0.07 * np.sin(angle)])
    found = read("ellipse\n" + rows(xy, "{:.12f} {:.12f}"), tmp_path)
    for surface in (found.upper, found.lower):
        at, way = surface.at(np.linspace(0.0, surface.length * 0.95, 3000))
        assert np.max(np.abs(np.hypot((at[:, 0] - 0.5) / 0.5, at[:, 1] / 0.07) - 1.0)) < 1e-5
        normal = np.column_stack([(at[:, 0] - 0.5) / 0.25, at[:, 1] / 0.07**2])
        off = np.abs(np.sum(way * normal, axis=1)) / np.hypot(*normal.T)
        assert np.max(off) < 3e-3  # at the nose, where the points given are 21 deg apart
        assert np.max(off[at[:, 0] > 0.05]) < 5e-4
    assert found.round_nose
    assert measures(found).area == pytest.approx(np.pi * 0.5 * 0.07, rel=1e-5)


def test_title_and_file_are_noted(tmp_path: Path) -> None:
    found = read("My own wing\n" + rows(points(naca("0012"))), tmp_path, "mine.dat")
    assert found.name == "mine"
    assert found.note == "coordinate file mine.dat: My own wing"

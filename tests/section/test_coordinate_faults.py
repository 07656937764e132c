"""Coordinate files that can't be an aerofoil: each refused, with the line at fault."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from geomgen.errors import DesignError, Fault
from geomgen.section import coordinates
from geomgen.section.families import naca
from geomgen.section.listing import Origin

GOOD = coordinates.text(naca("2412"), "title", each=41).splitlines()  # line 1 the title, 2..82 points, 42 the nose
KEY = "blade.along[0].section"


def faults(text: str | bytes, tmp_path: Path) -> tuple[Fault, ...]:
    file = tmp_path / "some.dat"
    file.write_bytes(text.encode() if isinstance(text, str) else text)
    with pytest.raises(DesignError) as caught:
        coordinates.read(file, Origin("some.dat", KEY, "some.dat"))
    for fault in caught.value.faults:
        assert (fault.file, fault.path, fault.value) == ("some.dat", KEY, "some.dat")
        assert "/" not in fault.wrong
    return caught.value.faults


def replaced(line: int, by: str) -> str:
    return "\n".join([*GOOD[: line - 1], by, *GOOD[line:]])


def points(lines: list[str]) -> np.ndarray:
    return np.array([[float(word) for word in line.split()] for line in lines])


def swapped(a: int, b: int) -> str:
    lines = list(GOOD)
    lines[a - 1], lines[b - 1] = lines[b - 1], lines[a - 1]
    return "\n".join(lines)


def crossing() -> str:
    """The lower surface is lifted through the upper one behind 80 % of the chord."""
    xy = points(GOOD[1:])
    aft = np.maximum(xy[:, 0] - 0.8, 0.0) * np.maximum(1.0 - xy[:, 0], 0.0) * 5.0
    xy[41:, 1] += aft[41:]
    return "\n".join(["title", *(f"{x:.6f} {y:.6f}" for x, y in xy)])


def twisted() -> str:
    """The front half is turned over."""
    return "\n".join(["title", *(f"{x:.6f} {-y if x < 0.5 else y:.6f}" for x, y in points(GOOD[1:]))])


def lists(counts: str, upper: list[str], lower: list[str]) -> str:
    return "\n".join(["title", counts, *upper, *lower])


UPPER, LOWER = GOOD[1:42][::-1], GOOD[41:]

CASES: dict[str, tuple[str | bytes | Callable[[], str], int | None, str]] = {
    "empty": ("", None, "holds no points"),
    "title only": ("NACA 2412\n", None, "holds no points"),
    "binary": (bytes(range(256)) * 20, None, "not a text file"),
    "UTF-16": ("\n".join(GOOD).encode("utf-16"), None, "not a text file"),
    "two megabytes": ("# filler\n" * 250_000, None, "longer than 100 kB"),
    "too many points": ("\n".join(["title", *("1.0 0.0" for _ in range(1500))]), 1002, "1500 points"),
    "letter O for nought": (replaced(20, "0.8O 0.05"), 20, "not a point"),
    "slip in the first line": ("1.O 0.001\n" + "\n".join(GOOD[1:]), 1, "not a point"),
    "words in the middle": (replaced(30, "lower surface"), 30, "not a point"),
    "three numbers": (replaced(12, "0.5 0.1 0.0"), 12, "not a point"),
    "one number": (replaced(12, "0.5"), 12, "not a point"),
    "decimal commas": ("title\n" + "\n".join(line.replace(".", ",") for line in GOOD[1:]), 2, "not a point"),
    "nan": (replaced(15, "nan 0.1"), 15, "not a point"),
    "inf": (replaced(15, "0.5 inf"), 15, "not a point"),
    "overflow": (replaced(15, "0.5 1e400"), 15, "not a point"),
    "two titles with figures": ("\n".join(["title", "chord 1.0 m", *GOOD[1:]]), 2, "not a point"),
    "three points": ("title\n1 0\n0 0.01\n1 -0.01\n", 4, "different points"),
    "one point over and over": ("title\n" + "0.5 0.5\n" * 50, 2, "different points"),
    "a straight line": ("title\n" + "\n".join(f"{x:.3f} 0.0" for x in np.linspace(0, 1, 30)), 2, "no area"),
    "upper surface only": ("\n".join(GOOD[:42]), 42, "open"),
    "lower surface stops short": ("\n".join(GOOD[:-6]), 76, "open"),
    "upper surface begins late": ("\n".join([GOOD[0], *GOOD[7:]]), 2, "open"),
    "one point short": ("\n".join(GOOD[:-1]), 81, "open"),
    "points swapped": (swapped(20, 21), 21, "backward"),
    "a stretch missing": ("\n".join([*GOOD[:10], *GOOD[30:]]), 11, "from the one before"),
    "from the nose round the tail": ("\n".join(["title", *LOWER, *GOOD[1:42]]), 2, "backward"),
    "lists without counts": ("\n".join(["title", *UPPER, *LOWER]), 83, "open"),
    "lists from the tail": (lists("41 41", UPPER[::-1], LOWER[::-1]), 3, "backward"),
    "one list turned": (lists("41 41", UPPER, LOWER[::-1]), 44, "second list begins"),
    "counts too great": (lists("42 41", UPPER, LOWER), 2, "42 and 41 points are announced, 82 points follow"),
    "counts with a point missing": (lists("41. 41.", UPPER, LOWER[:-1]), 2, "81 points follow"),
    "crossing": (crossing, 82, "crosses itself"),
    "figure of eight": (twisted, 70, "crosses itself"),
}


@pytest.mark.parametrize("case", CASES)
def test_refused_with_its_line(case: str, tmp_path: Path) -> None:
    text, line, says = CASES[case]
    fault = faults(text() if callable(text) else text, tmp_path)[0]
    assert says in fault.wrong
    assert fault.line == line
    assert str(fault).startswith("some.dat")


def test_every_bad_line_is_named_at_once_up_to_ten(tmp_path: Path) -> None:
    two = faults(replaced(12, "a 1").replace(GOOD[29], "b 2"), tmp_path)
    assert [fault.line for fault in two] == [12, 30]
    many = faults("title\n1 0\n" + "x 1\n" * 40, tmp_path)
    assert [fault.line for fault in many[:10]] == list(range(3, 13))
    assert many[10].wrong == "30 more lines are at fault"


def test_decimal_comma_is_told(tmp_path: Path) -> None:
    assert "decimal point" in faults(replaced(12, "0,5 0,1"), tmp_path)[0].remedy


def test_lines_are_counted_as_an_editor_does(tmp_path: Path) -> None:
    text = "\r\n".join(["title\x0c", "# remark", "", *GOOD[1:10], "oops 1", *GOOD[11:]])
    assert faults(text, tmp_path)[0].line == 13


def test_unreadable_file(tmp_path: Path) -> None:
    (tmp_path / "folder.dat").mkdir()
    for name in ("folder.dat", "none.dat"):
        with pytest.raises(DesignError, match="can't be read"):
            coordinates.read(tmp_path / name)


CHARACTERS = st.sampled_from([*"0123456789.-+eE ,;#\t\r\n", "nan", "\x00", "é"])


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(edits=st.lists(st.tuples(st.integers(0, 1600), st.integers(0, 30), CHARACTERS), min_size=1, max_size=6))
def test_a_file_spoilt_at_random_is_read_or_refused(edits: list[tuple[int, int, str]], tmp_path: Path) -> None:
    text = "\n".join(GOOD)
    for place, gone, put in edits:
        text = text[:place] + put + text[place + gone :]
    file = tmp_path / "spoilt.dat"
    file.write_bytes(text.encode())
    try:
        with np.errstate(all="raise", under="ignore"):
            section = coordinates.read(file)
    except DesignError as error:
        assert all(fault.file == "spoilt.dat" and fault.wrong for fault in error.faults)
    else:
        for surface in (section.upper, section.lower):
            assert np.all(np.isfinite(surface.xy)) and np.all(np.isfinite(surface.tangent))
            assert np.allclose(np.hypot(*surface.tangent.T), 1.0)
        assert np.all(section.depth(np.linspace(0.01, 0.98, 100)) > 0.0)


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(numbers=st.lists(st.tuples(st.floats(-2, 2), st.floats(-2, 2)), min_size=0, max_size=30))
def test_any_points_are_read_or_refused(numbers: list[tuple[float, float]], tmp_path: Path) -> None:
    file = tmp_path / "any.dat"
    file.write_text("\n".join(f"{x!r} {y!r}" for x, y in numbers))
    with np.errstate(all="raise", under="ignore"), contextlib.suppress(DesignError):
        coordinates.read(file)

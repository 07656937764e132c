"""layout.json there and back, and ways in which it may be damaged: one fault that names the file, never a crash."""

from __future__ import annotations

import copy
import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.errors import DesignError
from geomgen.making.before import layout_of
from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.stock.layout_file import LAYOUT, layout_text, read_layout
from geomgen.stock.sheets import Laid, Layout, Sheet

RIB, SKIN = Key(Role.RIB, "blade.ribs.outer", (7,)), Key(Role.SKIN, "blade.skin.all", (2, "upper"))
SHEETS = (
    Sheet(
        "ply_2",
        1,
        (600.0, 300.0),
        "flies",
        False,
        3.18,
        2.09,
        (Laid(RIB, 1, (0.1 + 0.2, 1 / 3), 90.0, 0, "ab", "cd"), Laid(SKIN, 2, (-1e-6, 250.125), 37.25, 1)),
        (200.0, 1e3 / 3),
    ),
    Sheet("ply_2", 3, (80.5, 40.0), "bench", True, 3.0, 0.0, ()),
    Sheet("Sperrholz ü 2", 1, (600.0, 300.0), "doublers", False, 3.0, 2.0, (Laid(RIB, 2, (5.0, 5.0), 0.0),)),
)
NAMES = {RIB: "rib R07"}
WHOLE: dict[str, Any] = json.loads(layout_text(Layout(SHEETS), NAMES))


def fault_of(text: str) -> str:
    with pytest.raises(DesignError) as refused:
        read_layout(text, "out/layout.json")
    (fault,) = refused.value.faults
    return str(fault)


def test_there_and_back_to_the_bit() -> None:
    text = layout_text(Layout(SHEETS, (("ply_2 1", RIB, 1),), kept=True), NAMES)
    back = read_layout(text, "layout.json")
    assert back == Layout(SHEETS)
    assert layout_text(back, NAMES) == text
    assert [str(back.sheets[0].laid[0].at), back.sheets[0].across] == [str(SHEETS[0].laid[0].at), (200.0, 1e3 / 3)]
    assert read_layout(layout_text(Layout(()), {}), "layout.json") == Layout(())


finite = st.floats(-1e6, 1e6)
laid = st.builds(
    Laid,
    st.builds(Key, st.sampled_from(Role), st.text(), st.lists(st.integers() | st.text(), max_size=3).map(tuple)),
    st.integers(1, 99),
    st.tuples(finite, finite),
    st.floats(0, 360, exclude_max=True),
    st.integers(0, 9),
    st.text(max_size=4),
    st.text(max_size=4),
)
side = st.floats(1e-3, 1e6)
sheet = st.builds(
    Sheet,
    st.text(max_size=9),
    st.integers(1, 99),
    st.tuples(side, side),
    st.sampled_from(["flies", "doublers", "bench"]),
    st.booleans(),
    st.floats(0, 50),
    st.floats(0, 50),
    st.lists(laid, max_size=3).map(tuple),
    st.lists(side, max_size=2).map(tuple),
)


@settings(max_examples=60)
@given(st.lists(sheet, max_size=3, unique_by=lambda each: each.name).map(tuple))
def test_any_layout_comes_back(sheets: tuple[Sheet, ...]) -> None:
    assert read_layout(layout_text(Layout(sheets), {}), "layout.json").sheets == sheets


def test_it_is_written_for_people_too() -> None:
    """Read by Python's own reader: what lies where, by the part's name, in mm."""
    first = WHOLE["sheets"][0]
    assert (first["sheet"], first["size_mm"], first["holds"]) == ("ply_2 1", [600.0, 300.0], "flies")
    assert [(row["part"], row["copy"], row["x_mm"]) for row in first["laid"]] == [
        ("rib R07", 1, 0.1 + 0.2),
        ("skin", 2, -1e-6),
    ]


# Damaged


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path of every value in a tree of JSON."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(found for name, each in inner for found in places(each, (*path, name)))]


def edited(path: tuple[Any, ...], change: Callable[[Any, Any], None]) -> str:
    whole = copy.deepcopy(WHOLE)
    there: Any = whole
    for step in path[:-1]:
        there = there[step]
    change(there, path[-1])
    return json.dumps(whole)


def put(value: Any) -> Callable[[Any, Any], None]:
    return lambda there, name: there.__setitem__(name, value)


EVERY = [path for path in places(WHOLE) if path]
FREE = ("part", "sheet")  # for people: not read
ONCE = [path for path in EVERY if path[-1] not in FREE and "mark" not in path]


@pytest.mark.parametrize("wrong", [None, [], {}, "seven", math.nan, math.inf, -1.5, 10**400, True], ids=repr)
def test_a_value_of_another_kind_anywhere(wrong: Any) -> None:
    """Either it is told, in one fault with the file's name, or it is a value that may stand there."""
    for path in ONCE:
        text = edited(path, put(wrong))
        try:
            found = read_layout(text, "out/layout.json")
        except DesignError as refused:
            assert len(refused.faults) == 1 and str(refused.faults[0]).startswith("out/layout.json: ")
            assert "--lay-anew" in str(refused.faults[0])
            continue
        numbers = [n for s in found.sheets for n in (*s.size, s.gap_mm, s.edge_mm, *s.across)]
        numbers += [n for s in found.sheets for each in s.laid for n in (*each.at, each.turn_deg)]
        assert all(type(n) is float and math.isfinite(n) for n in numbers), path
        assert all(s.number >= 1 and s.size[0] > 0 < s.size[1] for s in found.sheets), path


@pytest.mark.parametrize("path", [path for path in ONCE if isinstance(path[-1], str)], ids=str)
def test_a_key_that_is_missing(path: tuple[Any, ...]) -> None:
    assert fault_of(edited(path, lambda there, name: there.pop(name))).startswith("out/layout.json: is no layout")


LAID = ("sheets", 0, "laid", 0)


@pytest.mark.parametrize(
    ("path", "wrong"),
    [
        (("schema",), 2),
        (("schema",), None),
        (("sheets",), {"sheet": 1}),
        (("sheets", 0), "ply_2 1"),
        (("sheets", 0, "number"), 0),
        (("sheets", 0, "number"), 1.0),
        (("sheets", 0, "number"), "1"),
        (("sheets", 0, "size_mm"), [600.0]),
        (("sheets", 0, "size_mm"), [600.0, 0.0]),
        (("sheets", 0, "size_mm"), [600.0, -300.0]),
        (("sheets", 0, "holds"), "everything"),
        (("sheets", 0, "offcut"), "no"),
        (("sheets", 0, "offcut"), 0),
        (("sheets", 0, "stock"), 2),
        (("sheets", 0, "across_mm"), [math.nan]),
        (("sheets", 0, "gap_mm"), math.inf),
        (("sheets", 0, "laid"), "R07"),
        ((*LAID, "x_mm"), math.nan),
        ((*LAID, "y_mm"), "1e3"),
        ((*LAID, "turn_deg"), True),
        ((*LAID, "copy"), 0),
        ((*LAID, "piece"), -1),
        ((*LAID, "key"), ["winglet", "blade.ribs.outer", [7]]),
        ((*LAID, "key"), ["rib", "blade.ribs.outer"]),
        ((*LAID, "key"), ["rib", "blade.ribs.outer", [7.5]]),
        ((*LAID, "key"), ["rib", "blade.ribs.outer", [[7]]]),
        ((*LAID, "key"), None),
        ((*LAID, "outline"), None),
    ],
    ids=repr,
)
def test_what_may_not_stand_there_is_told(path: tuple[Any, ...], wrong: Any) -> None:
    told = fault_of(edited(path, put(wrong)))
    assert told.startswith("out/layout.json: is no layout that can be read (")
    assert told.endswith("; mend it, or start over with --lay-anew")


def test_two_sheets_of_one_name() -> None:
    assert 'out/layout.json: has two sheets "ply_2 1"; mend' in fault_of(edited(("sheets", 1, "number"), put(1)))


@pytest.mark.parametrize("text", ["", "{", "[]", "null", "7", '"layout"', "{}", "[" * 100_000, '{"schema": 1}', "\0"])
def test_what_is_no_layout_at_all(text: str) -> None:
    assert fault_of(text).startswith("out/layout.json: is no layout that can be read (")


def test_a_long_value_is_told_in_short() -> None:
    assert len(fault_of(edited(("sheets", 0, "number"), put("x" * 9999)))) < 300


def test_cut_off_anywhere() -> None:
    text = json.dumps(WHOLE)
    for end in range(0, len(text) - 1, 7):
        fault_of(text[:end])


# From a folder


def test_a_folder_without_one(tmp_path: Path) -> None:
    assert layout_of(tmp_path, (), anew=False) is None
    assert layout_of(tmp_path / "nowhere", ("ply_2 1",), anew=True) is None


def test_laid_anew_only_what_is_cut_is_remembered(tmp_path: Path) -> None:
    (tmp_path / LAYOUT).write_text(layout_text(Layout(SHEETS), {}), encoding="utf-8")
    assert layout_of(tmp_path, ("ply_2 3",), anew=False) == Layout(SHEETS)
    assert layout_of(tmp_path, ("ply_2 3",), anew=True) == Layout(SHEETS[1:2])
    assert layout_of(tmp_path, (), anew=True) is None


def test_a_damaged_file_is_forgotten_only_where_nothing_is_cut(tmp_path: Path) -> None:
    (tmp_path / LAYOUT).write_bytes(b"\xff\xfe{}")
    assert layout_of(tmp_path, (), anew=True) is None
    for done, anew in (((), False), (("ply_2 1",), False), (("ply_2 1",), True)):
        with pytest.raises(DesignError) as refused:
            layout_of(tmp_path, done, anew=anew)
        assert str(refused.value).startswith(f"{tmp_path / LAYOUT}: can't be read") and "mend it" in str(refused.value)
    (tmp_path / LAYOUT).write_text("{", encoding="utf-8")
    with pytest.raises(DesignError, match=r"take laser\.done out"):  # --lay-anew alone wouldn't do
        layout_of(tmp_path, ("ply_2 1",), anew=True)

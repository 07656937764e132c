"""Whatever is done to the starter: a design comes out, or faults with their lines; never anything else."""

from __future__ import annotations

import datetime
import re
import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mend import NAME, faults_of

from geomgen.design import Design, example_path, read_text, starter_text
from geomgen.design.judge import judge
from geomgen.design.keypath import KeyPath, written
from geomgen.design.options import lay
from geomgen.design.source import decoded
from geomgen.errors import DesignError

ROWS = starter_text().split("\n")
JUNK = (
    "0", "-1", "1e400", "nan", "-inf", "true", "0.5", "99999999999999999999", "1979-05-27", "= 3", "", "[", "#", '"""',
    '""', '"x"', '"1/0 in"', '"9 kg"', '"tip"', '"110 %"', '"200 deg"', '"M4"', '"naca 9999"', '"../x.dat"', '"é"',
    "[]", "{}", "[[1]]", '["1 mm", "2 mm"]', '{ kind = "sheet" }', '{ like = "stiffer" }', '"\\u0000"', "'''\n'''",
)  # fmt: skip
rows = st.integers(0, len(ROWS) - 1)
deeds = st.one_of(
    st.tuples(st.just("delete"), rows, st.just("")),
    st.tuples(st.just("duplicate"), rows, st.just("")),
    st.tuples(st.just("value"), rows, st.sampled_from(JUNK)),
    st.tuples(
        st.just("key"), rows, st.sampled_from(("x", "from", "kind", "stock", '"a b"', "option.stiffer.like", ""))
    ),
    st.tuples(
        st.just("insert"),
        rows,
        st.sampled_from(("[x]", "[rotor]", "[[blade.along]]", "option = 3", "}", "like = 1", "\t\r")),
    ),
    st.tuples(st.just("swap"), rows, rows.map(str)),
    st.tuples(st.just("cut"), rows, st.integers(0, 60).map(str)),
    st.tuples(st.just("character"), rows, st.characters(codec="utf-8")),
)


def done(lines: list[str], deed: tuple[str, int, str]) -> list[str]:
    """The lines after one deed."""
    what, at, with_ = deed
    at %= len(lines)
    row = lines[at]
    key, equals, value = row.partition("=")
    changed = {
        "delete": [],
        "duplicate": [row, row],
        "value": [key + equals + " " + with_ if equals else with_],
        "key": [with_ + " " + equals + value],
        "insert": [with_, row],
        "swap": [lines[int(with_ or 0) % len(lines)]] if what == "swap" else [],
        "cut": [row[: int(with_ or 0)]] if what == "cut" else [],
        "character": [row[: len(row) // 2] + with_ + row[len(row) // 2 :]],
    }[what]
    return (lines[:at] + changed + lines[at + 1 :]) or [""]


def judged(text: str) -> None:
    """A design, or faults that say where and what."""
    try:
        assert isinstance(read_text(text, NAME).design, Design)
    except DesignError as error:
        assert error.faults
        for fault in error.faults:
            assert fault.file == NAME and fault.wrong and str(fault).startswith(NAME)
            assert fault.line is not None and 1 <= fault.line <= text.count("\n") + 1, fault
            assert len(fault.value) <= 60


@given(st.lists(deeds, min_size=1, max_size=4))
@settings(max_examples=400, deadline=None)
def test_the_starter_broken_at_random(broken: list[tuple[str, int, str]]) -> None:
    lines = ROWS
    for deed in broken:
        lines = done(lines, deed)
    judged("\n".join(lines))


@given(st.binary(max_size=200))
def test_any_bytes(data: bytes) -> None:
    try:
        text = decoded(data, NAME)
    except DesignError as error:
        assert error.faults[0].wrong
    else:
        judged(text)


def _places(value: Any, path: KeyPath = ()) -> list[KeyPath]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return ([path] if path else []) + [deep for step, item in inner for deep in _places(item, (*path, step))]


def _with(value: Any, path: KeyPath, new: Any) -> Any:
    if not path:
        return new
    step, inner = path[0], value[path[0]]
    if isinstance(value, list):
        return [_with(inner, path[1:], new) if index == step else item for index, item in enumerate(value)]
    return value | {step: _with(inner, path[1:], new)}


@pytest.mark.parametrize("name", ["starter", "lantern", "kite_day"])
def test_each_value_spoilt_alone_is_named_and_the_rest_is_still_judged(name: str) -> None:
    """Every value of an example in turn becomes a clock time, which no key takes; rpm_max is wrong all along."""
    raw = tomllib.loads(example_path(name).read_text(encoding="utf-8"))
    raw.pop("option")
    places = _places(raw)
    assert len(places) > 100
    for path in places:
        spoilt = _with(raw, path, datetime.time(1, 2, 3))
        if path[0] != "duty":
            spoilt = spoilt | {"duty": spoilt["duty"] | {"rpm_max": 1}}
        found = {written(place) for place, _ in judge(lay(spoilt, None)).faults}
        spread = (
            path[:-1]
            if path[-2:-1] and isinstance(path[-1], int) and path[-2] in ("density", "areal", "coverage")
            else path
        )
        named = {written(spread), written(spread) + ".kind"}
        assert found & named, (path, found)
        if path[0] != "duty":
            assert "duty.rpm_max" in found, (path, found)


def test_the_starter_itself_has_no_fault() -> None:
    assert faults_of(starter_text()) == ()


LONG = "long " * 40
OPTION = "\n[option.stiffer]\n{}\n"


@pytest.mark.parametrize(
    ("row", "option"),
    [
        (OPTION.format(f'like = "{LONG}"'), "stiffer"),
        (OPTION.format(f'like = ["{LONG}"]'), "stiffer"),
        (OPTION.format(f'schema = "{LONG}"'), "stiffer"),
        (f'\n[option]\nstiffer = "{LONG}"\n', "stiffer"),
        (f'\n[stock.odd]\nkind = "{LONG}"\n', None),
        (f"\n{LONG}\n", None),
    ],
)
def test_a_long_value_is_cut_short_with_dots(row: str, option: str | None) -> None:
    """Wherever in the reader it is told: laying options, the schema, the rows of a file."""
    with pytest.raises(DesignError) as caught:
        read_text(re.sub(r"(?s)\n#? ?\[option\..*", "", starter_text()) + row, NAME, option)
    values = [fault.value for fault in caught.value.faults]
    assert max(map(len, values)) == 60 and any(value.endswith("...") for value in values), values

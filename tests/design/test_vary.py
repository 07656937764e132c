"""A design varied by key path: the same as the file edited by hand, and every fault of it at once."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from mend import line_of, read_edited

from geomgen.design import DesignFile, demo, example_path, read, read_text, starter_text, vary
from geomgen.errors import DesignError, Fault


def faults_of(file: DesignFile, changes: dict[str, Any]) -> tuple[Fault, ...]:
    with pytest.raises(DesignError) as caught:
        vary(file, changes)
    return caught.value.faults


def test_a_varied_design_is_the_file_edited_by_hand() -> None:
    text = starter_text()
    file = read_text(text)
    at = text.index("along")
    by_hand = text[:at] + text[at:].replace('twist = "4 deg"', 'twist = "6 deg"', 1)
    assert by_hand != text, "the starter's twist at the root"
    found = vary(file, {"blade.along.0.twist": "6 deg"})
    assert found.design == read_text(by_hand).design
    assert found == vary(file, {"blade.along[0].twist": "6 deg"})
    assert file.design == read_text(text).design  # untouched


def test_a_bare_length_means_what_the_file_says() -> None:
    file = demo()
    found = vary(file, {"blade.along.0.chord": 220, "stock.balsa_3.density": "160 kg/m3", "blade.tip.depth": "1/2 in"})
    assert found.design.blade.along[0].chord == 220.0
    assert found.design.stock["balsa_3"].density == (160.0, 160.0, 160.0)  # type: ignore[union-attr]
    assert found.design.blade.tip.depth == pytest.approx(12.7)  # type: ignore[union-attr]
    inches = read(example_path("kite_day"))
    assert vary(inches, {"rotor.radius": 38}).design.rotor.radius == pytest.approx(38 * 25.4)


def test_what_is_not_changed_is_the_same_object_and_what_is_changed_is_judged() -> None:
    file = demo()
    found = vary(file, {"duty.rpm": 250})
    assert found.design.rotor is file.design.rotor and found.design.duty.rpm == 250.0
    assert found.option is None and found.source is file.source and found.options == file.options
    again = vary(found, {"duty.rpm": 270})
    assert again.design == file.design
    assert again.design.model_dump_json(exclude_unset=True) == file.design.model_dump_json(exclude_unset=True)


def test_nothing_changed_is_the_same_design() -> None:
    for option in (None, *demo().options):
        assert vary(demo(option), {}).design == demo(option).design


def test_keys_are_taken_away_by_none_or_false_and_entries_of_lists_too() -> None:
    file = demo()
    for nothing in (None, False):
        assert vary(file, {"blade.tip": nothing}).design.blade.tip is None
        assert list(vary(file, {"blade.spar.rear": nothing}).design.blade.spar) == ["main"]
    assert (
        not vary(file, {"fitting.fan.rib": False, "fitting.fan.mount": None, "fitting.fan.rib_stock": None})
        .design.fitting["fan"]
        .rib
    )
    three = vary(
        file,
        {
            "blade.along": [
                {"at": 130, "chord": 210, "section": "naca 4415"},
                {"at": 400, "chord": 190},
                {"at": "100 %", "chord": 150, "section": "naca 4414"},
            ]
        },
    )
    fewer = vary(three, {"blade.along.1": None, "blade.along.2.chord": 140})
    assert [entry.chord for entry in fewer.design.blade.along] == [210.0, 140.0]


def test_a_table_is_laid_over_as_an_option_is() -> None:
    """The demo's own option of a folded board, said as changes."""
    option = tomllib.loads(example_path("lantern").read_text(encoding="utf-8"))["option"]["foam_board"]
    assert vary(demo(), option).design == demo("foam_board").design
    paths = {
        "blade.construction": option["blade"]["construction"],
        "blade.spar.rear": False,
        "blade.spar.box": option["blade"]["spar"]["box"],
        "blade.jig.foot": None,
        "blade.jig.board": None,
        "blade.ribs.rest.stock": "balsa_3",
        "blade.ribs.rest.every": 120,
        "blade.ribs.rest.lighten": False,
        "blade.doubler.second": option["blade"]["doubler"]["second"],
        "stock.balsa_3.density": option["stock"]["balsa_3"]["density"],
        "duty.rpm": 280,
    }
    assert vary(demo(), paths).design == demo("foam_board").design


def test_a_tuple_does_for_a_list() -> None:
    assert vary(demo(), {"pitch.range": ("2 deg", "14 deg")}).design == demo().design


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        ("rotr.radius", "900 mm", 'do you mean "rotor"?'),
        ("rotor.radios", "900 mm", 'do you mean "radius"?'),
        ("stock.balsa_4.density", "160 kg/m3", 'do you mean "balsa_3"'),
        ("blade.spar.read", None, 'do you mean "rear"?'),
        ("blade.along.5.twist", "2 deg", "0 to 1"),
        ("blade.along.first.twist", "2 deg", "0 to 1"),
        ("rotor.radius.mm", 900, "rotor.radius has no keys of its own"),
        ("units", "in", "whole file"),
        ("option.film.stock", {}, "whole file"),
        ("", 1, "no key path"),
        ("rotor.blades", object(), "nothing a design file can say"),
        ("blade.along.0.twist", 6, "has no unit"),
        ("rotor.radius", "900 km", "unit we don't know"),
        ("rotor.radius", float("nan"), "not a finite number"),
        ("rotor", None, "is missing"),
    ],
)
def test_what_is_wrong_with_a_change(path: str, value: Any, says: str) -> None:
    faults = faults_of(demo(), {path: value})
    assert any(says in str(fault) for fault in faults), [str(fault) for fault in faults]
    assert all(not fault.file for fault in faults if fault.path in (path, path.partition(".")[0]))


def test_every_fault_at_once_of_paths_values_and_rules() -> None:
    file = read_edited()
    faults = faults_of(file, {"rotr.radius": 1, "duty.rpm_max": 1, "rotor.blades": "two", "stock.nothing.density": 3})
    assert {fault.path for fault in faults} == {"rotr", "duty.rpm_max", "rotor.blades", "stock.nothing"}


def test_a_rule_broken_elsewhere_has_the_line_of_the_file() -> None:
    file = demo()
    faults = {fault.path: fault for fault in faults_of(file, {"rotor.root": 150})}
    first = faults["blade.along[0].at"]
    assert (first.file, first.line) == (file.source.name, line_of(file.source.text, "{ at = 130,"))
    assert "150 mm" in first.wrong


def test_a_fault_found_later_in_what_was_changed_has_its_path_alone() -> None:
    found = vary(demo(), {"blade.ribs.rest.every": 61})
    placed = found.locate(Fault("blade.ribs.rest.every", "", "too near"))
    assert (placed.path, placed.value, placed.file) == ("blade.ribs.rest.every", "61", "")
    assert found.locate(Fault("blade.ribs.rest.lighten.web", "", "no room")).line


def test_changes_that_meet_are_told() -> None:
    assert "twice" in faults_of(demo(), {"blade.along.0.chord": 200, "blade.along[0].chord": 201})[0].wrong
    inside = faults_of(demo(), {"blade.tip": None, "blade.tip.depth": 12})
    assert any("inside of what another change replaces" in fault.wrong for fault in inside)

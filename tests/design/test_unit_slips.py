"""Metres or millimetres? What is off by a unit is one fault, with the value that would pass; what isn't, isn't."""

from __future__ import annotations

import pytest
from mend import edited, faults_of

from geomgen.design import example_path, read_text
from geomgen.errors import DesignError

# ruff: noqa: E501 - a row a case
SLIPS = {  # edit, path, question, what to write
    "a radius in metres": ("radius = 700", "radius = 0.7", "rotor.radius", "metres or millimetres?", '"0.7 m" (700 mm)'),
    "a radius in inches": ("radius = 700", "radius = 35", "rotor.radius", "inches or millimetres?", '"35 in" (889 mm)'),
    "a root in metres": ("root   = 120", "root = 0.12", "rotor.root", "metres or millimetres?", '"0.12 m" (120 mm)'),
    "a root in inches": ("root   = 120", "root = 5", "rotor.root", "inches or millimetres?", '"5 in" (127 mm)'),
    "a chord in metres": ("chord = 180", "chord = 0.18", "blade.along[0].chord", "metres or mill", '"0.18 m" (180 mm)'),
    "a chord in inches": ("chord = 180", "chord = 7", "blade.along[0].chord", "inches or mill", '"7 in" (177.8 mm)'),
    "ribs in metres": ("every = 60", "every = 0.06", "blade.ribs.outer.every", "metres or mill", '"0.06 m" (60 mm)'),
    "a sheet in metres": ("thickness = 3\n", "thickness = 0.003\n", "stock.balsa_3.thickness", "metres", '"0.003 m" (3 mm)'),
    "a sheet in inches": ("thickness = 3\n", "thickness = 0.125\n", "stock.balsa_3.thickness", "inches", '"0.125 in" (3.175 mm)'),
    "a place in metres": ("to    = 180", "to = 0.18", "blade.ribs.root.to", "metres or mill", '"0.18 m" (180 mm)'),
    "a bay in metres": ("radius = 45", "radius = 0.045", "hub.bay.radius", "metres or mill", '"0.045 m" (45 mm)'),
    "a wrong unit beside it": ("radius = 700", 'radius = "700 m"', "rotor.radius", "millimetres or metres?", '"700 mm"'),
    "a hole in inches": ("diameter = 9", "diameter = 0.35", "blade.channel.power.diameter", "or", '"0.35 in" (8.89 mm)'),
    "the file's unit": ('units  = "mm"', 'units = "in"', "units", "millimetres or inches?", 'write "mm"'),
    "an option's length": (
        "blade.ribs.outer.every = 40", "rotor.radius = 0.7", "option.stiffer.rotor.radius", "metres", '"0.7 m" (700 mm)',
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", SLIPS)
def test_one_fault_says_so_with_the_value_that_passes(name: str) -> None:
    old, new, path, question, remedy = SLIPS[name]
    (fault,) = faults_of(edited((old, new)))
    assert fault.path == path and question in fault.wrong and remedy in fault.remedy, fault


def test_what_is_said_to_pass_passes() -> None:
    for value in ('"0.7 m"', '"35 in"'):
        assert faults_of(edited(("radius = 700", f"radius = {value}"))) == ()


def test_a_millimetre_in_a_design_in_inches() -> None:
    text = example_path("kite_day").read_text(encoding="utf-8")
    assert "chord = 11," in text
    with pytest.raises(DesignError) as caught:
        read_text(text.replace("chord = 11,", "chord = 280,", 1))
    (fault,) = caught.value.faults
    assert fault.path == "blade.along[0].chord" and "millimetres or inches?" in fault.wrong
    assert '"280 mm" (11.02 in)' in fault.remedy


@pytest.mark.parametrize(
    ("old", "new"),
    [("root   = 120", "root = 800"), ("diameter = 9", "diameter = 7"), ("bolt_circle = 26", "bolt_circle = 44")],
)
def test_what_is_off_by_less_is_no_slip(old: str, new: str) -> None:
    assert not any("metres" in fault.wrong or "inches" in fault.wrong for fault in faults_of(edited((old, new))))


def test_two_slips_are_two_faults_beside_what_else_is_wrong() -> None:
    edits = (("radius = 700", "radius = 0.7"), ("chord = 150", "chord = 0.15"), ("rpm_max    = 410", "rpm_max = 240"))
    assert {fault.path for fault in faults_of(edited(*edits))} == {
        "rotor.radius",
        "blade.along[1].chord",
        "duty.rpm_max",
    }

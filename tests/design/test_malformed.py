"""Malformed designs: every fault is named, each with its line, and nothing else is."""

from __future__ import annotations

import pathlib
import tomllib

import pytest
from mend import NAME, edited, faults_of, line_of

CASES = tomllib.loads(pathlib.Path(__file__).with_name("malformed.toml").read_text(encoding="utf-8"))["case"]


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_every_fault_is_named_with_its_line(case: dict[str, list[list[str]]]) -> None:
    text = edited(*((old, new) for old, new in case["edits"]))
    faults = faults_of(text)
    expected = {(path, line_of(text, part)) for path, part in case["faults"]}
    assert {(fault.path, fault.line) for fault in faults} == expected, "\n".join(map(str, faults))
    said = "\n".join(map(str, faults))
    assert [words for words in case.get("says", []) if words not in said] == [], said
    for fault in faults:
        assert fault.file == NAME and fault.wrong
        assert fault.allowed or fault.remedy or len(fault.wrong) > 12, f"says too little: {fault}"


def test_there_are_enough() -> None:
    assert len(CASES) >= 30


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_lines_are_the_same_with_crlf_and_bom(case: dict[str, list[list[str]]]) -> None:
    text = edited(*((old, new) for old, new in case["edits"]))
    plain = [(fault.path, fault.line, fault.wrong) for fault in faults_of(text)]
    assert [(f.path, f.line, f.wrong) for f in faults_of("\ufeff" + text.replace("\n", "\r\n"))] == plain


def test_without_units_every_bare_length_is_a_fault() -> None:
    text = edited(('units  = "mm"                       # what a bare length means\n', ""))
    faults = faults_of(text)
    assert {fault.wrong for fault in faults} == {"has no unit"}
    paths = {fault.path for fault in faults}
    assert {"rotor.radius", "blade.along[0].chord", "stock.balsa_3.size[1]", "hub.bay.radius"} <= paths
    assert "fitting.battery.mass" not in paths and "blade.feather.chord" not in paths

"""Faults of a design file in inches tell bounds, examples and remedies in inches, ounces, degF; what they say does."""

from __future__ import annotations

import tomllib

import pytest
from mend import edited, faults_of
from other_system import metric_figures, other_system
from test_remedies import TEXTS, stays_after

ASKED = "slips: "  # they ask which unit was meant, and name both


def in_inches(name: str) -> str:
    """A broken design in inches; nothing where it can't be parsed."""
    text = edited(*TEXTS[name])
    try:
        return other_system(text)
    except tomllib.TOMLDecodeError:
        return ""


@pytest.mark.parametrize("name", [name for name in TEXTS if not name.startswith(ASKED)])
def test_no_metric_figure_is_told(name: str) -> None:
    text = in_inches(name)
    for fault in faults_of(text) if text else ():
        if not metric_figures(fault.value) and "millimetres" not in fault.wrong:  # as its maker wrote it
            assert metric_figures(f"{fault.wrong}; {fault.allowed}; {fault.remedy}") == [], fault


def test_most_are_told_in_inches_too() -> None:
    assert sum(bool(text) and bool(faults_of(text)) for text in map(in_inches, TEXTS)) > 0.8 * len(TEXTS)


@pytest.mark.parametrize("name", [name for name in TEXTS if not name.startswith(ASKED)])
def test_each_remedy_is_one(name: str) -> None:
    text = in_inches(name)
    assert not text or stays_after(text)[1] == []

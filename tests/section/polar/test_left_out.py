"""What a section left out of the fit does, as README.md tells it."""

from __future__ import annotations

from pathlib import Path

import pytest
from left_out import QUANTITIES, fitted, table, worst
from measured_sections import MEASURED, NAMES, shape

from geomgen.section.polar.stated import stated_polar

README = (Path(__file__).parent / "README.md").read_text(encoding="utf-8")


def test_the_table_is_what_the_script_gives() -> None:
    assert "\n".join(table()) in README


def test_the_polar_says_how_far_a_section_left_out_lies_off() -> None:
    slope, zero, *_ = QUANTITIES
    most = max(abs(worst(slope, name, name)) for name in NAMES)
    like = max(abs(worst(zero, name, name)) for name in NAMES if name != "BW-3")
    thin = abs(worst(zero, "BW-3", "BW-3"))
    told = f"slope up to {most:.0f} % off, angle without lift {like:.1f} deg, of the thin one {thin:.0f} deg"
    assert told in " ".join(stated_polar(shape(NAMES[0])).words)


def test_stated_factors_are_those_of_the_fit() -> None:
    """Within what the outlines' points leave open: BW-3's as read off the model or as smoothed by the testers."""
    stated = [0.804, 0.183, -0.536, -1.776], [0.655, 0.348, 0.391], [1.05, 0.41, -0.22, 6.9, 1.1]
    for quantity, factors in zip(QUANTITIES, stated, strict=False):
        assert fitted(quantity, MEASURED) == pytest.approx(factors, rel=0.13, abs=0.02), quantity.name

"""Nose and tail are of a section, leading and trailing edge of a blade, in all that is written: see DEVELOPERS.md."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[1]
EDGES = re.compile(r"(leading|trailing)[ -]edges?\b(?! up\b)")  # "leading edge up" is the sign of an angle
OF_A_BLADE = {  # what draws a blade's plan, turns it, or offers makers' own words for our keys
    "design/synonyms.py", "frames.py", "structure/tip.py", "views/caps_together.py", "views/plan.py",
    "views/plan_inputs.py", "views/weigh.py",
}  # fmt: skip
NEAR_A_LINE = {"structure/strips/edge_strips.py"}  # how far a nose stands ahead of the line along the blade


@pytest.mark.parametrize("room", ["section", "structure", "bench", "stock", "design/schema", "blade", "views"])
def test_sections_have_a_nose_and_a_tail(room: str) -> None:
    house = HOUSE / "geomgen"
    found = {
        file.relative_to(house).as_posix(): EDGES.findall(" ".join(file.read_text(encoding="utf-8").split()))
        for file in sorted((house / room).rglob("*.py"))
    }
    assert {file for file, words in found.items() if words} <= OF_A_BLADE | NEAR_A_LINE


def test_profiles_have_tails() -> None:
    for file in sorted((HOUSE / "profiles").iterdir()):
        assert not EDGES.search(file.read_text(encoding="utf-8")), file.name

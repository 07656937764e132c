"""The table of small bugs fits the house as it stands, so that each can be planted; `plant.py` plants them."""

from __future__ import annotations

from pathlib import Path

import pytest
from plant import Mutant, mutants

import geomgen

HOUSE, TESTS = Path(geomgen.__file__).parent, Path(__file__).parents[1]
ALL = mutants()
LEAST = 25


def test_there_are_enough_all_over_the_house() -> None:
    assert len(ALL) >= LEAST
    assert len({mutant.file.split("/")[0] for mutant in ALL}) >= 8


@pytest.mark.parametrize("mutant", ALL, ids=lambda mutant: mutant.name)
def test_each_can_be_planted(mutant: Mutant) -> None:
    text = (HOUSE / mutant.file).read_text(encoding="utf-8")
    assert text.count(mutant.old) == 1 and mutant.new != mutant.old and mutant.new.strip()
    assert mutant.wrong and mutant.tests
    for name in mutant.tests:
        assert (TESTS / name).is_file() and Path(name).name.startswith("test_")
        assert name != "craft/test_committed_outputs.py"

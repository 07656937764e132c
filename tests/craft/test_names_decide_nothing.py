"""What parts are called is for people: any other names, and no notes, leave every figure and every joint as it is."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import asdict, replace
from typing import Any

import pytest

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.model.part import Part


@pytest.fixture
def renamed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every part that is made from here on gets a name and a note of random letters."""
    letters, made = random.Random(7), Part.__init__

    def init(part: Part, *values: Any, **named: Any) -> None:
        made(part, *values, **named)
        word = "".join(letters.choices("abcdefgh", k=9))
        object.__setattr__(part, "name", word)
        object.__setattr__(part, "notes", (word[::-1],))

    monkeypatch.setattr(Part, "__init__", init)


def decided(craft: Craft) -> dict[str, Any]:
    """All that is decided of a craft, parts told by key."""
    load = asdict(craft.load_path)
    load["fittings"] = [{**link, "carried": ""} for link in load["fittings"]]  # tells a name
    return {
        "keys": [part.key for part in craft.parts],
        "joints": [(joint.a, joint.b, joint.bond, joint.contact.tolist()) for joint in craft.flying.joints],
        "order": craft.order,
        "lines": [(line.key, line.set_g, line.place_mm) for line in craft.mass.lines],
        "blade": craft.mass.blade,
        "load": load,
        "holds": [replace(rib, name="") for rib in craft.ribs_held],
        "verdict": replace(
            craft.verdict,
            tightest=craft.verdict.tightest and replace(craft.verdict.tightest, name=""),
            weakest=craft.verdict.weakest and replace(craft.verdict.weakest, name=""),
        ),
        "warnings": [(warning.path, warning.value, warning.allowed, warning.remedy) for warning in craft.warnings],
    }


@pytest.mark.parametrize("option", [None, "balsa", "foam_board"])
def test_names_and_notes_decide_nothing(
    craft_of: Callable[..., Craft], request: pytest.FixtureRequest, option: str | None
) -> None:
    first = craft_of("lantern", option=option)
    named = decided(Craft(first.design, first.folder, Cache(None), exact=False))
    request.getfixturevalue("renamed")
    craft = Craft(first.design, first.folder, Cache(None), exact=False)
    other = decided(craft)
    assert not any("rib" in part.name for part in craft.parts)
    assert len(set(named["keys"])) == len(named["keys"])
    for what, found in named.items():
        assert other[what] == found, what

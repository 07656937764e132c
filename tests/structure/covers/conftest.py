"""Skins of edited starters, each craft made once."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from skin_designs import ALL, DESIGNS, PIECES, CraftOf, Made, sheets

from geomgen.craft import Craft


@pytest.fixture(scope="session")
def skin_craft(craft_of: CraftOf) -> Callable[[str], Craft]:
    """The craft of a named design."""
    made: dict[str, Craft] = {}

    def craft(name: str) -> Craft:
        if name not in made:
            made[name] = craft_of("starter", *ALL, *DESIGNS[name][1])
        return made[name]

    return craft


@pytest.fixture(scope="session")
def piece(skin_craft: Callable[[str], Craft]) -> Callable[[str], Made]:
    """A named piece of skin."""

    def get(name: str) -> Made:
        design, which, sheet = PIECES[name]
        craft = skin_craft(design)
        return Made(craft, sheets(craft)[which], DESIGNS[design][0], sheet)

    return get

"""Crafts with a spar's table put into the starter's design."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from known_options import single
from spar_blades import PLAIN, STOCKS

from geomgen.craft import Craft

CraftOf = Callable[..., Craft]


@pytest.fixture(scope="session")
def spar_craft(craft_of: CraftOf) -> CraftOf:
    """A craft with a spar's table put in; `plain` for the untapered blade."""

    def make(spar: str, *edits: tuple[str, str], plain: bool = True) -> Craft:
        added = (("[blade.channel.power]", f"{spar}\n[blade.channel.power]"), ("\n[option.stiffer]", STOCKS))
        return craft_of("starter", single("starter"), *(PLAIN if plain else ()), *added, *edits)

    return make

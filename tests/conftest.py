"""What many tests start from: the demo's craft, and crafts from edited design files."""

from __future__ import annotations

import pathlib
from collections.abc import Callable

import pytest

from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read_text

CraftOf = Callable[..., Craft]


@pytest.fixture(scope="session")
def keep(tmp_path_factory: pytest.TempPathFactory) -> pathlib.Path:
    """One store of solids for all tests, empty at first: never the user's own."""
    return tmp_path_factory.mktemp("keep")


@pytest.fixture(scope="session")
def craft_of(keep: pathlib.Path) -> CraftOf:
    """A craft from one of the examples with texts in it replaced, each of which must be there."""

    def make(name: str, *edits: tuple[str, str], option: str | None = None) -> Craft:
        path = example_path(name)
        text = path.read_text(encoding="utf-8")
        for old, new in edits:
            assert old in text, f"{old!r} is not in {name}"
            text = text.replace(old, new)
        return Craft(read_text(text, path.name, option).design, path.parent, keep)

    return make


@pytest.fixture(scope="session")
def lantern(craft_of: CraftOf) -> Craft:
    """The demo."""
    return craft_of("lantern")


@pytest.fixture(scope="session")
def kite_day(craft_of: CraftOf) -> Craft:
    """The second example: three blades, clockwise, inches."""
    return craft_of("kite_day")

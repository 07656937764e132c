"""What is kept by content is what would be made anew: for the same design, and for one that differs a little."""

from __future__ import annotations

import pathlib

import pytest

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.making import make


@pytest.mark.parametrize(
    "edit",
    [
        ('title  = "Lantern', 'title  = "Other lantern'),
        ('colour = { inside = "red"', 'colour = { inside = "yellow"'),
        ("least_tail = 2.5", "least_tail = 3.5"),
        ("blades = 2", "blades = 3"),
    ],
)
def test_kept_files_are_those_made_anew(craft_of: object, keep: pathlib.Path, edit: tuple[str, str]) -> None:
    make(craft_of("lantern"))  # type: ignore[operator]  # fills the store
    craft: Craft = craft_of("lantern", edit)  # type: ignore[operator]
    first, again = make(craft).files, make(Craft(craft.design, craft.folder, Cache(keep))).files
    anew = Craft(craft.design, craft.folder, Cache(None))
    fresh = make(anew).files
    assert first.keys() == again.keys() == fresh.keys()
    for name, data in fresh.items():
        assert first[name] == data and again[name] == data, name

"""Letters beside the caps' holes can't be misread: each word by its own hole, apart from others, seen with its cap on.

Read from the finished caps' strokes; 0.5 mm from an edge and 1 mm from a hole are common practice for engraving.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable

import numpy as np
import pytest
import shapely
from fine_pitch import FINE, fine_craft
from shapely import affinity

from geomgen.craft import Craft
from geomgen.marking.lettering import written
from geomgen.model.part import Flat, Text
from geomgen.model.role import Role
from geomgen.plane.letters import strokes

Cap = tuple[Flat, list[Text]]


def cap(craft: Craft, role: Role) -> Cap:
    """A finished cap, and what stands beside its holes: all but its name and what is beside its arrows."""
    (part,) = craft.finished_of(role)
    assert isinstance(part.shape, Flat)
    return part.shape, [text for text in part.shape.texts if text.text not in ("TURNS", "FIXED", "UP", "FWD")]


def inked(text: Text) -> shapely.Geometry:
    return shapely.union_all([shapely.LineString(path.flattened(0.01)) for path in written(text)])


def holes(flat: Flat) -> np.ndarray:
    """(n, 2) middles of round holes, through or blind."""
    loops = [*flat.region.holes, *(pocket.loop for pocket in flat.pockets)]
    return np.array([loop.center for loop in loops if hasattr(loop, "center")])


@pytest.fixture(scope="module", params=FINE, ids=lambda one: f"{one[0]}{'-other' * one[1]}")
def fine(request: pytest.FixtureRequest, craft_of: Callable[..., Craft]) -> Craft:
    return fine_craft(craft_of, *request.param)


@pytest.mark.parametrize("role", [Role.TURNING_CAP, Role.FIXED_CAP])
def test_each_word_is_read_with_its_head_up_in_line_with_its_hole(fine: Craft, role: Role) -> None:
    flat, texts = cap(fine, role)
    ways = np.degrees(np.arctan2(*holes(flat).T[::-1]))
    for text in texts:
        off = (ways - np.degrees(np.arctan2(text.at[1], text.at[0])) + 180.0) % 360.0 - 180.0
        assert np.abs(off).min() < 0.01
        leans = (text.turn_deg - np.degrees(np.arctan2(text.at[1], text.at[0])) + 90.0) % 180.0 - 90.0
        assert abs(leans) < 1e-6 and abs(text.turn_deg) < 90.0


@pytest.mark.parametrize("role", [Role.TURNING_CAP, Role.FIXED_CAP])
def test_words_stand_further_apart_than_letters_of_one(fine: Craft, role: Role) -> None:
    flat, texts = cap(fine, role)
    ink = np.array([inked(text) for text in texts])
    apart = shapely.distance(ink[:, None], ink[None, :])[np.triu_indices(len(ink), 1)].min()
    within = max(max(gaps(text), default=0.0) for text in texts)
    assert apart > max(0.8, within) and all(text.height_mm >= 2.0 for text in texts)
    drawn = shapely.Polygon(flat.region.outer.flattened(0.01))
    everything = shapely.union_all(ink)
    assert drawn.contains(everything) and drawn.exterior.distance(everything) > 0.5
    cut = [shapely.Polygon(hole.flattened(0.01)) for hole in flat.region.holes]
    assert shapely.union_all(cut).distance(everything) > 1.0


def gaps(text: Text) -> list[float]:
    """Between the neighbouring letters of a word [mm]."""
    lines = [shapely.LineString(path.flattened(0.01)) for path in written(text)]
    ends = np.cumsum([len(strokes(letter, 1.0)) for letter in text.text])
    letters = [shapely.union_all(some) for some in np.split(np.array(lines), ends[:-1])]
    return [one.distance(other) for one, other in itertools.pairwise(letters)]


def test_both_caps_words_are_seen_from_the_root_side_at_every_setting(fine: Craft) -> None:
    """The fixed cap lies over the turning one: no stroke of that is hidden."""
    _, words = cap(fine, Role.TURNING_CAP)
    fixed, _ = cap(fine, Role.FIXED_CAP)
    over = shapely.Polygon(fixed.region.outer.flattened(0.01))
    up = 1.0 if fine.design.rotor.turn == "clockwise" else -1.0
    ink = shapely.union_all([inked(text) for text in words])
    for pitch in fine.pattern.settings_deg:
        assert not affinity.rotate(ink, up * pitch, origin=(0.0, 0.0)).intersects(over), pitch

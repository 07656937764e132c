"""Examples with finer steps of pitch, whose caps' holes serve several settings each, in both hands."""

from __future__ import annotations

import itertools
from collections.abc import Callable

from geomgen.craft import Craft

FINER = {
    "lantern": (('step    = "6 deg"', 'step = "1 deg"\nrim = 60'),),
    "starter": (('step    = "6 deg"', 'step = "2 deg"'),),
    "lantern many": (('step    = "6 deg"', 'step = "1 deg"\nrim = 60'), ('["2 deg", "14 deg"]', '["0 deg", "24 deg"]')),
    "kite_day": (('step    = "8 deg"', 'step = "2 deg"'), ("index_circle = 2\n", "")),
}
OTHER_HAND = {"lantern": ('"anticlockwise"', '"clockwise"'), "kite_day": ('"clockwise"', '"anticlockwise"')}
OTHER_HAND["starter"] = OTHER_HAND["lantern many"] = OTHER_HAND["lantern"]
FINE = list(itertools.product(FINER, (False, True)))  # example, and whether it turns the other way


def fine_craft(craft_of: Callable[..., Craft], name: str, other_hand: bool = False) -> Craft:
    """One of the examples at 1 or 2 deg; "many": over so many pitches that each hole has a letter of its own."""
    return craft_of(name.split()[0], *FINER[name], *((OTHER_HAND[name],) if other_hand else ()))

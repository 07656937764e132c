"""Blades with spars: a plain one whose section is an equation, and the starter's, which tapers and twists."""

from __future__ import annotations

from typing import Any

import numpy as np

from geomgen.craft import Craft
from geomgen.model.layout import Slice
from geomgen.model.made import Made, together
from geomgen.model.part import Part
from geomgen.structure.ribs.blank import Blank
from geomgen.structure.spars.all import spar_cuts, spar_faults, spars
from geomgen.structure.spars.cuts import Cuts
from geomgen.structure.spars.kind import Member
from geomgen.structure.spars.kinds import members

STOCKS = """
[stock.spruce_6x2]
kind = "length"
of = "spruce"
width = 6
height = 2
density = "420 kg/m3"
length = 1000
[stock.balsa_1_5]
kind = "sheet"
of = "balsa"
thickness = 1.5
size = [1000, 100]
grain = "long"
density = "160 kg/m3"
[stock.board_3]
kind = "sheet"
of = "foam board"
thickness = 3
size = [1000, 700]
[stock.rod_6]
kind = "length"
of = "carbon, pultruded"
outside = 6

[option.stiffer]"""

PLAIN = (
    ('chord = 180, twist = "4 deg", section = "naca 4415"', 'chord = 180, twist = "0 deg", section = "naca 0015"'),
    ('chord = 150, twist = "0 deg", section = "naca 4415"', 'chord = 180, twist = "0 deg", section = "naca 0015"'),
    ('[blade.skin.all]\nstock = "foam_sheet_2"\n', ""),
    ('every = 30\nstock = "ply_2"', 'every = 60\nstock = "balsa_3"'),
    ('every = 60\nstock = "balsa_3"\n\n', 'every = 180\nstock = "balsa_3"\n\n'),
    ("least_tail = 2.5", "least_tail = 0.2"),
    ('rib_stock = "ply_2"', 'rib_stock = "balsa_3"'),
)
# ribs of the plain blade, by hand: 120 .. 180 in one bay, 180 .. 700 in three, ends flush, one at the fan
PLAIN_RIBS = (121.5, 180.0, 180 + 520 / 3, 180 + 1040 / 3, 672.0, 698.5)


def made(craft: Craft) -> dict[str, Part]:
    """All spar parts of a craft, as they are drawn, by name."""
    return {part.name: part for part in joined(craft).parts}


def joined(craft: Craft) -> Made:
    """All spar parts of a craft, as they are drawn, and what they touch.

    raises : MakeError
    """
    wrong = spar_faults(craft.layout)
    return together(Made(faults=wrong), spars(craft.layout, faults=wrong)).read()


def member(craft: Craft, name: str) -> Member[Any]:
    """One spar of a craft."""
    return next(each for each in members(craft.layout) if each.name == name)


def cuts_in(craft: Craft, name: str, blank: Blank) -> Cuts:
    """What one spar asks of one rib."""
    return spar_cuts(craft.layout, blank.place, Slice(blank.station, blank.outline))[name]


def half_depth(x: float, chord: float = 180.0, t: float = 0.15) -> float:
    """Half thickness of a symmetric four-digit section, NACA Report 460, open tail [mm]."""
    s = x / chord
    return float(
        5 * t * chord * (0.29690 * np.sqrt(s) - 0.12600 * s - 0.35160 * s**2 + 0.28430 * s**3 - 0.10150 * s**4)
    )

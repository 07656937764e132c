"""How far out of balance a craft will come out before anything is weighed, and what sharing sheets gains."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.balance.scatter import Scatter, Uncertain, scattered, shared_out
from geomgen.balance.unbalance import Unbalance
from geomgen.design.schema import Design
from geomgen.frames import applied, blades_to_rotor, hub_to_rotor
from geomgen.mass.lines import Line
from geomgen.model.joint import Key
from geomgen.model.role import Assembly
from geomgen.stock.sharing import Sharing


@dataclass(frozen=True, eq=False)
class Before:
    """What to expect before anything is weighed.

    scatter  : with copies taken to the blades in the order in which they are laid
    chosen   : with copies chosen so that blades share their sheets
    apart    : each blade cut from sheets of its own
    blade_of : by part whose copies lie on several sheets, the sheet and the blade of each copy, blades from 1
    reach_mm : how far out the outermost trim pocket lies, or the end of the blade's frame where none is named [mm]
    ready_g  : weight to have ready there for nine craft of ten, copies chosen [g]
    """

    scatter: Scatter
    chosen: Scatter
    apart: Scatter
    blade_of: Mapping[Key, tuple[tuple[str, int], ...]]
    reach_mm: float
    ready_g: float


def before(lines: Sequence[Line], design: Design, sharing: Sharing, found: Unbalance, reach_mm: float) -> Before:
    """The scatter of a craft.

    sharing : the sheet of each copy, by part
    found   : unbalance as designed
    """
    mean = np.array([found.static.x, found.static.y])
    doubtful = uncertain(lines, design, sharing)
    chosen, blades = shared_out(doubtful)
    first, then = scattered(doubtful, mean), scattered(chosen, mean)
    own = scattered([_of_its_own(line) for line in doubtful], mean)
    blade_of = {key: tuple(zip(sharing[key], some, strict=True)) for key, some in blades.items()}
    return Before(first, then, own, blade_of, reach_mm, then.ninety / reach_mm)


def uncertain(lines: Sequence[Line], design: Design, sharing: Sharing) -> list[Uncertain]:
    """Every line with its places in the rotor's plane."""
    rotor, clockwise = design.rotor, design.rotor.turn == "clockwise"
    blades = blades_to_rotor(rotor.blades, design.pitch.set, rotor.coning, clockwise)
    return [_uncertain(line, blades, hub_to_rotor(clockwise), sharing) for line in lines]


def _of_its_own(line: Uncertain) -> Uncertain:
    """The same with every blade's pieces from sheets that no other blade has."""
    sheets = (f"{name}, blade {n // line.count + 1}" for n, name in enumerate(line.sheets))
    return replace(line, sheets=tuple(sheets))


def _uncertain(line: Line, blades: Sequence[FloatArray], hub: FloatArray, sharing: Sharing) -> Uncertain:
    on_blade = line.assembly == Assembly.BLADE
    matrices = blades if on_blade else [hub]
    places = np.array([applied(matrix, np.array(line.place_mm))[:2] for matrix in matrices])
    low, _, high = line.blades[0] if line.blades else line.set_g
    half = (high - low) / 2.0
    sheets = sharing.get(line.key, ()) if on_blade else ()
    return Uncertain(line.key, line.lot, on_blade, line.count, half, line.split.shares, places, tuple(sheets))

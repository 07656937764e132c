"""The mass statement: what each part weighs and where it sits, of one blade and of the whole craft."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from geomgen.design.schema import Design
from geomgen.mass.lines import Line, lines
from geomgen.mass.measured import Solids, lacks_solid, measured
from geomgen.mass.sums import NO_SHARING, BladeMass, CraftMass, blade_mass, craft_mass
from geomgen.mass.weigh_in.as_built import AsBuilt
from geomgen.mass.weigh_in.built_sums import craft_built, mean_built, one_built
from geomgen.model.part import Part
from geomgen.stock.sharing import Sharing


@dataclass(frozen=True)
class MassStatement:
    """Every part's line, and their sums.

    lines      : in the order of the parts
    blade      : one blade, in the blade frame at the reference pitch
    craft      : all blades at the pitch set, and the hub, in the rotor frame
    unweighed  : names of the printed parts whose solids weren't there to weigh; no sum holds them
    each_blade : every blade by itself, where they were weighed in; `blade` is their mean then
    """

    lines: tuple[Line, ...]
    blade: BladeMass
    craft: CraftMass
    unweighed: tuple[str, ...]
    each_blade: tuple[BladeMass, ...] = ()


def weigh(parts: Sequence[Part], design: Design, solids: Solids) -> MassStatement:
    """The mass statement of a craft.

    parts   : every different part of one blade and of the hub
    design  : where stocks, wires, glue, payload, pitch and coning are read
    solids  : properties of each printed part that is no plate; one that is missing is named in `unweighed`
    raises  : DesignError where a stock can't be weighed as the part asks
    """
    absent = tuple(part.name for part in parts if lacks_solid(part, solids))
    return summed(lines(measured(parts, solids), design), design, absent)


def summed(
    weighed: Sequence[Line],
    design: Design,
    absent: tuple[str, ...] = (),
    sharing: Sharing = NO_SHARING,
    built: AsBuilt | None = None,
) -> MassStatement:
    """The statement of lines that are there already: all that a changed payload, pitch or coning costs.

    absent  : names of what has no line
    sharing : by part, the sheet of each copy
    built   : what a weigh-in made of them
    """
    if built is not None:
        blades = tuple(one_built(weighed, built, number) for number in range(1, design.rotor.blades + 1))
        return MassStatement(tuple(weighed), mean_built(blades, built), craft_built(design, built), absent, blades)
    return MassStatement(tuple(weighed), blade_mass(weighed, sharing), craft_mass(weighed, design, sharing), absent)

"""The stages of weighing: what there is of each part, its line, the sums; and each part's inertia."""

from __future__ import annotations

from collections.abc import Mapping

from geomgen.design.schema import Design
from geomgen.mass import elements, lines, measured, statement
from geomgen.mass.lines import Line
from geomgen.mass.measured import Measured, Solids
from geomgen.mass.statement import MassStatement
from geomgen.model.element import Element
from geomgen.model.joint import Key
from geomgen.model.made import Made
from geomgen.stages import reads
from geomgen.stock.sharing import Sharing


def measures(flying: Made, solids: Solids, sunk: Mapping[Key, float]) -> tuple[Measured, ...]:
    """What there is of each part to be weighed, whatever it is made of."""
    return measured.measured(flying.parts, solids, sunk)


@reads("stock", "wire", "glue")
def weighed(design: Design, measures: tuple[Measured, ...]) -> tuple[Line, ...]:
    """What each part weighs of its stock."""
    return lines.lines(measures, design)


@reads("duty.payload", "rotor.blades", "rotor.turn", "rotor.coning", "pitch.set")
def stated(design: Design, lines: tuple[Line, ...], sharing: Sharing) -> MassStatement:
    """Mass statement of a blade and the craft."""
    return statement.summed(lines, design, sharing=sharing)


def as_elements(measures: tuple[Measured, ...], lines: tuple[Line, ...], solids: Solids) -> tuple[Element, ...]:
    """Mass elements of one blade and the hub."""
    return elements.elements(measures, lines, solids)

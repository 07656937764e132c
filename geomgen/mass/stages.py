"""The stages of weighing: what there is of each part, its line, the sums; and each part's inertia."""

from __future__ import annotations

from collections.abc import Mapping

from geomgen.design.schema import Design
from geomgen.mass import elements, lines, measured, statement
from geomgen.mass.lines import Line
from geomgen.mass.measured import Measured, Solids
from geomgen.mass.statement import MassStatement
from geomgen.mass.weigh_in import table
from geomgen.mass.weigh_in.as_built import AsBuilt, as_built
from geomgen.mass.weigh_in.as_built import rebuilt as as_built_lines
from geomgen.mass.weigh_in.file import AsWritten
from geomgen.mass.weigh_in.reading import Reading
from geomgen.mass.weigh_in.sense import sensible, shop
from geomgen.model.element import Element
from geomgen.model.joint import Key
from geomgen.model.made import Made
from geomgen.section.listing import Origin
from geomgen.stages import reads
from geomgen.stock.sharing import Sharing


def measures(flying: Made, solids: Solids, sunk: Mapping[Key, float]) -> tuple[Measured, ...]:
    """What there is of each part to be weighed, whatever it is made of."""
    return measured.measured(flying.parts, solids, sunk)


@reads("stock", "wire", "glue")
def weighed(design: Design, measures: tuple[Measured, ...]) -> tuple[Line, ...]:
    """What each part weighs of its stock."""
    return lines.lines(measures, design)


@reads("stock.*.kind", "stock.*.size", "stock.*.length", "rotor.blades")
def readings(design: Design, flying: Made, sharing: Sharing, *, as_written: AsWritten | None) -> tuple[Reading, ...]:
    """What the scale said, of a craft that was weighed in; nothing of any other. raises : DesignError, by line"""
    if as_written is None:
        return ()
    origin = Origin(as_written.name, "weighed", as_written.name)
    return sensible(table.readings(as_written), shop(flying.parts, design, sharing), origin)


@reads("stock", "rotor.blades", "weighed")
def weighed_in(
    design: Design, lines: tuple[Line, ...], sharing: Sharing, readings: tuple[Reading, ...]
) -> AsBuilt | None:
    """What that makes of the lines; None where nothing was weighed."""
    return as_built(readings, lines, design, sharing, design.weighed or "") if readings else None


def rebuilt(lines: tuple[Line, ...], built: AsBuilt | None) -> tuple[Line, ...]:
    """Lines as they were weighed in, or as catalogued."""
    return lines if built is None else as_built_lines(lines, built)


@reads("duty.payload", "rotor.blades", "rotor.turn", "rotor.coning", "pitch.set")
def stated(design: Design, lines: tuple[Line, ...], sharing: Sharing, built: AsBuilt | None) -> MassStatement:
    """Mass statement of a blade and the craft."""
    return statement.summed(lines, design, sharing=sharing, built=built)


def as_elements(measures: tuple[Measured, ...], lines: tuple[Line, ...], solids: Solids) -> tuple[Element, ...]:
    """Mass elements of one blade and the hub."""
    return elements.elements(measures, lines, solids)

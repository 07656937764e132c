"""The stages of weighing: what there is of each part, its line, the sums; and each part's inertia."""

from __future__ import annotations

from collections.abc import Mapping

from geomgen.design.schema import Design
from geomgen.mass import elements, lines, measured, print_shares, statement
from geomgen.mass.lines import Line
from geomgen.mass.measured import Measured, SolidProperties, Solids
from geomgen.mass.print_shares import LaidDown
from geomgen.mass.statement import MassStatement
from geomgen.mass.weigh_in import table
from geomgen.mass.weigh_in.as_built import AsBuilt, as_built
from geomgen.mass.weigh_in.as_built import rebuilt as as_built_lines
from geomgen.mass.weigh_in.file import AsWritten
from geomgen.mass.weigh_in.reading import Reading
from geomgen.mass.weigh_in.sense import sensible, shop
from geomgen.materials.figure import Figure
from geomgen.model.element import Element
from geomgen.model.joint import Key
from geomgen.model.made import Made
from geomgen.section.listing import Origin
from geomgen.stages import reads
from geomgen.stock.sharing import Sharing


def measures(
    flying: Made, solids: Solids, sunk: Mapping[Key, float], laid: Mapping[Key, LaidDown]
) -> tuple[Measured, ...]:
    """What there is of each part to be weighed, whatever it is made of."""
    return measured.measured(flying.parts, solids, sunk, _bulks(laid))


@reads("stock")
def factors(design: Design, measures: tuple[Measured, ...], laid: Mapping[Key, LaidDown]) -> dict[str, float]:
    """By what prints are heavier than their slices say, for each stock of which one was weighed."""
    return print_shares.factors(measures, laid, design)


@reads("stock")
def shares(design: Design, laid: Mapping[Key, LaidDown], factors: Mapping[str, float]) -> dict[Key, Figure]:
    """How much of each print is there."""
    return print_shares.print_shares(laid, factors, design)


@reads("stock", "wire", "glue")
def weighed(design: Design, measures: tuple[Measured, ...], shares: Mapping[Key, Figure]) -> tuple[Line, ...]:
    """What each part weighs of its stock."""
    return lines.lines(measures, design, shares)


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


def as_elements(
    measures: tuple[Measured, ...], lines: tuple[Line, ...], solids: Solids, laid: Mapping[Key, LaidDown]
) -> tuple[Element, ...]:
    """Mass elements of one blade and the hub; a print's mass lies where its plastic does."""
    return elements.elements(measures, lines, {**solids, **_bulks(laid)})


def _bulks(laid: Mapping[Key, LaidDown]) -> dict[Key, SolidProperties]:
    return {key: each.bulk for key, each in laid.items() if each.bulk is not None}

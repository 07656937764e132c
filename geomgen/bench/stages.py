"""The bench's stages: ribs on feet, the board they stand on, gauges, coupons to print first."""

from __future__ import annotations

from dataclasses import replace

from geomgen.bench import coupon
from geomgen.bench.board import boards
from geomgen.bench.feet import Footing, footing, on_feet
from geomgen.bench.gauge import gauges
from geomgen.bench.order import order_of_work
from geomgen.bench.wire_template import wire_templates
from geomgen.blade.stages import PLACES
from geomgen.design.schema import Design
from geomgen.figures import spelled
from geomgen.model.layout import Layout, rib_key
from geomgen.model.made import Made, together
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.model.step import Task
from geomgen.root.hub_spec import HubSpec
from geomgen.root.pattern import PitchPattern
from geomgen.root.reach import blade_below_mm
from geomgen.stages import reads
from geomgen.structure.constructions import construction
from geomgen.structure.ribs.blank import Blank
from geomgen.structure.ribs.edge_fit import fit_notes
from geomgen.structure.spars.all import spar_tasks

BENCH = ("blade.jig", "blade.construction", "blade.skin", "stock.*.thickness", "stock.*.size", "laser.bed")
TRIED = (
    "pitch.pin", "pitch.turning_cap", "pitch.fixed_cap", "pitch.wedge", "hub.stock", "hub.socket", "blade.spar",
    "stock.*.kind", "stock.*.outside", "stock.*.thickness", "printer.bed", "units",
)  # fmt: skip


@reads(*BENCH)
def feet(design: Design, drawn: tuple[Blank, ...]) -> Footing | None:
    """What the ribs' feet stand on; None where they get none."""
    return footing(design, drawn)


def as_cut(layout: Layout, bare: tuple[Blank, ...], parts: Made, plane: Footing | None) -> tuple[Part, ...]:
    """All parts, ribs as they are cut: on their feet, and with where their edges are to be sanded."""
    sand = fit_notes(layout, bare)
    ribs = [part for part in parts if part.role is Role.RIB]
    noted = [replace(rib, notes=(*rib.notes, sand[rib.key])) if rib.key in sand else rib for rib in ribs]
    standing = {rib.key: rib for rib in on_feet(noted, plane)}
    return tuple(standing.get(part.key, part) for part in parts)


@reads(*BENCH)
def aids(design: Design, layout: Layout, drawn: tuple[Blank, ...], plane: Footing | None) -> Made:
    """What is made to build the blade by, and stays on the bench: jig board, gauges, a hot wire's templates."""
    cuts = construction(layout.design).wire_cuts(layout)
    templates = Made(tuple(wire_templates(layout.design, cuts, layout.tol)))
    return together(boards(design, drawn, plane), gauges(design, drawn, plane, tol=layout.tol), templates)


@reads(*TRIED)
def coupons(design: Design, holes: PitchPattern) -> Made:
    """What is printed before caps and hub, to try pins and spar in."""
    return coupon.coupons(design, wedges=holes.wedge is not None)


@reads(
    *PLACES, "blade", "rotor.blades", "stock.*.kind", "stock.*.of", "glue.on_tube", "hub.bolt", "hub.bolts",
    "hub.collar.fixing", "pitch.set", "pitch.pin.count", "rotor.coning", "units",
)  # fmt: skip
def order(
    design: Design, layout: Layout, flying: Made, bench_parts: Made, hub: HubSpec, holes: PitchPattern
) -> tuple[Task, ...]:
    """The order of work, in the design's own system."""
    tasks = order_of_work(
        design,
        (*flying, *bench_parts),
        joints=flying.joints,
        tasks=spar_tasks(layout, flying.parts),
        angles=tuple((rib_key(rib), layout.blade.station(rib.r_mm).angle_deg) for rib in layout.ribs),
        below_hub_mm=blade_below_mm(design, layout.blade, axis_height_mm=hub.axis_height),
        marked=holes.marked(design.pitch.set),
        also_deg=holes.inside_deg,
        has_card=holes.lettered,
    )
    return spelled(tasks, design.units)

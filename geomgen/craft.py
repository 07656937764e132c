"""One design and all that follows from it: the data's way through the house, one stage after the other.

A stage's function lies in the `stages` of its room, and says there what it reads of the design. Each result is worked
out when it is asked for, once for all designs that agree on what it depends on, and is never read past its faults.
"""

from __future__ import annotations

import pathlib
from collections.abc import Iterator

from geomgen.balance import stages as balancing
from geomgen.bench import stages as bench
from geomgen.blade import stages as lofting
from geomgen.blade.stages import Files
from geomgen.cache import Cache, default
from geomgen.cost import stages as cost
from geomgen.cutting import stages as cutting
from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.hover import stages as hovering
from geomgen.judging import stages as judging
from geomgen.marking import stages as marking
from geomgen.mass import stages as weighing
from geomgen.mass.weigh_in.file import AsWritten
from geomgen.mass.weigh_in.form import blank
from geomgen.mass.weigh_in.sense import shop
from geomgen.model.joint import Key
from geomgen.model.made import together
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.printing import stages as printing
from geomgen.root import stages as rooting
from geomgen.stages import Staged, stage
from geomgen.stock import stages as stock
from geomgen.stock.sheets import Layout
from geomgen.strength import stages as strength
from geomgen.structure import stages as structure
from geomgen.tolerances import STANDARD, Tolerances


class Craft(Staged):
    """One design with all its results.

    design : checked design, its option laid over it
    folder : folder the design's own files are taken from; None where it has none
    cache  : where results are kept; the cache of the process if left out
    tol    : geometric tolerances
    before : how sheets were laid before; None where that isn't known
    exact  : whether the hub is weighed by its exact solid, which needs the kernel; else by closed sums, see `root`
    """

    def __init__(
        self,
        design: Design,
        folder: pathlib.Path | None = None,
        cache: Cache | None = None,
        *,
        tol: Tolerances = STANDARD,
        exact: bool = True,
        before: Layout | None = None,
    ) -> None:
        files, as_written = Files.of(design, folder), AsWritten.of(design, folder)
        given = {"files": files, "as_written": as_written, "tol": tol, "exact": exact, "before": before}
        super().__init__(design, given, default() if cache is None else cache)
        self.folder, self.tol = folder, tol

    # The blade, laid out
    blade = stage(lofting.lofted, given=("files",))
    sections = stage(lofting.sections, blade)
    fold_differences = stage(lofting.fold_differences, blade)
    rib_places = stage(lofting.ribs_placed)
    lines = stage(structure.laid_out, blade, rib_places, given=("tol",))
    inside = stage(structure.inside, lines)
    misfits = stage(structure.misfits, inside)
    layout = stage(structure.fitted, inside, misfits)
    bare_ribs = stage(structure.bare_ribs, layout)

    # Caps and hub
    root_face = stage(rooting.face, layout, bare_ribs)
    fixing = stage(rooting.fixing, root_face)
    seat = stage(rooting.seated, root_face)
    pattern = stage(rooting.pattern, root_face, seat)
    root = stage(rooting.root, root_face, seat, pattern)
    screwed = stage(structure.screwed, layout, bare_ribs, fixing)
    ties = stage(structure.tied, layout, screwed)
    caps = stage(rooting.caps, root, ties)
    wedges = stage(rooting.wedges, root)
    spare_wedges = stage(rooting.spare_wedges, root)
    hub_spec = stage(rooting.figures, root_face, seat)
    hub = stage(rooting.hub_part, root, hub_spec)
    held_by = stage(rooting.held_by, root, hub_spec)
    pitch_error = stage(rooting.error, root_face, fixing, pattern, bare_ribs)
    tilts = stage(rooting.tilts, layout, pattern)

    # What the blade is built of
    spars = stage(structure.all_spars, layout, misfits)
    blanks = stage(structure.drilled, screwed, ties)
    ribs = stage(structure.ribs, layout, blanks)
    doublers = stage(structure.doublers, layout, blanks)
    covering = stage(structure.covering, layout, blanks)
    tip = stage(structure.tip, layout)
    wires = stage(structure.all_wires, layout, ties)
    mounts = stage(structure.mounts, layout, blanks)
    stuck = stage(structure.stuck, layout, covering)
    fittings = stage(rooting.bought, layout, hub_spec)
    frame = stage(together, ribs, doublers, covering, spars, tip)
    glue = stage(structure.glued, frame)
    flying = stage(together, frame, wires, glue, caps, wedges, held_by, mounts, stuck, fittings, hub)
    hung = stage(strength.hung, flying)

    # What stays on the bench, and everything as it is cut
    footing = stage(bench.feet, blanks)
    aids = stage(bench.aids, layout, blanks, footing)
    coupons = stage(bench.coupons, pattern)
    bench_parts = stage(together, aids, coupons, spare_wedges)
    order = stage(bench.order, layout, flying, bench_parts, hub_spec, pattern)
    parts = stage(together, flying, bench_parts)
    as_cut = stage(bench.as_cut, layout, bare_ribs, parts, footing)
    on_sheets = stage(stock.held_against_sheets, as_cut)
    laid = stage(stock.laid, on_sheets, given=("before",))
    sheets = stage(stock.at_hand, on_sheets, laid, given=("before",))
    finished = stage(marking.finished, on_sheets, given=("cache",))

    # What it weighs, and what that asks for
    solids = stage(printing.solids, hub, given=("exact", "cache"))
    sunk = stage(printing.sunk, caps, wedges, given=("exact", "cache"))
    plastic = stage(printing.laid_down, hub, caps, wedges, given=("exact", "cache"))
    bench_plastic = stage(printing.laid_down, coupons, spare_wedges, given=("exact", "cache"))
    measured = stage(weighing.measures, flying, solids, sunk, plastic)
    print_factors = stage(weighing.factors, measured, plastic)
    print_shares = stage(weighing.shares, plastic, print_factors)
    bench_print_shares = stage(weighing.shares, bench_plastic, print_factors)
    computed = stage(weighing.weighed, measured, print_shares)
    sharing = stage(stock.shared, flying)
    readings = stage(weighing.readings, flying, sharing, given=("as_written",))
    weighed_in = stage(weighing.weighed_in, computed, sharing, readings)
    weighed = stage(weighing.rebuilt, computed, weighed_in)
    mass = stage(weighing.stated, weighed, sharing, weighed_in)
    elements = stage(weighing.as_elements, measured, weighed, solids, plastic)
    air = stage(hovering.air_of)
    lifts = stage(hovering.lifts, blade, mass, air)
    lift_per_pitch = stage(hovering.lift_per_pitch, lifts)
    wake = stage(hovering.wake_of, blade)
    polars = stage(hovering.polars_of, blade, given=("files",))
    drive = stage(hovering.drive, blade, wires, air, tilts)
    rotor = stage(hovering.rotor_of, blade, wake, polars, air, drive)
    hover = stage(hovering.hover, rotor, drive, mass, pitch_error, pattern, polars, elements)
    carries = stage(hovering.carries, hover)
    air_loads = stage(hovering.air_loads, blade, rotor, hover, lifts, drive, air)
    inertia = stage(balancing.inertia, elements)
    balance = stage(balancing.balance, blade, elements, mass, hub_spec, carries)
    scatter = stage(balancing.scatter, weighed, balance, laid)
    load_path = stage(strength.held, hung, weighed)
    about_axis_kg_m2 = stage(balancing.about_axis_kg_m2, inertia)
    strengths = stage(strength.strengths)
    placed = stage(strength.placed, layout, root, hub_spec)
    carrying = stage(strength.carrying, layout, flying, strengths, placed)
    stiffness = stage(strength.stiff, carrying)
    points = stage(strength.points, measured, weighed, elements, hung)
    cases = stage(strength.cases, air_loads, about_axis_kg_m2)
    loads = stage(strength.loads, placed, stiffness, points, air_loads, cases)
    swings = stage(strength.frequencies, placed, stiffness, points, air_loads)
    divergence = stage(strength.divergence, placed, stiffness, points, air_loads)
    links = stage(strength.links, layout, blanks, flying, hung, root, hub_spec, loads, carrying, strengths)
    held = stage(strength.all_held, links, loads, stiffness, swings, divergence, air_loads)
    twist_in_hover = stage(strength.twist_in_hover, loads)
    as_twisted = stage(hovering.as_twisted, rotor, hover, twist_in_hover)
    ribs_held = stage(judging.ribs_held, flying, hung, weighed)
    collar_held = stage(judging.collar_held, load_path, root_face)
    warnings = stage(
        judging.warnings, flying, ribs_held, mass, lifts, hover, drive, load_path, collar_held, caps, hub_spec,
        balance,
    )  # fmt: skip
    verdict = stage(judging.verdict, blade, mass, lifts, hover, load_path, ribs_held, collar_held, held)

    fit_coupons = stage(cutting.coupons, on_sheets)
    cut_list = stage(cost.listed, sheets, finished)
    bill = stage(cost.billed, on_sheets, laid, solids, print_shares, bench_print_shares)

    prints = stage(printing.prints, finished, given=("cache",))
    meshes = stage(printing.meshes, finished, given=("tol", "cache"))

    # Judging it

    @property
    def faults(self) -> tuple[Fault, ...]:
        """All that is wrong and can be judged without a solid, the earliest first, each once.

        What leaves the inside of the cover isn't blamed again for what that leads to.
        """
        lost = {fault.path for fault in self.outcome(Craft.inside).faults}
        found = [*self.outcome(Craft.inside).faults, *self._later()]
        return tuple(dict.fromkeys(fault for k, fault in enumerate(found) if k < len(lost) or fault.path not in lost))

    def _later(self) -> Iterator[Fault]:
        for each in self.stages():
            if each not in LATE:
                yield from self.outcome(each).faults

    def check(self) -> None:
        """Draw everything that needs no solid. raises : MakeError with every fault, or what the design's files raise"""
        self.blade  # noqa: B018  a section that can't be had is told alone
        if self.faults:
            form = self.outcome(Craft.readings)
            raise (form.refusal if form.faults == self.faults else MakeError)(self.faults)

    @property
    def blank_form(self) -> str:
        """The form of a weigh-in, nothing filled in."""
        return blank(self.design, shop(self.flying.parts, self.design, self.sharing))

    @property
    def names(self) -> dict[Key, str]:
        """What each part is called."""
        return {part.key: part.name for part in self.parts}

    @property
    def skins(self) -> tuple[Part, ...]:
        """Skin, sheeting or board, laid flat, as it is cut."""
        return self.finished_of(Role.SKIN, Role.SHEETING, Role.FOLDED_SKIN)

    def finished_of(self, *roles: Role) -> tuple[Part, ...]:
        """Parts of some roles, as they are cut."""
        return tuple(part for part in self.finished if part.role in roles)

    @property
    def flat_parts(self) -> tuple[Part, ...]:
        """Parts that are cut, as they are cut."""
        return tuple(part for part in self.finished if isinstance(part.shape, Flat))

    @property
    def printed_parts(self) -> tuple[Part, ...]:
        """Parts that are printed: the hub, the caps, which can be, and what is printed before them to try."""
        return self.finished_of(*printing.PRINTED)


# What is judged by no fault of its own
LATE = (
    Craft.as_cut, Craft.laid, Craft.sheets, Craft.finished, Craft.prints, Craft.meshes, Craft.solids, Craft.sunk,
    Craft.plastic, Craft.bench_plastic, Craft.print_factors, Craft.print_shares, Craft.bench_print_shares,
    Craft.measured, Craft.computed, Craft.weighed_in, Craft.weighed, Craft.mass, Craft.elements, Craft.lifts,
    Craft.lift_per_pitch, Craft.rotor, Craft.hover, Craft.carries, Craft.air_loads, Craft.inertia, Craft.balance,
    Craft.scatter,
    Craft.load_path, Craft.ribs_held, Craft.collar_held, Craft.warnings, Craft.verdict, Craft.cut_list, Craft.bill,
    Craft.fit_coupons, Craft.about_axis_kg_m2, Craft.strengths, Craft.placed, Craft.carrying, Craft.stiffness,
    Craft.points, Craft.cases, Craft.loads, Craft.swings, Craft.divergence, Craft.links, Craft.held,
    Craft.twist_in_hover, Craft.as_twisted,
)  # fmt: skip

"""One design and all that follows from it. The data flow of the whole house stands on this page.

design -> blade -> blanks (ribs, bare) -> root face -> seat, pattern -> caps, hub
            |         |                      |
            |         +--> ribs <-- screw holes, feet     all parts -> solids -> mass -> lift, load path
            |         +--> doublers, jig, gauges             |
            +--> skins, film, strips, spars, wires ----------+--> glue, order of work
"""

from __future__ import annotations

import pathlib
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import replace
from functools import cached_property, partial
from typing import Any

from geomgen.bench.board import boards
from geomgen.bench.feet import Footing, footing, on_feet
from geomgen.bench.gauge import gauges
from geomgen.bench.order import Step, order_of_work
from geomgen.bench.wire_template import wire_templates
from geomgen.blade.blade import Blade, loft
from geomgen.blade.doubler_places import DoublerPlace, doubler_places
from geomgen.blade.planform import planform
from geomgen.blade.rib_places import RibPlace, rib_places
from geomgen.blade.route import Route
from geomgen.cache import Cache, cache_in
from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.hover.air import Air, air
from geomgen.hover.mean_lift import MeanLift, mean_lift
from geomgen.marking.finish import finished
from geomgen.mass.statement import MassStatement, weigh
from geomgen.model.layout import Layout
from geomgen.model.made import Made, together
from geomgen.model.part import Flat, Part, Solid
from geomgen.model.role import Role
from geomgen.printing.mesh import Mesh
from geomgen.printing.solid import mesh_of, properties
from geomgen.printing.solid_properties import SolidProperties
from geomgen.root.caps import caps
from geomgen.root.fixing_holes import fixing_holes
from geomgen.root.hub import hub_part, hub_spec
from geomgen.root.hub_spec import HubSpec
from geomgen.root.pitch_pattern import PitchPattern, pitch_pattern
from geomgen.root.root import Root
from geomgen.root.root_face import RootFace, root_face
from geomgen.root.seat import Seat, seat
from geomgen.root.small_parts import small_parts
from geomgen.section.find import find
from geomgen.section.fold_difference import Difference, difference
from geomgen.section.measures import Measures, measures
from geomgen.section.section import Section
from geomgen.strength.load_path import LoadPath, load_path
from geomgen.structure.constructions import construction
from geomgen.structure.fitting import fittings
from geomgen.structure.glue import glue
from geomgen.structure.openings import Opening
from geomgen.structure.ribs.blank import Blank, blanks, with_screws
from geomgen.structure.ribs.doubler import doubler_blanks, doublers
from geomgen.structure.ribs.edge_fit import fit_notes
from geomgen.structure.ribs.mount import mount_openings, mounts
from geomgen.structure.ribs.rib import ribs, thin_places
from geomgen.structure.spars.all import spar_faults, spars
from geomgen.structure.spars.routes import channel_routes, spar_routes
from geomgen.structure.spars.straying import straying
from geomgen.structure.tip import tips
from geomgen.structure.wire import wires
from geomgen.tolerances import STANDARD, Tolerances

STEPS = (  # of drawing everything that needs no solid
    "doubler_places", "bare_ribs", "root_face", "seat", "pattern", "caps", "hub_spec", "spars", "blanks", "footing",
    "ribs", "doubler_blanks", "covering", "aids", "parts",
)  # fmt: skip


class Craft:
    """One design with all its results, each computed once, when asked for.

    design : checked design, its option laid over it
    folder : folder the design's own files are taken from; None where it has none
    keep   : folder in which solids are kept by content; None to keep none
    tol    : geometric tolerances
    """

    def __init__(
        self,
        design: Design,
        folder: pathlib.Path | None = None,
        keep: pathlib.Path | None = None,
        tol: Tolerances = STANDARD,
    ) -> None:
        self.design = design
        self.folder = folder
        self.keep = keep
        self.tol = tol

    # The blade

    @cached_property
    def blade(self) -> Blade:
        """Chord, angle and section along r."""
        return loft(self.design, lambda spec, path: find(spec, self.folder, path))

    @cached_property
    def sections(self) -> tuple[tuple[float, Section, Measures], ...]:
        """Radius [mm], section and its measures of each entry of the design that names one."""
        return tuple((r, section, measures(section)) for r, section in self.blade.sections)

    @cached_property
    def fold_differences(self) -> tuple[tuple[float, Difference], ...]:
        """Radius [mm], and what a folded board makes against the section wanted there; none for other constructions."""
        if self.blade.fold is None:
            return ()
        radii = self.blade.breaks().tolist()
        pairs = zip(self.blade.wanted().stations(radii), self.blade.stations(radii), strict=True)
        return tuple((made.r_mm, difference(wanted.section, made.section)) for wanted, made in pairs)

    @cached_property
    def rib_places(self) -> tuple[RibPlace, ...]:
        """Where ribs stand."""
        return rib_places(self.design)

    @cached_property
    def spar_routes(self) -> dict[str, Route]:
        """Each spar's line."""
        return spar_routes(self.design, self.blade)

    @cached_property
    def channel_routes(self) -> dict[str, Route]:
        """Each channel's line."""
        return channel_routes(self.design, self.blade)

    @cached_property
    def doubler_places(self) -> tuple[DoublerPlace, ...]:
        """Which rib each doubler is glued to."""
        return doubler_places(self.design, self.rib_places)

    @cached_property
    def layout(self) -> Layout:
        """The blade laid out: what nearly all its parts are drawn from. Doublers that don't fit are left out of it."""
        doublers: tuple[DoublerPlace, ...] = ()
        with suppress(MakeError):  # it is told by `doubler_places`; the rest can be judged without them
            doublers = self.doubler_places
        return replace(self._lines, ribs=self.rib_places, doublers=doublers)

    @cached_property
    def _lines(self) -> Layout:
        """What runs along the blade, without ribs."""
        return Layout(
            design=self.design,
            blade=self.blade,
            ribs=(),
            doublers=(),
            spars=self.spar_routes,
            channels=self.channel_routes,
            cover=construction(self.design).cover,
            tol=self.tol,
        )

    @cached_property
    def bare_ribs(self) -> tuple[Blank, ...]:
        """Every rib's edge with the holes of spars and channels, before the caps' screws are known."""
        return blanks(self.layout, self.layout.ribs)

    # Caps and hub

    @cached_property
    def root_face(self) -> RootFace:
        """What caps and hub need to know of the blade's inner end."""
        return root_face(self.design, self.layout, self.bare_ribs[0])

    @cached_property
    def seat(self) -> Seat:
        """Where the fixed cap meets the hub."""
        return seat(self.design, self.root_face)

    @cached_property
    def pattern(self) -> PitchPattern:
        """The index holes."""
        return pitch_pattern(self.design, self.root_face, seat=self.seat)

    @cached_property
    def root(self) -> Root:
        """What holds one blade to the hub."""
        return Root(self.design, self.root_face, self.seat, self.pattern)

    @cached_property
    def caps(self) -> tuple[Part, Part]:
        """Turning cap and fixed cap."""
        turning, fixed = self._finished(caps(self.root).read().parts)
        return turning, fixed

    @cached_property
    def hub_spec(self) -> HubSpec:
        """The hub in figures."""
        return hub_spec(self.design, self.root_face, seat=self.seat)

    # Ribs and what is made by them

    @cached_property
    def blanks(self) -> tuple[Blank, ...]:
        """Every rib's edge and holes, the screws of cap and fittings included."""
        root, *others = self.bare_ribs
        fixing = [Opening("pitch.fixing", loop) for loop in fixing_holes(self.design, self.root_face)]
        screwed = with_screws(root, fixing), *others
        return tuple(with_screws(blank, mount_openings(self.layout, blank)) for blank in screwed)

    @cached_property
    def doubler_blanks(self) -> tuple[Blank, ...]:
        """Each doubler's edge and holes."""
        return doubler_blanks(self.layout, self.blanks)

    @cached_property
    def footing(self) -> Footing | None:
        """What the ribs' feet stand on; None where they get none."""
        return footing(self.design, self.blanks)

    @cached_property
    def ribs(self) -> tuple[Part, ...]:
        """Ribs as they are cut: lightened, on their feet, lettered; with what is to be sanded where."""
        sand = fit_notes(self.layout, self.bare_ribs)
        bare = ribs(self.layout, self.blanks).read().parts
        noted = [replace(rib, notes=(*rib.notes, sand[rib.key])) if rib.key in sand else rib for rib in bare]
        return self._finished(on_feet(self.design, noted, self.footing))

    def _finished(self, parts: Iterable[Part]) -> tuple[Part, ...]:
        clockwise, units = self.design.rotor.turn == "clockwise", self.design.units
        return tuple(finished(part, clockwise=clockwise, units=units) for part in parts)

    @cached_property
    def aids(self) -> tuple[Part, ...]:
        """What is made to build by, and stays on the bench: jig board, gauges, a hot wire's templates."""
        design, ribs = self.design, self.blanks
        cuts = construction(design).wire_cuts(self.layout)
        made = together((boards(design, ribs, self.footing), gauges(design, ribs, self.footing, tol=self.tol)))
        return (*made.read().parts, *wire_templates(design, cuts, self.tol))

    # What runs along the blade

    @cached_property
    def covered(self) -> Made:
        """What the construction makes of sheet, strips, film and foam, and what it is joined to."""
        edges: tuple[Blank, ...] = ()
        with suppress(MakeError):  # `blanks` tells of it; panels can be judged without them
            edges = self.blanks
        return construction(self.design).made(self.layout, edges)

    @cached_property
    def covering(self) -> tuple[Part, ...]:
        """Skin, sheeting or board, strips along nose and tail, cap strips, film, a foam core."""
        return self._finished(self.covered.read().parts)

    @property
    def skins(self) -> tuple[Part, ...]:
        """Skin, sheeting or board, laid flat."""
        sheets = Role.SKIN, Role.SHEETING, Role.FOLDED_SKIN
        return tuple(part for part in self.covering if part.role in sheets)

    @cached_property
    def spars(self) -> tuple[Part, ...]:
        """Spars, their webs and what joins them."""
        wrong = spar_faults(self.layout)
        return together((Made(faults=wrong), spars(self.layout, faults=wrong))).read().parts

    # All parts

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """Every different part of one blade and of the hub, and the aids to build by."""
        design, hub = self.design, self.hub_spec
        floor_z = hub.floor - hub.axis_height
        frame = (
            *self.ribs,
            *doublers(self.layout, self.doubler_blanks).parts,
            *self.covering,
            *self.spars,
            *tips(self.layout).read().parts,
        )
        made = (
            *frame,
            *wires(self.layout).read().parts,
            *glue(design, self.blanks, frame),
            *self.caps,
            *small_parts(self.root, hub).read().parts,
            *mounts(self.layout, self.blanks).parts,
            *fittings(design, self.layout, floor_z_mm=floor_z).parts,
            *hub_part(self.root, hub).read().parts,
            *self.aids,
        )
        return self._finished(made)

    @cached_property
    def order(self) -> tuple[Step, ...]:
        """The order of work."""
        return order_of_work(self.design, self.parts)

    @property
    def flat_parts(self) -> tuple[Part, ...]:
        """Parts that are cut."""
        return tuple(part for part in self.parts if isinstance(part.shape, Flat))

    @property
    def printed_parts(self) -> tuple[Part, ...]:
        """Parts that are printed: the hub, and the caps, which can be."""
        return tuple(part for part in self.parts if isinstance(part.shape, Solid) or part.role.endswith(" cap"))

    @property
    def cache(self) -> Cache:
        """Where solids and files are kept."""
        return cache_in(self.keep)

    @cached_property
    def solids(self) -> dict[str, SolidProperties]:
        """What the exact solid of each printed part holds, by its name."""
        return {name: properties(shape, self.cache) for name, shape in self._printed.items()}

    @cached_property
    def meshes(self) -> dict[str, Mesh]:
        """The mesh of each printed part, by its name; made, or found where it was kept."""
        return {name: mesh_of(shape, self.cache, self.tol, name) for name, shape in self._printed.items()}

    @property
    def _printed(self) -> dict[str, Solid | Flat]:
        shapes = {part.name: part.shape for part in self.printed_parts}
        return {name: shape for name, shape in shapes.items() if isinstance(shape, Solid | Flat)}

    # What it weighs, and what that asks for

    @cached_property
    def mass(self) -> MassStatement:
        """Mass statement of a blade and the craft."""
        return weigh(self.parts, self.design, self.solids)

    @cached_property
    def air(self) -> Air:
        """The air of the design's duty."""
        duty = self.design.duty
        return air(duty.air.height * 1e-3, duty.air.temperature)

    @cached_property
    def lifts(self) -> tuple[MeanLift, ...]:
        """Mean lift at the low, typical and high mass to lift."""
        design = self.design
        r, chord = planform(design, self.blade)
        masses = self.mass.craft.lift_g
        return tuple(
            mean_lift(
                r,
                chord,
                design.rotor.blades,
                grams,
                design.duty.lift_coefficient,
                self.air.density_kg_m3,
                design.rotor.coning,
            )
            for grams in (masses.low, masses.typical, masses.high)
        )

    @cached_property
    def load_path(self) -> LoadPath:
        """What holds one blade in, at the highest speed."""
        return load_path(self.mass.lines, f"blade.spar.{self.design.main_spar}", self.design.duty.rpm_max)

    # Judging it

    def check(self) -> None:
        """Draw everything that needs no solid.

        raises : MakeError with every fault that could be found, each once
        """
        straying_paths: set[str] = set()
        faults: list[Fault] = []

        def gather(step: Callable[[], Any]) -> None:
            try:
                step()
            except MakeError as error:
                faults.extend(fault for fault in error.faults if fault.path not in straying_paths)

        gather(lambda: self.blade)
        if faults:
            raise MakeError(faults)
        lost = straying(self._lines)
        straying_paths.update(fault.path for fault in lost)
        for name in STEPS:
            gather(partial(getattr, self, name))
        made = self.__dict__.keys()
        if "bare_ribs" in made and "blanks" not in made:  # no screws, so no ribs: judge them without
            thin = thin_places(self.design, self.bare_ribs)
            faults.extend(fault for fault in thin if fault.path not in straying_paths)
        faults = [*lost, *faults]
        if faults:
            raise MakeError(dict.fromkeys(faults))

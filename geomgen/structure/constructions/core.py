"""A solid foam core cut by hot wire, under film or tape."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from geomgen.blade.cover import Cover
from geomgen.design.schema import Core, Design
from geomgen.model.layout import Layout
from geomgen.model.made import Made, together
from geomgen.model.role import Role
from geomgen.model.step import Phase, Task
from geomgen.structure.building import Bench, corded, filmed, on_tubes
from geomgen.structure.construction import Construction
from geomgen.structure.covers.contacts import sealed, sealed_on
from geomgen.structure.covers.film import Film, films
from geomgen.structure.covers.foam_core import core_keys, cores, on_ribs, wire_cuts
from geomgen.structure.covers.hot_wire import WireCut
from geomgen.structure.ribs.blank import Blank


@dataclass(frozen=True)
class CoreBlade(Construction):
    """A blade of foam between end plates."""

    design: Design
    built: Core

    def cover(self, r_mm: float) -> Cover:
        """The film, if any."""
        film = self.design.sheet(self.built.cover).thickness if self.built.cover else 0.0
        return Cover(film, film)

    def made(self, layout: Layout, ribs: Sequence[Blank]) -> Made:
        """Film, then foam."""
        built, joints = self.built, list(on_ribs(layout, ribs))
        film = Film(built.cover, "blade.construction.cover", built.overlap) if built.cover is not None else None
        if film is not None:
            joints += [*sealed(film, ribs), *sealed_on(film, core_keys(layout))]
        return together(films(layout, film), cores(layout, built), Made(joints=tuple(joints)))

    def tasks(self, have: Bench) -> Iterator[Task]:
        """Foam cut and slit, set between the ribs, then its film."""
        foam, ribs, through = have.of(Role.CORE), have.of(Role.RIB), have.threaded
        does = (
            "Pin both templates to the ends of each block, their level lines along its flat underside, as high above "
            "it as its note says; cut with the wire held to equal numbers on both."
        )
        fumes = "Hot wire gives off styrene: outdoors or with strong extraction, gloves, nobody alone."
        yield Task(Phase.PREPARE, does, (*foam, *have.of(Role.WIRE_TEMPLATE)), fumes)
        lain = "spars and wires" if have.of(Role.WIRE) else "spars"
        does = f"Slit each piece of foam from below as far as the rings on its templates, for {lain}."
        yield Task(Phase.PREPARE, does, foam)
        yield from have.at(Phase.PREPARE)
        yield Task(Phase.THREAD, "Thread the ribs on the round spar, each to its place.", (*ribs, *through))
        gauges = have.of(Role.GAUGE)
        told = "in its gauge" if gauges else "by its angle to the table"
        tubes, caution = on_tubes(have)
        does = (
            "Set the foam between the ribs, its slit over the spar; glue foam, ribs and spar on a flat table, each "
            f"piece in its offcuts, which lie level and set the twist: check each rib {told}.{tubes}"
        )
        angles = () if gauges else have.angles
        yield Task(Phase.CLOSE, does, (*foam, *ribs, *through, *gauges), caution, angles=angles)
        yield from corded(have, "before the slits are closed for good")
        yield Task(Phase.CLOSE, "Close the slits with what came out.", foam)
        if self.built.cover is not None:
            yield from filmed(have, self.built.overlap)

    def wire_cuts(self, layout: Layout) -> tuple[WireCut, ...]:
        """Both ends of every piece of foam."""
        return wire_cuts(layout, self.built)


BUILDS = Core, CoreBlade

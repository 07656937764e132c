"""A solid foam core cut by hot wire, under film or tape."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from geomgen.blade.cover import Cover
from geomgen.blade.rib_places import sheet_mm
from geomgen.design.schema import Core, Design
from geomgen.model.layout import Layout
from geomgen.model.made import Made, together
from geomgen.structure.construction import Construction
from geomgen.structure.covers.contacts import sealed, sealed_on
from geomgen.structure.covers.core import core_keys, cores, on_ribs, wire_cuts
from geomgen.structure.covers.film import Film, films
from geomgen.structure.covers.hot_wire import WireCut
from geomgen.structure.ribs.blank import Blank


@dataclass(frozen=True)
class CoreBlade(Construction):
    """A blade of foam between end plates."""

    design: Design
    built: Core

    def cover(self, r_mm: float) -> Cover:
        """The film, if any."""
        film = sheet_mm(self.design, self.built.cover) if self.built.cover else 0.0
        return Cover(film, film)

    def made(self, layout: Layout, ribs: Sequence[Blank]) -> Made:
        """Film, then foam."""
        built, joints = self.built, list(on_ribs(layout, ribs))
        film = Film(built.cover, "blade.construction.cover", built.overlap) if built.cover is not None else None
        if film is not None:
            joints += [*sealed(film, ribs), *sealed_on(film, core_keys(layout))]
        return together([films(layout, film), cores(layout, built), Made(joints=tuple(joints))])

    def wire_cuts(self, layout: Layout) -> tuple[WireCut, ...]:
        """Both ends of every piece of foam."""
        return wire_cuts(layout, self.built)


BUILDS = Core, CoreBlade

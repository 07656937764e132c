"""An open frame under film: spars and webs carry."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from geomgen.blade.cover import Cover
from geomgen.design.schema import Covered, Design
from geomgen.model.layout import Layout
from geomgen.model.made import Made, together
from geomgen.model.step import Task
from geomgen.structure.building import Bench, filmed, framed, lifted
from geomgen.structure.construction import Construction
from geomgen.structure.covers.contacts import sealed, sealed_on
from geomgen.structure.covers.film import Film, films
from geomgen.structure.covers.panel import width_mm
from geomgen.structure.ribs.blank import Blank
from geomgen.structure.strips.edge_strips import edge_strips, nose_and_tail


@dataclass(frozen=True)
class CoveredBlade(Construction):
    """A blade under film alone."""

    design: Design
    built: Covered

    def cover(self, r_mm: float) -> Cover:
        """The film, and the strips along the edges."""
        return Cover(self._film_mm, self._film_mm, None, width_mm(self.built.nose), width_mm(self.built.tail))

    def made(self, layout: Layout, ribs: Sequence[Blank]) -> Made:
        """Strips along the edges, then film."""
        built = self.built
        strips = nose_and_tail(built.nose, built.tail, depth_mm=self._film_mm)
        film = Film(built.stock, "blade.construction.stock", built.overlap, built.scallop)
        joints = (*sealed(film, ribs), *sealed_on(film, [strip.key for strip in strips]))
        return together(edge_strips(layout, strips, ribs), films(layout, film), Made(joints=joints))

    def tasks(self, have: Bench) -> Iterator[Task]:
        """A frame, then its film."""
        yield from framed(have, "plane them to the section, ribs as the guide")
        yield from lifted(have)
        yield from filmed(have, self.built.overlap)

    @property
    def _film_mm(self) -> float:
        return self.design.sheet(self.built.stock).thickness


BUILDS = Covered, CoveredBlade

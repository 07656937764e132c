"""What every construction does, behind one protocol; each is a module of `constructions`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol

from geomgen.blade.cover import Cover
from geomgen.design.schema import Half
from geomgen.model.joint import Key
from geomgen.model.layout import Layout
from geomgen.model.made import Made
from geomgen.model.step import Task
from geomgen.structure.building import Bench
from geomgen.structure.covers.hot_wire import WireCut
from geomgen.structure.ribs.blank import Blank


class Construction(Protocol):
    """How one design's blade is built."""

    def cover(self, r_mm: float) -> Cover:
        """What lies over the ribs at a radius [mm]."""
        ...

    def sheet_over(self, half: Half, r_mm: float, chord_share: float) -> Key | None:
        """The sheet over a place of the ribs' edges; None under film, in foam, and where nothing lies over it.

        r_mm, chord_share : the place along the blade [mm] and along the chord from the nose [-]
        """
        return None

    def made(self, layout: Layout, ribs: Sequence[Blank]) -> Made:
        """Panels of sheet, strips, film and foam, in this order, with where they touch one another and the ribs.

        ribs : every rib's edge; none where they can't be drawn, and then panels, film and foam alone
        """
        ...

    def tasks(self, have: Bench) -> Iterator[Task]:
        """How it is built of its parts and spars, in order."""
        ...

    def wire_cuts(self, layout: Layout) -> tuple[WireCut, ...]:
        """Cuts of a hot wire, each along a template.

        raises : MakeError where there is no room for its pins
        """
        return ()

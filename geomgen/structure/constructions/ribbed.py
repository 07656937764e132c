"""Ribs under a thin skin, in one piece round the nose or as two panels that meet on a strip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from geomgen.blade.blade import Blade
from geomgen.blade.cover import Cover
from geomgen.blade.rib_places import RibPlace
from geomgen.design.schema import Design, EdgeStock, Half, Ribbed, Skin
from geomgen.figures import mm
from geomgen.model.joint import Key
from geomgen.model.layout import Layout
from geomgen.model.made import Made, together
from geomgen.model.role import Role
from geomgen.model.step import Task
from geomgen.structure.building import PROUD, TAIL, Bench, framed, sheeted
from geomgen.structure.construction import Construction
from geomgen.structure.covers.contacts import glued, seamed
from geomgen.structure.covers.panel import Panel, named, seam, tail_note, whole_or_halves, width_mm
from geomgen.structure.covers.piece import piece
from geomgen.structure.ribs.blank import Blank
from geomgen.structure.strips.edge_strips import edge_strips, nose_and_tail


@dataclass(frozen=True)
class RibbedBlade(Construction):
    """A blade under [blade.skin.*]."""

    design: Design
    built: Ribbed

    def cover(self, r_mm: float) -> Cover:
        """The skin there, none between runs, and the strips along the edges."""
        name = self._skin(r_mm)
        depth = self.design.sheet(self.design.blade.skin[name].stock).thickness if name is not None else 0.0
        return Cover(depth, depth, nose_mm=width_mm(self._strip), tail_mm=width_mm(self.built.tail))

    def sheet_over(self, half: Half, r_mm: float, chord_share: float) -> Key | None:
        """The skin there."""
        name = self._skin(r_mm)
        return (
            Key(Role.SKIN, f"blade.skin.{name}", () if self.built.pattern == "wrap" else (half,))
            if name is not None
            else None
        )

    def made(self, layout: Layout, ribs: Sequence[Blank]) -> Made:
        """Skins, then strips."""
        panels = tuple(self._panels(layout.blade, layout.ribs))
        joints = (*glued(panels, ribs), *(seamed(panels, ribs) if self.built.tail is None else ()))
        both = Role.NOSE_STRIP, Role.TAIL_STRIP
        strips = nose_and_tail(self._strip, self.built.tail, nose_key="strip", sheets=panels, held=both)
        made = [*(piece(layout, panel) for panel in panels), edge_strips(layout, strips, ribs)]
        return together(*made, Made(joints=joints))

    def tasks(self, have: Bench) -> Iterator[Task]:
        """A frame, then its skin."""
        reach = "the tail strip" if self.built.tail is not None else TAIL
        yield from framed(have, PROUD)
        yield from sheeted(have, first=self.built.first, reach=reach, seam_mm=self.built.seam)

    @property
    def _strip(self) -> EdgeStock | None:
        return self.built.strip if self.built.pattern == "panels" else None

    def _skin(self, r_mm: float) -> str | None:
        """Which of the skin's runs lies at a radius [mm]."""
        ends = {name: (self.design.r(run.from_), self.design.r(run.to)) for name, run in self.design.blade.skin.items()}
        return next((name for name, (low, high) in ends.items() if low - 1e-6 <= r_mm <= high + 1e-6), None)

    def _panels(self, blade: Blade, ribs: Sequence[RibPlace]) -> Iterator[Panel]:
        for name, run in self.design.blade.skin.items():
            for halves in whole_or_halves(self.built.pattern == "wrap"):
                yield self._panel(name, run, halves, blade, ribs)

    def _panel(self, name: str, run: Skin, halves: tuple[Half, ...], blade: Blade, ribs: Sequence[RibPlace]) -> Panel:
        built, sheet = self.built, self.design.sheet(run.stock)
        start, end = self.design.r(run.from_), self.design.r(run.to)
        tail = tail_note(blade, (start, end), sheet.thickness, built.tail)
        return Panel(
            name=named(f"skin {name}", halves),
            role=Role.SKIN,
            stock=run.stock,
            path=f"blade.skin.{name}",
            from_mm=start,
            to_mm=end,
            halves=halves,
            neutral=sheet.neutral,
            nose_mm=width_mm(self._strip),
            tail_mm=width_mm(built.tail),
            beyond=seam(halves, built.first, 0.0 if built.tail else built.seam),
            bevelled=built.tail is None,
            notes=(*_loose_ends((start, end), ribs), tail),
        )


def _loose_ends(ends: tuple[float, float], ribs: Sequence[RibPlace]) -> list[str]:
    """Notes on ends of a skin that lie on no rib."""
    held = [any(abs(rib.r_mm - end) <= rib.thickness_mm / 2 + 1e-6 for rib in ribs) for end in ends]
    return [f"its end at r {mm(end, 1)} lies on no rib" for end, rib in zip(ends, held, strict=True) if not rib]


BUILDS = Ribbed, RibbedBlade

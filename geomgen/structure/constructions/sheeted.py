"""Balsa sheet over ribs, all round or as a box round the nose, with cap strips and film behind it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from geomgen.blade.blade import Blade
from geomgen.blade.cover import Cover
from geomgen.design.schema import Design, Half, Sheeted
from geomgen.model.joint import Key
from geomgen.model.layout import Layout
from geomgen.model.made import NOTHING, Made, together
from geomgen.model.role import Role
from geomgen.model.step import Task
from geomgen.structure.building import PROUD, TAIL, Bench, filmed, framed, sheeted
from geomgen.structure.construction import Construction
from geomgen.structure.covers.contacts import glued, sealed, sealed_on, seamed
from geomgen.structure.covers.film import Film, films
from geomgen.structure.covers.panel import Panel, named, seam, tail_note, whole_or_halves, width_mm
from geomgen.structure.covers.piece import piece
from geomgen.structure.ribs.blank import Blank
from geomgen.structure.strips.cap_strips import cap_strips
from geomgen.structure.strips.edge_strips import edge_strips, nose_and_tail

STOCK = "blade.construction.stock"


@dataclass(frozen=True)
class SheetedBlade(Construction):
    """A blade under sheet."""

    design: Design
    built: Sheeted

    def cover(self, r_mm: float) -> Cover:
        """Sheet and film, and behind the sheet cap strips and film."""
        built, film = self.built, self._film_mm
        ahead = self.design.sheet(built.stock).thickness + film
        ends = width_mm(built.nose), width_mm(built.tail)
        if built.to is None:
            return Cover(ahead, ahead, None, *ends)
        behind = film + (self.design.sheet(built.caps.stock).thickness if built.caps else 0.0)
        return Cover(ahead, behind, built.to, *ends)

    def sheet_over(self, half: Half, r_mm: float, chord_share: float) -> Key | None:
        """The sheet, as far aft as it goes."""
        if self.built.to is not None and chord_share >= self.built.to:
            return None
        return Key(Role.SHEETING, STOCK, () if self.built.nose is None else (half,))

    def made(self, layout: Layout, ribs: Sequence[Blank]) -> Made:
        """Sheeting, strips along the edges, cap strips, film."""
        built, panels = self.built, tuple(self._panels(layout.blade))
        held = (Role.NOSE_STRIP,) if self._ends_ahead else (Role.NOSE_STRIP, Role.TAIL_STRIP)
        strips = nose_and_tail(built.nose, built.tail, depth_mm=self._film_mm, sheets=panels, held=held)
        caps = cap_strips(layout, built.caps, ribs) if self._ends_ahead and built.caps is not None else NOTHING
        joints = [*glued(panels, ribs), *(seamed(panels, ribs) if self._meets_at_tail else ())]
        film = Film(built.cover, "blade.construction.cover", built.overlap) if built.cover is not None else None
        if film is not None:
            beneath = [*(panel.key for panel in panels), *(s.key for s in strips), *(cap.key for cap in caps.parts)]
            joints += sealed_on(film, beneath)
            joints += sealed(film, ribs, behind_sheet=True) if self._ends_ahead and built.caps is None else ()
        made = [*(piece(layout, panel) for panel in panels), edge_strips(layout, strips, ribs), caps]
        return together(*made, films(layout, film), Made(joints=tuple(joints)))

    def tasks(self, have: Bench) -> Iterator[Task]:
        """A frame, then its sheet, cap strips and film."""
        built = self.built
        reach = TAIL if self._meets_at_tail else "its end" if self._ends_ahead else "the tail strip"
        yield from framed(have, PROUD)
        yield from sheeted(have, first=built.first, reach=reach, seam_mm=built.seam)
        if built.cover is not None:
            yield from filmed(have, built.overlap)

    @property
    def _ends_ahead(self) -> bool:
        """Whether the sheet ends ahead of the tail."""
        return self.built.to is not None

    @property
    def _meets_at_tail(self) -> bool:
        """Whether upper and lower sheet are glued on one another at the tail."""
        return not self._ends_ahead and self.built.tail is None

    @property
    def _film_mm(self) -> float:
        return self.design.sheet(self.built.cover).thickness if self.built.cover else 0.0

    def _panels(self, blade: Blade) -> Iterator[Panel]:
        built, ends, sheet = self.built, (blade.root_mm, blade.radius_mm), self.design.sheet(self.built.stock)
        notes = () if self._ends_ahead else (tail_note(blade, ends, sheet.thickness, built.tail),)
        for halves in whole_or_halves(built.nose is None):
            yield Panel(
                name=named("sheeting", halves),
                role=Role.SHEETING,
                stock=built.stock,
                path=STOCK,
                from_mm=ends[0],
                to_mm=ends[1],
                halves=halves,
                depth_mm=self._film_mm,
                neutral=sheet.neutral,
                nose_mm=width_mm(built.nose),
                to_share=built.to,
                tail_mm=width_mm(built.tail),
                beyond=seam(halves, built.first, built.seam) if self._meets_at_tail else (),
                bevelled=self._meets_at_tail,
                notes=notes,
            )


BUILDS = Sheeted, SheetedBlade

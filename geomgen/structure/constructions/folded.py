"""One foam board folded round formers and a spar."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from geomgen.blade.blade import Blade
from geomgen.blade.cover import Cover
from geomgen.design.schema import HALVES, Design, Folded, Half
from geomgen.figures import mm
from geomgen.model.joint import Key
from geomgen.model.layout import Layout
from geomgen.model.made import Made, together
from geomgen.model.role import Role
from geomgen.model.step import Phase, Task
from geomgen.structure.building import Bench, corded
from geomgen.structure.construction import Construction
from geomgen.structure.covers.contacts import glued, seamed
from geomgen.structure.covers.outline import Beyond
from geomgen.structure.covers.panel import Panel, tail_note
from geomgen.structure.covers.piece import piece
from geomgen.structure.ribs.blank import Blank

STOCK = "blade.construction.stock"


@dataclass(frozen=True)
class FoldedBlade(Construction):
    """A blade of one board."""

    design: Design
    built: Folded

    def cover(self, r_mm: float) -> Cover:
        """The board."""
        board = self.design.sheet(self.built.stock).thickness
        return Cover(board, board)

    def sheet_over(self, half: Half, r_mm: float, chord_share: float) -> Key | None:
        """The board."""
        return Key(Role.FOLDED_SKIN, STOCK)

    def made(self, layout: Layout, ribs: Sequence[Blank]) -> Made:
        """The board."""
        panel = self._panel(layout.blade)
        joints = (*glued([panel], ribs), *seamed([panel], ribs))
        return together(piece(layout, panel), Made(joints=joints))

    def tasks(self, have: Bench) -> Iterator[Task]:
        """Folded dry, laid open, filled and closed."""
        other = "outside" if self.built.score == "inside" else "inside"
        board, gauges = have.of(Role.FOLDED_SKIN), have.of(Role.GAUGE)
        does = (
            f"Score the fold lines on the {self.built.score}; the paper {other} stays whole. Peel the inside paper "
            "between the nose's lines and roll the foam over a rod; bevel the tail inside. Fold it dry once."
        )
        yield Task(Phase.PREPARE, does, board, "A sharp blade slips off foam board: cut away from the hand.")
        yield from have.at(Phase.PREPARE)
        where = "in its gauges on a flat table" if gauges else "on a flat table"
        does = (
            f"Lay the board open, lower side down, {where}; thread the formers on the round spar, and glue formers and "
            "spars on their lines on the lower side."
        )
        yield Task(Phase.THREAD, does, (*have.of(Role.RIB), *have.of(Role.SPAR), *gauges))
        yield from have.at(Phase.WEB)
        yield from corded(have, "before the board is closed")
        twist = (
            "check the twist in the gauges and leave it there"
            if gauges
            else "turn it until each former's chord line stands at its angle to the table, which sets the twist, and "
            "hold it so"
        )
        does = (
            f"Fold the upper side over formers and spar, glue the tail, lap the paper round it; {twist} until it has "
            "set."
        )
        yield Task(Phase.CLOSE, does, (*board, *gauges), angles=() if gauges else have.angles)

    def _panel(self, blade: Blade) -> Panel:
        built, ends = self.built, (blade.root_mm, blade.radius_mm)
        bevel = tail_note(blade, ends, self.design.sheet(built.stock).thickness, None)
        return Panel(
            name="folded skin",
            role=Role.FOLDED_SKIN,
            stock=built.stock,
            path=STOCK,
            from_mm=ends[0],
            to_mm=ends[1],
            halves=HALVES,
            neutral=0.0 if built.score == "inside" else 1.0,
            beyond=(Beyond("first", built.flap),) if built.flap > 0 else (),
            lapped=True,
            face=built.score,
            stagger_mm=built.stagger,
            bevelled=True,
            rolled=True,
            notes=(*_folds(built), bevel, *_flap(built)),
        )


def _folds(built: Folded) -> tuple[str, str]:
    paper = "outside" if built.score == "inside" else "inside"
    return (
        f"score the fold lines on the {built.score}, through paper and foam; the paper {paper} is left whole, and what "
        "is laid flat is that paper",
        f"between the two lines either side of the nose the inside paper is peeled and the foam rolled to "
        f"{mm(built.nose_radius)} outside radius",
    )


def _flap(built: Folded) -> tuple[str, ...]:
    if built.flap <= 0:
        return ()
    return (f"behind the upper tail line {mm(built.flap)} of paper, its foam peeled off, is lapped round the tail",)


BUILDS = Folded, FoldedBlade

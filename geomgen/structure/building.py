"""How a blade is built, as tasks that several constructions share: common practice of building in balsa and film."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from geomgen.design.schema import Design
from geomgen.model.joint import Key
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.model.step import Phase, Task


@dataclass(frozen=True)
class Bench:
    """What lies ready to build one blade of.

    design : the design
    parts  : the parts of one blade and its aids
    spars  : what is done with its spars, by phase
    """

    design: Design
    parts: Sequence[Part]
    spars: Sequence[Task]

    def of(self, *roles: Role) -> tuple[Key, ...]:
        """The parts of some roles."""
        return tuple(part.key for part in self.parts if part.role in roles)

    def at(self, *phases: Phase) -> tuple[Task, ...]:
        """What is done with spars at some phases, in words of its own."""
        return tuple(task for task in self.spars if task.phase in phases and task.does)

    @property
    def threaded(self) -> tuple[Key, ...]:
        """Spars that go through the holes of ribs."""
        return tuple(key for task in self.spars if task.phase is Phase.THREAD for key in task.keys)

    @property
    def joined(self) -> tuple[Key, ...]:
        """Panels that are made up of more sheets than one."""
        return tuple(part.key for part in self.parts if part.facts.get("sheets", 0.0) > 1)

    @property
    def on_feet(self) -> bool:
        """Whether ribs stand on feet."""
        return self.design.blade.jig is not None and self.design.blade.jig.foot is not None


def framed(have: Bench, edges: str) -> Iterator[Task]:
    """The frame: ribs stood up with what goes through them, spars glued in, strips along nose and tail.

    edges : what is done with the strips once they are glued
    """
    ribs = (*have.of(Role.RIB), *have.threaded)
    if joined := have.joined:
        does = "Join the sheets of each skin on a flat board, along the lines that are drawn to look at."
        yield Task(Phase.PREPARE, does, joined)
    yield from have.at(Phase.PREPARE)
    jig = have.design.blade.jig
    if have.on_feet and jig is not None:
        down = "upside down, " if jig.side == "upper" else ""
        does = "Lay the jig board on a flat table and fix it; paper or wax over its lines keeps glue off."
        yield Task(Phase.THREAD, does, have.of(Role.JIG_BOARD))
        does = (
            f"Stand the ribs {down}with their feet in the slots, root side to the root; thread the round spar, and "
            "what else goes through holes, before any glue."
        )
        yield Task(Phase.THREAD, does, ribs)
    else:
        yield Task(Phase.THREAD, "Thread the ribs on the round spar over a flat table, each to its place.", ribs)
    yield from have.at(Phase.SLOT, Phase.LET_IN)
    yield Task(Phase.LET_IN, "Glue ribs and spars; let it set before anything is lifted.", ribs)
    yield from have.at(Phase.LAY, Phase.WEB)
    if strips := have.of(Role.NOSE_STRIP, Role.TAIL_STRIP):
        yield Task(Phase.CLOSE, f"Glue the strips along nose and tail; {edges}.", strips)
    if have.of(Role.WIRE):
        does = "Draw a cord through every channel, and try the largest plug, while the ribs are still open."
        yield Task(Phase.CLOSE, does, ())


def lifted(have: Bench) -> Iterator[Task]:
    """The blade off its board, where it stands on one."""
    if have.on_feet:
        does = "Lift the blade off the board and turn it; cut the feet off along their lines and sand the edge true."
        yield Task(Phase.CLOSE, does, (), "Dust of wood and ply: a mask.")


def filmed(have: Bench, overlap_mm: float) -> Iterator[Task]:
    """Film ironed on and shrunk."""
    gauges = have.of(Role.GAUGE)
    held = "in its gauges" if gauges else "flat"
    yield Task(
        Phase.CLOSE,
        f"Cover the lower side, then the upper, {overlap_mm:g} mm of overlap at nose and tail.",
        have.of(Role.FILM),
        "A hot iron burns, and film gives off fumes: air the room. Polystyrene sinks away under heat: try a scrap.",
    )
    does = (
        f"Shrink it a little at a time, upper and lower in turn, the blade held {held}: film that is shrunk on one "
        "side first twists the blade."
    )
    yield Task(Phase.CLOSE, does, gauges)


PROUD = "leave them proud of the ribs: they are planed when the sheet lies beside them"


TAIL = "the tail"


def sheeted(have: Bench, *, first: str, reach: str, seam_mm: float) -> Iterator[Task]:
    """Sheet over a frame, one half after the other, then cap strips and the strips along the edges.

    first   : the half that is glued on first
    reach   : how far; `TAIL` where both halves meet there, and are closed
    seam_mm : how far the first half stands beyond it then [mm]
    """
    panels = [part for part in have.parts if part.role in (Role.SKIN, Role.SHEETING)]
    other, gauges = "lower" if first == "upper" else "upper", have.of(Role.GAUGE)
    one = not any(part.mark for part in panels)

    def of(half: str) -> tuple[Key, ...]:
        return tuple(part.key for part in panels if one or half in part.mark)

    if panels:
        does = (
            f"Glue the {first} half of the skin on while the ribs stand{' on the board' if have.on_feet else ''}, rib "
            f"lines on the ribs, from the {'nose' if one else 'strip'} to {reach}; weights until it has set."
            + (" The other half hangs free ahead of the nose." if one else "")
        )
        yield Task(Phase.CLOSE, does, of(first))
    yield from lifted(have)
    if panels:
        where = "in its gauges, which set the twist while the other half is closed" if gauges else "on foam"
        yield Task(Phase.CLOSE, f"Lay the blade on its {first} side {where}.", gauges)
        glued = f"Bend the {other} half round the nose and glue it" if one else f"Glue the {other} panel"
        closed = ", then bevel and close the tail" if reach == TAIL else ""
        trimmed = "; trim the first half's seam" if closed and seam_mm > 0 else ""
        yield Task(Phase.CLOSE, f"{glued}{closed}{trimmed}.", of(other))
    if caps := have.of(Role.CAP_STRIP):
        yield Task(Phase.CLOSE, "Glue the cap strips behind the sheet, flush with it.", caps)
    if edges := have.of(Role.NOSE_STRIP, Role.TAIL_STRIP):
        does = "Plane the strips along nose and tail to the section, flush with what lies beside them."
        yield Task(Phase.CLOSE, does, edges)

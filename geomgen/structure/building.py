"""How a blade is built, as tasks that several constructions share: common practice of building in balsa and film."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from geomgen.design.schema import Design, Half
from geomgen.figures import mm
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.part import Part
from geomgen.model.role import Assembly, Role
from geomgen.model.step import Phase, Task
from geomgen.structure.glue_kind import is_tube


@dataclass(frozen=True)
class Bench:
    """What lies ready to build of.

    design : the design
    parts  : the parts of one blade, those of the hub, and what they are built by
    joints : where they touch
    spars  : what is done with the blade's spars, by phase
    angles : each rib, and the angle of its chord line against the board [deg]
    below_hub_mm : how far the blades reach below the hub's underside [mm]
    marked : what stands beside the holes that take the pins at the pitch to fly at
    also_deg : pitches in the range, not asked for, at which the pins go in too [deg]
    has_card : whether a card says which holes take the pins at each pitch
    """

    design: Design
    parts: Sequence[Part]
    joints: Sequence[Joint]
    spars: Sequence[Task]
    angles: tuple[tuple[Key, float], ...]
    below_hub_mm: float
    marked: str
    also_deg: tuple[float, ...] = ()
    has_card: bool = False

    def of(self, *roles: Role) -> tuple[Key, ...]:
        """The parts of some roles."""
        return tuple(part.key for part in self.parts if part.role in roles)

    def bought(self, assembly: Assembly) -> tuple[Key, ...]:
        """The fittings of a blade, or of the hub."""
        return tuple(part.key for part in self.parts if part.role is Role.FITTING and part.assembly is assembly)

    def screws(self, *held: Role) -> tuple[Key, ...]:
        """The screws that hold parts of some roles."""
        places = {(joint.b, joint.path) for joint in self._screwed if joint.a.role in held}
        return tuple(one.a for one in self._screwed if one.a.role is Role.SCREW and (one.b, one.path) in places)

    @property
    def with_nuts(self) -> tuple[Key, ...]:
        """The screws that go through ribs, and so take a nut in the blade."""
        return tuple(one.a for one in self._screwed if one.a.role is Role.SCREW and one.b.role is Role.RIB)

    @property
    def _screwed(self) -> list[Joint]:
        return [joint for joint in self.joints if joint.bond is Bond.SCREWED]

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

    @property
    def stood_on(self) -> str:
        """What the ribs stand on."""
        return "board" if self.of(Role.JIG_BOARD) else "table"

    @property
    def cradled(self) -> Half:
        """The side that lies in the gauges."""
        blade = self.design.blade
        return blade.construction.closed_first(bool(blade.skin)) or "lower"


def framed(have: Bench, edges: str) -> Iterator[Task]:
    """The frame: ribs stood up with what goes through them, spars glued in, strips along nose and tail.

    edges : what is done with the strips once they are glued
    """
    ribs = (*have.of(Role.RIB), *have.threaded)
    if joined := have.joined:
        does = "Join the sheets of each skin on a flat board, along the lines that are drawn to look at."
        yield Task(Phase.PREPARE, does, joined)
    yield from have.at(Phase.PREPARE)
    yield from _on_feet(have, ribs) if have.on_feet else _over_a_table(have, ribs)
    yield from have.at(Phase.SLOT, Phase.LET_IN)
    tubes, caution = on_tubes(have)
    yield Task(Phase.LET_IN, f"Glue ribs and spars; let it set before anything is lifted.{tubes}", ribs, caution)
    yield from have.at(Phase.LAY, Phase.WEB)
    if strips := have.of(Role.NOSE_STRIP, Role.TAIL_STRIP):
        yield Task(Phase.CLOSE, f"Glue the strips along nose and tail; {edges}.", strips)
    yield from corded(have, "while the ribs are still open")


def on_tubes(have: Bench) -> tuple[str, str]:
    """What spars of carbon, glass or metal are glued with, a sentence to follow another, and its caution; "" where the
    design names no kind for them.
    """
    kind = have.design.glue.on_tube if have.design.glue is not None else None
    if kind is None or not any(part.role is Role.SPAR and is_tube(have.design, part.stock) for part in have.parts):
        return "", ""
    return (
        f" What sits on a tube or rod that isn't wood: with {kind}, the tube sanded and degreased first.",
        "Gloves on and the room aired while glue is wet; a mask where carbon or glass is sanded.",
    )


def _on_feet(have: Bench, ribs: tuple[Key, ...]) -> Iterator[Task]:
    """Ribs on their feet, which set the twist: in the jig board, or on the table where there is none."""
    jig = have.design.blade.jig
    down = "upside down, " if jig is not None and jig.side == "upper" else ""
    stood = "their feet on a flat table, each at its place along the spar"
    if boards := have.of(Role.JIG_BOARD):
        does = "Lay the jig board on a flat table and fix it; paper or wax over its lines keeps glue off."
        yield Task(Phase.THREAD, does, boards)
        stood = "their feet in the slots"
    does = (
        f"Stand the ribs {down}with {stood}, root side to the root; thread the round spar, and what else goes through "
        "holes, before any glue. The feet set the twist."
    )
    yield Task(Phase.THREAD, does, ribs)


def _over_a_table(have: Bench, ribs: tuple[Key, ...]) -> Iterator[Task]:
    """Ribs without feet: gauges set the twist, or the angle of each rib where there are none."""
    threaded = "Thread the ribs on the round spar over a flat table, each to its place, root side to the root"
    if gauges := have.of(Role.GAUGE):
        down = "upside down " if have.cradled == "upper" else ""
        does = (
            f"{threaded}. Stand each rib's gauge under it and lay the rib in it {down}on scraps of what will cover it: "
            "the gauges set the twist."
        )
        yield Task(Phase.THREAD, does, (*gauges, *ribs))
        return
    does = f"{threaded}, and pack it up until its chord line stands at its angle to the table, which sets the twist."
    yield Task(Phase.THREAD, does, ribs, angles=have.angles)


def corded(have: Bench, closing: str) -> Iterator[Task]:
    """A cord in every channel, to draw the wires in by.

    closing : until when it can be done
    """
    if have.of(Role.WIRE):
        yield Task(Phase.CLOSE, f"Draw a cord through every channel, and try the largest plug, {closing}.")


def lifted(have: Bench) -> Iterator[Task]:
    """The blade off its board, where it stands on one."""
    if have.on_feet:
        does = (
            f"Lift the blade off the {have.stood_on} and turn it; cut the feet off along their lines and sand the edge "
            "true."
        )
        yield Task(Phase.CLOSE, does, (), "Dust of wood and ply: a mask.")


def filmed(have: Bench, overlap_mm: float) -> Iterator[Task]:
    """Film ironed on and shrunk."""
    gauges = have.of(Role.GAUGE)
    held = "in its gauges" if gauges else "true to its twist"
    yield Task(
        Phase.CLOSE,
        f"Cover the lower side, then the upper, {mm(overlap_mm)} of overlap at nose and tail.",
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
PACKED = "on foam, packed up so that its twist stays as it is"


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
        stand = f"stand on the {have.stood_on}" if have.on_feet else "stand"
        does = (
            f"Glue the {first} half of the skin on while the ribs {stand}, rib lines on the ribs, from the "
            f"{'nose' if one else 'strip'} to {reach}; weights until it has set."
            + (" The other half hangs free ahead of the nose." if one else "")
        )
        yield Task(Phase.CLOSE, does, of(first))
    yield from lifted(have)
    if panels:
        where = "in its gauges, which set the twist while the other half is closed" if gauges else PACKED
        yield Task(Phase.CLOSE, f"Lay the blade on its {first} side {where}.", gauges)
        glued = f"Bend the {other} half round the nose and glue it" if one else f"Glue the {other} panel"
        closed = ", then bevel and close the tail" if reach == TAIL else ""
        trimmed = "; trim the first half's seam" if closed and seam_mm > 0 else ""
        yield Task(Phase.CLOSE, f"{glued}{closed}{trimmed}.", of(other))
    elif gauges:
        yield Task(Phase.CLOSE, "Lay the blade in its gauges: they tell whether its twist is true.", gauges)
    if caps := have.of(Role.CAP_STRIP):
        yield Task(Phase.CLOSE, "Glue the cap strips behind the sheet, flush with it.", caps)
    if edges := have.of(Role.NOSE_STRIP, Role.TAIL_STRIP):
        does = "Plane the strips along nose and tail to the section, flush with what lies beside them."
        yield Task(Phase.CLOSE, does, edges)

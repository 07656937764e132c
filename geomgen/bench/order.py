"""The order of work: what is cut, stood up, glued and closed when: a view of the parts there are, where they touch, and
what their makers say is to be done with them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from geomgen.design.schema import Core, Covered, Design, Folded, Ribbed, Sheeted
from geomgen.model.groups import is_cover
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.part import Part
from geomgen.model.role import Assembly, Role
from geomgen.model.step import Phase, Task

Keys = tuple[Key, ...]


@dataclass(frozen=True)
class Step:
    """One step.

    does    : what to do
    keys    : the parts it takes
    caution : what may hurt, or spoil the work; "" where nothing may
    """

    does: str
    keys: Keys = ()
    caution: str = ""


@dataclass(frozen=True)
class _Stock:
    """The parts of one blade and its aids, where they touch, and what is to be done with its spars."""

    parts: tuple[Part, ...]
    joints: tuple[Joint, ...]
    tasks: tuple[Task, ...]

    def of(self, *roles: Role) -> Keys:
        """The parts of some roles."""
        return tuple(part.key for part in self.parts if part.role in roles)

    def on_blade(self, role: Role) -> Keys:
        """The parts of a role that are on a blade."""
        return tuple(part.key for part in self.parts if part.role == role and part.assembly == Assembly.BLADE)

    @property
    def joined(self) -> Keys:
        """The skins that are made up of more sheets than one."""
        return self._among(
            joint.a
            for joint in self.joints
            if joint.a == joint.b and joint.bond == Bond.BUTTED and is_cover(joint.a.role)
        )

    @property
    def with_nuts(self) -> Keys:
        """The screws that go through ribs, and so take a nut in the blade."""
        through = [joint.a for joint in self.joints if joint.bond == Bond.SCREWED and joint.b.role == Role.RIB]
        return self._among(key for key in through if key.role == Role.SCREW)

    def taken_up(self, *phases: Phase) -> Keys:
        """The parts of spars that something is done to at some phases."""
        return self._among(key for task in self.tasks if task.phase in phases for key in task.keys)

    def steps(self, phase: Phase) -> Iterator[Step]:
        """What is done to spars at a phase."""
        return (Step(task.does, task.keys, task.caution) for task in self.tasks if task.phase == phase and task.does)

    def _among(self, keys: Iterable[Key]) -> Keys:
        """Some parts, each once, in the order of all parts."""
        some = set(keys)
        return tuple(part.key for part in self.parts if part.key in some)


def order_of_work(
    design: Design, parts: Sequence[Part], *, joints: Sequence[Joint], tasks: Sequence[Task]
) -> tuple[Step, ...]:
    """The steps of one blade, first to last: common practice of building in balsa, foam and board.

    joints : where parts touch
    tasks  : how spars are built in
    """
    have = _Stock(tuple(parts), tuple(joints), tuple(tasks))
    match design.blade.construction:
        case Folded() as folded:
            middle = _folded(folded, have)
        case Core() as core:
            middle = _core(core, have)
        case Ribbed() | Sheeted() | Covered():
            middle = _framed(design, have)
    return (*_before(design, have), *middle, *_after(have))


def _before(design: Design, have: _Stock) -> Iterator[Step]:
    yield Step(
        "Weigh every sheet and length before it is cut and write it down; choose alike ones for parts alike in all "
        f"{design.rotor.blades} blades."
    )
    yield Step(
        "Cut the flat parts. Inside cuts come before outside cuts.",
        caution="What a laser may cut stands with each part: foam and film take a knife. Fumes, fire, dust: "
        "extraction, somebody watching, a mask.",
    )
    if doublers := have.of(Role.DOUBLER):
        yield Step("Glue each doubler to its rib, holes in line on a rod.", doublers)
    if nuts := have.with_nuts:
        yield Step(
            "Glue the nuts behind their ribs, threads in line: nothing gets in there once they are closed.", nuts
        )


def _framed(design: Design, have: _Stock) -> Iterator[Step]:
    """Ribbed, sheeted and covered blades: a frame first, then what covers it."""
    jig = design.blade.jig
    feet = jig is not None and jig.foot is not None
    ribs, through, built = have.of(Role.RIB), have.taken_up(Phase.THREAD), design.blade.construction
    if have.joined:
        yield Step(
            "Join the sheets of each skin on a flat board, along the lines that are drawn to look at.", have.joined
        )
    yield from have.steps(Phase.PREPARE)
    if feet and jig is not None:
        down = "upside down, " if jig.side == "upper" else ""
        board = have.of(Role.JIG_BOARD)
        yield Step("Lay the jig board on a flat table and fix it; paper or wax over its lines keeps glue off.", board)
        yield Step(
            f"Stand the ribs {down}with their feet in the slots, root side to the root; thread the round spar, and "
            "what else goes through holes, before any glue.",
            (*ribs, *through),
        )
    else:
        yield Step("Thread the ribs on the round spar over a flat table, each to its place.", (*ribs, *through))
    yield from have.steps(Phase.SLOT)
    yield from have.steps(Phase.LET_IN)
    yield Step("Glue ribs and spars; let it set before anything is lifted.", (*ribs, *through))
    yield from have.steps(Phase.LAY)
    yield from have.steps(Phase.WEB)
    if edges := have.of(Role.NOSE_STRIP, Role.TAIL_STRIP):
        plane = (
            "plane them to the section, ribs as the guide"
            if isinstance(built, Covered)
            else "leave them proud of the ribs: they are planed when the sheet lies beside them"
        )
        yield Step(f"Glue the strips along nose and tail; {plane}.", edges)
    if have.of(Role.WIRE):
        yield Step("Draw a cord through every channel, and try the largest plug, while the ribs are still open.")
    yield from _closed(design, have, feet)


def _closed(design: Design, have: _Stock, feet: bool) -> Iterator[Step]:
    built = design.blade.construction
    off = "Lift the blade off the board and turn it; cut the feet off along their lines and sand the edge true."
    if isinstance(built, Covered):
        if feet:
            yield Step(off, caution="Dust of wood and ply: a mask.")
        yield from _filmed(have, built.overlap)
        return
    assert isinstance(built, Ribbed | Sheeted)
    skins, other = have.of(Role.SKIN, Role.SHEETING), "lower" if built.first == "upper" else "upper"
    if skins:
        one = not any(half in key.mark for key in skins for half in ("upper", "lower"))
        yield Step(
            f"Glue the {built.first} half of the skin on while the ribs stand{' on the board' if feet else ''}, rib "
            f"lines on the ribs, from the {'nose' if one else 'strip'} {_reach(built)}; weights until it has set."
            + (" The other half hangs free ahead of the nose." if one else ""),
            tuple(key for key in skins if one or built.first in key.mark),
        )
    if feet:
        yield Step(off, caution="Dust of wood and ply: a mask.")
    if skins:
        lay = f"Lay the blade on its {built.first} side"
        where = (
            "in its gauges, which set the twist while the other half is closed" if have.of(Role.GAUGE) else "on foam"
        )
        yield Step(f"{lay} {where}.", have.of(Role.GAUGE))
        glued = f"Bend the {other} half round the nose and glue it" if one else f"Glue the {other} panel"
        yield Step(f"{glued}{_closing(built)}.", tuple(key for key in skins if one or other in key.mark))
    if strips := have.of(Role.CAP_STRIP):
        yield Step("Glue the cap strips behind the sheet, flush with it.", strips)
    if edges := have.of(Role.NOSE_STRIP, Role.TAIL_STRIP):
        yield Step("Plane the strips along nose and tail to the section, flush with what lies beside them.", edges)
    if have.of(Role.FILM):
        yield from _filmed(have, getattr(built, "overlap", 0.0))


def _reach(built: Ribbed | Sheeted) -> str:
    if isinstance(built, Sheeted) and built.to is not None:
        return "to its end"
    return "to the tail strip" if built.tail is not None else "to the tail"


def _closing(built: Ribbed | Sheeted) -> str:
    """What is done at the tail when the second half goes on; nothing where no sheet reaches it."""
    if _reach(built) != "to the tail":
        return ""
    return ", then bevel and close the tail" + ("; trim the first half's seam" if built.seam > 0 else "")


def _filmed(have: _Stock, overlap_mm: float) -> Iterator[Step]:
    held = "in its gauges" if have.of(Role.GAUGE) else "flat"
    yield Step(
        f"Cover the lower side, then the upper, {overlap_mm:g} mm of overlap at nose and tail.",
        have.of(Role.FILM),
        "A hot iron burns, and film gives off fumes: air the room. Polystyrene sinks away under heat: try a scrap.",
    )
    yield Step(
        f"Shrink it a little at a time, upper and lower in turn, the blade held {held}: film that is shrunk on one "
        "side first twists the blade.",
        have.of(Role.GAUGE),
    )


def _folded(built: Folded, have: _Stock) -> Iterator[Step]:
    other = "outside" if built.score == "inside" else "inside"
    yield Step(
        f"Score the fold lines on the {built.score}; the paper {other} stays whole. Peel the inside paper between the "
        "nose's lines and roll the foam over a rod; bevel the tail inside. Fold it dry once.",
        have.of(Role.FOLDED_SKIN),
        "A sharp blade slips off foam board: cut away from the hand.",
    )
    yield from have.steps(Phase.PREPARE)
    where = "in its gauges on a flat table" if have.of(Role.GAUGE) else "on a flat table"
    yield Step(
        f"Lay the board open, lower side down, {where}; glue formers and spars on their lines on the lower side.",
        (*have.of(Role.RIB), *have.taken_up(Phase.THREAD, Phase.PREPARE)),
    )
    if have.of(Role.WIRE):
        yield Step("Draw a cord through every channel: nothing gets in once the board is closed.")
    yield Step(
        "Fold the upper side over formers and spar, glue the tail, lap the paper round it; check the twist in the "
        "gauges and leave it there until it has set.",
        (*have.of(Role.FOLDED_SKIN), *have.of(Role.GAUGE)),
    )


def _core(built: Core, have: _Stock) -> Iterator[Step]:
    yield Step(
        "Pin both templates to the ends of each block, their level lines along its flat underside, as high above it as "
        "its note says; cut with the wire held to equal numbers on both.",
        (*have.of(Role.CORE), *have.of(Role.WIRE_TEMPLATE)),
        "Hot wire gives off styrene: outdoors or with strong extraction, gloves, nobody alone.",
    )
    ribs, through = have.of(Role.RIB), have.taken_up(Phase.THREAD)
    yield Step("Slit each piece of foam from below as far as the rings on its templates, for spars and wires.")
    yield Step("Thread the ribs on the round spar, each to its place.", (*ribs, *through))
    yield Step(
        "Set the foam between the ribs, its slit over the spar; glue foam, ribs and spar on a flat table, each piece "
        "in its offcuts, which lie level; close the slits with what came out.",
        (*have.of(Role.CORE), *ribs, *through),
    )
    if have.of(Role.WIRE):
        yield Step("Try the largest plug through every channel before the slits are closed for good.")
    if built.cover is not None:
        yield from _filmed(have, built.overlap)


def _after(have: _Stock) -> Iterator[Step]:
    if tips := have.of(Role.TIP):
        yield Step("Glue the tip on and shape it to the section.", tips)
    yield Step("Screw the turning cap to the root rib.", have.of(Role.TURNING_CAP, Role.FIXED_CAP))
    if wires := have.of(Role.WIRE):
        yield Step("Draw the wires in; bend none tighter than its note says.", wires)
    if fittings := have.on_blade(Role.FITTING):
        yield Step("Fix what is bought for the blade, threads secured.", fittings)
    yield Step(
        "Weigh the blade and find where it balances, along and across. Match all blades before anything turns.",
        caution="A blade that comes off flies far: nothing turns before somebody who knows rotors has looked at it.",
    )

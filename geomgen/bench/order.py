"""The order of work: what is cut, stood up, glued and closed when: a view of the parts there are, where they touch, and
what their makers say is to be done with them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from geomgen.design.schema import Design
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.part import Part
from geomgen.model.role import Assembly, Role
from geomgen.model.step import Phase, Task
from geomgen.structure.building import Bench
from geomgen.structure.constructions import construction


def order_of_work(
    design: Design, parts: Sequence[Part], *, joints: Sequence[Joint], tasks: Sequence[Task]
) -> tuple[Task, ...]:
    """The steps of one blade, first to last: common practice of building in balsa, foam and board.

    joints : where parts touch
    tasks  : how spars are built in
    """
    have = Bench(design, tuple(parts), tasks)
    built = construction(design).tasks(have)
    return (*_before(have, _with_nuts(parts, joints)), *built, *_after(have))


def _with_nuts(parts: Sequence[Part], joints: Sequence[Joint]) -> tuple[Key, ...]:
    """The screws that go through ribs, and so take a nut in the blade."""
    through = {joint.a for joint in joints if joint.bond is Bond.SCREWED and joint.b.role is Role.RIB}
    return tuple(part.key for part in parts if part.role is Role.SCREW and part.key in through)


def _before(have: Bench, nuts: tuple[Key, ...]) -> Iterator[Task]:
    yield Task(
        Phase.PREPARE,
        "Weigh every sheet and length before it is cut and write it down; choose alike ones for parts alike in all "
        f"{have.design.rotor.blades} blades.",
    )
    yield Task(
        Phase.PREPARE,
        "Cut the flat parts. Inside cuts come before outside cuts.",
        caution="What a laser may cut stands with each part: foam and film take a knife. Fumes, fire, dust: "
        "extraction, somebody watching, a mask.",
    )
    if doublers := have.of(Role.DOUBLER):
        yield Task(Phase.PREPARE, "Glue each doubler to its rib, holes in line on a rod.", doublers)
    if nuts:
        yield Task(
            Phase.PREPARE,
            "Glue the nuts behind their ribs, threads in line: nothing gets in there once they are closed.",
            nuts,
        )


def _after(have: Bench) -> Iterator[Task]:
    if tips := have.of(Role.TIP):
        yield Task(Phase.FINISH, "Glue the tip on and shape it to the section.", tips)
    yield Task(Phase.FINISH, "Screw the turning cap to the root rib.", have.of(Role.TURNING_CAP, Role.FIXED_CAP))
    if wires := have.of(Role.WIRE):
        yield Task(Phase.FINISH, "Draw the wires in; bend none tighter than its note says.", wires)
    bought = [part for part in have.parts if part.role is Role.FITTING and part.assembly is Assembly.BLADE]
    if fittings := tuple(part.key for part in bought):
        yield Task(Phase.FINISH, "Fix what is bought for the blade, threads secured.", fittings)
    yield Task(
        Phase.FINISH,
        "Weigh the blade and find where it balances, along and across. Match all blades before anything turns.",
        caution="A blade that comes off flies far: nothing turns before somebody who knows rotors has looked at it.",
    )

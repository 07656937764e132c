"""The order of work, from cutting to a craft on its mast: a view of the parts there are, where they touch, and what
their makers say is to be done with them. Each part is taken by one step; glue is not, it is wherever that is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from geomgen.bench.mounting import mounted
from geomgen.design.schema import Design
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.part import Length, Part, Shaped
from geomgen.model.role import Assembly, Role
from geomgen.model.step import Phase, Task
from geomgen.root.root import STOP_PIN
from geomgen.structure.building import Bench
from geomgen.structure.constructions import construction


def order_of_work(
    design: Design,
    parts: Sequence[Part],
    *,
    joints: Sequence[Joint],
    tasks: Sequence[Task],
    angles: tuple[tuple[Key, float], ...],
    below_hub_mm: float,
    marked: str,
    also_deg: tuple[float, ...],
    has_card: bool,
) -> tuple[Task, ...]:
    """The steps, first to last: common practice of building in balsa, foam and board.

    parts  : of one blade, of the hub, and what they are built by
    joints : where they touch
    tasks  : how spars are built in
    angles : each rib, and the angle of its chord line against the board [deg]
    below_hub_mm : how far the blades reach below the hub's underside [mm]
    marked : what stands beside the holes that take the pins at the pitch to fly at
    also_deg : pitches in the range, not asked for, at which the pins go in too [deg]
    has_card : whether a card says which holes take the pins at each pitch
    """
    have = Bench(design, tuple(parts), joints, tasks, angles, below_hub_mm, marked, also_deg, has_card)
    built = construction(design).tasks(have)
    return tuple(_taken_once([*_before(have), *built, *_after(have), *mounted(have)]))


def _taken_once(tasks: Iterable[Task]) -> Iterator[Task]:
    """Each part with the first step that works on it."""
    taken = set[Key]()
    for task in tasks:
        own = tuple(dict.fromkeys(task.keys))
        new = tuple(key for key in own if key not in taken)
        yield replace(task, keys=new, again=tuple(key for key in own if key in taken))
        taken.update(new)


def _before(have: Bench) -> Iterator[Task]:
    yield Task(
        Phase.PREPARE,
        "Weigh every sheet and length before it is cut and write it down; choose alike ones for parts alike in all "
        f"{have.design.rotor.blades} blades.",
    )
    yield Task(
        Phase.PREPARE,
        "Cut the flat parts, sheet by sheet, of each sheet the fit coupon first. Marks come before inside cuts, inside "
        "cuts before outside cuts.",
        caution="What a laser may cut stands with each part; the rest takes a knife. Fumes, fire, dust: extraction, "
        "somebody watching, a mask.",
    )
    does = f"Cut to length, as the parts list has it: {_said(_lengths(have))}."
    yield Task(Phase.PREPARE, does, caution="Dust of saws and files: a mask.")
    if coupons := have.of(Role.COUPON):
        does = (
            "Print the coupon first, before caps and hub. In each row try what it is for, pin or spar: write down the "
            "narrowest hole in which it slides and turns by hand, and the widest that grips. Type the figure below the "
            "first, with its unit, under the key at the head of its row, and make all files anew."
        )
        yield Task(Phase.PREPARE, does, coupons, "Nozzle and bed are hot, molten plastic fumes: air the room.")
    does = f"Print, and try each hole on what goes through it: {_said(_printed(have))}."
    yield Task(Phase.PREPARE, does)
    if spare := tuple(part.key for part in have.parts if part.role is Role.WEDGE and part.assembly is Assembly.BENCH):
        does = (
            "Try every wedge in the fixed cap's windows: it goes in by hand, one way only, without play; ease corners "
            "with a file. Keep those of other pitches with the craft."
        )
        yield Task(Phase.PREPARE, does, spare)
    does = "Sort the ribs by their names, and try what passes through them: it goes in by hand, without play."
    yield Task(Phase.PREPARE, does, have.of(Role.RIB))
    if doublers := have.of(Role.DOUBLER):
        yield Task(Phase.PREPARE, "Glue each doubler to its rib, holes in line on a rod.", doublers)
    if nuts := have.with_nuts:
        yield Task(
            Phase.PREPARE,
            "Glue the nuts behind their ribs, threads in line: nothing gets in there once they are closed.",
            nuts,
        )


def _tied(have: Bench) -> str:
    """How the wires are held against their pull."""
    if any(one.bond is Bond.CLAMPED and one.a.role is Role.WIRE for one in have.joints):
        return (
            " Tie them to the ribs that have a small hole beside the channel, each tie through both and round the wood "
            "between: ties hold their pull, no solder does."
        )
    return " Tie them to the spar at the root and at their end: no solder may hold their pull."


def _lengths(have: Bench) -> list[Part]:
    """What is cut from stock by its length."""
    return [part for part in have.parts if isinstance(part.shape, Length | Shaped)]


def _printed(have: Bench) -> list[Part]:
    """Hub, and what of caps and wedges is of printed stock."""
    stock, roles = have.design.stock, (Role.HUB, Role.TURNING_CAP, Role.FIXED_CAP, Role.WEDGE)
    return [part for part in have.parts if part.role in roles and stock[part.stock].kind == "volume"]


def _said(parts: Iterable[Part]) -> str:
    """What the parts are, each kind once."""
    return ", ".join(dict.fromkeys(part.role.value for part in parts))


def _after(have: Bench) -> Iterator[Task]:
    if tips := have.of(Role.TIP):
        yield Task(Phase.FINISH, "Glue the tip on and shape it to the section.", tips)
    if stop := tuple(part.key for part in have.parts if part.key == STOP_PIN):
        does = "Glue the stop pin into its own hole of the turning cap, square to it; it runs in the fixed cap's slot."
        yield Task(Phase.FINISH, does, stop)
    cap = have.of(Role.TURNING_CAP)
    does = "Slide the turning cap over the inner end of the spar and screw it to the root rib, heads flush."
    yield Task(Phase.FINISH, does, (*cap, *have.screws(Role.TURNING_CAP)))
    if wires := have.of(Role.WIRE):
        does = (
            "Draw the wires in on their cords, and out at the root through the turning cap; bend none tighter than its "
            f"note says.{_tied(have)}"
        )
        yield Task(Phase.FINISH, does, (*wires, *have.of(Role.TIE)))
    if fittings := have.bought(Assembly.BLADE):
        does = "Fix what is bought for the blade, threads secured."
        yield Task(Phase.FINISH, does, (*fittings, *have.screws(Role.FITTING)))
    yield Task(
        Phase.FINISH,
        "Weigh the blade and find where it balances, along and across. Match all blades before anything turns.",
        caution="A blade that comes off flies far: nothing turns before somebody who knows rotors has looked at it.",
    )

"""From finished blades to a craft on its mast, as tasks: hub, caps, blades, pitch, what the hub carries, a last look.

What comes after it, how to try it out, isn't told yet.
"""

from __future__ import annotations

from collections.abc import Iterator

from geomgen.design.schema import Clamped, Glued, Pinned
from geomgen.figures import mm
from geomgen.model.joint import Bond
from geomgen.model.part import Flat
from geomgen.model.role import Assembly, Role
from geomgen.model.step import Phase, Task
from geomgen.root.root import COLLAR_PIN, COLLAR_SCREW, MAST_BOLT, STOP_PIN
from geomgen.structure.building import Bench

TURNS = (
    "Nobody stands near the plane of the disc while anything may turn. Local rules hold, and somebody who knows rotors "
    "looks at it before anything does."
)


def mounted(have: Bench) -> Iterator[Task]:
    """The hub on its mast, all blades in it, and what it carries."""
    yield from _hub(have)
    yield from _blades(have)
    yield from _carried(have)
    yield from _looked_at(have)


def _hub(have: Bench) -> Iterator[Task]:
    hub, bolts = have.design.hub, tuple(part.key for part in have.parts if part.key == MAST_BOLT)
    stands = f" {_stands(have)}" if have.below_hub_mm > 0.0 else ""
    does = f"Put the hub on its mast and bolt it down with {hub.bolts} bolts {hub.bolt}, nuts secured.{stands}"
    yield Task(Phase.MOUNT, does, (*have.of(Role.HUB), *bolts))
    written = "letters" if have.of(Role.WEDGE) else "figures"
    does = f"Screw a fixed cap to each seat of the hub, its {written} towards the hub, heads flush."
    yield Task(Phase.MOUNT, does, (*have.of(Role.FIXED_CAP), *have.screws(Role.FIXED_CAP)))
    if have.has_card:
        does = (
            "Print pitch_card.svg and hang it up where blades are set: it says which holes take the pins at each pitch."
        )
        yield Task(Phase.MOUNT, does, caution="A pin in a wrong hole changes a blade's lift.")


def _stands(have: Bench) -> str:
    return (
        f"The blades will reach some {mm(have.below_hub_mm, 0)} below its underside at {have.design.pitch.set:g} "
        "deg: the mast stands higher than that, and nobody sets the craft down on its hub."
    )


def _blades(have: Bench) -> Iterator[Task]:
    wires, turning = have.of(Role.WIRE), tuple(joint.a for joint in have.joints if joint.bond is Bond.TURNING)
    through = "; its wires go through the fixed cap's slots and the hub's ducts into the bay" if wires else ""
    does = f"Slide each blade's spar through the fixed cap into its socket, until both caps meet{through}."
    yield Task(Phase.MOUNT, does, (*turning, *wires))
    does = (
        "In the bay, put a collar on the inner end of each spar, against the hub: the blade can turn, but not slide. "
        f"{_fixed(have)}."
    )
    fixing = tuple(part.key for part in have.parts if part.key in (COLLAR_PIN, COLLAR_SCREW))
    keys = (*have.of(Role.COLLAR), *fixing)
    yield Task(Phase.MOUNT, does, keys, "The collar alone holds a blade in against its pull.")
    pitch = have.design.pitch
    other = (*fixing, STOP_PIN)
    pins = tuple(part.key for part in have.parts if part.role in (Role.PIN, Role.CLIP) and part.key not in other)
    yield from _wedges(have)
    where = "in the fixed cap" if not have.of(Role.WEDGE) else "on the wedges"
    does = (
        f"Set every blade to {pitch.set:g} deg: turn it until the turning cap's holes lie on those marked "
        f"{have.marked} {where}, push its pins through ({pitch.pin.count} a blade), {_kept(have)}, and tie their ends "
        f"together, so that none slides out.{_also(have)}"
    )
    yield Task(Phase.MOUNT, does, pins, "All blades at the same figure.")


def _wedges(have: Bench) -> Iterator[Task]:
    """Wedges of the pitch to fly at go in from the hub's side; nothing where there are none."""
    flown = tuple(part.key for part in have.parts if part.role is Role.WEDGE and part.assembly is Assembly.HUB)
    if flown:
        does = (
            f"Put the wedges marked {have.marked} into the windows of every fixed cap from the hub's side, one behind "
            "each hole for a pin, the clipped corner outwards, the figure towards the hub."
        )
        yield Task(Phase.MOUNT, does, flown, "The same figure on every wedge of the craft.")


def _also(have: Bench) -> str:
    """Pitches in the range at which the pins go in, and that nobody asked for."""
    if not have.also_deg:
        return ""
    return f" Beware: the pins also go in at {', '.join(f'{pitch:g}' for pitch in have.also_deg)} deg."


def _kept(have: Bench) -> str:
    """What keeps pins from leaving outwards."""
    if have.of(Role.CLIP):
        return "fix a clip on each behind the fixed cap"
    if any(
        part.role is Role.TURNING_CAP and isinstance(part.shape, Flat) and part.shape.pockets for part in have.parts
    ):
        return "each to the bottom of its hole"
    return "secure each so that it can't leave outwards"


def _fixed(have: Bench) -> str:
    match have.design.hub.collar.fixing:
        case Glued(glue=glue):
            return f"Sand and degrease both and glue it with {glue}, none of it in the socket: it stays there for good"
        case Pinned():
            return "Drill through both and pin it, the pin's ends flush and glued"
        case Clamped():
            return "Clamp it, threads secured"
        case None:
            return "Fix it there"


def _carried(have: Bench) -> Iterator[Task]:
    if fittings := have.bought(Assembly.HUB):
        does = "Fix what is bought for the hub, each at its place, so that nothing can come loose or out."
        yield Task(Phase.MOUNT, does, fittings)
    if wires := have.of(Role.WIRE):
        does = "Connect the wires, and tie their slack down where nothing turns or rubs; what gives current comes last."
        yield Task(Phase.MOUNT, does, wires, "Once there is current, anything that is driven may start by itself.")


def _looked_at(have: Bench) -> Iterator[Task]:
    does = (
        "Balance the whole: lay the mast level, free to turn; no blade may sink of itself. Weight that is added is "
        "screwed or glued fast. Held upright, the tips of all blades pass at one height."
    )
    yield Task(Phase.MOUNT, does)
    wires = ", every wire clear of what turns" if have.of(Role.WIRE) else ""
    does = (
        "Look all of it over once more, with somebody who knows rotors: every screw, bolt, pin and collar tight and "
        f"secured{wires}, every blade at the same pitch, nothing loose."
    )
    yield Task(Phase.MOUNT, does, caution=TURNS)

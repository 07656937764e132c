"""The craft as a whole: how its ribs are held, what a builder would shake their head at, and the verdict."""

from __future__ import annotations

from collections.abc import Mapping

from geomgen.balance.stages import Balance
from geomgen.blade.blade import Blade
from geomgen.blade.planform import planform
from geomgen.blade.stages import PLACES
from geomgen.design.schema import Design
from geomgen.errors import Fault
from geomgen.figures import spelled
from geomgen.hover.feeding import Drive
from geomgen.hover.hovering import Hovering
from geomgen.hover.mean_lift import MeanLift
from geomgen.judging import verdict as judged
from geomgen.judging import warnings as rules
from geomgen.judging.bonds import Hold, RibHold, collar_hold, rib_holds, tightest
from geomgen.judging.verdict import Verdict
from geomgen.mass.lines import Line
from geomgen.mass.statement import MassStatement
from geomgen.model.joint import Key
from geomgen.model.made import Made
from geomgen.root.hub_spec import HubSpec
from geomgen.root.root_face import RootFace
from geomgen.stages import reads
from geomgen.strength.held import Held
from geomgen.strength.load_path import LoadPath


@reads("stock", "duty.rpm_max")
def ribs_held(design: Design, flying: Made, hung: Mapping[Key, Key], lines: tuple[Line, ...]) -> tuple[RibHold, ...]:
    """What pulls on each rib, and what holds it."""
    return rib_holds(design, flying, hung, lines)


@reads("hub.collar.fixing", "hub.bay.radius")
def collar_held(design: Design, path: LoadPath, face: RootFace) -> Hold | None:
    """What pulls on a glued collar, and what holds it."""
    return collar_hold(design, path, spar_outside_mm=face.spar_outside_mm)


@reads(
    "duty",
    "rotor.radius",
    "rotor.coning",
    "blade.spar",
    "fitting",
    "stock",
    "hub.collar",
    "pitch",
    "units",
    "wire",
    "fan",
    "pack",
    "balance",
)
def warnings(
    design: Design,
    flying: Made,
    ribs: tuple[RibHold, ...],
    mass: MassStatement,
    lifts: tuple[MeanLift, MeanLift, MeanLift],
    hover: Hovering | None,
    driven: Drive,
    path: LoadPath,
    collar: Hold | None,
    caps: Made,
    spec: HubSpec,
    balance: Balance,
) -> tuple[Fault, ...]:
    """What can be made, and a builder would shake their head at, in the design's own system; the whole craft first."""
    found = (
        *rules.about_the_craft(design, mass),
        *rules.about_hover(design, mass, lifts[1], hover),
        *rules.about_fans(design, driven),
        *rules.about_the_collar(design, path, collar),
        *rules.about_the_pins(design),
        *rules.about_the_underside(design, caps, spec),
        *rules.about_bonds(ribs, flying),
        *rules.about_stuck(design, mass),
        *rules.about_screws(design, flying),
        *rules.about_tubes(design),
        *rules.about_balance(balance),
    )
    return spelled(found, design.units)


@reads(*PLACES, "duty", "rotor.blades")
def verdict(
    design: Design,
    blade: Blade,
    mass: MassStatement,
    lifts: tuple[MeanLift, MeanLift, MeanLift],
    hover: Hovering | None,
    path: LoadPath,
    ribs: tuple[RibHold, ...],
    collar: Hold | None,
    held: Held | None = None,
) -> Verdict:
    """The few figures that a maker came for."""
    return judged.verdict(
        design,
        plan=planform(design, blade),
        mass=mass,
        lifts=lifts,
        hover=hover,
        path=path,
        used_most=tightest(ribs, collar),
        judged=held.judged if held is not None else None,
    )

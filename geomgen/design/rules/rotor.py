"""Rules of [rotor] and [duty]."""

from __future__ import annotations

from geomgen.design.rules.tools import Faults, fault, guarded
from geomgen.design.schema.design import Design
from geomgen.figures import at_most, mm


def rotor(design: Design) -> Faults:
    """Blades that make a rotor; a root inside the radius."""
    yield from guarded(_blades(design), _root(design))


def _blades(design: Design) -> Faults:
    blades = design.rotor.blades
    if blades < 2:
        remedy = "" if blades < 1 else "a counterweight instead of a second blade is not known yet"
        yield fault(("rotor", "blades"), "can't be balanced: one blade pulls to one side", "2 to 8", remedy)
    if blades > 8:
        yield fault(("rotor", "blades"), "is more than the hub can hold", "2 to 8")


def _root(design: Design) -> Faults:
    root, radius = design.rotor.root, design.rotor.radius
    if root >= radius:
        yield fault(
            ("rotor", "root"),
            f"is not inside the radius of {mm(radius)}",
            f"less than {at_most(radius)}",
        )


def duty(design: Design) -> Faults:
    """The usual speed is not above the highest."""
    rpm, highest = design.duty.rpm, design.duty.rpm_max
    if rpm > highest:
        yield fault(("duty", "rpm_max"), f"is less than the usual {rpm:g} rpm", f"at least {rpm:g} rpm")

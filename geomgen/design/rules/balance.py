"""Rules of balance and trim."""

from __future__ import annotations

from geomgen.design.keypath import KeyPath
from geomgen.design.rules.tools import EXACT, Faults, fault, guarded, known_place, r_of
from geomgen.design.schema.design import Design
from geomgen.design.schema.place import Place
from geomgen.figures import at_least, at_most, g, mm


def balance(design: Design) -> Faults:
    """What trims lies on the blade or the hub, and holds one weight at least; a nose weight lies on the blade."""
    yield from guarded(
        _nose_weight(design), *(_pocket(design, name) for name in design.blade.trim), _hub_pockets(design)
    )


def _nose_weight(design: Design) -> Faults:
    weight = design.balance.nose_weight
    if weight is not None:
        yield from _on_blade(design, ("balance", "nose_weight", "at"), weight.at)


def _pocket(design: Design, name: str) -> Faults:
    path, pocket = ("blade", "trim", name), design.blade.trim[name]
    yield from guarded(_on_blade(design, (*path, "at"), pocket.at), _holds_one(design, (*path, "most"), pocket.most))


def _hub_pockets(design: Design) -> Faults:
    pockets, path = design.hub.trim, ("hub", "trim")
    if pockets is not None:
        yield from guarded(_circle(design, pockets.circle), _holds_one(design, (*path, "most"), pockets.most))


def _circle(design: Design, circle_mm: float) -> Faults:
    path, root, bore = ("hub", "trim", "circle"), design.rotor.root, design.hub.bore / 2
    if circle_mm > root + EXACT:
        yield fault(path, "lies beyond the hub", f"at most the root, {at_most(root)}", "or pockets in the blades")
    if circle_mm < bore - EXACT:
        yield fault(path, f"lies inside the mast's hole of {mm(2 * bore)}", f"at least {at_least(bore)}")


def _on_blade(design: Design, path: KeyPath, place: Place) -> Faults:
    yield from known_place(design, path, place)
    r, root, radius = r_of(design, place), design.rotor.root, design.rotor.radius
    if r < root - EXACT:
        yield fault(path, f"r {mm(r)} lies inside the root", f"at least {at_least(root)}")
    if r > radius + EXACT:
        yield fault(path, f"r {mm(r)} lies beyond the tip", f"at most {at_most(radius)}")


def _holds_one(design: Design, path: KeyPath, most_g: float) -> Faults:
    step = design.balance.step
    if most_g < step - 1e-9:
        yield fault(path, f"is less than one weight, {g(step)} (balance.step)", f"at least {g(step)}")

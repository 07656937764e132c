"""Rules of [hub]: what can be judged without its geometry."""

from __future__ import annotations

from geomgen.design.rules.tools import Faults, fault, guarded, least_mm, mm, most_mm
from geomgen.design.schema.design import Design
from geomgen.design.schema.spar import on_axis
from geomgen.design.schema.stock import LengthStock
from geomgen.materials.screws import SCREWS


def hub(design: Design) -> Faults:
    """The bay lies inside the root; bolts lie between bore and bay; the collar can't slip through the socket."""
    yield from guarded(_bay(design), _bolts(design), _collar(design))


def _bay(design: Design) -> Faults:
    bay, root = design.hub.bay.radius, design.rotor.root
    if bay >= root:
        yield fault(
            ("hub", "bay", "radius"),
            f"reaches the root of the blade at {mm(design, root)}",
            f"less than {most_mm(design, root)}",
        )


def _bolts(design: Design) -> Faults:
    hub, bolt = design.hub, SCREWS[design.hub.bolt].diameter
    low, high = (hub.bore + bolt) / 2, hub.bay.radius - bolt / 2
    if not low < hub.bolt_circle < high:
        wrong = f"{hub.bolt} bolts there cut into the bore or the wall of the bay"
        allowed = (
            f"between {least_mm(design, low)} and {most_mm(design, high)}"
            if low < high
            else "a wider bay, or a smaller bore"
        )
        yield fault(("hub", "bolt_circle"), wrong, allowed)


def _collar(design: Design) -> Faults:
    for spar in design.blade.spar.values():
        stock = design.stock.get(spar.stock)
        if not on_axis(spar) or not isinstance(stock, LengthStock) or stock.outside is None:
            continue
        socket = stock.outside + design.hub.socket.fit
        if design.hub.collar.outside <= socket:
            wrong = f"slips through the socket of {mm(design, socket)}: nothing would hold the blade"
            yield fault(("hub", "collar", "outside"), wrong, f"more than {least_mm(design, socket)}")

"""Rules of [hub]: what can be judged without its geometry."""

from __future__ import annotations

from geomgen.design.rules.tools import Faults, fault, guarded
from geomgen.design.schema.design import Design
from geomgen.design.schema.spar import on_axis
from geomgen.design.schema.stock import LengthStock
from geomgen.figures import at_least, at_most, mm
from geomgen.materials.screws import SCREWS


def hub(design: Design) -> Faults:
    """The bay lies inside the root; bolts lie between bore and bay; the collar can't slip through the socket."""
    yield from guarded(_bay(design), _bolts(design), _collar(design))


def _bay(design: Design) -> Faults:
    bay, root = design.hub.bay.radius, design.rotor.root
    if bay >= root:
        yield fault(
            ("hub", "bay", "radius"),
            f"reaches the root of the blade at {mm(root)}",
            f"less than {at_most(root)}",
        )


def _bolts(design: Design) -> Faults:
    hub, bolt = design.hub, SCREWS[design.hub.bolt].diameter
    low, high = (hub.bore + bolt) / 2, hub.bay.radius - bolt / 2
    if not low < hub.bolt_circle < high:
        wrong = f"{hub.bolt} bolts there cut into the bore or the wall of the bay"
        allowed = f"between {at_least(low)} and {at_most(high)}" if low < high else "a wider bay, or a smaller bore"
        yield fault(("hub", "bolt_circle"), wrong, allowed)


def _collar(design: Design) -> Faults:
    for spar in design.blade.spar.values():
        stock = design.stock.get(spar.stock)
        if not on_axis(spar) or not isinstance(stock, LengthStock) or stock.outside is None:
            continue
        socket = stock.outside + design.hub.socket.fit
        if design.hub.collar.outside <= socket:
            wrong = f"slips through the socket of {mm(socket)}: nothing would hold the blade"
            yield fault(("hub", "collar", "outside"), wrong, f"more than {at_least(socket)}")

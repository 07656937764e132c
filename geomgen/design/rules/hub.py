"""Rules of [hub]: what can be judged without its geometry."""

from __future__ import annotations

from collections.abc import Iterator

from geomgen.design.near import near
from geomgen.design.rules.tools import EXACT, Faults, fault, guarded, quoted
from geomgen.design.schema.design import Design
from geomgen.design.schema.hub import Glued, Pinned
from geomgen.design.schema.spar import on_axis
from geomgen.design.schema.stock import LengthStock
from geomgen.figures import at_least, at_most, mm
from geomgen.materials import catalogue
from geomgen.materials.screws import SCREWS

SPAR_SHARE = 1 / 3  # of a spar's outside, for a pin through it; common practice


def hub(design: Design) -> Faults:
    """The bay lies inside the root; bolts lie between bore and bay; the collar can't slip through the socket."""
    yield from guarded(_bay(design), _bolts(design), _collar(design), _fixed(design))


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


def _spars(design: Design) -> Iterator[float]:
    """Outside of the round spar on the feather axis [mm]."""
    for spar in design.blade.spar.values():
        stock = design.stock.get(spar.stock)
        if on_axis(spar) and isinstance(stock, LengthStock) and stock.outside is not None:
            yield stock.outside


def _collar(design: Design) -> Faults:
    for outside in _spars(design):
        socket = outside + design.hub.socket.fit
        if design.hub.collar.outside <= socket:
            wrong = f"slips through the socket of {mm(socket)}: nothing would hold the blade"
            yield fault(("hub", "collar", "outside"), wrong, f"more than {at_least(socket)}")


def _fixed(design: Design) -> Faults:
    """A glue line no longer than the collar; a pin that leaves enough of collar and spar."""
    collar, path = design.hub.collar, ("hub", "collar", "fixing")
    match collar.fixing:
        case Glued(length=length) if length > collar.length + EXACT:
            wrong = f"is longer than the collar, {mm(collar.length)}"
            yield fault((*path, "length"), wrong, f"at most {at_most(collar.length)}", "or a longer collar")
        case Glued(glue=glue) if len(catalogue.meant_glue(glue)) != 1:
            there = ", ".join(map(quoted, catalogue.glue_names()))
            yield fault((*path, "glue"), "is not in the catalogue of glues", there, near(glue, catalogue.glue_words()))
        case Pinned(diameter=diameter):
            most = min([collar.length / 2, *(SPAR_SHARE * outside for outside in _spars(design))])
            if diameter > most + EXACT:
                wrong = "leaves too little of collar or spar beside it"
                allowed = f"at most {at_most(most)}: half the collar's length, and a third of the spar"
                yield fault((*path, "diameter"), wrong, f"{allowed} (common practice)")

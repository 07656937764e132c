"""Rules of ribs, skins and spars."""

from __future__ import annotations

from functools import partial
from itertools import pairwise

from geomgen.design.keypath import KeyPath
from geomgen.design.rules.tools import EXACT, Faults, fault, guarded, known_place, r_of
from geomgen.design.schema.blade import Channel, Ribs, Skin
from geomgen.design.schema.design import Design
from geomgen.design.schema.spar import AnySpar, Reader, on_axis
from geomgen.figures import at_least, at_most, mm
from geomgen.tolerances import STANDARD

MOST_RIBS = 1000  # in one run, and in all together
LEAST_REACH = 0.25  # share of the blade that its main spar goes through; common practice
Run = Ribs | Skin | AnySpar | Channel


def runs(design: Design) -> Faults:
    """Runs of ribs, skins, spars and channels lie within the blade; runs of one kind don't overlap."""
    for kind in ("ribs", "skin", "spar", "channel"):
        yield from guarded(_runs_of(design, kind))
    yield from guarded(_overlaps(design, "ribs"), _overlaps(design, "skin"), _ribs(design), _tail(design))


def _runs_of(design: Design, kind: str) -> Faults:
    for name, run in getattr(design.blade, kind).items():
        path = ("blade", kind, name)
        yield from guarded(
            _place(design, (*path, "from"), run, "from_"),
            _place(design, (*path, "to"), run, "to"),
            _within(design, path, run),
        )


def _place(design: Design, path: KeyPath, run: Run, end: str) -> Faults:
    yield from known_place(design, path, getattr(run, end))


def _within(design: Design, path: KeyPath, run: Run) -> Faults:
    begin, end, root, radius = r_of(design, run.from_), r_of(design, run.to), design.rotor.root, design.frame_end
    if end <= begin + EXACT:
        yield fault((*path, "to"), f"ends at r {mm(end)}, before it begins", f"more than {at_least(begin)}")
    if end > radius + EXACT:
        beyond = (
            "beyond the tip"
            if radius >= design.rotor.radius - EXACT
            else "beyond the frame, where the tip's piece begins"
        )
        yield fault((*path, "to"), f"ends at r {mm(end)}, {beyond}", f"at most {at_most(radius)}")
    if begin < root - EXACT and path[1] != "spar":
        yield fault((*path, "from"), f"begins at r {mm(begin)}, before the root", f"at least {at_least(root)}")


def _tail(design: Design) -> Faults:
    least = STANDARD.least_edge_mm
    if design.blade.construction.least_tail < least:
        wrong, remedy = "is too thin to cut: a rib's tail would be a splinter", "let the rib end sooner"
        yield fault(("blade", "construction", "least_tail"), wrong, f"at least {at_least(least)}", remedy)


def _overlaps(design: Design, kind: str) -> Faults:
    tables = getattr(design.blade, kind)
    ends = sorted((r_of(design, run.from_), r_of(design, run.to), name) for name, run in tables.items())
    for (_, end, before), (begin, _, name) in pairwise(ends):
        if begin < end - EXACT:
            wrong = f"begins at r {mm(begin)}, inside [blade.{kind}.{before}], which ends at {mm(end)}"
            yield fault(("blade", kind, name, "from"), wrong, f"at least {at_least(end)}")


def _ribs(design: Design) -> Faults:
    path: KeyPath = ("blade", "ribs")
    yield from guarded(*(_count(design, (*path, name), run) for name, run in design.blade.ribs.items()))
    yield from guarded(_all_ribs(design))
    if not design.blade.ribs:
        yield fault(path, "there are no ribs", "at least one run, which begins at the root")
        return
    first = min(r_of(design, run.from_) for run in design.blade.ribs.values())
    if first > design.rotor.root + EXACT:
        wrong = f"the first rib stands at r {mm(first)}, not at the root"
        yield fault(path, wrong, remedy='the turning cap is fixed to a rib at the root: let one run have from = "root"')


def _count(design: Design, path: KeyPath, run: Ribs) -> Faults:
    length = r_of(design, run.to) - r_of(design, run.from_)
    if length / run.every > MOST_RIBS:
        wrong = f"makes {length / run.every:.0f} ribs of this run, {MOST_RIBS} are the most"
        yield fault((*path, "every"), wrong, f"at least {at_least(length / MOST_RIBS)}")


def _all_ribs(design: Design) -> Faults:
    each = [(r_of(design, run.to) - r_of(design, run.from_)) / run.every for run in design.blade.ribs.values()]
    if sum(each) > MOST_RIBS >= max(each):
        wrong, remedy = f"make {sum(each):.0f} ribs together", "a larger `every`, or fewer runs"
        yield fault(("blade", "ribs"), wrong, f"at most {MOST_RIBS}", remedy)


def spars(design: Design) -> Faults:
    """One round spar on the feather axis, held by the hub; the others with a place in the chord."""
    path: KeyPath = ("blade", "spar")
    spars = design.blade.spar
    yield from guarded(*(_one((*path, name), design, spar) for name, spar in spars.items()))
    main = [name for name, spar in spars.items() if on_axis(spar)]
    if not main:
        yield fault(path, "no spar lies on the feather axis", remedy='give the main spar on = "feather axis"')
    for name in main[1:]:
        wrong = f"[blade.spar.{main[0]}] lies on the feather axis already"
        yield fault((*path, name, "on"), wrong, "one spar on the feather axis", "give this one a chord instead")
    yield from guarded(*(_main(design, (*path, name), spars[name]) for name in main))


def _one(path: KeyPath, design: Design, spar: AnySpar) -> Faults:
    """What is built up lies within the blade; places that a spar names are there, and its own values agree."""
    root = design.rotor.root
    if spar.built_up and (begin := r_of(design, spar.from_)) < root - EXACT:
        wrong = f"begins at r {mm(begin)}, before the root"
        yield fault((*path, "from"), wrong, f"at least {at_least(root)}")
    for under, place in spar.places():
        yield from known_place(design, (*path, *under), place)
    for under, *said in spar.wrongs(Reader(partial(r_of, design), EXACT)):
        yield fault((*path, *under), *said)


def _main(design: Design, path: KeyPath, spar: AnySpar) -> Faults:
    stock = design.stock.get(spar.stock)
    if stock is not None and stock.kind == "length" and not stock.round:
        wrong = "the spar on the feather axis turns in the hub: it must be round"
        yield fault((*path, "stock"), wrong, "a tube or rod, with outside = ...")
    begin, root, end = r_of(design, spar.from_), design.rotor.root, r_of(design, spar.to)
    if begin >= root - EXACT:
        wrong = f"begins at r {mm(begin)}: the hub has nothing to hold"
        yield fault((*path, "from"), wrong, f"less than the root, {at_most(root)}", "let it reach into the hub")
    elif end < (least := root + LEAST_REACH * (design.rotor.radius - root)) - EXACT:
        wrong = f"ends at r {mm(end)}: the blade has too little to hold on to"
        yield fault((*path, "to"), wrong, f"at least {at_least(least)}", "a quarter of the blade or more")

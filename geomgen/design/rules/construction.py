"""Rules of how the blade is built: what each construction needs, what it has no use for, and what would be trapped."""

from __future__ import annotations

from geomgen.design.faults import in_own
from geomgen.design.keypath import KeyPath
from geomgen.design.rules.tools import Faults, fault, guarded
from geomgen.design.schema.design import Design
from geomgen.figures import at_most

BUILT: KeyPath = ("blade", "construction")
JIG: KeyPath = ("blade", "jig")
TIP: KeyPath = ("blade", "tip")


def construction(design: Design) -> Faults:
    """Each construction has what it needs; feet come off again; a shaped tip has a depth and a sheet."""
    yield from guarded(_skins(design), _own(design), _feet(design), _jig(design), _tip(design))
    yield from guarded(_mounts(design), _core(design))


def _skins(design: Design) -> Faults:
    built = design.blade.construction
    if not built.takes_skins and design.blade.skin:
        wrong = f"skins lie on a ribbed blade, this one is {built.kind}"
        yield fault(("blade", "skin"), wrong, remedy="take out [blade.skin.*]; in an option, blade.skin = false")


def _own(design: Design) -> Faults:
    for under, wrong, allowed, remedy in design.blade.construction.wrongs(bool(design.blade.skin)):
        yield fault((*BUILT, *under), wrong, allowed, remedy)


def _core(design: Design) -> Faults:
    """A core is slit for tubes, rods and strips; what is built up stands between ribs."""
    if design.blade.construction.carries:
        return
    for name, spar in design.blade.spar.items():
        if spar.built_up:
            wrong = f"is of kind {spar.kind}, which is built into ribs: a core has none to carry it"
            yield fault(("blade", "spar", name), wrong, remedy="a tube, rod or strip, let into a slit in the foam")


def _feet(design: Design) -> Faults:
    jig, built = design.blade.jig, design.blade.construction
    if jig is None or jig.foot is None:
        return
    path, first = (*JIG, "foot"), built.closed_first(bool(design.blade.skin))
    if built.encloses:
        remedy = "leave foot out: gauges hold the blade from outside"
        yield fault(path, f"feet would be trapped under the skin: {built.encloses}", remedy=remedy)
    elif first == jig.side:
        wrong = f"feet would be trapped under the skin: its {first} half goes on first, where the feet stand"
        other = "upper" if jig.side == "lower" else "lower"
        yield fault(path, wrong, remedy=f'first = "{other}" in [blade.construction], or side = "{other}" here')


def _jig(design: Design) -> Faults:
    jig = design.blade.jig
    if jig is not None and jig.board is not None and jig.foot is None:
        yield fault((*JIG, "board"), "nothing stands on it", remedy="give the ribs a foot, or leave the board out")


def _tip(design: Design) -> Faults:
    tip = design.blade.tip
    if tip is None:
        return
    if tip.kind == "square":
        for key in ("depth", "stock"):
            if getattr(tip, key) is not None:
                yield fault((*TIP, key), "has no meaning for a square tip", remedy="leave it out, or another kind")
        return
    for key, example in (("depth", 'depth = "20 mm"'), ("stock", 'stock = "balsa_3"')):
        if getattr(tip, key) is None:
            yield fault((*TIP, key), f"a {tip.kind} tip needs it", remedy=f"for instance {in_own(example)}")
    most = (design.rotor.radius - design.rotor.root) / 2
    if tip.depth is not None and tip.depth > most:
        yield fault((*TIP, "depth"), "takes more than half of the blade", f"at most {at_most(most)}")


def _mounts(design: Design) -> Faults:
    for name, fitting in design.fitting.items():
        if (fitting.mount is not None or fitting.rib_stock is not None) and not (fitting.rib and fitting.on == "blade"):
            key = "mount" if fitting.mount is not None else "rib_stock"
            yield fault(
                ("fitting", name, key), "there is no rib of its own to fix it to", remedy="rib = true, on a blade"
            )

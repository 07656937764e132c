"""Rules of bought things and glue."""

from __future__ import annotations

from geomgen.design.keypath import KeyPath
from geomgen.design.near import near
from geomgen.design.rules.tools import EXACT, Faults, fault, guarded, quoted, r_of
from geomgen.design.schema.design import Design
from geomgen.design.schema.outfit import Fitting
from geomgen.design.schema.place import NAMED_PLACES
from geomgen.figures import at_least, at_most, mm
from geomgen.materials import catalogue


def fittings(design: Design) -> Faults:
    """Each fitting has a place on the blade or the hub, and only the keys that mean something there."""
    for name, fitting in design.fitting.items():
        path: KeyPath = ("fitting", name)
        yield from guarded(
            _at(design, path, fitting), _keys(path, fitting), _height(path, fitting), _level(design, path, fitting)
        )


def _at(design: Design, path: KeyPath, fitting: Fitting) -> Faults:
    place = fitting.at
    if place.name is not None and place.name not in NAMED_PLACES:
        allowed = f"a length, a share of the radius, or {', '.join(NAMED_PLACES)}"
        yield fault((*path, "at"), "is no place for a fitting", allowed)
        return
    r, root, radius = r_of(design, place), design.rotor.root, design.rotor.radius
    if fitting.on == "hub" and r > root + EXACT:
        yield fault((*path, "at"), "lies beyond the hub", f"at most the root, {at_most(root)}", 'or on = "blade"')
    if fitting.on == "blade" and r > radius + EXACT:
        yield fault((*path, "at"), f"r {mm(r)} lies beyond the tip", f"at most {at_most(radius)}")
    if fitting.on == "blade" and fitting.rib and r < root - EXACT:
        yield fault((*path, "at"), f"a rib can't stand at r {mm(r)}", f"at least the root, {at_least(root)}")


def _keys(path: KeyPath, fitting: Fitting) -> Faults:
    if fitting.on == "hub" and fitting.chord is not None:
        yield fault((*path, "chord"), "has no meaning on the hub", remedy="say where by at, azimuth and height")
    if fitting.on == "hub" and fitting.rib:
        yield fault((*path, "rib"), "there are no ribs in the hub", remedy='leave it out, or on = "blade"')
    if fitting.stuck and (fitting.on == "hub" or fitting.rib):
        where = "on the hub" if fitting.on == "hub" else "where a rib stands for it"
        yield fault((*path, "stuck"), f"means nothing {where}", remedy="leave it out")
    if fitting.on == "blade" and fitting.azimuth is not None:
        yield fault((*path, "azimuth"), "has no meaning on a blade", remedy="say where by at, chord and height")


def _height(path: KeyPath, fitting: Fitting) -> Faults:
    if fitting.on == "hub" and isinstance(fitting.height, str):
        yield fault((*path, "height"), "has no meaning on the hub", "a length above the hub's floor")


def _level(design: Design, path: KeyPath, fitting: Fitting) -> Faults:
    low, high = design.pitch.range
    if fitting.level_at is None:
        return
    if fitting.mount is None or not fitting.rib:
        remedy = "give it a mount and rib = true, or leave this out"
        yield fault((*path, "level_at"), "turns the holes of a mount on its rib, and there is none", remedy=remedy)
    elif not low - EXACT <= fitting.level_at <= high + EXACT:
        yield fault((*path, "level_at"), "lies outside the range of pitch", f"from {low:g} to {high:g} deg")


def glue(design: Design) -> Faults:
    """Glue is given by a name of the catalogue, or by what it weighs; both, where strength alone asks for the name."""
    if design.glue is None:
        return
    weighed = [key for key in ("coverage", "mass") if getattr(design.glue, key) is not None]
    if len(weighed) > 1:
        yield fault(("glue",), f"says {' and '.join(weighed)} at once", "one of coverage, mass")
    elif not weighed and design.glue.kind is None:
        yield fault(("glue",), "doesn't say which glue, or how much", "kind, or one of coverage, mass")
    names = ", ".join(map(quoted, catalogue.glue_names()))
    yield from _named("kind", design.glue.kind, f"a coverage or mass of your own, or one of {names}")
    yield from _named("on_tube", design.glue.on_tube, f"one of {names}")


def _named(key: str, kind: str | None, allowed: str) -> Faults:
    """A kind of glue is one of the catalogue."""
    meant = catalogue.meant_glue(kind) if kind is not None else ()
    if len(meant) > 1:
        yield fault(("glue", key), "is more than one glue", f"one of {', '.join(map(quoted, meant))}")
    elif kind is not None and not meant:
        remedy = near(kind, catalogue.glue_words(), lambda word: catalogue.meant_glue(word)[0])
        yield fault(("glue", key), "is not in the catalogue", "" if remedy else allowed, remedy)

"""The spar where it is bent most, from the socket's outer end to the root rib: stretched, pressed, sheared, buckled.

Pins and caps hold its twist at the root rib: inboard of it, none goes through the spar.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import mm
from geomgen.materials.strength import Property
from geomgen.strength.blade_loads import Resultants
from geomgen.strength.build import Build
from geomgen.strength.formulas.tube import tube_bending_mpa, tube_pull_mpa, tube_shear_mpa
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.root_tube import RootTube, root_tube, spar_link
from geomgen.strength.links.tube_wall import KNOCK_DOWN, buckles_mpa, flattens_nm

OUTER_END = "spar at the socket's outer end"
Stress = Callable[[float, float], FloatArray]  # of a spar by its diameters, outside and inside [mm]


def spar_root_links(build: Build) -> Iterator[Link]:
    """Compression, tension, shear, buckling of the wall, ovalising; each at the radius where it is greatest."""
    tube, where = root_tube(build), _radii(build)
    at = [build.loads.at(r) for r in where]
    bent = np.array([1e3 * np.hypot(one.flap_nm, one.lag_nm) for one in at])
    r = where[int(bent.max(axis=(1, 2)).argmax())]
    bent_nmm = np.asarray(bent.max(axis=0))
    for fails, stands, stress, note in (
        (Fails.BENT, Property.COMPRESSION, _bent(bent_nmm), "its pressed side; the pull, which relieves it, left out"),
        (Fails.PULLED_APART, Property.TENSION, _stretched(at), "pull and bending together"),
        (Fails.SHEARED, Property.SHEAR, _sheared(at), "at its middle; the pins hold its twist"),
    ):
        yield _at(build, tube, r, fails, stands, stress=stress, note=note)
    if tube.inside:
        yield _buckled(build, tube, r, bent_nmm)
        yield _flattened(build, tube, r, bent_nmm)


def _radii(build: Build) -> list[float]:
    """From the socket's outer end to the root rib's outer face [mm]."""
    start, end = build.hub.seat, build.root.face.r_mm + build.root.face.thickness_mm
    return [start, *(float(r) for r in build.loads.r_mm if start < r < end), end]


def _bent(bent_nmm: FloatArray) -> Stress:
    return lambda outside, inside: tube_bending_mpa(bent_nmm, outside, inside)


def _stretched(at: list[Resultants]) -> Stress:
    def of(outside: float, inside: float) -> FloatArray:
        each = [
            tube_pull_mpa(np.maximum(one.pull_n, 0.0), outside, inside)
            + tube_bending_mpa(1e3 * np.hypot(one.flap_nm, one.lag_nm), outside, inside)
            for one in at
        ]
        return np.asarray(np.max(each, axis=0))

    return of


def _sheared(at: list[Resultants]) -> Stress:
    force = np.asarray(np.max([np.hypot(one.flap_n, one.lag_n) for one in at], axis=0))
    return lambda outside, inside: tube_shear_mpa(force, outside, inside)


def _at(
    build: Build, tube: RootTube, r_mm: float, fails: Fails, stands: Property, *, stress: Stress, note: str
) -> Link:
    """A link that differs from others by its stress, and by what stands it."""
    strength = tube.strength.of(stands)
    now = Loaded(stress(tube.outside, tube.inside), strength)
    helped = by_size(build, tube, now, lambda outside, inside: Loaded(stress(outside, inside), strength))
    return spar_link(tube, r_mm, fails, now, helped, why=tube.strength.why_not(stands), note=note, name=OUTER_END)


def by_size(build: Build, tube: RootTube, now: Loaded, of: Callable[[float, float], Loaded]) -> tuple[Help, ...]:
    """What a wider spar, or one of a thicker wall, would do."""
    wider = stepped(build.design, tube.outside, 2.0)
    outside = Change(f"stock.{tube.stock}.outside", mm(tube.outside), mm(wider), of(wider, tube.inside))
    return helps(now, outside, *tube.thicker(build, lambda inside: of(tube.outside, inside)))


def _buckled(build: Build, tube: RootTube, r_mm: float, bent_nmm: FloatArray) -> Link:
    def of(outside: float, inside: float) -> Loaded:
        return Loaded(
            tube_bending_mpa(bent_nmm, outside, inside),
            buckles_mpa(tube.strength, outside, inside, of_fibres=tube.of_fibres),
        )

    now = of(tube.outside, tube.inside)
    helped = by_size(build, tube, now, of)
    why = tube.strength.why_not(Property.MODULUS)
    return spar_link(tube, r_mm, Fails.BUCKLED, now, helped, why=why, note=f"its wall, by {KNOCK_DOWN}", name=OUTER_END)


def _flattened(build: Build, tube: RootTube, r_mm: float, bent_nmm: FloatArray) -> Link:
    def of(outside: float, inside: float) -> Loaded:
        return Loaded(bent_nmm * 1e-3, flattens_nm(tube.strength, outside, inside, of_fibres=tube.of_fibres))

    now = of(tube.outside, tube.inside)
    helped = by_size(build, tube, now, of)
    why = tube.strength.why_not(Property.MODULUS)
    name, note = "spar flattened as it bends", "a long tube (Brazier)"
    return spar_link(tube, r_mm, Fails.CRUSHED, now, helped, why=why, note=note, unit="N m", name=name)

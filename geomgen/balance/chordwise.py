"""Where a blade's mass sits along its chord, and the weight in its nose that brings it to a stated place."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.model.element import Element
from geomgen.model.role import Assembly

QUARTER = 0.25  # of the chord, where thin sections' lift acts


@dataclass(frozen=True)
class Centre:
    """A centre of mass along the chord, and where on the blade that is told of.

    r_mm            : radius at which it lies [mm]
    feather_mm      : from the feather axis, + forward [mm]
    quarter_mm      : from the quarter chord there, + forward [mm]
    chord_mm        : of the section there [mm]
    """

    r_mm: float
    feather_mm: float
    quarter_mm: float
    chord_mm: float


@dataclass(frozen=True)
class NoseWeight:
    """A weight that brings one blade's centre to a place.

    r_mm, forward_mm : where it sits: radius, and from the feather axis, + forward [mm]
    to_mm            : where the centre is wanted, from the feather axis, + forward [mm]
    mass_g           : what brings the centre there [g]; 0 where it lies there or ahead; None where no weight does
    weighted_g       : what brings the centre weighted by r there, likewise [g]
    then             : where the centre lies with `mass_g`, and where it does weighted by r [mm]
    """

    r_mm: float
    forward_mm: float
    to_mm: float
    mass_g: float | None
    weighted_g: float | None
    then: tuple[float, float] | None

    def pull_n(self, rpm: float) -> float | None:
        """What it pulls outwards at an rpm [1/min], by m r w2 [N]."""
        if self.mass_g is None:
            return None
        return self.mass_g * 1e-3 * self.r_mm * 1e-3 * (rpm * math.pi / 30.0) ** 2


@dataclass(frozen=True)
class Chordwise:
    """Of one blade, at the reference pitch.

    plain, weighted : centre of gravity; and weighted by r, where the pull of the turning blade acts
    nose_weight     : where one is asked for
    mends           : a weight at the nose, where the centre weighted by r lies, to bring that to the quarter chord
    """

    plain: Centre
    weighted: Centre
    nose_weight: NoseWeight | None
    mends: NoseWeight


@dataclass(frozen=True)
class Moments:
    """Of one blade, y + forward of the feather axis: mass [g], integrals of r, y [g mm], r y and r2 [g mm2] over it."""

    mass: float
    r: float
    y: float
    ry: float
    rr: float


def moments(some: Sequence[Element], number: int = 1) -> Moments:
    """Those of elements in the blade frame, at the reference pitch; number : which blade, where they differ [-]"""
    mine = [each for each in some if each.assembly == Assembly.BLADE and each.blade in (None, number)]
    grams = np.array([each.mass_g for each in mine])
    r, y, _ = np.array([each.centre for each in mine]).reshape(-1, 3).T
    own = np.array([each.inertia for each in mine]).reshape(-1, 3, 3)
    along = np.trace(own, axis1=1, axis2=2) / 2.0 - own[:, 0, 0]  # integral of r2 about an element's own centre
    sums = grams.sum(), grams @ r, grams @ y, grams @ (r * y) - own[:, 0, 1].sum(), grams @ (r * r) + along.sum()
    return Moments(*map(float, sums))


def chordwise(
    blade: Moments,
    quarter: tuple[FloatArray, FloatArray, FloatArray],
    asked: tuple[float, float, float] | None = None,
) -> Chordwise:
    """Where a blade's centre sits along its chord.

    quarter : radii, places of the quarter chord there, + forward of the feather axis, and chords; straight between [mm]
    asked   : a nose weight's radius, its place and where the centre is wanted, both + forward of the feather axis [mm]
    """

    def centre(r_mm: float, y_mm: float) -> Centre:
        there, chord = (float(np.interp(r_mm, quarter[0], row)) for row in quarter[1:])
        return Centre(r_mm, y_mm, y_mm - there, chord)

    plain, weighted = centre(blade.r / blade.mass, blade.y / blade.mass), centre(blade.rr / blade.r, blade.ry / blade.r)
    there, chord = weighted.feather_mm - weighted.quarter_mm, weighted.chord_mm
    mends = nose_weight(blade, weighted.r_mm, there + QUARTER * chord, there)
    return Chordwise(plain, weighted, None if asked is None else nose_weight(blade, *asked), mends)


def nose_weight(blade: Moments, r_mm: float, forward_mm: float, to_mm: float) -> NoseWeight:
    """The weight at (r, forward) that brings a blade's centre to a place, both + forward of the feather axis [mm].

    source : moments about the place wanted: m (forward - to) = M to - integral of y; weighted by r, each times its r
    """
    plain = _needed(blade.mass * to_mm - blade.y, forward_mm - to_mm)
    weighted = _needed(blade.r * to_mm - blade.ry, (forward_mm - to_mm) * r_mm)
    then = None
    if plain is not None:
        y, ry = blade.y + plain * forward_mm, blade.ry + plain * r_mm * forward_mm
        then = y / (blade.mass + plain), ry / (blade.r + plain * r_mm)
    return NoseWeight(r_mm, forward_mm, to_mm, plain, weighted, then)


def _needed(short: float, arm: float) -> float | None:
    """A mass whose moment makes up for what is short; 0 where nothing is, None where it can't."""
    if short <= 0.0:
        return 0.0
    return short / arm if arm > 0.0 else None

"""One point of hover by momentum and blade element theory, annulus by annulus."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.hover.panels import Panels
from geomgen.hover.point import HoverPoint, Loads, reynolds_numbers
from geomgen.section.polar.forces import SectionForces, SectionPolar, zero_lift_rad

_HALVINGS = 40  # of a right angle: to 1e-12 rad
_LEAST_SINE = 1e-12
_Excess = Callable[[FloatArray], FloatArray]


@dataclass(frozen=True)
class Form:
    """How the theory is written.

    name          : told with its figures
    tip, root     : whether Prandtl's factor is taken there
    inflow        : induced speed over that of momentum [-]
    less_by_chord : a section's slope is divided by 1 + this times its chord over R [-]
    swirl         : whether the air is turned with the blades, as their torque says
    """

    name: str
    tip: bool = True
    root: bool = True
    inflow: float = 1.0
    less_by_chord: float = 0.0
    swirl: bool = False


WITHOUT_LOSS = Form("blade element and momentum, no loss at tip or root", tip=False, root=False)
TEXTBOOK = Form("blade element and momentum, Prandtl's factor at tip and root")
CORRECTED = Form("blade element and momentum, corrected to a free wake's thrust", inflow=1.15, less_by_chord=0.6)
SWIRLING = Form("blade element and momentum with swirl, Prandtl's factor at the tip", root=False, swirl=True)


def blade_element_point(
    blade: Panels,
    pitch_rad: ArrayLike,
    polar: SectionPolar,
    reynolds_at_tip: float,
    form: Form = TEXTBOOK,
) -> HoverPoint:
    """A rotor in hover at one pitch.

    blade           : its panels
    pitch_rad       : angle of its sections to the rotor's plane, one or (n,) at the panels' r [rad]
    polar           : of its sections
    reynolds_at_tip : Omega R R / nu, of a chord of R at the tip [-]
    form            : how the theory is written. CORRECTED meets thrust and counts losses twice in power: sweeps only;
                      SWIRLING is for steep blades: where pitch is small, swirl changes nothing that counts
    returns         : its coefficients; past stall an annulus may have two solutions, of which it keeps one
    source          : 1/2 sigma V^2 c_l cos(phi) = 4 F lambda |lambda|, textbook; V^2 = r^2 + lambda^2, or with swirl
                      r^2 - lambda^2 - swirl^2, when lift alone turns the air and moves it across the stream that
                      the blade meets (Betz; Glauert in Durand, Aerodynamic Theory IV, 1935; both from memory);
                      constants of CORRECTED from runs of a free wake of vortex lattices
    """
    pitch = np.broadcast_to(np.asarray(pitch_rad, dtype=np.float64), blade.r.shape)
    reynolds = reynolds_numbers(blade, blade.r, reynolds_at_tip)
    zero = zero_lift_rad(polar, reynolds) if form.less_by_chord else np.zeros_like(reynolds)
    softer = 1.0 + form.less_by_chord * blade.chord

    def sections(phi: FloatArray) -> SectionForces:
        return polar.at(zero + (pitch - phi - zero) / softer, reynolds)

    def excess(phi: FloatArray) -> FloatArray:
        inflow = _stream(blade, phi, form) * np.sin(phi)
        element = _pressure(blade, phi, form) * sections(phi).lift * np.cos(phi)
        momentum = 4.0 * _prandtl(blade, phi, form) * inflow * np.abs(inflow) / form.inflow**2
        return element - momentum

    phi = _halved(excess, np.sign(sections(np.zeros_like(pitch)).lift))
    return _point(blade, phi, pitch - phi, reynolds, sections(phi), form, float(np.abs(excess(phi)).max()))


def _stream(blade: Panels, phi: FloatArray, form: Form) -> FloatArray:
    """Speed of the air at the blade [Omega R]: with swirl, all that is induced lies across it."""
    cosine = np.cos(phi)
    speed: FloatArray = blade.r * cosine if form.swirl else blade.r / cosine
    return speed


def _pressure(blade: Panels, phi: FloatArray, form: Form) -> FloatArray:
    """Half the local solidity times the square of the speed."""
    solidity = blade.blades * blade.chord / (np.pi * blade.r)
    pressure: FloatArray = 0.5 * solidity * _stream(blade, phi, form) ** 2
    return pressure


def _prandtl(blade: Panels, phi: FloatArray, form: Form) -> FloatArray:
    """Prandtl's factor of loss at the ends of so many blades; textbook, from memory."""
    each = 0.5 * blade.blades / (blade.r * np.maximum(np.abs(np.sin(phi)), _LEAST_SINE))
    ends = [(form.tip, 1.0 - blade.r), (form.root, blade.r - blade.edge[0])]
    factor: FloatArray = np.ones_like(phi)
    for taken, distance in ends:
        if taken:
            factor = factor * np.arccos(np.exp(-each * distance)) * (2.0 / np.pi)
    return factor


def _halved(excess: _Excess, sign: FloatArray) -> FloatArray:
    """Inflow angles [rad] at which the blade's push is the air's, between none and a right angle to the lift's side."""
    low, high = np.zeros_like(sign), sign * (math.pi / 2.0 - 1e-6)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        more = excess(middle) * sign > 0.0
        low, high = np.where(more, middle, low), np.where(more, high, middle)
    return (low + high) / 2.0


def _point(
    blade: Panels,
    phi: FloatArray,
    alpha: FloatArray,
    reynolds: FloatArray,
    forces: SectionForces,
    form: Form,
    residual: float,
) -> HoverPoint:
    ring = _pressure(blade, phi, form) * blade.r * blade.dr
    sine, cosine, speed = np.sin(phi), np.cos(phi), _stream(blade, phi, form)
    half = 0.5 * blade.chord * speed**2
    return HoverPoint(
        form.name,
        thrust=float(ring @ (forces.lift * cosine - forces.drag * sine)),
        induced=float(ring @ (forces.lift * sine * blade.r)),
        profile=float(ring @ (forces.drag * cosine * blade.r)),
        loads=Loads(
            blade.r,
            blade.dr,
            alpha,
            reynolds,
            forces,
            inflow=speed * sine,
            lift=half * forces.lift,
            drag=half * forces.drag,
        ),
        residual=residual,
    )

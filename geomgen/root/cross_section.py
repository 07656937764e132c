"""An arm of the hub seen along its axis: places all over it, each with its share of the area and what it lies in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import BoolArray, FloatArray
from geomgen.root.hub_spec import Duct, HubSpec

ROUND_NODES, OUT_NODES = 4, 8  # of Gauss's rule between two breaks, round the axis and out from it


@dataclass(frozen=True, eq=False)
class CrossSection:
    """Places about an arm's axis, in the caps' frame; arrays (n,).

    r, x, y : distance from the axis, and place [mm]
    area    : each one's share of the area [mm2]
    shell   : whether it lies in the arm's outline, round the socket and each duct with its wall
    void    : whether it lies in the socket or in a duct
    pilot   : whether it lies in a pilot hole
    """

    r: FloatArray
    x: FloatArray
    y: FloatArray
    area: FloatArray
    shell: BoolArray
    void: BoolArray
    pilot: BoolArray


@dataclass(frozen=True)
class _Outline:
    """A closed outline off the axis, mirrored in the line of its middle.

    middle : direction of that line [rad]
    half   : r [mm] -> how far it reaches to either side of it there [rad]; negative where it doesn't reach at all
    breaks : where `half` isn't smooth [mm]
    """

    middle: float
    half: Callable[[FloatArray], FloatArray]
    breaks: tuple[float, ...]


def arm_cross_section(spec: HubSpec) -> CrossSection:
    """Places by Gauss's rule, between the breaks of all outlines."""
    pilots = [_circle(at, spec.pilot / 2) for at in spec.pilots]
    voids = [_slot(duct) for duct in spec.ducts]
    shells = [_shell(duct, spec.arm / 2, spec.wall) for duct in spec.ducts]
    outlines = [*pilots, *voids, *shells]
    circles = np.array([0.0, spec.socket, spec.pocket, spec.arm, spec.boss, spec.flange]) / 2
    r, out = _out(np.unique([*circles, *(each for outline in outlines for each in outline.breaks)]))
    halves = [outline.half(r) for outline in outlines]
    sides = [outline.middle + sign * half for outline, half in zip(outlines, halves, strict=True) for sign in (-1, 1)]
    angle, turn = _round(np.array(sides).reshape(-1, len(r)).T)
    inside = [
        np.abs((angle - outline.middle + np.pi) % (2 * np.pi) - np.pi) < half[:, None]
        for outline, half in zip(outlines, halves, strict=True)
    ]
    far = np.broadcast_to(r[:, None], angle.shape)
    pilot, void, shell = np.split(np.array(inside).reshape(-1, far.size), [len(pilots), len(pilots) + len(voids)])
    return CrossSection(
        r=far.ravel(),
        x=(far * np.cos(angle)).ravel(),
        y=(far * np.sin(angle)).ravel(),
        area=(out[:, None] * far * turn).ravel(),
        shell=(far.ravel() < spec.arm / 2) | shell.any(axis=0),
        void=(far.ravel() < spec.socket / 2) | void.any(axis=0),
        pilot=np.asarray(pilot.any(axis=0)),
    )


def _out(breaks: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Radii and weights between breaks, closer at their ends: outlines that begin or end there do so like a root."""
    node, weight = np.polynomial.legendre.leggauss(OUT_NODES)
    half, middle = np.diff(breaks)[:, None] / 2, (breaks[1:] + breaks[:-1])[:, None] / 2
    lean = np.pi / 2 * node
    return (middle + half * np.sin(lean)).ravel(), (half * np.pi / 2 * weight * np.cos(lean)).ravel()


def _round(sides: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(n, m) angles and weights [rad] all round, between (n, k) breaks and the quarters."""
    node, weight = np.polynomial.legendre.leggauss(ROUND_NODES)
    quarters = np.broadcast_to(np.pi / 2 * np.arange(5), (len(sides), 5))
    breaks = np.sort(np.hstack([sides % (2 * np.pi), quarters]), axis=1)
    half, middle = np.diff(breaks, axis=1)[..., None] / 2, (breaks[:, 1:] + breaks[:, :-1])[..., None] / 2
    return (middle + half * node).reshape(len(sides), -1), (half * weight).reshape(len(sides), -1)


def _reach(r: FloatArray, away: float, radius: float) -> FloatArray:
    """Half the angle that a circle takes of rings about the axis [rad]; negative where they don't meet.

    away : of its middle from the axis [mm]
    """
    share = (r * r + away * away - radius * radius) / (2.0 * away * np.maximum(r, 1e-9))
    return np.where(np.abs(share) <= 1.0, np.arccos(np.clip(share, -1.0, 1.0)), np.where(share > 1.0, -np.pi, np.pi))


def _circle(at: tuple[float, float], radius: float) -> _Outline:
    away = float(np.hypot(*at))
    return _Outline(float(np.arctan2(at[1], at[0])), lambda r: _reach(r, away, radius), (away - radius, away + radius))


def _slot(duct: Duct) -> _Outline:
    middle, half = _span(duct)
    radius = duct.width / 2
    return _Outline(
        middle, lambda r: half + _reach(r, duct.radius, radius), (duct.radius - radius, duct.radius + radius)
    )


def _shell(duct: Duct, arm: float, wall: float) -> _Outline:
    """Round a circle of radius `arm` [mm] and a duct with its wall, joined by their outer tangents."""
    middle, half = _span(duct)
    end = duct.width / 2 + wall
    lean = float(np.arccos((arm - end) / duct.radius))  # of a touching point, from the line of centres
    touching = float(np.hypot(arm, duct.radius * np.sin(lean)))

    def reach(r: FloatArray) -> FloatArray:
        straight = lean - np.arccos(np.minimum(arm / np.maximum(r, arm), 1.0))
        return half + np.where(r <= touching, straight, _reach(r, duct.radius, end))

    return _Outline(middle, reach, (arm, touching, duct.radius + end))


def _span(duct: Duct) -> tuple[float, float]:
    """Its middle direction, and half of what the middles of its round ends stand apart [rad]."""
    first, last = np.radians(duct.from_deg), np.radians(duct.to_deg)
    return float(first + last) / 2, float(last - first) / 2

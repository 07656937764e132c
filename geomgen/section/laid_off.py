"""A section from a half-thickness laid off square to a mean line."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.section.mean_line import MeanLine
from geomgen.section.section import Run, Section, Surface, joined
from geomgen.section.thickness import HalfThickness

STATIONS = 161  # samples from nose to tail, even steps of β where x = (1 - cos β)/2
JOINT = "mean line joint"


def laid_off(name: str, mean: MeanLine, form: HalfThickness) -> Section:
    """A section from its mean line and half-thickness: exact points and exact tangents.

    source : NACA Report 460: x = xm ∓ y sin θ, y = ym ± y cos θ, with θ the mean line's slope angle at xm
    """
    sides = [_surface(mean, form, sign) for sign in (1.0, -1.0)]
    tail = "closed" if form.closed else "open"
    return Section(name, f"from the published equations of its family, tail {tail}", *sides)


def _stations(*joints: float | None) -> FloatArray:
    """Stations u = √x from nose to tail, the nearest to each joint moved onto it, (STATIONS,)."""
    u = np.sin(np.linspace(0.0, 0.5 * np.pi, STATIONS))
    u[-1] = 1.0
    for joint in joints:
        if joint is not None:
            u[np.argmin(np.abs(u - np.sqrt(joint)))] = np.sqrt(joint)
    return u


def _surface(mean: MeanLine, form: HalfThickness, sign: float) -> Surface:
    """Upper (sign 1) or lower (sign -1) surface."""
    u = _stations(form.joint, mean.joint)
    if mean.joint is None:
        return joined([_run(u, mean, form, sign, aft=False)], [])
    split = int(np.searchsorted(u, np.sqrt(mean.joint)))
    fore, aft = u[: split + 1], u[split:]
    return joined([_run(fore, mean, form, sign, aft=False), _run(aft, mean, form, sign, aft=True)], [JOINT])


def _run(u: FloatArray, mean: MeanLine, form: HalfThickness, sign: float, aft: bool) -> Run:
    """Points and tangents at u = √x, with the fore or aft part of the mean line."""
    half, growth = form.at(u)
    half, growth = sign * half, sign * growth
    height, slope, bend = mean.at(u * u, aft)
    cos, sin = 1.0 / np.hypot(1.0, slope), slope / np.hypot(1.0, slope)
    turn = bend * cos * cos * 2.0 * u
    xy = np.column_stack([u * u - half * sin, height + half * cos])
    speed = np.column_stack(
        [2.0 * u - growth * sin - half * cos * turn, slope * 2.0 * u + growth * cos - half * sin * turn]
    )
    if u[0] == 0.0 and form.fore[1] == 0.0:  # a sharp nose: nothing moves at u = 0, so take the next order
        swell = 2.0 * sign * form.fore[2]
        speed[0] = [2.0 - swell * sin[0], 2.0 * slope[0] + swell * cos[0]]
    return Run(xy, speed / np.hypot(speed[:, 0], speed[:, 1])[:, None])

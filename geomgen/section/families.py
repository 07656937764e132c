"""The published families of sections: a half-thickness laid off square to a mean line."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from geomgen.errors import DesignError, Fault
from geomgen.section import mean_lines, thickness
from geomgen.section.mean_lines import MeanLine
from geomgen.section.section import Run, Section, Surface, joined
from geomgen.section.thickness import HalfThickness

FloatArray = NDArray[np.float64]

STATIONS = 161  # samples from nose to tail, even steps of β where x = (1 - cos β)/2
JOINT = "mean line joint"

_DIGITS = re.compile(r"(?:naca)?[\s_-]*(?P<mean>\d{2}|\d{3})(?P<thickness>\d{2})(?:-(?P<index>\d)(?P<place>\d))?", re.I)
_ALLOWED = 'four digits ("4412"), five ("23012", reflexed "23112"), or either with two more for the nose ("0012-64")'


def naca(designation: str, tail: str = "open", path: str = "") -> Section:
    """The section that a designation names.

    designation : "4412", "0012-64", "23012", "23112" (reflexed), with or without "naca" before it
    tail        : "open" as published, "closed" to a point
    path        : key path in the design file, for a fault
    raises      : DesignError where no published section has that designation
    """

    def refuse(wrong: str, allowed: str = "", remedy: str = "") -> DesignError:
        return DesignError(Fault(path, designation, wrong, allowed, remedy))

    match = _DIGITS.fullmatch(designation.strip())
    if not match:
        raise refuse("not a designation of the families known here", _ALLOWED)
    if match["thickness"] == "00":
        raise refuse("its last two digits, the thickness in percent, are 00", "01 to 99")
    t, closed = int(match["thickness"]) / 100.0, tail == "closed"
    if match["index"] is None:
        form = thickness.four_digit(t, closed)
    elif int(match["place"]) not in thickness.TAIL_SLOPE:
        wrong = f"no form was published with the greatest thickness at {match['place']}0 % of the chord"
        raise refuse(wrong, "a last digit of 2 to 6")
    else:
        form = thickness.modified(t, int(match["index"]), int(match["place"]), closed)
    name = match["mean"] + match["thickness"] + (f"-{match['index']}{match['place']}" if match["index"] else "")
    return build(f"naca {name}", _mean_line(match["mean"], refuse), form)


def build(name: str, mean: MeanLine, form: HalfThickness) -> Section:
    """A section from its mean line and half-thickness: exact points and exact tangents.

    source : NACA Report 460: x = xm ∓ y sin θ, y = ym ± y cos θ, with θ the mean line's slope angle at xm
    """
    sides = [_surface(mean, form, sign) for sign in (1.0, -1.0)]
    tail = "closed" if form.closed else "open"
    return Section(name, f"from the published equations of its family, tail {tail}", *sides)


def _mean_line(digits: str, refuse: Callable[..., DesignError]) -> MeanLine:
    """The mean line that the digits before the thickness name."""
    if len(digits) == 2:
        camber, position = int(digits[0]), int(digits[1])
        if (camber == 0) != (position == 0):
            wrong = "camber without a place for it" if camber else "a place for the camber, but no camber"
            raise refuse(wrong, "both of the first two digits are 0, or neither")
        return mean_lines.four_digit(camber / 100.0, position / 10.0)
    lift, position, reflex = 0.15 * int(digits[0]), int(digits[1]), int(digits[2])
    if reflex > 1:
        raise refuse(f"its third digit is {reflex}", "0 for a simple mean line, 1 for a reflexed one")
    if lift == 0.0:
        raise refuse("its first digit, the lift it is designed for, is 0", "1 to 9")
    known = mean_lines.REFLEXED if reflex else mean_lines.SIMPLE
    if position not in known:
        kind = "reflexed" if reflex else "simple"
        wrong = f"no {kind} mean line was published for a second digit of {position}"
        raise refuse(wrong, f"{min(known)} to {max(known)}")
    return mean_lines.reflexed(lift, position) if reflex else mean_lines.five_digit(lift, position)


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

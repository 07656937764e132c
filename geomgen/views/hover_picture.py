"""Two pictures of hover in one: lift and power against rpm; lift coefficient and angle of attack along the blade."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import name_in, number_in
from geomgen.hover.hovering import Hovering
from geomgen.hover.rotor import Setting
from geomgen.views.axis import Axis
from geomgen.views.drawing import Drawing, Drawn, Line, Ring, Words

GRAVITY = 9.80665
WIDE, HIGH, GAP, EDGE = 118.0, 78.0, 46.0, 22.0  # of a panel, between two, round them [mm]
SIZE, TITLE = 3.4, 4.6
FIRST, SECOND, THIRD = "first", "second", "third"
TINTS = {FIRST: "#1f6fb2", SECOND: "#c4541a", THIRD: "#6a8f3c"}
SAID = {style: f"{style}-words" for style in TINTS}
COLOURS = (
    *((name, "", tint) for name, tint in TINTS.items()),
    *((SAID[name], tint, "") for name, tint in TINTS.items()),
)


def hover_picture(found: Hovering, title: str, unit: str = "mm") -> Drawing | None:
    """Lift and power against rpm at the pitch to fly at, and what happens along the blade; None where nothing lifts."""
    at = found.flown.setting
    if not isinstance(at, Setting):
        return None
    words = f"{title}: lift and power against rpm, and along the blade, at {at.pitch_deg:g} deg"
    items: list[Drawn] = [Words(words, (0.0, HIGH + 16.0), TITLE, bold=True)]
    items += _against_rpm(found, at, unit)
    items += _along(at, WIDE + GAP)
    box = (-EDGE, -EDGE, 2 * WIDE + GAP + EDGE, HIGH + 24.0)
    return Drawing(box, words, words, tuple(items), colours=COLOURS, unit=unit)


def _against_rpm(found: Hovering, at: Setting, unit: str) -> Iterator[Drawn]:
    rpm = np.array([each.rpm for each in found.speeds])
    grams = np.array([each.lifted_n for each in found.speeds]) / GRAVITY * 1e3
    lifted = np.array([number_in("g", float(one), unit) for one in grams])
    power = np.array([each.air_w for each in found.speeds])
    most = np.array([each.most_w for each in found.speeds if each.most_w is not None])
    weight = number_in("g", found.weight_n / GRAVITY * 1e3, unit)
    x, left = Axis(float(rpm[0]), float(rpm[-1])), Axis(0.0, max(float(lifted.max()), weight))
    right = Axis(0.0, max(float(power.max()), float(most.max()) if len(most) else 0.0))
    yield from _frame(0.0, x, left, right, "rpm", f"lifted, {name_in('g', unit)}", "power, W")
    yield Line(_points(0.0, x, rpm, left, lifted), FIRST, 0.6)
    yield Line(_points(0.0, x, rpm, right, power), SECOND, 0.6)
    if len(most) == len(rpm):
        yield Line(_points(0.0, x, rpm, right, most), THIRD, 0.6)
        yield Words(
            "fans give at full throttle", (WIDE - 2, right.at(float(most[-1]), HIGH) + 2), SIZE, SAID[THIRD], "end"
        )
    yield Line([(0.0, left.at(weight, HIGH)), (WIDE, left.at(weight, HIGH))], "faint", 0.25, (2.0, 1.5))
    yield Words("weight", (2.0, left.at(weight, HIGH) + 1.5), SIZE, "faint")
    yield Ring((x.at(at.rpm, WIDE), left.at(weight, HIGH)), 1.3, FIRST, 0.5)
    yield Words("lift", (x.at(float(rpm[3]), WIDE), left.at(float(lifted[3]), HIGH) + 3), SIZE, SAID[FIRST], "end")
    yield Words(
        "power in the air", (x.at(float(rpm[6]), WIDE) + 2, right.at(float(power[6]), HIGH) - 5), SIZE, SAID[SECOND]
    )


def _along(at: Setting, start: float) -> Iterator[Drawn]:
    loads = at.blades.point.loads
    r, lift, alpha = loads.r * 100.0, loads.forces.lift, np.degrees(loads.alpha_rad)
    x, left = Axis(0.0, 100.0), Axis(min(0.0, float(lift.min())), float(lift.max()))
    right = Axis(min(0.0, float(alpha.min())), float(alpha.max()))
    yield from _frame(start, x, left, right, "r, % of the radius", "lift coefficient", "angle of attack, deg")
    yield Line(_points(start, x, r, left, lift), FIRST, 0.6)
    yield Line(_points(start, x, r, right, alpha), SECOND, 0.6)


def _points(start: float, x: Axis, across: FloatArray, y: Axis, up: FloatArray) -> Sequence[tuple[float, float]]:
    return [(start + x.at(float(a), WIDE), y.at(float(b), HIGH)) for a, b in zip(across, up, strict=True)]


def _frame(start: float, x: Axis, left: Axis, right: Axis, below: str, first: str, second: str) -> Iterator[Drawn]:
    yield Line([(start, HIGH), (start, 0.0), (start + WIDE, 0.0), (start + WIDE, HIGH)], "faint", 0.25)
    for value in x.ticks:
        yield Words(f"{value:g}", (start + x.at(value, WIDE), -6.0), SIZE, "faint", "middle")
    for axis, at, anchor, style in ((left, start - 2.0, "end", FIRST), (right, start + WIDE + 2.0, "start", SECOND)):
        for value in axis.ticks:
            yield Words(
                f"{value:g}".replace("-", "\u2212"), (at, axis.at(value, HIGH) - 1.2), SIZE, SAID[style], anchor
            )
    for value in left.ticks[1:]:
        yield Line([(start, left.at(value, HIGH)), (start + WIDE, left.at(value, HIGH))], "faint", 0.08)
    yield Words(below, (start + WIDE / 2, -13.0), SIZE, "faint", "middle")
    yield Words(first, (start - 14.0, HIGH + 6.0), SIZE, SAID[FIRST])
    yield Words(second, (start + WIDE + 14.0, HIGH + 6.0), SIZE, SAID[SECOND], "end")

"""The stated polar against four sections measured at a model's Reynolds numbers: whether its bands hold them.

Lift was fitted to these same sections: `left_out.py` says what is left of that for a section it wasn't fitted to.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from measured_sections import MEASURED, NAMES, Measured, flow, shape

from geomgen.section.polar.forces import zero_lift_rad
from geomgen.section.polar.record import Polar
from geomgen.section.polar.stated import stated_polar

WIDEST = 0.15, 1.3, 0.25, 0.5  # from Re 2e5: share of slope, angle without lift [deg], greatest lift, share of drag
WHOLE = [each for each in MEASURED if each.reynolds > 9e4]
UNSTALLED_RAD = np.radians(np.arange(-6.0, 12.01, 0.25))
LINE_RAD = np.radians(np.arange(0.0, 6.01, 0.25))

# Lyon et al. 1998, DRAG03, clean: Reynolds number, lift, drag
BETWEEN = [
    ("Clark-Y (B)", 1.000e5, 0.436, 0.0240),
    ("Clark-Y (B)", 3.999e5, 0.550, 0.0079),
    ("E472", 1.003e5, 0.639, 0.0313),
    ("E472", 2.001e5, 0.561, 0.0176),
    ("BW-3", 0.994e5, 0.699, 0.0251),
    ("PT-40 (A)", 1.006e5, 0.631, 0.0167),
    ("E472", 5.014e5, 0.985, 0.0156),
]
BEYOND = [("BW-3", 2.976e5, 0.350, 0.0275), ("PT-40 (A)", 2.002e5, -0.084, 0.0425), ("BW-3", 2.976e5, 1.363, 0.0391)]


@cache
def polar(name: str) -> Polar:
    return stated_polar(shape(name))


def drag_at(name: str, reynolds: float, lift: float) -> float:
    forces = polar(name).at(UNSTALLED_RAD, np.full_like(UNSTALLED_RAD, reynolds))
    last = int(np.argmax(forces.lift))
    return float(np.interp(lift, forces.lift[: last + 1], forces.drag[: last + 1]))


def one(each: Measured) -> str:
    return f"{each.section} {each.reynolds:.0f}"


@pytest.mark.parametrize("name", NAMES)
def test_outlines_are_those_that_were_measured(name: str) -> None:
    # thickness and camber as the tables' authors say them: [share of the chord]
    thickness, camber = {
        "Clark-Y (B)": (0.1176, 0.033),
        "E472": (0.121, 0.0),
        "BW-3": (0.050, 0.0565),
        "PT-40 (A)": (0.116, 0.029),
    }[name]
    assert flow(name).thickness == pytest.approx(thickness, abs=0.001)
    assert flow(name).camber == pytest.approx(camber, abs=0.0015)
    assert not any("half as wide again" in word for word in polar(name).words)


@pytest.mark.parametrize("each", WHOLE, ids=one)
def test_slope_and_angle_without_lift(each: Measured) -> None:
    band, reynolds = polar(each.section).band_at(each.reynolds), np.array([each.reynolds])
    lift = polar(each.section).at(LINE_RAD, np.full_like(LINE_RAD, each.reynolds)).lift
    assert abs(each.slope_per_rad / np.polyfit(LINE_RAD, lift, 1)[0] - 1.0) <= band.slope[0]
    off = each.zero_lift_deg - np.degrees(zero_lift_rad(polar(each.section), reynolds)[0])
    assert abs(off) <= np.degrees(band.zero_lift_rad[0])


@pytest.mark.parametrize("each", WHOLE, ids=one)
def test_greatest_lift_and_least_drag(each: Measured) -> None:
    band = polar(each.section).band_at(each.reynolds)
    assert abs(each.greatest_lift - polar(each.section).greatest_lift(each.reynolds)) <= band.greatest_lift[0]
    least = polar(each.section).at(UNSTALLED_RAD, np.full_like(UNSTALLED_RAD, each.reynolds)).drag.min()
    assert band.drag_low[0] <= each.drag / least <= band.drag_high[0]


@pytest.mark.parametrize("each", [each for each in WHOLE if each.reynolds > 1.9e5], ids=one)
def test_bands_are_no_wider_than_asked_for(each: Measured) -> None:
    band = polar(each.section).band_at(each.reynolds)
    slope, zero_deg, greatest, drag = (limit + 1e-9 for limit in WIDEST)
    assert band.slope[0] <= slope and np.degrees(band.zero_lift_rad[0]) <= zero_deg
    assert band.greatest_lift[0] <= greatest
    assert 1.0 - drag <= band.drag_low[0] and band.drag_high[0] <= 1.0 + drag


@pytest.mark.parametrize(("name", "reynolds", "lift", "drag"), BETWEEN)
def test_drag_where_a_blade_works(name: str, reynolds: float, lift: float, drag: float) -> None:
    band = polar(name).band_at(reynolds)
    assert band.drag_low[0] <= drag / drag_at(name, reynolds, lift) <= band.drag_high[0]


@pytest.mark.parametrize(("name", "reynolds", "lift", "drag"), BEYOND)
def test_drag_at_little_lift_and_near_stall_is_beyond_the_band_and_told(
    name: str, reynolds: float, lift: float, drag: float
) -> None:
    ratio = drag / drag_at(name, reynolds, lift)
    assert polar(name).band_at(reynolds).drag_high[0] < ratio < 4.0
    assert "up to four times as high" in " ".join(polar(name).words)


@pytest.mark.parametrize(
    ("name", "reynolds", "moment"),
    [
        ("Clark-Y (B)", 301500, -0.0838),
        ("E472", 303100, -0.0039),
        ("BW-3", 299500, -0.1300),
        ("PT-40 (A)", 302100, -0.0642),
    ],
)
def test_moment_about_a_quarter_of_the_chord(name: str, reynolds: float, moment: float) -> None:
    """At lift 0.5, LIFT03; nothing says how good it is: two readings with rising and falling angle differ by 0.009."""
    forces = polar(name).at(LINE_RAD, np.full_like(LINE_RAD, reynolds))
    alpha = float(np.interp(0.5, forces.lift, LINE_RAD))
    assert polar(name).moment_at(np.array([alpha]), np.array([reynolds]))[0] == pytest.approx(moment, abs=0.015)


@pytest.mark.parametrize(
    ("name", "reynolds", "angle_deg"),
    [("Clark-Y (B)", 301500, 14.72), ("E472", 303100, 13.82), ("BW-3", 299500, 12.01), ("PT-40 (A)", 302100, 15.47)],
)
def test_angle_of_the_greatest_lift(name: str, reynolds: float, angle_deg: float) -> None:
    """LIFT03, rising; its steps are 1 deg."""
    alpha = np.radians(np.arange(0.0, 22.0, 0.25))
    lift = polar(name).at(alpha, np.full_like(alpha, reynolds)).lift
    assert np.degrees(alpha[np.argmax(lift)]) == pytest.approx(angle_deg, abs=1.5)


@pytest.mark.parametrize("each", [each for each in WHOLE if each.reynolds > 1.9e5], ids=one)
def test_errors_at_these_sections_are_as_told(each: Measured) -> None:
    """What `_lift` says of its fit, from Re 2e5: slope 14 %, greatest lift 0.12 at worst."""
    lift = polar(each.section).at(LINE_RAD, np.full_like(LINE_RAD, each.reynolds)).lift
    assert np.polyfit(LINE_RAD, lift, 1)[0] == pytest.approx(each.slope_per_rad, rel=0.14)
    assert polar(each.section).greatest_lift(each.reynolds) == pytest.approx(each.greatest_lift, abs=0.12)

"""Potential flow against a Joukowski aerofoil in closed form, and thin-aerofoil values."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.section.coordinates import section
from geomgen.section.families import naca
from geomgen.section.folding import Folds, folded
from geomgen.section.listing import Origin, parse
from geomgen.section.polar.potential import potential_flow, speeds_round
from geomgen.section.section import Section, Surface


def mirrored(shape: Section) -> Section:
    upper, lower = (
        Surface(s.xy * [1, -1], s.tangent * [1, -1], s.corners, s.names) for s in (shape.lower, shape.upper)
    )
    return Section("mirrored", "", upper, lower)


def test_joukowski_slope_and_zero_lift_in_closed_form() -> None:
    # circle through (1, 0) about (-e, k): c_l = 8 pi R/c sin(a + b), sin b = k/R; z = s + 1/s (textbook)
    centre = -0.09 + 0.12j
    radius = abs(1.0 - centre)
    turn = np.linspace(0.0, 2.0 * np.pi, 241) - np.arcsin(centre.imag / radius)
    z = (circle := centre + radius * np.exp(1j * turn)) + 1.0 / circle
    text = "joukowski\n" + "\n".join(f"{at.real:.9f} {at.imag:.9f}" for at in z)
    origin = Origin("j.dat", "", "")
    flow = potential_flow(section(parse(text.encode(), origin), origin, "j"))
    far = int(np.argmax(np.abs(z - 2.0)))
    chord, tilt = abs(z[far] - 2.0), np.angle(2.0 - z[far])
    assert flow.slope_per_rad == pytest.approx(8.0 * np.pi * radius / chord, rel=4e-3)
    assert flow.zero_lift_rad == pytest.approx(-np.arcsin(centre.imag / radius) - tilt, abs=2e-3)


@pytest.mark.parametrize("digits", ["0012", "2412", "4412"])
def test_lift_by_pressure_is_lift_by_circulation(digits: str) -> None:
    speeds = speeds_round(naca(digits, "open", ""))
    sine, cosine = np.sin(0.08), np.cos(0.08)
    along, up, _ = speeds.pressures() @ [cosine**2, sine * cosine, sine**2]
    assert up * cosine - along * sine == pytest.approx(speeds.circulation_lift() @ [cosine, sine], abs=2e-4)
    assert along * cosine + up * sine == pytest.approx(0.0, abs=1e-3)  # d'Alembert: no drag


@pytest.mark.parametrize(("digits", "zero_deg", "moment"), [("2412", -2.0772, -0.05312), ("4412", -4.1545, -0.10624)])
def test_near_thin_aerofoil_theory(digits: str, zero_deg: float, moment: float) -> None:
    # thin-aerofoil integrals of the mean line (Abbott and von Doenhoff, 1959); thickness adds a few hundredths
    flow = potential_flow(naca(digits, "open", ""))
    assert np.degrees(flow.zero_lift_rad) == pytest.approx(zero_deg, abs=0.15)
    assert flow.moment(np.array(flow.zero_lift_rad)) == pytest.approx(moment, abs=0.004)


def test_thickness_raises_the_slope_of_naca_0012() -> None:
    # 2 pi (1 + 0.77 t), textbook for sections of thickness t
    assert potential_flow(naca("0012", "open", "")).slope_per_rad == pytest.approx(
        2 * np.pi * (1 + 0.77 * 0.12), rel=0.02
    )


def test_a_folded_section_mirrored() -> None:
    shape = folded(naca("4412", "open", ""), Folds((0.2, 0.45, 0.7), (0.3,), 0.03))
    one, other = potential_flow(shape), potential_flow(mirrored(shape))
    assert other.slope_per_rad == pytest.approx(one.slope_per_rad)
    assert other.zero_lift_rad == pytest.approx(-one.zero_lift_rad)
    assert other.moments == pytest.approx([-one.moments[0], one.moments[1], -one.moments[2]])

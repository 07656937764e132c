"""Blade element and momentum theory by annuli, against its closed forms."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.hover.blade_element import CORRECTED, TEXTBOOK, WITHOUT_LOSS, Form, blade_element_point
from geomgen.hover.panels import panels
from geomgen.section.polar.forces import CappedLine

THIN = CappedLine(2.0 * np.pi, drag_at_zero=0.0, drag_per_rad2=0.0)
SOLIDITY = 0.1
TABLED = [0.0261799, 0.0445468, 0.0595572]  # inflow at 0.25, 0.5, 0.75 R and 8 deg, worked out elsewhere


def inflow(r: float, pitch: float) -> float:
    """sigma a / 16 (sqrt(1 + 32 theta r / (sigma a)) - 1), textbook."""
    share = SOLIDITY * 2.0 * np.pi
    return float(share / 16.0 * (np.sqrt(1.0 + 32.0 * pitch * r / share) - 1.0))


@pytest.mark.parametrize("pitch", [2.0, 8.0])
def test_inflow_without_loss(pitch: float) -> None:
    """The closed form drops inflow's square beside 1 and the lean of lift: 1 % at these angles."""
    blade = panels([0.06, 1.0], [SOLIDITY * np.pi / 2] * 2, 2, 80)
    point = blade_element_point(blade, np.radians(pitch), THIN, 1e6, WITHOUT_LOSS)
    assert [inflow(r, np.radians(8.0)) for r in (0.25, 0.5, 0.75)] == pytest.approx(TABLED, rel=1e-5)
    for r in (0.25, 0.5, 0.75, 0.95):
        assert np.interp(r, blade.r, point.loads.inflow) == pytest.approx(inflow(r, np.radians(pitch)), rel=0.01)


def test_thrust_and_power_without_loss() -> None:
    """Closed form at 8 deg, integrated: C_T 0.00619725, induced power 1.08455 of even inflow's."""
    blade = panels([0.06, 1.0], [SOLIDITY * np.pi / 2] * 2, 2, 80)
    point = blade_element_point(blade, np.radians(8.0), THIN, 1e6, WITHOUT_LOSS)
    assert point.thrust == pytest.approx(0.00619725, rel=0.005)
    assert point.induced_factor == pytest.approx(1.08455, rel=0.01)
    assert point.residual < 1e-9 and point.profile == 0.0


def test_prandtls_factor_takes_off_as_much_as_its_integral() -> None:
    """Area lost at the tips of N blades in even inflow: 1 - B = 2 ln 2 lambda / N, so thrust falls by some 2 (1 - B)
    at a given inflow; at a given pitch the blade meets more angle where the air moves less: a share of it."""
    blade = panels([0.1, 1.0], [0.05, 0.05], 2, 80)
    free, lossy = (blade_element_point(blade, 0.14, THIN, 1e6, form).thrust for form in (WITHOUT_LOSS, TEXTBOOK))
    lost = 2.0 * 2.0 * np.log(2.0) * np.sqrt(free / 2.0) / 2.0
    assert 0.4 * lost < 1.0 - lossy / free < lost


def test_air_and_blade_push_alike() -> None:
    """What the annuli's air gains, 4 F lambda^2 r, is what sections push; lift alone, so without drag."""
    blade = panels([0.1, 1.0], [0.1, 0.06], 3, 40)
    loads = blade_element_point(blade, 0.15, THIN, 1e6, WITHOUT_LOSS).loads
    by_air = np.sum(4.0 * loads.inflow**2 * blade.r * blade.dr)
    by_blade = 3 / np.pi * np.sum(loads.lift * np.cos(np.arctan2(loads.inflow, blade.r)) * blade.dr)
    assert by_air == pytest.approx(by_blade, rel=1e-9)


@pytest.mark.parametrize("form", [WITHOUT_LOSS, TEXTBOOK, CORRECTED])
def test_camber_is_pitch(form: Form) -> None:
    """A section that lifts nothing at -3 deg at pitch 5 deg is one that lifts nothing at 0 at 8 deg."""
    blade = panels([0.15, 1.0], [0.1, 0.1], 2)
    flat, cambered = CappedLine(6.0, 1.3, 0.0, 0.01, 0.0), CappedLine(6.0, 1.3, np.radians(-3.0), 0.01, 0.0)
    one = blade_element_point(blade, np.radians(8.0), flat, 1e6, form)
    other = blade_element_point(blade, np.radians(5.0), cambered, 1e6, form)
    assert other.thrust == pytest.approx(one.thrust, rel=1e-8) and other.torque == pytest.approx(one.torque, rel=1e-8)


def test_pitch_downwards_pushes_downwards() -> None:
    blade = panels([0.15, 1.0], [0.1, 0.1], 2)
    up, down = (blade_element_point(blade, pitch, CappedLine(6.0, 1.3), 1e6) for pitch in (0.1, -0.1))
    assert down.thrust == pytest.approx(-up.thrust, rel=1e-9) and down.torque == pytest.approx(up.torque, rel=1e-9)
    assert blade_element_point(blade, 0.0, CappedLine(6.0, 1.3), 1e6).thrust == pytest.approx(0.0, abs=1e-12)


def test_past_stall_is_said() -> None:
    blade = panels([0.15, 1.0], [0.1, 0.1], 2)
    assert blade_element_point(blade, 0.3, CappedLine(6.0, 0.8), 1e6).stalled
    assert not blade_element_point(blade, 0.1, CappedLine(6.0, 0.8), 1e6).stalled


def test_corrected_form_is_named_and_lower() -> None:
    """Inflow times 1.15 and slope over 1 + 0.6 c / R: a study's own figures, of measured thrust."""
    blade = panels([0.17, 1.0], [1 / 6, 1 / 6], 2)
    textbook, corrected = (
        blade_element_point(blade, np.radians(8.0), CappedLine(6.0, 1.3), 1e6, form) for form in (TEXTBOOK, CORRECTED)
    )
    assert corrected.thrust / textbook.thrust == pytest.approx(1.04 / 1.25, rel=0.01)
    assert "corrected" in corrected.theory and "corrected" not in textbook.theory

"""Glue another way: stress on a scarf turned as a tensor, glue round a tube summed piece by piece."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.strength.formulas.glue import (
    ring_glue_pull_mpa,
    ring_glue_twist_mpa,
    scarf_cap,
    scarf_normal_mpa,
    scarf_share,
    scarf_shear_mpa,
)


@pytest.mark.parametrize("slope", [1.0, 4.0, 8.0, 12.0])
def test_stress_on_a_scarf(slope: float) -> None:
    """Pull along x on a plane that rises 1 in n: the stress tensor times the plane's normal."""
    along = np.array([slope, 1.0]) / np.hypot(slope, 1.0)
    normal = np.array([-along[1], along[0]])
    force = np.array([[20.0, 0.0], [0.0, 0.0]]) @ normal
    assert scarf_shear_mpa(20.0, slope) == pytest.approx(abs(force @ along))
    assert scarf_normal_mpa(20.0, slope) == pytest.approx(abs(force @ normal))
    # the bar's stress at which the sum of squares is one
    share = scarf_share(20.0, 2.0, 0.8, slope)
    reached = np.hypot(force @ along / 2.0, force @ normal / 0.8)
    assert share == pytest.approx(min(1.0, 1.0 / reached))


def test_caps_of_scarfs_as_read() -> None:
    """Read: butt .25, .65 at 1 in 4, .75 at 1 in 8, .95 at 20 (so .85 at 14); none above .9."""
    assert scarf_cap(np.array([0.0, 2.0, 4.0, 8.0, 14.0, 1e3])) == pytest.approx([0.25, 0.45, 0.65, 0.75, 0.85, 0.9])


def test_glue_round_a_tube_by_small_pieces() -> None:
    """Force and twist that an even shear makes over the face, summed piece by piece."""
    diameter, length, shear = 10.0, 15.0, 3.0
    angle = (np.arange(720) + 0.5) * np.pi / 360.0
    pieces = np.full(angle.size, diameter / 2.0 * np.pi / 360.0 * length * shear)
    twist = (pieces * np.hypot(diameter / 2.0 * np.cos(angle), diameter / 2.0 * np.sin(angle))).sum()
    assert ring_glue_pull_mpa(pieces.sum(), diameter, length) == pytest.approx(shear)
    assert ring_glue_twist_mpa(twist, diameter, length) == pytest.approx(shear)

"""Ribs cut along a line, by hand and by small steps; plates punched through."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.strength.formulas.bar import rectangle_shear_mpa
from geomgen.strength.formulas.pin import bearing_mpa
from geomgen.strength.formulas.plate import ring_shear_mpa
from geomgen.strength.formulas.rib import Ligaments


def test_a_rib_through_a_hole() -> None:
    """30 mm high; 4 mm beside a hole's middle, 14 mm up, its chord is 2 sqrt(81 - 16); a slot above takes 2 mm more."""
    chord = np.sqrt(81.0 - 16.0)
    cut = Ligaments(np.array([0.0, 14.0 + chord, 28.0]), np.array([14.0 - chord, 26.0, 30.0]), 3.0)
    # second moment in small steps
    at = (np.arange(300_000) + 0.5) * 1e-4
    kept = at[((at[:, None] > cut.starts) & (at[:, None] < cut.ends)).any(axis=1)]
    assert cut.area_mm2 == pytest.approx(kept.size * 3e-4, rel=1e-4)
    assert cut.middle == pytest.approx(kept.mean(), abs=1e-3)
    assert cut.second_mm4 == pytest.approx(((kept - kept.mean()) ** 2).sum() * 3e-4, rel=1e-4)
    assert cut.section_mm3 == pytest.approx(cut.second_mm4 / max(30.0 - kept.mean(), kept.mean()), rel=1e-4)


def test_a_solid_web() -> None:
    """1.5 V / (h t), by hand: 10 N on 30 x 3 is .16667; a 10 mm tube on a 3 mm rib bears on 30 mm2."""
    assert rectangle_shear_mpa(10.0, 3.0, 30.0) == pytest.approx(1.0 / 6.0)
    assert bearing_mpa(15.0, 10.0, 3.0) == pytest.approx(0.5)


def test_a_plate_punched() -> None:
    """1.5 F over the face that would be cut: 10 mm round, 3 mm thick, 94.248 mm2."""
    assert ring_shear_mpa(94.2478, 10.0, 3.0) == pytest.approx(1.5, rel=1e-6)

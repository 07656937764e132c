"""How lift lies along the chord, against the pressure of thin aerofoils integrated."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.integrate

from geomgen.strength.links.chordwise import ahead_share, behind_share


@pytest.mark.parametrize("place", [0.02, 0.25, 0.5, 0.9])
def test_shares_by_integration(place: float) -> None:
    """A flat plate's pressure goes with sqrt((1 - x)/x), that of a parabola along its ends' tangent with
    sqrt(x (1 - x)): thin aerofoil theory, any textbook."""

    def share(low: float, high: float, power: float) -> float:
        part, _ = scipy.integrate.quad(lambda x: np.sqrt(1.0 - x) * x**power, low, high)
        whole, _ = scipy.integrate.quad(lambda x: np.sqrt(1.0 - x) * x**power, 0.0, 1.0)
        return float(part / whole)

    assert float(ahead_share(np.array(place))) == pytest.approx(share(0.0, place, -0.5), abs=1e-6)
    assert float(behind_share(np.array(place))) == pytest.approx(share(place, 1.0, 0.5), abs=1e-6)

"""How lift lies along the chord: what of it a rib carries past each place to its spar."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray


def ahead_share(chord_share: FloatArray) -> FloatArray:
    """Share of a flat plate's lift that acts ahead of a place: most of it lies at the nose.

    chord_share : from the nose [-]
    source      : thin aerofoil at an angle, pressure as cot(theta / 2), closed form
    """
    x = np.clip(chord_share, 0.0, 1.0)
    return np.asarray(2.0 / np.pi * (np.arcsin(np.sqrt(x)) + np.sqrt(x * (1.0 - x))))


def behind_share(chord_share: FloatArray) -> FloatArray:
    """Share of the lift that acts behind a place, of a bent plate met along its ends' tangent: much lies aft.

    chord_share : from the nose [-]
    source      : thin aerofoil with a parabola for its mean line, pressure as sin(theta), closed form
    """
    x = np.clip(chord_share, 0.0, 1.0)
    theta = np.arccos(1.0 - 2.0 * x)
    return np.asarray(1.0 - (theta - np.sin(theta) * np.cos(theta)) / np.pi)

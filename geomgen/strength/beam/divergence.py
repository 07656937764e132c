"""When lift twists a blade more than it stands against."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.beam.beam import TWIST, Beam, Masses
from geomgen.strength.beam.chain import Chain
from geomgen.strength.beam.matrices import elastic, spun

LEAST = 1e-12  # below it, next to stiffness, lift twists nothing


def divergence(
    beam: Beam, masses: Masses, *, slope_n_s2: FloatArray, ahead_m: FloatArray, coning_rad: float = 0.0
) -> float | None:
    """Speed at which lift that grows with twist outgrows stiffness in twist, turning's share included [rad/s].

    None where there is none, as where lift acts behind the axis.

    slope_n_s2 : (n,) lift for each m of span, each rad of twist and each square of speed in rad/s, at nodes [N s2/m]
    ahead_m    : (n,) how far ahead of the axis it acts, at nodes [m]
    source     : balance of twist by itself, without bending; lift follows twist at once and where it is (strips)
    """
    turns = np.flatnonzero(~beam.held[:, TWIST])
    by_lift = _spread(np.diff(beam.x_m), slope_n_s2 * ahead_m)[np.ix_(turns, turns)]
    stiff, taut = (
        _twist(each)[np.ix_(turns, turns)] for each in (elastic(beam), spun(beam, masses, coning_rad).stiffness)
    )
    across = np.linalg.inv(np.linalg.cholesky(stiff))
    most = float(np.linalg.eigvalsh(across @ (by_lift - taut) @ across.T)[-1])
    return most**-0.5 if most > LEAST else None


def _twist(matrix: Chain) -> FloatArray:
    """(n, n) what of a matrix is twist by twist."""
    beside = matrix.next[:, TWIST, TWIST]
    return np.asarray(np.diag(matrix.own[:, TWIST, TWIST]) + np.diag(beside, 1) + np.diag(beside, -1))


def _spread(length: FloatArray, moment: FloatArray) -> FloatArray:
    """(n, n) integral of moment times twist times twist, all straight between nodes."""
    a, b = moment[:-1], moment[1:]
    found = np.zeros((len(moment), len(moment)))
    at = np.arange(len(length))
    found[at, at] += length * (3 * a + b) / 12
    found[at + 1, at + 1] += length * (a + 3 * b) / 12
    found[at, at + 1] = found[at + 1, at] = length * (a + b) / 12
    return found

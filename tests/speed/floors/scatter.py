"""Floor: as many normal figures in the plane, one product with a matrix, and two quantiles of their length."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def drawn(covariance: NDArray[np.float64], draws: int, seed: int) -> tuple[float, float]:
    """Median and nine of ten of the length."""
    found = np.random.default_rng(seed).standard_normal((draws, 2)) @ np.linalg.cholesky(covariance).T
    half, ninety = np.sqrt(np.quantile((found**2).sum(axis=1), (0.5, 0.9)))
    return float(half), float(ninety)

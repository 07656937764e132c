"""Band equations against scipy's own solver of them."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import solveh_banded

from geomgen.unroll.banded import solved


@pytest.mark.parametrize(("block", "count", "height"), [(4, 9, 5), (6, 7, 10), (10, 3, 20), (8, 1, 8), (2, 40, 3)])
def test_as_scipy_solves_it(block: int, count: int, height: int) -> None:
    rng = np.random.default_rng(7)
    n = block * count
    band = rng.normal(size=(height, n))
    for d in range(height):
        for i in range(n):
            if (i + d) // block > i // block + 1 or i + d >= n:
                band[d, i] = 0.0  # beyond the next block, or the matrix
    band[0] = 3.0 * height
    right = rng.normal(size=n)
    np.testing.assert_allclose(
        solved(band, right, block), solveh_banded(band, right, lower=True), rtol=1e-10, atol=1e-12
    )

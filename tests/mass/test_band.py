"""Bounds against every corner tried one by one; the likely band against sums done by hand."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from geomgen.mass.band import mean_bands, sum_bands
from geomgen.mass.doubt import Doubts


def corners(grams: np.ndarray) -> np.ndarray:
    return np.array([[grams[i, end] for i, end in enumerate(ends)] for ends in product((0, 2), repeat=len(grams))])


@pytest.mark.parametrize("seed", range(20))
def test_bounds_are_the_extremes_over_all_corners(seed: int) -> None:
    random = np.random.default_rng(seed)
    typical = random.uniform(1, 50, 7)
    grams = np.stack([typical * random.uniform(0.4, 1, 7), typical, typical * random.uniform(1, 2, 7)], axis=1)
    places, radii = random.uniform(-80, 40, 7), random.uniform(20, 800, 7)
    groups = [f"stock {i % 3}" for i in range(7)]
    every = corners(grams)

    centre, weighted = mean_bands(
        grams, np.array([places, places * radii]), np.array([np.ones(7), radii]), Doubts.by_lot(groups)
    )
    quotients = every @ places / every.sum(axis=1)
    assert (centre.low, centre.high) == pytest.approx((quotients.min(), quotients.max()), rel=1e-12)

    quotients = every @ (places * radii) / (every @ radii)
    assert (weighted.low, weighted.high) == pytest.approx((quotients.min(), quotients.max()), rel=1e-12)

    (total,) = sum_bands(grams, places[None], Doubts.by_lot(groups))
    assert (total.low, total.high) == pytest.approx(((every @ places).min(), (every @ places).max()), rel=1e-12)
    for band in (centre, weighted, total):
        assert band.low <= band.likely_low <= band.typical <= band.likely_high <= band.high


def test_one_stock_is_off_as_a_whole_and_two_are_not() -> None:
    """Two lines of +3 g and +4 g: 7 g if they share a stock, 5 g if they do not."""
    grams = np.array([[9.0, 10, 13], [18, 20, 24]])
    together, apart = (
        sum_bands(grams, np.ones((1, 2)), Doubts.by_lot(groups))[0] for groups in (["a", "a"], ["a", "b"])
    )
    assert (together.likely_low, together.likely_high) == pytest.approx((27, 37))
    assert (apart.likely_low, apart.likely_high) == pytest.approx((30 - np.sqrt(1 + 4), 35))
    assert (apart.low, apart.typical, apart.high) == (27, 30, 37)


def test_a_centre_does_not_move_where_all_is_one_stock_and_scales() -> None:
    grams = np.outer([4.0, 6.0, 10.0], [0.5, 1.0, 1.6])
    (band,) = mean_bands(grams, np.array([[100.0, 300, 500]]), np.ones((1, 3)), Doubts.by_lot(["s"] * 3))
    assert band.likely_low == pytest.approx(band.typical) == pytest.approx(band.likely_high)


def test_nothing_weighs_nothing() -> None:
    empty = np.empty((0, 3))
    nothing = np.empty((1, 0))
    assert sum_bands(empty, nothing, Doubts.by_lot([]))[0].high == 0.0
    assert mean_bands(empty, nothing, nothing, Doubts.by_lot([]))[0].high == 0.0

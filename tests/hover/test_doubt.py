"""Bands against closed forms of products of powers, and against draws of all doubts at once."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
import pytest
from rotor_cases import POLAR, SLOPE, WEIGHT, rotor

from geomgen.hover.doubt import EVEN, NINETY, Doubts, Draw, banded, each_alone
from geomgen.hover.hovering import drawn
from geomgen.section.polar.forces import CappedLine

DOUBTS = Doubts(0.05, 0.35, 0.05, 0.4, 0.05, 0.15)
NONE = Doubts(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def product(draw: Draw) -> Mapping[str, float]:
    """Powers whose logarithms are straight: sizes by hand."""
    return {"a": 3.0 * math.exp(0.5 * draw.weight - 2.0 * draw.drag), "b": 7.0 * math.exp(draw.slope)}


def test_nine_of_ten_lie_within_so_many_standard_deviations() -> None:
    """Normal distribution, by its error function; evenly within a limit, by the integral of x^2."""
    assert math.erf(NINETY / math.sqrt(2.0)) == pytest.approx(0.90, abs=1e-4)
    even = np.linspace(-1.0, 1.0, 200_001)
    assert pytest.approx(math.sqrt(float(np.mean(even**2))), abs=1e-5) == EVEN


def test_products_of_powers_by_hand() -> None:
    doubts = Doubts(0.06, 0.0, 0.02, 0.0, 0.0, 0.02)
    got = banded(product(Draw()), product, doubts)
    size = math.hypot(0.5 * 0.06, 2.0 * 0.02)
    assert size == pytest.approx(0.05)
    assert got["a"].typical == 3.0
    assert (got["a"].low, got["a"].high) == pytest.approx((3 * math.exp(-1.645 * size), 3 * math.exp(1.645 * size)))
    causes = dict(got["a"].causes)
    assert [cause for cause, _ in got["a"].causes][:2] == ["drag", "weight"]
    assert causes == pytest.approx({"drag": 0.64, "weight": 0.36, "slope": 0.0})
    assert got["b"].high == pytest.approx(7 * math.exp(1.645 * 0.02)) and dict(got["b"].causes)["slope"] == 1.0


def test_each_doubt_alone_and_no_doubt_at_all() -> None:
    found = list(each_alone(Doubts(0.1, 0.0, 0.0, 0.3, 0.0, 0.0)))
    assert found == [
        ("weight", Draw(weight=-0.1), Draw(weight=0.1)),
        ("zero_lift_deg", Draw(zero_lift_deg=-0.3), Draw(zero_lift_deg=0.3)),
    ]
    sure = banded({"a": 3.0}, product, NONE)["a"]
    assert (sure.low, sure.typical, sure.high, sure.causes) == (3.0, 3.0, 3.0, ())


def test_one_end_that_does_not_hover_is_taken_to_be_as_far_as_the_other() -> None:
    """Heavier it doesn't hover at all."""
    got = banded({"a": 3.0}, lambda draw: None if draw.weight > 0.0 else product(draw), Doubts(0.1, 0, 0, 0, 0, 0))["a"]
    assert got.high == pytest.approx(3 * math.exp(1.645 * 0.05)) and got.low == pytest.approx(
        3 * math.exp(-1.645 * 0.05)
    )


def doubted(draw: Draw) -> CappedLine:
    return CappedLine(
        SLOPE * (1 + draw.slope),
        POLAR.greatest_lift * (1 + draw.greatest),
        math.radians(draw.zero_lift_deg),
        POLAR.drag_at_zero * (1 + draw.drag),
        0.0,
    )


def figures(draw: Draw) -> dict[str, float] | None:
    at = drawn(rotor(), 8.0, WEIGHT, draw, doubted(draw))
    return {"rpm": at.rpm, "air_w": at.air_w} if at is not None else None


@pytest.mark.parametrize(
    ("doubt", "sign"),
    [("weight", 1), ("pitch_deg", -1), ("slope", -1), ("zero_lift_deg", 1)],
)
def test_what_makes_for_more_rpm(doubt: str, sign: int) -> None:
    less, more = figures(Draw(**{doubt: -0.1})), figures(Draw(**{doubt: 0.1}))
    assert less is not None and more is not None
    assert math.copysign(1, more["rpm"] - less["rpm"]) == sign


def test_pitch_and_the_angle_without_lift_are_one_and_the_same() -> None:
    """Of a symmetric section with even drag: half a degree less of the one is half a degree more of the other."""
    one, other = figures(Draw(pitch_deg=0.5)), figures(Draw(zero_lift_deg=-0.5))
    assert one is not None and other is not None
    assert one["rpm"] == pytest.approx(other["rpm"], rel=2e-3)


def test_draws_of_all_doubts_lie_within_the_band() -> None:
    """2000 normal draws, seeded: 85 to 95 % of them where nine of ten are said to be."""
    bands = banded(figures(Draw()) or {}, figures, DOUBTS)
    rng = np.random.default_rng(5)
    draws = [Draw(**{name: rng.normal(0.0, size) for name, size in vars(DOUBTS).items()}) for _ in range(2000)]
    found = [each for each in map(figures, draws) if each is not None]
    assert len(found) == 2000
    for name, band in bands.items():
        values = np.array([each[name] for each in found])
        inside = np.mean((values > band.low) & (values < band.high))
        assert 0.85 < inside < 0.95, name
        assert np.quantile(values, 0.05) == pytest.approx(band.low, rel=0.03)
        assert np.quantile(values, 0.95) == pytest.approx(band.high, rel=0.03)

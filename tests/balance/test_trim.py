"""Trim: the best choice of whole weights against all of them, tried one by one; what no pocket can reach."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

import numpy as np
import pytest
from numpy.typing import NDArray

from geomgen.balance.trim import Pocket, out_of_reach, trim
from geomgen.balance.unbalance import Unbalance, Vector
from geomgen.balance.whole_steps import best_steps
from geomgen.craft import Craft

FloatArray = NDArray[np.float64]
CraftOf = Callable[..., Craft]
BESIDE = ("at     = 0\nheight = 40", "at     = 15\nheight = 40")  # the demo's receiver, 16 g: 240 g mm along blade 1


def ring(count: int, radius: float, first_deg: float = 0.0) -> FloatArray:
    """(count, 2) evenly round the axis."""
    angle = np.radians(first_deg + 360.0 / count * np.arange(count))
    return radius * np.column_stack([np.cos(angle), np.sin(angle)])


def tried(start: FloatArray, effects: FloatArray, most: tuple[int, ...], enough: float) -> tuple[float, int, float]:
    """The best of all choices: (left beyond what is enough, weights, left)."""
    every = np.array(list(product(*(range(count + 1) for count in most))))
    left = np.hypot(*(start + every @ effects).T)
    beyond, used = np.maximum(left, enough), every.sum(axis=1)
    good = beyond <= beyond.min() + 1e-7
    fewest = used[good].min()
    return float(beyond.min()), int(fewest), float(left[good & (used == fewest)].min())


@pytest.mark.parametrize("blades", [2, 3, 4])
@pytest.mark.parametrize("enough", [0.0, 5.0, 60.0])
def test_no_choice_of_whole_weights_is_better(blades: int, enough: float) -> None:
    """Pockets in 2 to 4 blades of up to 6 weights, and up to four in the hub of a few."""
    rng = np.random.default_rng(17 * blades + int(enough))
    for _ in range(60):
        in_hub = int(rng.integers(0, 5))
        effects, most = ring(blades, 390.0, rng.choice([0.0, 3.0])), rng.integers(0, 7, blades).tolist()
        if in_hub:
            effects = np.vstack([effects, ring(in_hub, 24.0, rng.choice([0.0, 30.0, 45.0]))])
            most += rng.integers(0, 4 if in_hub > 2 else 7, in_hub).tolist()
        start = rng.normal(size=2) * rng.choice([20.0, 200.0, 1000.0])
        found = best_steps(start, effects, tuple(most), enough)
        left = float(np.hypot(*(start + np.array(found.steps) @ effects)))
        beyond, used, least = tried(start, effects, tuple(most), enough)
        assert found.proved and found.left == pytest.approx(left)
        assert all(count <= limit for count, limit in zip(found.steps, most, strict=True))
        assert max(left, enough) == pytest.approx(beyond, abs=1e-5)
        assert (sum(found.steps), left) == (used, pytest.approx(least, abs=1e-5))


def test_it_is_quick_for_twelve_pockets() -> None:
    """What is looked at is counted, not timed: an aim of half a weight's effect wants few looks, and all are taken."""
    rng = np.random.default_rng(2)
    for blades in (2, 3, 4):
        effects, most = np.vstack([ring(blades, 390.0), ring(8, 24.0)]), (12,) * blades + (20,) * 8
        for _ in range(5):
            found = best_steps(rng.normal(size=2) * 300.0, effects, most, 12.0)
            assert found.proved and found.left <= 12.0


def found(x: float, y: float) -> Unbalance:
    return Unbalance(700.0, Vector(x, y), Vector(0.0, 0.0))


def pockets(places: FloatArray, most_g: float = 6.0, path: str = "blade.trim.tip") -> list[Pocket]:
    return [Pocket(path, k, np.array([*at, 10.0]), most_g) for k, at in enumerate(places, start=1)]


def test_two_blades_reach_nothing_across_their_line() -> None:
    """300 along blade 1 and 200 across: 0.5 g at 780 is 390, which overshoots; the 200 stay, whatever is put in."""
    of = trim(found(300.0, 200.0), pockets(ring(2, 780.0)), step_g=0.5, aim_g_mm=60.0)
    assert (of.out_of_reach.x, of.out_of_reach.y) == pytest.approx((0.0, 200.0))
    assert [(each.pocket.number, each.count) for each in of.weights] == [(2, 1)]
    assert (of.after.static.x, of.after.static.y) == pytest.approx((300.0 - 390.0, 200.0))
    assert of.after.couple.x == pytest.approx(-0.5 * 780.0 * 10.0) and of.after.mass_g == pytest.approx(700.5)


@pytest.mark.parametrize(
    ("degrees", "start", "left"),
    [
        ([90, 210, 330], (70.0, -40.0), (0.0, 0.0)),  # all round
        ([0], (100.0, 50.0), (100.0, 50.0)),  # a weight there makes it worse
        ([180], (100.0, 50.0), (0.0, 50.0)),
        ([180, 240], (100.0, -50.0), (0.0, -50.0)),  # -x and below: nearest is -x alone
        ([180, 240], (100.0, 173.0), (0.0, 0.0)),  # between them
    ],
)
def test_what_is_out_of_reach(degrees: list[float], start: tuple[float, float], left: tuple[float, float]) -> None:
    ways = 48.0 * np.column_stack([np.cos(np.radians(degrees)), np.sin(np.radians(degrees))])
    of = out_of_reach(Vector(*start), ways)
    assert (of.x, of.y) == pytest.approx(left, abs=1e-9)


def test_pockets_hold_no_more_than_they_can() -> None:
    """10 g at 48 mm take 480 g mm away of 700 along them, in steps of 0.5 g; none of 4 g go into a pocket of 3 g."""
    one = np.array([[-48.0, 0.0]])
    of = trim(found(700.0, 0.0), pockets(one, 10.0, "hub.trim"), step_g=0.5, aim_g_mm=10.0)
    assert of.mass_g == 10.0 and of.after.static.x == pytest.approx(220.0) and of.out_of_reach.size == 0.0
    assert trim(found(700.0, 0.0), pockets(one, 3.0), step_g=4.0, aim_g_mm=10.0).weights == ()


def test_without_an_aim_half_of_what_one_weight_does_is_enough() -> None:
    """Weights of 0.5 g at 48 mm do 24 g mm: what is below 12 is left."""
    near = trim(found(11.9, 0.0), pockets(ring(8, 48.0)), step_g=0.5, aim_g_mm=None)
    far = trim(found(12.1, 0.0), pockets(ring(8, 48.0)), step_g=0.5, aim_g_mm=None)
    assert near.weights == () and [each.count for each in far.weights] == [1]


def test_the_demo_with_its_receiver_beside_the_axis(craft_of: CraftOf) -> None:
    """240 along blade 1, 60 are let be. In the hub alone at 180 deg that wants 180 / 24 weights of 0.5 g at 48 mm: 8;
    one at 782 mm in the other blade's tip overshoots by 150, of which 90 / 24, so 4, in the hub do: 5."""
    craft = craft_of("lantern", BESIDE)
    of = craft.balance.trim
    assert of is not None and of.proved
    left = of.after.static.size
    assert left <= 60.0 and craft.balance.left is of.after
    assert [(each.pocket.words, each.count) for each in of.weights] == [("tip of blade 2", 1), ("hub 1", 4)]
    assert of.after.static.x == pytest.approx(240.0 - 390.0 + 96.0, abs=1.0)
    assert craft_of("lantern").balance.trim is not None and craft_of("lantern").balance.trim.weights == ()
    tips = [each for each in of.pockets if each.in_blade]
    assert [each.number for each in tips] == [1, 2] and len(of.pockets) == 10
    assert tips[0].place[:2] == pytest.approx(-tips[1].place[:2]) and tips[0].place[2] == tips[1].place[2]
    # forward of the axis by 5 % of the chord there, 151.6 mm: pitch and coning turn it little
    assert np.hypot(*tips[0].place[:2]) == pytest.approx(782.0 * np.cos(np.radians(2.0)), abs=0.2)
    assert tips[0].place[1] == pytest.approx(0.05 * 151.6, abs=0.3)


@pytest.mark.parametrize("turn", ["anticlockwise", "clockwise"])
def test_a_hubs_pockets_are_numbered_as_seen_from_above(craft_of: CraftOf, turn: str) -> None:
    more = '[hub.trim]\ncircle = 40\ncount = 4\nazimuth = "10 deg"\nheight = 6\nmost = "3 g"\n'
    craft = craft_of("starter", ('"anticlockwise"', f'"{turn}"'), ("[glue]\n", f"{more}[glue]\n"))
    of = craft.balance.trim
    assert of is not None
    for k, each in enumerate(of.pockets):
        angle = np.radians(10.0 + 90.0 * k)
        height = 6.0 + craft.hub_spec.floor - craft.hub_spec.axis_height
        assert each.place == pytest.approx((40.0 * np.cos(angle), 40.0 * np.sin(angle), height))

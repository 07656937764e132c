"""Margins against divisions done by hand, and what must hold of any of them."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from geomgen.materials.figure import Figure
from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.margins import by_kind, judged

HUB, RIB = Key(Role.HUB, "hub"), Key(Role.RIB, "blade.ribs", (4,))


def strength(low: float = 20.0, typical: float = 30.0, unit: str = "MPa") -> Figure:
    return Figure(low, typical, 2.0 * typical, unit, "made up")


def link(
    name: str = "wall", stress: tuple[list[float], list[float]] = ([1.0, 2.0], [2.0, 4.0]), **more: object
) -> Link:
    plain = {
        "fails": Fails.BENT, "path": "hub.wall", "r_mm": None, "between": (HUB, HUB), "unit": "MPa",
        "strength": strength(),
    }  # fmt: skip
    return Link(name=name, stress=np.array(stress), **(plain | more))  # type: ignore[arg-type]


def test_by_hand() -> None:
    """4 MPa at the most, times 3: 12 of 20; typically 2 MPa, times 3: 6 of 30."""
    (one,) = judged([link()], 3.0).margins
    assert one.worst == pytest.approx(20.0 / 12.0) and one.typical == pytest.approx(30.0 / 6.0)
    assert (one.stress, one.case, one.asked) == ((2.0, 4.0), 1, 3.0)


def test_a_third_more_where_it_is_alone() -> None:
    """The references' table of factors: 3 without a proof, 4 where glue or a print is the only way."""
    (one,) = judged([link(alone=True)], 3.0).margins
    assert one.asked == pytest.approx(4.0) and one.worst == pytest.approx(20.0 / 16.0)
    assert one.typical == pytest.approx(30.0 / 8.0)


def test_half_where_nothing_is_broken_by_it() -> None:
    """20 MPa over 4 MPa times half of 3; glue that is alone is asked more all the same."""
    (one,) = judged([link(gives_way=True)], 3.0).margins
    assert one.worst == pytest.approx(20.0 / (4.0 * 1.5))
    assert judged([link(gives_way=True, alone=True)], 3.0).margins[0].asked == pytest.approx(4.0)


def test_where_more_mass_takes_load_off_the_typical_stress_counts() -> None:
    (one,) = judged([link(stress=([5.0, 1.0], [3.0, 1.0]))], 2.0).margins
    assert one.worst == pytest.approx(20.0 / 10.0) and (one.case, one.stress[1]) == (0, 5.0)


def test_a_sign_takes_no_stress_away() -> None:
    """Pressed as much as it would be pulled."""
    (one,) = judged([link(stress=([-1.0, 0.5], [-4.0, 1.0]))], 3.0).margins
    assert one.worst == pytest.approx(20.0 / 12.0) and one.case == 0


def test_shares_of_doubt() -> None:
    """Load 2 times, strength 1.5 times: ln 2 of ln 3."""
    (one,) = judged([link()], 3.0).margins
    assert one.by_load == pytest.approx(math.log(2.0) / math.log(3.0))
    certain = judged([link(stress=([2.0], [2.0]), strength=strength(30.0, 30.0))], 3.0).margins[0]
    only_load = judged([link(strength=strength(30.0, 30.0))], 3.0).margins[0]
    only_strength = judged([link(stress=([2.0], [2.0]))], 3.0).margins[0]
    assert (certain.by_load, only_load.by_load, only_strength.by_load) == (0.5, 1.0, 0.0)
    nothing_known = judged([link(stress=([0.0], [1.0]), strength=strength(0.0, 30.0))], 3.0).margins[0]
    assert (nothing_known.by_load, nothing_known.worst, nothing_known.typical) == (0.5, 0.0, math.inf)


def test_the_help_that_does_most() -> None:
    helps = (Help("hub.wall", "3", "4", 1.36), Help("hub.layers", "upright", "flat", 2.1), Help("a.b", "1", "2", 0.9))
    (one,) = judged([link(helps=helps)], 3.0).margins
    assert one.help is not None and one.help.path == "hub.layers"
    assert one.helped == pytest.approx(2.1 * 20.0 / 12.0)
    none = judged([link(helps=helps[2:])], 3.0).margins[0]
    assert none.help is None and none.helped is None  # what makes it weaker is no help


def test_least_first_and_what_has_no_margin_apart() -> None:
    unpublished = link("collar by its fixing", strength=None, unpublished="no fixing is stated")
    links = [
        link("middling"), unpublished, link("weak", strength=strength(5.0)), link("strong", strength=strength(500.0)),
        link("idle", stress=([0.0], [0.0])), link("idle too", stress=([0.0], [0.0]), strength=None),
        link("broken", stress=([1.0], [math.nan])), link("no number", strength=strength(math.nan)),
    ]  # fmt: skip
    found = judged(links, 3.0)
    assert [one.link.name for one in found.margins] == ["weak", "middling", "strong"]
    assert [(one.name, why) for one, why in found.unknown] == [
        ("collar by its fixing", "no fixing is stated"),
        ("broken", "what it takes couldn't be worked out"),
        ("no number", "its strength is no number"),
    ]
    assert [one.name for one in found.idle] == ["idle", "idle too"]
    assert found.least is not None and found.least.link.name == "weak"
    assert [one.link.name for one in found.below] == ["weak"]
    assert judged([unpublished], 3.0).least is None


def test_every_link_is_somewhere_once() -> None:
    rng = np.random.default_rng(3)
    links = []
    for k in range(300):
        stress = rng.choice([0.0, 1.0, math.nan, 7.0], (2, 3), p=[0.5, 0.3, 0.05, 0.15])
        known = rng.random() < 0.7
        links.append(replace(link(f"{k}"), stress=stress, strength=strength(rng.random()) if known else None))
    found = judged(links, 2.5)
    told = [one.link.name for one in found.margins] + [one.name for one, _ in found.unknown]
    assert sorted(map(int, told + [one.name for one in found.idle])) == list(range(300))
    worst = [one.worst for one in found.margins]
    assert worst == sorted(worst) and not any(one.link.strength is None for one in found.margins)


def test_doubling_the_factor_halves_every_margin() -> None:
    rng = np.random.default_rng(7)
    for k in range(300):
        some = replace(
            link(alone=bool(k % 2)), stress=rng.lognormal(0.0, 2.0, (2, 5)), strength=strength(rng.lognormal())
        )
        factor = float(rng.uniform(1.0, 5.0))
        (once,), (twice,) = judged([some], factor).margins, judged([some], 2.0 * factor).margins
        assert twice.worst == pytest.approx(once.worst / 2.0) and twice.typical == pytest.approx(once.typical / 2.0)
        assert (twice.by_load, twice.case) == (once.by_load, once.case)
        assert once.worst <= once.strength.low / (factor * np.abs(some.stress).max()) + 1e-12
        assert 0.0 <= once.by_load <= 1.0


def test_more_load_or_less_strength_is_less_margin() -> None:
    rng = np.random.default_rng(11)
    for _ in range(300):
        some = replace(link(), stress=rng.lognormal(0.0, 1.0, (2, 4)), strength=strength(rng.lognormal()))
        before = judged([some], 3.0).margins[0].worst
        case = tuple(rng.integers((2, 4)))
        more = some.stress.copy()
        more[case] *= 1.0 + rng.random()
        assert judged([replace(some, stress=more)], 3.0).margins[0].worst <= before
        assert some.strength is not None
        weaker = replace(some.strength, low=some.strength.low * rng.random())
        assert judged([replace(some, strength=weaker)], 3.0).margins[0].worst < before


def test_places_that_are_alike_stand_together() -> None:
    """Ribs are told apart by their marks; what has none by its name."""
    ribs = [
        link(f"rib {k} on its tube", r_mm=100.0 * k, path="blade.ribs", between=(replace(RIB, mark=(k,)), HUB),
             strength=strength(10.0 + k))
        for k in (3, 1, 2)
    ]  # fmt: skip
    others = [link("arm", strength=strength(10.5)), link("floor", strength=strength(40.0))]
    found = judged([*ribs, *others], 3.0)
    assert [one.weakest.link.name for one in found.kinds] == ["arm", "rib 1 on its tube", "floor"]
    assert [one.link.r_mm for one in found.kinds[1].others] == [200.0, 300.0]
    assert [one.weakest.link.name for one in found.weakest(2)] == ["arm", "rib 1 on its tube"]
    assert [(one.name, count) for one, count in by_kind([*ribs, *others])] == [
        ("rib 3 on its tube", 3), ("arm", 1), ("floor", 1),
    ]  # fmt: skip
    torn = replace(ribs[0], fails=Fails.UNSTUCK)
    assert len(judged([*ribs, torn], 3.0).kinds) == 2

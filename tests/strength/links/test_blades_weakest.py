"""All links of a blade together: a weakness that is planted comes first, loads are felt, and what hangs is named."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest
from blade_rig import build, catalogued, craft, made_of, of, strengths, times

from geomgen.materials.figure import Figure
from geomgen.materials.strength import Strength
from geomgen.model.role import Role
from geomgen.strength.build import Build
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.blade import blade_links
from geomgen.strength.load_path import chain
from geomgen.strength.margins import judged

BLADES = [("lantern", None), ("lantern", "balsa"), ("lantern", "film"), ("lantern", "foam_board"), ("kite_day", None)]


def strong(own: Mapping[str, Strength]) -> dict[str, Strength]:
    """Strengths a hundredfold, moduli as they are."""
    hundred, found = Figure(100.0, 100.0, 100.0, "-", "made up"), {}
    for name, each in own.items():
        figures = {
            key: value if "modulus" in key or "stiffness" in key else value.times(hundred, value.unit)
            for key, value in each.figures.items()
        }
        found[name] = Strength(each.name, figures, each.notes)
    return found


@pytest.mark.parametrize(
    ("option", "stock", "known", "name", "fails"),
    [
        (None, "balsa_3", {"shear": 0.001}, "glue of rib", Fails.UNSTUCK),
        (None, "balsa_3", {"bending": 0.001}, "rib R", Fails.BENT),
        (None, "balsa_3", {"bearing_across": 0.0001}, "rib R", Fails.PRESSED),
        (None, "balsa_3", {"tension_across": 0.0001}, "glue of the tip piece", Fails.PULLED_APART),
        ("balsa", "balsa_2", {"tension_across": 0.0001}, "diagonal of rib", Fails.PULLED_APART),
        (None, "ply_2", {"bearing": 0.001}, "rib R", Fails.PRESSED),
        (None, "ply_2", {"shear": 0.001}, "wood of rib R01 that a tie", Fails.SHEARED),
        (None, "foam_sheet_2", {"bending": 0.0001}, "skin all between ribs", Fails.BENT),
        (None, "carbon_tube_8", {"tension_across": 0.001}, "spar main in rib", Fails.CRUSHED),
        (None, "carbon_tube_8", {"compression": 0.1}, "spar main", Fails.PRESSED),
        (None, "spruce_3x6", {"tension": 0.001}, "spar rear", Fails.PULLED_APART),
        ("balsa", "balsa_1", {"shear": 0.001}, "web caps", Fails.SHEARED),
        ("balsa", "spruce_2x5", {"compression": 0.001}, "spar caps", Fails.PRESSED),
        ("film", "film", {"width_tension": 0.0001}, "film", Fails.PULLED_APART),
        ("foam_board", "foam_board_3", {"width_tension": 0.0001}, "folded skin", Fails.PULLED_APART),
    ],
)
def test_a_planted_weakness_comes_first(
    option: str | None, stock: str, known: dict[str, float], name: str, fails: Fails
) -> None:
    """Every strength a hundredfold but one: it is named first; as strong as the rest, it isn't."""
    made = craft("lantern", option)
    all_strong = strong(strengths(made.design))
    weak = all_strong[stock]
    planted = Strength(weak.name, {**weak.figures, **of(weak.name, **known).figures}, {})
    first = judged(blade_links(made_of(made, all_strong | {stock: planted})), 3.0).margins[0].link
    assert first.name.startswith(name) and first.fails is fails
    mended = judged(blade_links(made_of(made, all_strong)), 3.0).margins[0].link
    assert (mended.name, mended.fails) != (first.name, first.fails)


def test_light_balsa_is_weaker() -> None:
    """At 80 kg/m3 and no more, every link of the ribs' balsa has less than at 160."""
    text = 'kind = "sheet"\nof   = "balsa"\nthickness = 3\n'
    least = []
    for density in (80, 160):
        changes = ((text, f'{text}density = "{density} kg/m3"\n'),)
        margins = judged(blade_links(catalogued("lantern", None, changes)), 3.0).margins
        least.append(
            min(
                each.worst
                for each in margins
                if each.link.path == "blade.ribs.rest" and each.link.fails is Fails.PRESSED
            )
        )
    assert least[0] < 0.6 * least[1]


def covers(one: Build) -> list[Link]:
    return [link for link in blade_links(one) if link.path == "blade.skin.all"]


def test_ribs_farther_apart_are_told() -> None:
    apart = (('every   = 60\nstock   = "balsa_3"', 'every   = 120\nstock   = "balsa_3"'),)
    for fails, power in ((Fails.BENT, 2.0), (Fails.PEELED, 1.0)):
        near, far = (
            next(
                x
                for x in blade_links(build("lantern", None, changes))
                if x.path == "blade.skin.all" and x.fails is fails
            )
            for changes in ((), apart)
        )
        ratio = float(np.abs(far.stress[1]).max() / np.abs(near.stress[1]).max())
        assert ratio == pytest.approx((116.4 / 58.2) ** power, rel=0.15)


@pytest.mark.parametrize(("example", "option"), BLADES)
def test_twice_the_load_is_twice_the_stress(example: str, option: str | None) -> None:
    """But of film, whose pull grows with the load's two thirds, and of a pressed piece that pull eases."""
    judged_build = build(example, option)
    once = list(blade_links(judged_build))
    twice = list(blade_links(replace(judged_build, loads=times(judged_build.loads, 2.0))))
    assert [link.name for link in once] == [link.name for link in twice]
    for one, more in zip(once, twice, strict=True):
        film = one.between[0].role is Role.FILM and one.fails is Fails.PULLED_APART
        assert np.allclose(more.stress, one.stress * (4.0 ** (1.0 / 3.0) if film else 2.0)), one.name


@pytest.mark.parametrize(("example", "option"), BLADES)
def test_every_link_is_whole(example: str, option: str | None) -> None:
    judged_build = build(example, option)
    cases = len(judged_build.loads.cases)
    for link in blade_links(judged_build):
        assert link.stress.shape == (2, cases) and np.isfinite(link.stress).all(), link.name
        assert (link.strength is None) == bool(link.unpublished), link.name
        assert all(key in judged_build.parts for key in link.between), link.name
        assert all(each.times > 0.0 and each.path for each in link.helps), link.name
        assert np.allclose(link.stress[:, 0], 0.0), link.name  # at rest nothing is loaded here
        assert link.r_mm is not None and judged_build.design.rotor.root <= link.r_mm <= judged_build.design.rotor.radius


def test_what_a_link_holds_is_named() -> None:
    """Take the fan's rib away: rib, fan, screws and the wires' glue that hang there are what it held, by the walk."""
    judged_build = build()
    link = next(x for x in blade_links(judged_build) if x.name.startswith("glue of rib R13"))
    rib, spar = link.between
    named = set(judged_build.hanging_on(rib))
    walked = {part.key for part in judged_build.flying if rib in chain(part.key, judged_build.held)}
    assert named == walked and {key.role for key in named} >= {Role.FITTING, Role.SCREW}
    assert rib in judged_build.hanging_on(spar)


def margins_of(links: list[Link]) -> list[float]:
    return [each.worst for each in judged(links, 3.0).margins]


def test_both_hands_alike() -> None:
    other = (('turn   = "anticlockwise"            # seen from above', 'turn   = "clockwise"'),)
    hands = [margins_of(list(blade_links(build("lantern", None, changes)))) for changes in ((), other)]
    assert hands[0] == pytest.approx(hands[1], rel=1e-6)

"""Links of what is fixed to a blade, each by hand from the design's own figures."""

from __future__ import annotations

import math

import pytest
from blade_rig import CASES, LIFT, build, craft, greatest, one, square

from geomgen.model.role import Role
from geomgen.strength.link import Fails
from geomgen.strength.links.fittings import fittings


def test_the_fans_screws_by_hand() -> None:
    """Two M2 in 2 mm of ply and a doubler of 3: a fan of 26 g and a tenth, and its screws, at r 768, drawn through
    rings of 3.6 mm; its 1.9 N pressed on two holes of 2 x 5 mm."""
    made = craft("lantern")
    screws = next(line for line in made.weighed if line.path == "fitting.fan.mount")
    pull = (28.6 + screws.set_g[2]) * 768.0 * 1e-6 * CASES[-1].rad_s ** 2
    links = list(fittings(build()))
    drawn = one(links, "screws drawn through the rib of fitting fan", Fails.SHEARED)
    assert greatest(drawn) == pytest.approx(pull / (2.0 * math.pi * 3.6 * 5.0), rel=1e-6)
    hole = one(links, "holes of screws in the rib of fitting fan", Fails.BEARING)
    assert greatest(hole) == pytest.approx(1.9 / 2.0 / (2.0 * 5.0), rel=1e-9)
    assert hole.strength is not None and hole.strength.low == 40.0  # of the ply: the fan's rib isn't balsa
    (more,) = [each for each in hole.helps if each.path == "fitting.fan.mount.count"]
    assert (more.was, more.to, more.times) == ("2", "4", pytest.approx(2.0))
    out = one(links, "wood beside screws", Fails.SHEARED_OUT)
    edge = 1.9 / 2.0 / (2.0 * 5.0 * greatest(out)) + 1.0
    assert 2.0 + 1.0 <= edge < 5.0  # at least the construction's web beyond a hole of 2.4 mm; tube and screws are near


def test_what_isn_t_known_isn_t_passed() -> None:
    """A fan without a mount, and what sticks by its own adhesive: their pull is told, and no strength."""
    links = list(fittings(build("kite_day")))
    for name, path, grams, r_mm in (
        ("fitting fan on rib R14", "fitting.fan", 28.3495 * 1.08, 863.6),
        ("fitting light on skin all", "fitting.light.stuck", 8.50485 * 1.15, 731.52),
    ):
        (link,) = [each for each in links if each.name.startswith(name)]
        assert link.strength is None and link.unpublished.startswith("unpublished") and link.unit == "N"
        assert link.path == path
        assert greatest(link) == pytest.approx(grams * 1e-6 * r_mm * CASES[-1].rad_s ** 2, rel=1e-5)


def test_wires_hang_from_their_innermost_tie() -> None:
    """The demo: all five wires on a bridge of 2 x 4 mm of the root rib and its doubler, sheared at both ends."""
    made = craft("lantern")
    moment = sum(line.set_g[2] * line.place_mm[0] for line in made.weighed if line.role is Role.WIRE)
    (link,) = [each for each in fittings(build()) if "tie of wires" in each.name]
    assert link.r_mm == pytest.approx(131.0)
    assert greatest(link) == pytest.approx(moment * 1e-6 * CASES[-1].rad_s ** 2 / (2.0 * 2.0 * 4.0), rel=1e-6)
    web = next(each for each in link.helps if each.path == "blade.construction.web")
    assert web.times == pytest.approx(1.5)


def test_the_tip_by_hand() -> None:
    """Its edge, the chord there by 3 mm: pulled off by its mass, and bent by the lift on 18 mm of blade."""
    made = craft("lantern")
    (tip,) = [line for line in made.weighed if line.role is Role.TIP]
    glue = [line for line in made.weighed if line.path == "glue" and "tip" in line.name]
    chord = made.blade.station(782.0).chord_mm
    own = sum(line.set_g[2] * line.place_mm[0] for line in [tip, *glue]) * 1e-6 * CASES[-1].rad_s ** 2
    bent = LIFT * square() * 18.0 * 9.0 * 6.0 / (chord * 9.0)
    link = one(fittings(build()), "glue of the tip", Fails.PULLED_APART)
    assert greatest(link) == pytest.approx(own / (chord * 3.0) + bent, rel=0.02)
    assert link.strength is not None and link.strength.low == 0.5  # balsa across its grain

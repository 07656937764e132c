"""Links of ribs, each by hand from the design's own figures and loads that are made up: lift of 5e-6 N s2/mm, drag of
4e-7, twist of 1e-6 N m s2/mm, a fifth more at the greatest, 345 rpm."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import scipy.integrate
import shapely
from blade_rig import CASES, DRAG, LIFT, TURN, build, craft, greatest, of, one, square, times

from geomgen.model.part import Flat
from geomgen.model.role import Role
from geomgen.strength.build import Build
from geomgen.strength.link import Fails
from geomgen.strength.links.bays import bays
from geomgen.strength.links.rib_webs import rib_webs
from geomgen.strength.links.ribs import ribs_on_spars
from geomgen.strength.shares import Areas

UNSTATED = (('on_tube = "epoxy"                   # wood glue doesn\'t hold on carbon\n', ""),)


def test_glue_of_the_fans_rib_by_hand() -> None:
    """R13 of the demo, r 768: its own mass, its doubler's, screws and fan there; of the skin, the glue on it and what
    hangs on it, the part of its glued area; of wires nothing, they hang from the root rib; of the rear spar nothing, it
    ends inboard."""
    made, judged = craft("lantern"), build()
    (rib,) = [part for part in made.flying if part.role is Role.RIB and part.mark == (13,)]
    joints = [each for each in made.flying.joints if each.a.role is Role.SKIN and each.b.role is Role.RIB]
    share = sum(j.area_mm2 for j in joints if j.b == rib.key) / sum(j.area_mm2 for j in joints)
    moment = 0.0
    for line in made.weighed:
        there = line.key == rib.key or line.path in ("fitting.fan", "fitting.fan.mount", "blade.doubler.fan")
        skinned = line.role is Role.SKIN or line.path == "fitting.light_strip"
        if there or skinned:
            moment += (1.0 if there else share) * line.set_g[2] * line.place_mm[0]
    link = one(ribs_on_spars(judged), "glue of rib R13", Fails.UNSTUCK)
    assert link.r_mm == 768.0 and link.between[0] == rib.key and link.alone
    pulled = moment * 1e-6 * CASES[-1].rad_s ** 2
    # glue's own, shared by where it lies, adds less than a tenth of a newton here
    area = math.pi * 8.1 * 5.0  # of the rib's 2 mm and of its doubler's 3, both of ply
    inner, outer = (768.0 + 723.8) / 2.0, (780.5 + 768.0) / 2.0  # of the twist, what the tube has more inboard
    handed = sum(s * tubes_share(judged, r) * (800.0 - r) for s, r in ((1.0, inner), (-1.0, outer)))
    turned = 2.0 * handed * TURN * square() * 1e3 / (math.pi * 8.0**2 * 5.0)
    assert greatest(link) == pytest.approx(math.hypot(pulled / area, turned), rel=6e-3)
    assert link.strength is not None and link.strength.low == 1.5  # the ply's rolling shear; epoxy on the tube has 2


def tubes_share(judged: Build, r_mm: float, strip: float = 0.0) -> float:
    """Share of the twist that the demo's tube takes: G J of 5250 MPa x 2 I, of the skin 4 A2 G t/s with G 6 and t 2."""
    closed = [each for each in judged.sections if each.cells]  # past the last rib nothing is
    (cell,) = min(closed, key=lambda each: abs(each.r_mm - r_mm)).cells
    skin = 4.0 * cell.area_mm2**2 * 6.0 * 2.0 / sum(long for _, long, _, _ in cell.walls)
    tube = 5250.0 * math.pi / 32.0 * (8.0**4 - 5.0**4)
    return tube / (tube + skin + strip)


def test_the_root_rib_takes_the_tubes_twist_by_hand() -> None:
    """The tube ends in a socket that it turns in: what it has taken of the twist of all outboard of 148 goes through R1
    to the pins, over 4 mm with its doubler; with it the pull of its own, of the skin's part and of all wires."""
    judged = build()
    link = one(ribs_on_spars(judged), "glue of rib R01", Fails.UNSTUCK)
    twist = tubes_share(judged, 147.0, 750.0 * 0.229 * 6.0 * 27.0) * TURN * square() * 652.0 * 1e3
    pulled = Areas(judged.flying.joints, judged.held).on_ribs(judged.loads.pulls_n)[link.between[0]]
    stress = math.hypot(2.0 * twist / (math.pi * 64.0 * 4.0), float(pulled[1].max()) / (math.pi * 8.1 * 4.0))
    assert greatest(link) == pytest.approx(stress, rel=0.01)


def test_wood_glue_on_carbon_is_not_passed() -> None:
    link = one(ribs_on_spars(build("lantern", None, UNSTATED)), "glue of rib R13", Fails.UNSTUCK)
    assert link.strength is None and link.unpublished.startswith("unpublished: wood glue doesn't hold on carbon")


def test_a_rib_presses_on_its_tube_by_hand() -> None:
    """Bays of 58.2 mm between 3 mm ribs on a tube 8 x 5: F/(8 x 3), and .284 F r/(3 x 1.5^2) with r 3.25. Drag presses
    along the grain, where balsa stands ten times as much; half of it all pulls on the glue behind, where glue holds."""
    force, pressed = (math.hypot(LIFT, drag) * square() * 58.2 for drag in (DRAG, DRAG / 10.0))
    links = list(ribs_on_spars(build()))
    wood = one((link for link in links if link.r_mm and 300.0 < link.r_mm < 700.0), "rib R", Fails.PRESSED)
    assert greatest(wood) == pytest.approx(pressed / 2.0 / 24.0, rel=1e-3)
    assert wood.strength is not None and wood.strength.low == 0.4  # balsa across its grain
    bare = [link for link in ribs_on_spars(build("lantern", None, UNSTATED)) if link.fails is Fails.PRESSED]
    assert greatest(bare[1]) == pytest.approx(pressed / 24.0, rel=1e-3)
    crushed = [link for link in links if link.fails is Fails.CRUSHED and link.r_mm and link.r_mm > 250.0]
    assert greatest(crushed[0]) == pytest.approx(0.284 * force * 3.25 / (3.0 * 1.5**2), rel=1e-3)


def test_more_wall_helps_a_tube_by_hand() -> None:
    """Inside 5 to 3.5: wall 1.5 to 2.25, mean radius 3.25 to 2.875: (2.25/1.5)2 x 3.25/2.875."""
    (link, *_) = [link for link in ribs_on_spars(build()) if link.fails is Fails.CRUSHED]
    (helps,) = link.helps
    assert helps.path == "stock.carbon_tube_8.inside" and helps.times == pytest.approx(2.25 * 3.25 / 2.875)


def test_web_against_cuts_of_the_drawn_rib() -> None:
    """The starter's ribs are whole but for tube and channel. Behind the channel, and ahead of the tube: what lies
    beyond of the bay's lift, from thin aerofoils' pressures integrated, over the depth of the part's own outline."""
    judged = build("starter")
    bay = next(each for each in bays(judged) if each.blank.place.number == 7)
    assert isinstance(bay.rib.shape, Flat)
    plate = bay.rib.shape.region.to_shapely(0.001)
    chord = bay.blank.station.chord_mm
    worst = 0.0
    for x in np.linspace(5.0, 0.85 * chord, 300):
        cut = shapely.intersection(plate, shapely.LineString([(x, -50.0), (x, 50.0)]))
        if cut.length <= 0.0:
            continue
        ahead = scipy.integrate.quad(lambda s: (1.0 - s * s) ** 0.5, 0.0, (x / chord) ** 0.5)[0] * 4.0 / np.pi
        behind = 1.0 - scipy.integrate.quad(lambda s: (s - s * s) ** 0.5, 0.0, x / chord)[0] * 8.0 / np.pi
        axis = bay.blank.station.axis_mm[0]
        share = ahead if x < axis - 4.05 else behind if x > axis + 4.05 else max(ahead, behind)
        worst = max(worst, 1.5 * share / (3.0 * cut.length))
    lift = LIFT * square() * (bay.high_mm - bay.low_mm)
    links = rib_webs(judged)
    balsa = one((link for link in links if link.r_mm and 200.0 < link.r_mm < 660.0), "web of", Fails.SHEARED)
    assert balsa.r_mm is not None and balsa.r_mm > bay.r_mm  # shallower ribs further out carry as much
    assert 0.95 * worst * lift < greatest(balsa) < 1.2 * worst * lift


def test_a_truss_by_hand() -> None:
    """Option balsa: members of 3 x 2 mm at 45 deg: Hankinson of 10 and .5 MPa is .9524; Euler's at E of 1500 and 40:
    77.92 MPa, .8225 E t2 / l2 with l the depth between flanges of 3 mm by sqrt 2."""
    links = list(rib_webs(build("lantern", "balsa")))
    (pulled, bowed) = (one((x for x in links if x.r_mm and x.r_mm < 700.0), "diagonal", fails) for fails in
                       (Fails.PULLED_APART, Fails.BUCKLED))  # fmt: skip
    assert pulled.strength is not None and pulled.strength.low == pytest.approx(2 * 10 * 0.5 / 10.5)
    assert greatest(pulled) >= greatest(bowed)  # what bows is no further from the tube than what is pulled hardest
    judged = build("lantern", "balsa")
    bay = next(each for each in bays(judged) if each.key == bowed.between[0])
    lift = LIFT * square() * (bay.high_mm - bay.low_mm)
    share = greatest(bowed) * 6.0 / math.sqrt(2.0) / lift
    assert 0.2 < share < 0.75  # of the lift that goes past it
    assert bowed.strength is not None
    modulus = 2.0 * 1500.0 * 40.0 / 1540.0
    deep = math.sqrt(math.pi**2 * modulus * 4.0 / 12.0 / bowed.strength.low) / math.sqrt(2.0)
    assert 0.5 < (deep + 6.0) / (bay.blank.station.chord_mm * 0.14) < 1.0  # of a section 14 % thick
    thicker = next(each for each in bowed.helps if each.path == "stock.balsa_2.thickness")
    assert (thicker.was, thicker.to) != ("", "") and thicker.times == pytest.approx(1.5**3)


def test_weaker_wood_is_named_and_heavier_loads_are_felt() -> None:
    judged = build()
    soft = replace(judged, strengths={**judged.strengths, "balsa_3": of("balsa", shear=0.01, bending=0.01)})
    assert one(rib_webs(soft), "web of rib R11", Fails.SHEARED).strength == soft.strengths["balsa_3"].figures["shear"]
    twice = replace(judged, loads=times(judged.loads, 2.0))
    for maker in (ribs_on_spars, rib_webs):
        for once, more in zip(maker(judged), maker(twice), strict=True):
            assert np.allclose(more.stress, 2.0 * once.stress) and more.name == once.name

"""Links of covers and closed cells, each by hand from the design's own figures; loads as in test_ribs_by_hand.py."""

from __future__ import annotations

import math

import numpy as np
import pytest
from blade_rig import CASES, LIFT, TURN, build, craft, greatest, of, one, square

from geomgen.model.joint import Bond
from geomgen.model.role import Role
from geomgen.strength.link import Fails
from geomgen.strength.links.cover import covers_on_ribs
from geomgen.strength.links.film import films
from geomgen.strength.links.panels import panels
from geomgen.strength.links.seams import cells
from geomgen.strength.load_path import chain


def test_skins_glue_is_sheared_by_all_that_hangs_on_it() -> None:
    """The demo: the test's own sum over the mass lines of the skin, what is stuck to it and what hangs on it, over the
    area of its glue on all ribs; foam holds .05 MPa with wood glue at the least."""
    made = craft("lantern")
    skin = next(part.key for part in made.flying if part.role is Role.SKIN)
    lines = [line for line in made.weighed if line.key == skin or skin in chain(line.key, made.hung)]
    assert {line.role for line in lines} >= {Role.SKIN, Role.FITTING}
    pull = sum(line.set_g[2] * line.place_mm[0] for line in lines) * 1e-6 * CASES[-1].rad_s ** 2
    joints = [each for each in made.flying.joints if each.a == skin and each.b.role is Role.RIB]
    link = one(covers_on_ribs(build()), "glue of skin all", Fails.UNSTUCK)
    assert greatest(link) == pytest.approx(pull / sum(each.area_mm2 for each in joints), rel=1e-9)
    assert link.strength is not None and link.strength.low == 0.05 and link.alone
    epoxy = next(each for each in link.helps if each.to == "epoxy")
    assert (epoxy.path, epoxy.times) == ("glue.kind", pytest.approx(3.0))  # .15 of the foam itself


def test_air_lifts_a_skin_off_a_rib() -> None:
    """Lift of the bay over the glue of one face: R11's is the least for a bay of 58.2 mm, for 3 mm over its girth."""
    link = one(covers_on_ribs(build()), "glue of skin all", Fails.PEELED)
    joints = list(build().joints(link.between[0], link.between[1]))
    least = min(each.area_mm2 for each in joints)
    assert link.r_mm == pytest.approx(665.6) and len(joints) == 2
    assert greatest(link) == pytest.approx(LIFT * square() * 58.2 / least, rel=1e-3)


def test_a_block_of_foam_is_pulled_off_a_rib() -> None:
    made = craft("kite_day", "foam_core")
    link = one(covers_on_ribs(build("kite_day", "foam_core")), "glue of core", Fails.PULLED_APART)
    core = link.between[0]
    lines = [line for line in made.weighed if line.key == core or core in chain(line.key, made.hung)]
    pull = sum(line.set_g[2] * line.place_mm[0] for line in lines) * 1e-6 * CASES[-1].rad_s ** 2
    areas = [each.area_mm2 for each in made.flying.joints if each.a == core and each.bond is Bond.GLUED]
    assert greatest(link) == pytest.approx(pull / min(areas), rel=1e-9)
    assert link.strength is not None and link.strength.low == 0.05  # wood glue that sets slowly on foam: from memory


def test_film_by_hand() -> None:
    """Option film, the last bay before the fan's rib but one, 692.5 to 737.2: three times the mean pressure on 42.8 mm
    between 2 mm ribs; E t at its high end 39 x 1.5 x 1.5. Peeled: half of p l on either edge, of .1 N/mm."""
    judged = build("lantern", "film")
    p = 3.0 * LIFT * square() / ((159.55 + 155.57) / 2.0)
    stretched = one(films(judged), "film upper", Fails.PULLED_APART)
    long = 737.2308 - 692.4615 - 2.0
    pull = (39.0 * 2.25 * (p * long) ** 2 / 24.0) ** (1.0 / 3.0)
    assert stretched.unit == "N/mm" and greatest(stretched) == pytest.approx(pull, rel=2e-3)
    assert greatest(one(films(judged), "edge of film upper", Fails.PEELED)) == pytest.approx(p * long / 2.0, rel=2e-3)
    assert not list(films(build("kite_day", "foam_core")))  # film on foam isn't lifted between ribs


def test_air_bends_foam_between_ribs() -> None:
    """6 p l2 / 10 over t2: twice the mean pressure at the narrow end, 55.2 mm clear between 3 mm ribs; the wider one
    of 58.2 - 3 beats the last bays, which are shorter."""
    link = one(panels(build()), "skin all between ribs", Fails.BENT)
    chord = 159.4  # between R11, 162.0, and R12, 156.8
    p = 2.0 * LIFT * square() / chord
    assert link.r_mm == pytest.approx((665.6 + 723.8) / 2.0)
    assert greatest(link) == pytest.approx(0.6 * p * 55.2**2 / 4.0, rel=2e-3)
    closer = next(each for each in link.helps if each.path == "blade.ribs.rest.every")
    assert closer.times == pytest.approx((60.0 / 45.0) ** 2)


def test_a_flat_skin_buckles_sooner_than_a_curved_one() -> None:
    """The demo's foam, E 9 and G 4 at the least in our table, 2 mm: as a row of columns pi2 E t2/(12 l2) with 4 % or so
    from its width at the least, and its curve adds .3 E t/R with R of 250 to 600 mm; at the low end of E a spar of
    carbon says how far it is bent, so it bears as much as at the typical end by strain."""
    link = one(panels(build()), "skin all between ribs", Fails.BUCKLED)
    assert link.strength is not None
    typical = 13.5  # of 9 at the least
    flat = math.pi**2 * typical * 4.0 / (12.0 * 55.7**2)
    low, high = flat + 0.3 * typical * 2.0 / 600.0, 1.3 * flat + 0.3 * typical * 2.0 / 250.0
    assert low < link.strength.typical < high
    assert 0.97 < link.strength.low / link.strength.typical <= 1.0


@pytest.mark.parametrize(("example", "option"), [("lantern", None), ("lantern", "foam_board"), ("kite_day", None)])
def test_seams_carry_the_cells_flow(example: str, option: str | None) -> None:
    """Flow by width, over twice the cell's area, is the cell's own twist, which is no more than all of it."""
    judged = build(example, option)
    whole = TURN * square() * 1e3
    found = 0
    for link in cells(judged):
        section = next(each for each in judged.sections if each.r_mm == link.r_mm)
        twist = whole * (judged.design.rotor.radius - section.r_mm)
        for cell in section.cells:
            for path, wide in cell.seams:
                if path == link.path and link.fails is Fails.UNSTUCK and link.name.startswith("seam"):
                    share = greatest(link) * wide * 2.0 * cell.area_mm2 / twist
                    found += 0.0 < share <= 1.0 + 1e-9
    assert found


def test_a_skins_shear_by_hand() -> None:
    """The demo: skin, tube and strip by G J. Skin of foam, G 6 MPa typical in our table, 4 A2 G t/s of its own outline;
    tube 5250 x 2 x 170.38; strip 750 x .229 x 6 x 27."""
    judged = build()
    link = one(cells(judged), "skin all twisted", Fails.SHEARED)
    section = next(each for each in judged.sections if each.r_mm == link.r_mm)
    (cell,) = section.cells
    around = sum(long for _, long, _, _ in cell.walls)
    skin = 4.0 * cell.area_mm2**2 * 6.0 * 2.0 / around
    tube = 5250.0 * 2.0 * math.pi / 64.0 * (8.0**4 - 5.0**4)
    strip = 750.0 * 0.229 * 6.0 * 27.0
    twist = TURN * square() * (800.0 - section.r_mm) * 1e3
    stress = twist * skin / (skin + tube + strip) / (2.0 * cell.area_mm2) / 2.0
    assert greatest(link) == pytest.approx(stress, rel=0.02)


def test_a_boards_papers() -> None:
    """Half of the flow on each paper; bent by the air, its face has M/d with d 3 - .12, and the core .6 p l / d."""
    judged = build("lantern", "foam_board")
    bent, sheared = (one(panels(judged), "folded skin", fails) for fails in (Fails.BENT, Fails.SHEARED))
    assert bent.r_mm is not None
    p_l = greatest(sheared) * 2.88 / 0.6
    assert greatest(bent) / p_l == pytest.approx((116.4 - 3.0) / 10.0 / 2.88, rel=1e-6)
    assert (bent.unit, sheared.unit) == ("N/mm", "MPa")


def test_of_two_stocks_the_weaker_side_counts() -> None:
    judged = build("lantern", "balsa")
    link = one(covers_on_ribs(judged), "glue of sheeting upper", Fails.UNSTUCK)
    assert link.strength is not None and link.strength.low == 1.0  # balsa's shear; the glue has 8
    assert np.isfinite(greatest(link)) and of("balsa", shear=1.0).figures == {"shear": link.strength}

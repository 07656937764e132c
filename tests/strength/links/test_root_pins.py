"""Pins, caps, their screws and the bolts to the mast, against equilibrium written here, and a linear program."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from root_build import ANTICLOCKWISE, CLOCKWISE, RPM, build_of, crafted, named, root_links, without
from scipy.optimize import linprog

from geomgen.cache import Cache
from geomgen.materials.strength import Property
from geomgen.model.part import Flat
from geomgen.model.role import Role
from geomgen.root.wedges import wedge_key
from geomgen.strength.build import Build
from geomgen.strength.formulas.single_shear import tilted_bending_nmm, tilted_length
from geomgen.strength.link import Fails

STEP = 'step    = "6 deg"'
WEDGES = (STEP, 'step = "2 deg"\nrim = 60\npattern = "wedge"')
PAIRED = (STEP, 'step = "2 deg"\nrim = 60\npattern = "paired"')


@pytest.fixture(scope="module", params=["lantern", "kite_day", "starter", "clockwise", "anticlockwise"])
def build(request: pytest.FixtureRequest, cache: Cache) -> Build:
    if request.param == "clockwise":
        return build_of(crafted("lantern", CLOCKWISE, cache=cache))
    if request.param == "anticlockwise":
        return build_of(crafted("kite_day", ANTICLOCKWISE, cache=cache))
    return build_of(crafted(request.param, cache=cache))


def bearing_length(deep: float, gap: float) -> float:
    """Most that two plates alike can pass from one to the other through a rigid pin, over the pressure they stand: each
    slice of either presses one way or the other, forces and moments in balance."""
    n = 400
    middles = (np.arange(n) + 0.5) * deep / n
    at = np.concatenate([gap / 2 + middles, -gap / 2 - middles])
    slice_ = deep / n
    one = np.concatenate([np.ones(n), np.zeros(n)])
    equal = np.vstack([one + (1 - one), at]) * slice_  # no force, no moment is left over
    found = linprog(-one * slice_, A_eq=equal, b_eq=[0.0, 0.0], bounds=[(-1.0, 1.0)] * (2 * n))
    return float(-found.fun)


@pytest.mark.parametrize(("deep", "gap"), [(4.0, 0.0), (3.0, 0.3), (4.0, 1.0), (2.0, 3.0)])
def test_a_tilted_pin_bears_on_a_share_of_its_hole(deep: float, gap: float) -> None:
    assert float(tilted_length(deep, gap)) == pytest.approx(bearing_length(deep, gap), rel=5e-3)


def test_without_a_gap_it_is_the_rule_of_timber() -> None:
    """EN 1995-1-1 8.2.2 (c) for plates alike: (sqrt 8 - 2) / 2 of the thickness."""
    assert float(tilted_length(1.0, 0.0)) == pytest.approx((math.sqrt(8) - 2) / 2)


def test_a_tilted_pins_bending_by_summing_pressure() -> None:
    deep, gap, force = 3.0, 0.3, 10.0
    per_mm = force / float(tilted_length(deep, gap))
    turn = (deep + force / per_mm) / 2  # pressure turns round there
    x = np.linspace(0.0, deep, 300001)
    shear = force - per_mm * np.where(x < turn, x, 2 * turn - x)
    moment = force * gap / 2 + np.cumsum(shear) * (x[1] - x[0])
    assert float(tilted_bending_nmm(force, deep, gap)) == pytest.approx(moment.max(), rel=1e-4)
    assert moment[-1] == pytest.approx(0.0, abs=1e-3)


def force_of(build: Build) -> np.ndarray:
    """On each of two pins on one circle [N]."""
    pin = build.design.pitch.pin
    return 1e3 * np.abs(build.loads.socket.pins_nm) / (pin.count * build.pattern.circle_mm)


def engaged(build: Build) -> float:
    """How deep a pin goes into the shallower cap: a printed turning cap's holes end 1 mm below its far face, where no
    clips hold the pins."""
    pitch = build.design.pitch
    blind = pitch.pin.clip is None
    return min(pitch.turning_cap.thickness - 1.0 * blind, pitch.fixed_cap.thickness)


def test_pins_are_cut_and_bent(build: Build) -> None:
    links, force, d = root_links(build), force_of(build), build.design.pitch.pin.diameter
    cut = named(links, "pitch pin between the caps", Fails.SHEARED)
    np.testing.assert_allclose(cut.stress, force / (math.pi / 4 * d**2), rtol=1e-9)
    assert cut.strength.low == 198.0
    bent = named(links, "pitch pin between the caps", Fails.BENT)
    length = bearing_length(engaged(build), 0.3)
    np.testing.assert_allclose(bent.stress, force * (0.3 + length) / 2 * 32 / (math.pi * d**3), rtol=5e-3)
    assert bent.strength.low == 200.0


def test_their_holes_are_drawn_long_and_torn(build: Build) -> None:
    links, force, d = root_links(build), force_of(build), build.design.pitch.pin.diameter
    web, length = build.design.pitch.pin.web, bearing_length(engaged(build), 0.3)
    printed = {"turning cap": build.design.pitch.pin.clip is None, "fixed cap": True}
    for cap, alone in printed.items():
        bears = named(links, f"pitch pin's hole in the {cap}")
        asked = 2.5 if alone else 3.0  # diameters to an edge: prints, ply
        near = max(1.0, asked * d / (web + d / 2))
        np.testing.assert_allclose(bears.stress, near * force / (d * length), rtol=5e-3)
        torn = named(links, f"web beside the pitch pin's hole in the {cap}")
        np.testing.assert_allclose(torn.stress, force / (2 * length * web), rtol=5e-3)
        assert bears.alone is torn.alone is alone


def test_a_web_between_holes_counts_where_it_is_the_least(cache: Cache) -> None:
    """On a circle of 45.9 mm holes of 3.2 mm 6 deg apart leave 1.6 mm, where more was asked for beside the edge."""
    build = build_of(crafted("lantern", cache=cache))
    build = replace(build, root=replace(build.root, pattern=replace(build.pattern, web_mm=3.0)))
    web = 45.9 * 2 * math.sin(math.radians(3.0)) - 3.2
    torn = named(root_links(build), "web beside the pitch pin's hole in the fixed cap")
    np.testing.assert_allclose(torn.stress, force_of(build) / (2 * bearing_length(3.0, 0.3) * web), rtol=5e-3)
    turning = named(root_links(build), "web beside the pitch pin's hole in the turning cap")  # half a turn apart there
    np.testing.assert_allclose(turning.stress, force_of(build) / (2 * bearing_length(3.0, 0.3) * 3.0), rtol=5e-3)


def test_blind_holes_have_a_floor(cache: Cache) -> None:
    build = build_of(crafted("lantern", cache=cache))
    link = named(root_links(build), "floor of the turning cap's blind holes")
    pins = sum(each for key, each in build.loads.pulls_n.items() if key.role is Role.PIN)
    np.testing.assert_allclose(link.stress[:, 1], pins[:, 1] / 2 / (math.pi * 3.0 * 1.0), rtol=1e-6)
    assert not link.stress[:, 0].any()  # at rest


def test_what_a_clip_holds_is_not_known(cache: Cache) -> None:
    link = named(root_links(build_of(crafted("kite_day", cache=cache))), "clip of a pitch pin")
    assert link.strength is None
    assert link.unpublished.startswith("unpublished")
    assert 0.1 < link.stress[1, 1] < 1.0  # 3 g at 0.14 m; it doesn't hang on the spar, and is told all the same


def test_screws_of_both_caps(build: Build) -> None:
    links, pitch, nm = root_links(build), build.design.pitch, 1e3 * np.abs(build.loads.socket.pins_nm)
    turning = np.hypot(*np.array([hole.center for hole in _fixing(build)] - np.array(build.root.face.axis_mm)).T)
    fixed = np.hypot(*np.array(build.root.seat.screws).T)
    n, d, head = pitch.fixing.count, 3.0, 1.65
    for name, radius, deep in (
        ("turning cap's screws in the cap", turning[0], pitch.turning_cap.thickness - head),
        ("turning cap's screws in the root rib", turning[0], build.root.face.thickness_mm),
        ("fixed cap's screws in the cap", fixed[0], pitch.fixed_cap.thickness - head),
        ("fixed cap's screws in the hub's flange", fixed[0], 6.0),  # two diameters of M3
    ):
        np.testing.assert_allclose(named(links, name).stress, nm / (n * radius) / (d * deep), rtol=1e-6)
    web, thick = build.design.blade.construction.web, build.root.face.thickness_mm
    torn = named(links, "root rib beside the turning cap's screws")
    np.testing.assert_allclose(torn.stress, nm / (n * turning[0]) / (2 * thick * web), rtol=1e-6)


def _fixing(build: Build):
    from geomgen.root.fixing_holes import fixing_holes

    return fixing_holes(build.design, build.root.face)


def test_the_fixed_caps_own_pull_is_on_its_threads(build: Build) -> None:
    link = named(root_links(build), "threads of the fixed cap's screws in the hub")
    (cap,) = (part for part in build.flying if part.role is Role.FIXED_CAP)
    assert isinstance(cap.shape, Flat)
    solid = {"PETG, printed": 1270e-9, "PLA, printed": 1240e-9}[build.design.stock[cap.stock].of]  # kg/mm3, catalogue
    grams = cap.shape.region.area() * cap.shape.thickness_mm * solid
    r = build.root.face.r_mm - build.design.pitch.turning_cap.thickness - 0.3 - cap.shape.thickness_mm / 2
    pull = grams * r * 1e-3 * (RPM * math.pi / 30) ** 2
    n = build.design.pitch.fixing.count
    longest = max(length for length in (5, 6, 8, 10, 12, 14) if length <= cap.shape.thickness_mm + 8.5)  # as sold
    grip = min(2.5 * 3.0, longest - cap.shape.thickness_mm)
    assert link.stress[0, 1] == pytest.approx(pull / n / (math.pi * 0.9 * 3.0 * grip), rel=0.03)
    assert link.stress[0, 0] == 0.0  # at rest


def test_bolts_hang_the_lift_on_the_mast(build: Build) -> None:
    links, hub = root_links(build), build.design.hub
    lift = build.design.rotor.blades * np.abs(build.loads.air_up_n.sum(axis=-1)) / hub.bolts
    bolts = named(links, "bolts to the mast")
    np.testing.assert_allclose(bolts.stress, lift, rtol=1e-12)
    d, pitch, hole, washer = {"M4": (4.0, 0.7, 4.5, 9.0), "M5": (5.0, 0.8, 5.8, 10.0)}[hub.bolt]
    assert bolts.strength.low == pytest.approx(310 * math.pi / 4 * (d - 0.9382 * pitch) ** 2)
    floor = named(links, "hub's floor under the bolts' washers")
    np.testing.assert_allclose(floor.stress, lift / (math.pi / 4 * (washer**2 - hole**2)), rtol=1e-12)
    through = named(links, "hub's floor round the bolts")
    np.testing.assert_allclose(through.stress, 1.5 * lift / (math.pi * washer * hub.floor), rtol=1e-12)


def test_a_cap_of_a_stock_without_bearing_has_no_margin(build: Build) -> None:
    stock = build.design.pitch.fixed_cap.stock
    known = {**build.strengths, stock: without(build.strengths[stock], Property.BEARING)}
    link = named(root_links(replace(build, strengths=known)), "pitch pin's hole in the fixed cap")
    assert link.strength is None
    assert link.unpublished
    assert link.helps == ()


@pytest.mark.parametrize("edit", [WEDGES, PAIRED], ids=["wedges", "paired"])
def test_other_patterns(edit: tuple[str, str], cache: Cache) -> None:
    build = build_of(crafted("lantern", edit, cache=cache))
    links, force = root_links(build), force_of(build)
    cut = named(links, "pitch pin between the caps", Fails.SHEARED)
    np.testing.assert_allclose(cut.stress, force / (math.pi / 4 * 9.0), rtol=1e-3)
    if edit == PAIRED:
        assert not named(links, "stop pin of the turning cap").stress.any()
        return
    wedge = build.pattern.wedge
    for name in ("wedge's end in its window", "window's end under the wedge"):
        one = named(links, name)
        wide = wedge.inner_mm + wedge.outer_mm - wedge.clip_mm
        np.testing.assert_allclose(one.stress, force / (4.0 * wide), rtol=1e-3)
    assert named(links, "pitch pin's hole in the wedge").between[1] == wedge_key(8.0)

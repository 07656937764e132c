"""Section properties, stresses and twist against an independent library of finite elements."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from scipy.linalg import solve_sylvester
from section_library import Meshed, meshed, meshed_of_two
from sectionproperties.analysis import Section

from geomgen.strength.formulas.bar import (
    bending_mpa,
    rectangle_bending_mpa,
    rectangle_second_mm4,
    rectangle_shear_mpa,
    rectangle_torsion_mm4,
    rectangle_twist_mpa,
)
from geomgen.strength.formulas.built import Strips, caps_and_web, web_flow_n_mm
from geomgen.strength.formulas.cell import cell_gj_nmm2, cell_shear_mpa, open_gj_nmm2, open_shear_mpa
from geomgen.strength.formulas.tube import pierced_tube, tube_bending_mpa, tube_section, tube_shear_mpa, tube_twist_mpa

ROUND = 24  # segments of a quarter: a polygon of 96 corners has .07 % less area, .14 % less second moment


def circle(diameter: float) -> shapely.Polygon:
    return shapely.Point(0.0, 0.0).buffer(diameter / 2.0, quad_segs=ROUND)


@pytest.fixture(scope="module")
def tube() -> Meshed:
    return meshed(circle(10.0).difference(circle(8.0)), 0.2)


def test_a_tube(tube: Meshed) -> None:
    ours = tube_section(10.0, 8.0)
    assert ours.area_mm2 == pytest.approx(tube.area, rel=1e-3)
    assert ours.second_mm4 == pytest.approx(tube.over_height, rel=2e-3)
    assert ours.torsion_mm4 == pytest.approx(tube.torsion, rel=2e-3)


def test_stress_of_a_tube(tube: Meshed) -> None:
    """Bent, twisted and sheared; by elements .5 mm wide, so within 2 %."""
    stress = tube.section.calculate_stress(mxx=1e3, mzz=1e3, vy=100.0).get_stress()[0]
    assert tube_bending_mpa(1e3, 10.0, 8.0) == pytest.approx(stress["sig_zz_mxx"].max(), rel=3e-3)
    assert tube_twist_mpa(1e3, 10.0, 8.0) == pytest.approx(stress["sig_zxy_mzz"].max(), rel=2e-2)
    assert tube_shear_mpa(100.0, 10.0, 8.0, 0.0) == pytest.approx(stress["sig_zxy_vy"].max(), rel=2e-2)


def test_shear_of_a_tube_that_narrows_as_it_stretches() -> None:
    """Poisson's number .4: the same by the library; on the wall's inside in mid-height it is greatest."""
    section = meshed_of_two([(circle(10.0).difference(circle(8.0)), 2800.0, 1000.0)], 0.2)
    theirs = section.calculate_stress(vy=100.0).get_stress()[0]["sig_zxy_vy"].max()
    assert tube_shear_mpa(100.0, 10.0, 8.0, 0.4) == pytest.approx(theirs, rel=1.5e-2)
    assert tube_shear_mpa(100.0, 10.0, 8.0) < tube_shear_mpa(100.0, 10.0, 8.0, 0.0)


@pytest.mark.parametrize("hole", [1.0, 2.0, 4.0])
def test_a_tube_with_a_hole_across(hole: float) -> None:
    """The hole runs along x: a strip as wide as it is cut from both walls."""
    left = circle(10.0).difference(circle(8.0)).difference(shapely.box(-9.0, -hole / 2.0, 9.0, hole / 2.0))
    # both halves as one body: moments of the pieces about the tube's middle, by the library's mesh
    halves = [meshed(half, 0.3, warping=False) for half in shapely.get_parts(left)]
    ours = pierced_tube(10.0, 8.0, hole)
    middles = [half.section.get_c() for half in halves]
    assert ours.area_mm2 == pytest.approx(sum(half.area for half in halves), rel=1e-3)
    along = sum(half.over_height + half.area * y**2 for half, (_, y) in zip(halves, middles, strict=True))
    across = sum(half.over_width + half.area * x**2 for half, (x, _) in zip(halves, middles, strict=True))
    assert ours.along_mm4 == pytest.approx(along, rel=2e-3)
    assert ours.across_mm4 == pytest.approx(across, rel=2e-3)


@pytest.mark.parametrize(("one", "other"), [(3.0, 3.0), (3.0, 2.0), (2.0, 10.0)])
def test_a_rectangle(one: float, other: float) -> None:
    theirs = meshed(shapely.box(0.0, 0.0, one, other), one * other / 250.0)
    assert rectangle_torsion_mm4(one, other) == pytest.approx(theirs.torsion, rel=1e-4)
    assert rectangle_second_mm4(one, other) == pytest.approx(theirs.over_height, rel=1e-9)
    stress = theirs.section.calculate_stress(mxx=1e3, mzz=1e3).get_stress()[0]
    assert rectangle_bending_mpa(1e3, one, other) == pytest.approx(stress["sig_zz_mxx"].max(), rel=1e-6)
    assert bending_mpa(1e3, theirs.over_height, other / 2.0) == pytest.approx(stress["sig_zz_mxx"].max(), rel=1e-6)
    assert rectangle_twist_mpa(1e3, one, other) == pytest.approx(stress["sig_zxy_mzz"].max(), rel=2e-2)


def test_shear_of_a_rectangle() -> None:
    """Narrow, so that shear is even across its width."""
    theirs = meshed(shapely.box(0.0, 0.0, 1.0, 12.0), 0.05)
    stress = theirs.section.calculate_stress(vy=100.0).get_stress()[0]
    assert rectangle_shear_mpa(100.0, 1.0, 12.0) == pytest.approx(stress["sig_zxy_vy"].max(), rel=1e-2)


def twisted(one: float, other: float) -> tuple[float, float]:
    """Torsion constant, and greatest shear by twisting moment, of a rectangle: Poisson's equation by collocation.

    Laplacian of f = -2 with f = 0 all round, at Chebyshev's points; J = 2 int f, shear = slope of f at a side / J.
    """
    count = 28
    x = np.cos(np.pi * np.arange(count + 1) / count)
    ends = np.r_[2.0, np.ones(count - 1), 2.0] * (-1.0) ** np.arange(count + 1)
    apart = x[:, None] - x + np.eye(count + 1)
    slope = np.outer(ends, 1.0 / ends) / apart
    slope -= np.diag(slope.sum(axis=1))
    second = (slope @ slope)[1:-1, 1:-1]
    f = np.zeros((count + 1, count + 1))
    size = count - 1
    f[1:-1, 1:-1] = solve_sylvester(second * 4.0 / one**2, (second * 4.0 / other**2).T, -2.0 * np.ones((size, size)))
    over = interpolate_weights(x)
    torsion = 2.0 * float(over @ f @ over) * one * other / 4.0
    sides = abs((slope @ f)[0]).max() * 2.0 / one, abs((f @ slope.T)[:, 0]).max() * 2.0 / other
    return torsion, max(sides) / torsion


def interpolate_weights(x: np.ndarray) -> np.ndarray:
    """Weights that integrate the polynomial through points over [-1, 1]."""
    powers = np.polynomial.chebyshev.chebvander(x, x.size - 1)
    order = np.arange(x.size)
    whole = np.where(order % 2 == 0, 2.0 / (1.0 - order**2 + (order == 1)), 0.0)
    return np.linalg.solve(powers.T, whole)


@pytest.mark.parametrize(("one", "other"), [(3.0, 3.0), (3.0, 2.0), (2.0, 5.0)])
def test_a_rectangle_twisted_by_poissons_equation(one: float, other: float) -> None:
    torsion, shear = twisted(one, other)
    assert rectangle_torsion_mm4(one, other) == pytest.approx(torsion, rel=1e-6)
    assert rectangle_twist_mpa(1.0, one, other) == pytest.approx(shear, rel=1e-5)


def test_roark_table_of_rectangles() -> None:
    """J = beta a b3 for a / b 1, 2, 4, 10: .1406 .2287 .2808 .3123; shear T / (alpha a b2): .208 .246 .282 .312.

    Timoshenko, Theory of Elasticity, table of rectangular bars (from memory).
    """
    long = np.array([1.0, 2.0, 4.0, 10.0])
    assert rectangle_torsion_mm4(long, 1.0) / long == pytest.approx([0.1406, 0.2287, 0.2808, 0.3123], abs=1e-4)
    assert 1.0 / (rectangle_twist_mpa(1.0, 1.0, long) * long) == pytest.approx([0.208, 0.246, 0.282, 0.312], abs=6e-4)


CAP, WEB = (8.0, 3.0), (1.5, 20.0)


def two_caps(cap_mpa: float, web_mpa: float, shear_mpa: float) -> Section:
    half = WEB[1] / 2.0
    return meshed_of_two(
        [
            (shapely.box(-CAP[0] / 2.0, half, CAP[0] / 2.0, half + CAP[1]), cap_mpa, shear_mpa),
            (shapely.box(-CAP[0] / 2.0, -half - CAP[1], CAP[0] / 2.0, -half), cap_mpa, shear_mpa),
            (shapely.box(-WEB[0] / 2.0, -half, WEB[0] / 2.0, half), web_mpa, shear_mpa * 1.0001),
        ],
        0.4,
    )


def test_two_caps_and_a_web_of_one_material() -> None:
    theirs = two_caps(2000.0, 2000.0, 770.0)
    ours = caps_and_web(CAP, WEB, 2000.0, 2000.0)
    assert ours.ei_nmm2 == pytest.approx(theirs.get_eic()[0], rel=1e-9)
    assert ours.ea_n == pytest.approx(theirs.get_ea(), rel=1e-9)
    stress = {each["material"]: each for each in theirs.calculate_stress(mxx=1e3, vy=100.0).get_stress()}
    web = next(each for name, each in stress.items() if "770.077" in name)
    at = np.array(theirs.mesh["vertices"])
    middle = (abs(at[:, 0]) < WEB[0] / 2.0) & (abs(at[:, 1]) < 3.0)
    assert web_flow_n_mm(ours, 1, 100.0) / WEB[0] == pytest.approx(web["sig_zxy_vy"][middle].mean(), rel=1.5e-2)
    assert abs(ours.stress_mpa(1e3)).max() == pytest.approx(
        max(each["sig_zz_mxx"].max() for each in stress.values()), rel=1e-6
    )


def test_stiff_caps_on_a_soft_web() -> None:
    theirs = two_caps(9000.0, 1500.0, 560.0)
    ours = caps_and_web(CAP, WEB, 9000.0, 1500.0)
    assert ours.ei_nmm2 == pytest.approx(theirs.get_eic()[0], rel=1e-9)
    stress = theirs.calculate_stress(mxx=1e3).get_stress()
    assert abs(ours.stress_mpa(1e3)[[0, 2]]).max() == pytest.approx(
        max(each["sig_zz_mxx"].max() for each in stress), rel=1e-6
    )
    soft = next(each for each in stress if "1500" in each["material"])
    assert abs(ours.stress_mpa(1e3)[1]).max() == pytest.approx(soft["sig_zz_mxx"].max(), rel=1e-6)


def test_unequal_strips() -> None:
    """A cap on a web: neutral line, signs and flow by hand. 10 x 2 of 3 GPa on 1 x 20 of 1 GPa.

    E A: 20, 60 kN; middles 10 and 21: neutral (200 + 1260) / 80 = 18.25 mm. Flow between them with V = 100:
    60e3 x 2.75 x 100 / EI, EI = 1e3 x (666.667 + 20 x 68.0625) + 3e3 x (6.6667 + 20 x 7.5625).
    """
    strips = Strips(np.array([1.0, 10.0]), np.array([20.0, 2.0]), np.array([10.0, 21.0]), np.array([1e3, 3e3]))
    ei = 1e3 * (2000.0 / 3.0 + 20.0 * 68.0625) + 3e3 * (20.0 / 3.0 + 20.0 * 7.5625)
    assert (strips.neutral, strips.ei_nmm2) == (pytest.approx(18.25), pytest.approx(ei))
    assert strips.flow_n_mm(100.0) == pytest.approx([60e3 * 2.75 * 100.0 / ei])
    assert strips.stress_mpa(1e3)[0] == pytest.approx([1e6 * 18.25 / ei, -1e6 * 1.75 / ei])
    assert strips.stress_mpa(1e3)[1] == pytest.approx([-3e6 * 1.75 / ei, -3e6 * 3.75 / ei])
    assert strips.stress_mpa(np.array([1e3, 2e3])).shape == (2, 2, 2)
    assert web_flow_n_mm(strips, 0, 100.0) == pytest.approx(1e3 * 18.25**2 / 2.0 * 100.0 / ei)


def test_a_thin_box_twisted() -> None:
    """Bredt's J comes nearer to the library's as walls get thinner; shear in the wide walls' middle."""
    off = []
    for wall in (1.5, 0.75):
        box = shapely.box(-30.0, -7.5, 30.0, 7.5)
        shape = box.buffer(wall / 2.0, join_style="mitre").difference(box.buffer(-wall / 2.0, join_style="mitre"))
        theirs = meshed(shape, wall**2 / 1.5)
        off.append(float(cell_gj_nmm2(900.0, np.array([60.0, 15.0] * 2), wall, 1.0)) / theirs.torsion - 1.0)
        at = np.array(theirs.section.mesh["vertices"])
        shear = theirs.section.calculate_stress(mzz=1e3).get_stress()[0]["sig_zxy_mzz"]
        wide = (abs(at[:, 0]) < 20.0) & (abs(abs(at[:, 1]) - 7.5) < 0.2 * wall)
        assert shear[wide].mean() == pytest.approx(cell_shear_mpa(1e3, 900.0, wall), rel=2e-2)
    assert abs(off[0]) < 0.03 and abs(off[1]) < 0.6 * abs(off[0])


def test_a_box_of_two_materials_twisted() -> None:
    """Soft skins on stiff webs: sum(s / (G t)) with each wall's own modulus."""
    skin, web = 60.0, 300.0
    parts = [
        (shapely.box(-30.4, 7.1, 30.4, 7.9), 3.0 * skin, skin),
        (shapely.box(-30.4, -7.9, 30.4, -7.1), 3.0 * skin, skin),
        (shapely.box(-30.4, -7.1, -29.6, 7.1), 2.9 * web, web),
        (shapely.box(29.6, -7.1, 30.4, 7.1), 2.9 * web, web),
    ]
    section = meshed_of_two(parts, 0.25)
    ours = cell_gj_nmm2(900.0, np.array([60.0, 15.0, 60.0, 15.0]), 0.8, np.array([skin, web, skin, web]))
    theirs = section.get_ej() * section.get_g_eff() / section.get_e_eff()
    assert ours == pytest.approx(theirs, rel=5e-2)


def test_the_same_box_slit_open() -> None:
    """A slit of .1 mm in the middle of a skin leaves a thousandth; corners add a little to the sum of s t3 / 3."""
    wall = 1.5
    box = shapely.box(-30.0, -7.5, 30.0, 7.5)
    shape = box.buffer(wall / 2.0, join_style="mitre").difference(box.buffer(-wall / 2.0, join_style="mitre"))
    theirs = meshed(shape.difference(shapely.box(-0.05, 0.0, 0.05, 20.0)), 0.8)
    ours = open_gj_nmm2(np.array([60.0, 15.0] * 2), wall, 1.0)
    assert ours == pytest.approx(theirs.torsion, rel=2e-2)
    shear = theirs.section.calculate_stress(mzz=1e3).get_stress()[0]["sig_zxy_mzz"]
    at = np.array(theirs.section.mesh["vertices"])
    middle = (abs(at[:, 0]) < 15.0) & (at[:, 1] < 0.0)
    assert open_shear_mpa(1e3, wall, 1.0, ours) == pytest.approx(shear[middle].max(), rel=5e-2)

"""Section properties, stresses and twist against an independent library of finite elements."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from section_library import Meshed, meshed, meshed_of_two

from geomgen.strength.formulas.bar import (
    rectangle_bending_mpa,
    rectangle_second_mm4,
    rectangle_shear_mpa,
    rectangle_torsion_mm4,
)
from geomgen.strength.formulas.cell import cell_flow_n_mm, cell_gj_nmm2
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
    stress = theirs.section.calculate_stress(mxx=1e3).get_stress()[0]
    assert rectangle_bending_mpa(1e3, one, other) == pytest.approx(stress["sig_zz_mxx"].max(), rel=1e-6)


def test_shear_of_a_rectangle() -> None:
    """Narrow, so that shear is even across its width."""
    theirs = meshed(shapely.box(0.0, 0.0, 1.0, 12.0), 0.05)
    stress = theirs.section.calculate_stress(vy=100.0).get_stress()[0]
    assert rectangle_shear_mpa(100.0, 1.0, 12.0) == pytest.approx(stress["sig_zxy_vy"].max(), rel=1e-2)


def test_roark_table_of_rectangles() -> None:
    """J = beta a b3 for a / b 1, 2, 4, 10: .1406 .2287 .2808 .3123.

    Timoshenko, Theory of Elasticity, table of rectangular bars (from memory).
    """
    long = np.array([1.0, 2.0, 4.0, 10.0])
    assert rectangle_torsion_mm4(long, 1.0) / long == pytest.approx([0.1406, 0.2287, 0.2808, 0.3123], abs=1e-4)


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
        assert shear[wide].mean() == pytest.approx(cell_flow_n_mm(1e3, 900.0) / wall, rel=2e-2)
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

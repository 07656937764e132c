"""Cross-sections of each construction against hand sums, shapely's outlines and an independent library."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import shapely
from made_up_strengths import cut, one
from sectionproperties.analysis import Section
from sectionproperties.pre import Geometry

from geomgen.blade.station import Station
from geomgen.craft import Craft
from geomgen.strength.sections.stiffness import cell_gj_nm2, gj_nm2, stiffness


def outline(station: Station, level: bool = False) -> shapely.Polygon:
    """The aerofoil itself by 400 heights above and below, in the blade frame; or in its own, its chord level."""
    x = (1.0 - np.cos(np.linspace(0.0, np.pi, 400))) / 2.0
    upper, lower = station.section.upper_y(x), station.section.lower_y(x)
    ring = station.chord_mm * np.column_stack([np.concatenate([x[::-1], x]), np.concatenate([upper[::-1], lower])])
    return shapely.Polygon(ring if level else station.to_blade(ring)[:, 1:]).buffer(0)


def second(shape: shapely.Geometry) -> np.ndarray:
    """(2, 2) second moments about its centroid, by triangles: the mean of the squares of their sides' middles."""
    total, centre = np.zeros((2, 2)), np.array(shape.centroid.coords[0])
    for triangle in shapely.constrained_delaunay_triangles(shape).geoms:
        corner = np.array(triangle.exterior.coords)
        middles = (corner[1:] + corner[:-1]) / 2.0 - centre
        total += triangle.area / 3.0 * middles.T @ middles
    return total


def test_the_demo_has_a_tube_a_strip_and_a_skin_side_by_side(lantern: Craft) -> None:
    """Areas by hand: pi/4 (8^2 - 5^2) and 3 x 6; joined by ribs only, each bends by itself; the tube comes first."""
    section = cut(lantern, 400.0)
    tube, strip = section.pieces[:2]
    assert [p.bends_with for p in section.pieces] == [0, 1, 2]
    assert (tube.area_mm2, strip.area_mm2) == pytest.approx((np.pi * 9.75, 18.0))
    assert tube.centre == pytest.approx([0.0, 0.0])
    assert strip.second == pytest.approx(np.diag([3.0**3 * 6.0, 3.0 * 6.0**3]) / 12.0, abs=1e-9)
    route = lantern.layout.spars["rear"]
    assert strip.centre == pytest.approx(route.at(400.0)[1:])
    i_tube = np.pi / 64 * (8.0**4 - 5.0**4)
    skin = one(section, "skin")
    flap = 100e3 * i_tube + 10e3 * 54.0 + 10.0 * skin.second[1, 1]
    found = stiffness([section])
    assert found.ei_nm2[0, 1, 1] == pytest.approx(flap * 1e-6)
    assert found.ea_n[0] == pytest.approx(100e3 * 9.75 * np.pi + 10e3 * 18.0 + 10.0 * skin.area_mm2)
    assert found.share[tube.key][0] == pytest.approx(100e3 * i_tube / flap)
    assert sum(found.share[p.key][0] for p in section.pieces) == pytest.approx(1.0)


def test_the_demos_skin_and_its_cell_against_shapely(lantern: Craft) -> None:
    """The outline less itself moved inwards by 2 mm; the cell by 1 mm. Behind, where its two halves are bevelled to one
    another, the skin is less than that by a small piece."""
    section, station = cut(lantern, 400.0), lantern.blade.station(400.0)
    skin, (cell,) = one(section, "skin"), section.cells
    whole = outline(station)
    ring = whole - whole.buffer(-2.0)
    assert skin.area_mm2 == pytest.approx(ring.area, rel=0.01)
    assert skin.centre == pytest.approx(np.array(ring.centroid.coords[0]), abs=0.6)
    assert skin.second[1, 1] == pytest.approx(second(ring)[1, 1], rel=0.01)
    assert skin.second[0, 0] == pytest.approx(second(ring)[0, 0], rel=0.03)
    middle = whole.buffer(-1.0)
    assert cell.area_mm2 == pytest.approx(middle.area, rel=2e-3)
    assert sum(wall[1] for wall in cell.walls) == pytest.approx(middle.exterior.length, rel=2e-3)
    assert {wall[2:] for wall in cell.walls} == {(2.0, (4.0 * 0.8, 4.0, 4.0 * 1.5))}
    bredt = 4.0 * middle.area**2 / (middle.exterior.length / (4.0 * 2.0))
    assert cell_gj_nm2(cell) == pytest.approx(bredt * 1e-6, rel=5e-3)
    tube = 4000.0 * np.pi / 32 * (8.0**4 - 5.0**4)
    strip = 600.0 * 0.229 * 6.0 * 3.0**3  # 0.229 for sides as two to one, Timoshenko's table
    assert gj_nm2(section) == pytest.approx((bredt + tube + strip) * 1e-6, rel=5e-3)


def test_the_skins_twist_against_the_library(lantern: Craft) -> None:
    """Finite elements of warping over the whole skin, its tail solid as it is glued there."""
    section, whole = cut(lantern, 400.0), outline(lantern.blade.station(400.0)).simplify(0.05)
    geometry = Geometry(whole - whole.buffer(-2.0))
    geometry.create_mesh([10.0])
    library = Section(geometry)
    library.calculate_geometric_properties()
    library.calculate_warping_properties()
    own = one(section, "skin").torsion_mm4 * 4.0e-6
    assert cell_gj_nm2(section.cells[0]) + own == pytest.approx(4.0 * library.get_j() * 1e-6, rel=0.03)


def test_the_seam_is_as_wide_as_the_ribs_leave_it(lantern: Craft) -> None:
    """From where a rib ends to the tail, between two ribs."""
    section = cut(lantern, 400.0)
    rib = lantern.layout.inside([400.0], "blade")[0]
    assert rib is not None
    left = rib.station.chord_mm - rib.outline.tail_mm
    assert [path for path, _ in section.cells[0].seams] == ["blade.skin.all"]
    assert section.cells[0].seams[0][1] == pytest.approx(left, rel=0.02)


def test_what_begins_and_ends_is_there_only_between(lantern: Craft) -> None:
    """The tube from r 30, skin from 130 to 782, the rear strip to 92 %."""
    there = {r: {p.key.path for p in cut(lantern, r).pieces} for r in (29.0, 100.0, 131.0, 735.0, 737.0, 781.0)}
    main, rear, skin = "blade.spar.main", "blade.spar.rear", "blade.skin.all"
    assert there == {
        29.0: set(), 100.0: {main}, 131.0: {main, rear, skin}, 735.0: {main, rear, skin}, 737.0: {main, skin},
        781.0: {main, skin},
    }  # fmt: skip


@pytest.fixture(scope="module")
def balsa(craft_of: Callable[..., Craft]) -> Craft:
    return craft_of("lantern", option="balsa")


def test_caps_and_webs_of_the_balsa_blade(balsa: Craft) -> None:
    """5 x 2 strips, two each inboard of r 424.9 and one beyond; a web of 1 mm to the bay of 70 %."""
    for r, layers in ((300.0, 2), (500.0, 1)):
        caps = [p for p in cut(balsa, r).pieces if p.key.path == "blade.spar.caps"]
        assert [p.area_mm2 for p in caps] == pytest.approx([10.0] * 2 * layers, rel=1e-4)
        for p in caps:
            sides = np.linalg.eigvalsh(p.second)
            assert sides == pytest.approx([5.0 * 8.0 / 12.0, 2.0 * 125.0 / 12.0], rel=1e-3)
        assert all(p.torsion_mm4 == pytest.approx(0.249 * 5.0 * 8.0, rel=0.01) for p in caps)  # 2.5 to 1, his table
    outermost = shapely.points(one(cut(balsa, 300.0), "spar", "upper", 1).rim)
    edge = shapely.distance(outline(balsa.blade.station(300.0)).exterior, outermost)
    assert edge.min() == pytest.approx(1.03, abs=0.02)  # the outermost lies under the sheet and its film
    apart = np.diff([one(cut(balsa, 300.0), "spar", "upper", n).centre[1] for n in (1, 2)])
    assert apart == pytest.approx([-2.0], rel=0.02)
    webs = [sum(p.key.role == "web" for p in cut(balsa, r).pieces) for r in (135.0, 300.0, 540.0, 600.0, 680.0)]
    assert webs == [1, 1, 1, 0, 0]
    web = one(cut(balsa, 300.0), "web")
    assert web.modulus_mpa[1] == 50.0 and web.shear_mpa[1] == 100.0  # its grain stands upright


def test_a_rib_between_two_webs_closes_what_they_close(balsa: Craft) -> None:
    rib = next(rib for rib in balsa.rib_places if rib.r_mm > 300.0)
    section = cut(balsa, rib.r_mm)
    assert one(section, "web") and len(section.cells) == 1


def test_the_box_round_the_nose_against_shapely(balsa: Craft) -> None:
    """The outline moved in by half the sheet and its film, from behind the nose strip to the web's middle."""
    section, station = cut(balsa, 300.0), balsa.blade.station(300.0)
    (cell,), web = section.cells, one(section, "web")
    back = station.from_blade(np.array([[0.0, *web.centre]]))[0, 0]
    middle = outline(station, level=True).buffer(-0.53) & shapely.box(8.0, -100.0, back, 100.0)
    assert cell.area_mm2 == pytest.approx(middle.area, rel=0.015)
    walls = {wall[0].role.value: wall for wall in cell.walls}
    high = middle & shapely.LineString([(8.01, -100), (8.01, 100)])
    assert walls["nose strip"][1:3] == pytest.approx((high.length, 8.0), rel=0.01)
    assert walls["web"][1:3] == pytest.approx((web.area_mm2, 1.0), rel=0.05)
    give = sum(long / (100.0 * thick) for _, long, thick, _ in cell.walls)
    assert cell_gj_nm2(cell) == pytest.approx(4.0 * cell.area_mm2**2 / give * 1e-6)
    seams = dict(cell.seams)
    assert seams["blade.construction.nose"] == pytest.approx(1.0, rel=0.01)
    assert seams["blade.spar.caps.web"] == pytest.approx(4.0, rel=0.01)  # two strips of 2 mm
    assert seams["blade.spar.caps"] == pytest.approx(5.0, rel=0.01)


def test_caps_web_sheet_and_nose_bend_as_one_by_steiner(balsa: Craft) -> None:
    """E I about the common centre, by hand from each piece's own."""
    section = cut(balsa, 300.0)
    body = [p for p in section.pieces if p.key.path != "blade.spar.main" and p.key.role != "tail strip"]
    assert len({p.bends_with for p in body}) == 1 and len(body) == 8
    ea = np.array([p.modulus_mpa[1] * p.area_mm2 for p in body])
    z = np.array([p.centre[1] for p in body])
    own = sum(p.modulus_mpa[1] * p.second[1, 1] for p in body)
    together = own + (ea @ z**2) - (ea @ z) ** 2 / ea.sum()
    tail, tube = one(section, "tail strip"), np.pi / 64 * (8.0**4 - 5.0**4) * 100e3
    flap = together + tube + 2000.0 * tail.second[1, 1]
    assert stiffness([section]).ei_nm2[0, 1, 1] == pytest.approx(flap * 1e-6, rel=1e-9)
    assert together > 10 * own


def test_strips_along_the_edges_against_shapely(balsa: Craft) -> None:
    station = balsa.blade.station(300.0)
    whole, section = outline(station, level=True).buffer(-0.03), cut(balsa, 300.0)
    for role, ends in (("nose strip", (-9.0, 8.0)), ("tail strip", (station.chord_mm - 18.0, 999.0))):
        shape, strip = whole & shapely.box(ends[0], -99.0, ends[1], 99.0), one(section, role)
        assert strip.area_mm2 == pytest.approx(shape.area, rel=5e-3)
        assert strip.centre == pytest.approx(station.to_blade(np.array(shape.centroid.coords[0]))[0, 1:], abs=0.05)
        assert np.trace(strip.second) == pytest.approx(np.trace(second(shape)), rel=0.02)


def test_the_board_and_its_box(craft_of: Callable[..., Craft]) -> None:
    """Two papers of 300 N/mm along, one in shear by 1/2.6 of that, and the core's 2 MPa; the box is 24 wide."""
    craft = craft_of("lantern", option="foam_board")
    section = cut(craft, 300.0)
    skin, box = one(section, "folded skin"), next(p for p in section.pieces if p.key.path == "blade.spar.box")
    assert skin.modulus_mpa[1] == pytest.approx(2 * 300.0 / 3.0)
    assert skin.shear_mpa[1] == pytest.approx(300.0 / 2.6 / 3.0 + 2.0)
    assert skin.bends_with == box.bends_with != section.pieces[0].bends_with
    around, own = section.cells
    assert own.walls[0][0] == box.key
    breadth, deep = own.walls[0][1], own.area_mm2
    assert own.seams[0][1] == pytest.approx(10.0, abs=0.1)  # of paper, lapped
    wide, high = 21.0, deep / 21.0  # 24 less its walls
    assert breadth == pytest.approx(2 * (wide + high), rel=1e-4)
    assert box.area_mm2 == pytest.approx(24.0 * (high + 3.0) - (24.0 - 6.0) * (high - 3.0), rel=1e-4)
    whole = outline(craft.blade.station(300.0))
    assert around.area_mm2 == pytest.approx(whole.buffer(-1.5).area, rel=0.01)
    assert sum(w[1] for w in around.walls) == pytest.approx(whole.buffer(-1.5).exterior.length, rel=0.01)


def test_a_core_against_shapely(craft_of: Callable[..., Craft]) -> None:
    craft = craft_of("kite_day", option="foam_core")
    station = craft.blade.station(500.0)
    whole, core = outline(station).buffer(-0.03), one(cut(craft, 500.0), "core")
    assert core.area_mm2 == pytest.approx(whole.area, rel=2e-3)
    assert core.second == pytest.approx(second(whole), rel=5e-3, abs=2e-3 * core.second[0, 0])
    geometry = Geometry(whole.simplify(0.1))
    geometry.create_mesh([40.0])
    library = Section(geometry)
    library.calculate_geometric_properties()
    library.calculate_warping_properties()
    assert core.torsion_mm4 == pytest.approx(library.get_j(), rel=0.15)


def test_an_upright_sheet(craft_of: Callable[..., Craft]) -> None:
    """3/32 in of balsa from edge to edge, upright in the blade frame."""
    craft = craft_of("kite_day", option="upright")
    section, t = cut(craft, 500.0), 25.4 * 3 / 32
    sheet = next(p for p in section.pieces if p.key.path == "blade.spar.rear")
    high = sheet.area_mm2 / t
    assert np.ptp(sheet.rim, axis=0) == pytest.approx([t, high], rel=1e-3)
    middle = craft.layout.spars["rear"].at(500.0)[1]
    there = outline(craft.blade.station(500.0)) & shapely.LineString([(middle, -99), (middle, 99)])
    assert high == pytest.approx(there.length - 2 * 25.4 / 16, abs=0.4)
    assert sheet.second[1, 1] == pytest.approx(t * high**3 / 12.0, rel=1e-3)

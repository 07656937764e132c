"""The hub judged from its mesh, by slices and rays of another library."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import trimesh
from inside import inside
from known_hubs import FULL, PLAIN

from geomgen.cache import Cache
from geomgen.printing.mesh import leaking_edges
from geomgen.printing.solid import mesh_of, properties, solid_of

Z = np.array([0.0, 0.0, 1.0])


@pytest.fixture(scope="module", params=["anticlockwise", "clockwise"])
def hub(request, cache: Cache):
    """Spec, and its mesh in the other library."""
    spec = replace(FULL, clockwise=request.param == "clockwise")
    made = mesh_of(spec, cache)
    return spec, made, trimesh.Trimesh(made.vertices, made.faces, process=False)


def arm_frame(spec, k: int) -> np.ndarray:
    """(3, 3) rows: out along arm k, aft, up; worked out here from azimuth and coning."""
    azimuth, coning = np.radians(360.0 * k / spec.blades), np.radians(spec.coning)
    out = np.array([np.cos(azimuth) * np.cos(coning), np.sin(azimuth) * np.cos(coning), np.sin(coning)])
    aft = np.array([np.sin(azimuth), -np.cos(azimuth), 0.0])
    frame = np.array([out, aft, np.cross(aft, out)])
    return frame * (1.0, -1.0, 1.0) if spec.clockwise else frame


def at(spec, k: int, s: float, x: float = 0.0, y: float = 0.0) -> np.ndarray:
    """A point of an arm in the hub's frame: s out, x aft, y up."""
    return np.array([0.0, 0.0, spec.axis_height]) + np.array([s, x, y]) @ arm_frame(spec, k)


def holes(mesh, spec, k: int, s: float, frame: np.ndarray) -> list[tuple[np.ndarray, float]]:
    """Holes in a slice square to a line: (middle (3,), equal diameter)."""
    cut = mesh.section(plane_origin=at(spec, k, s), plane_normal=frame[0])
    to_plane = np.eye(4)
    to_plane[:3, :3] = np.array([frame[1], frame[2], np.cross(frame[1], frame[2])])
    to_plane[:3, 3] = -to_plane[:3, :3] @ at(spec, k, s)
    flat, _ = cut.to_2D(to_2D=to_plane)
    found = []
    for polygon in flat.polygons_full:
        for ring in polygon.interiors:
            hole = trimesh.path.polygons.Polygon(ring)
            middle = np.array([hole.centroid.x, hole.centroid.y, 0.0])
            found.append(((np.linalg.inv(to_plane) @ [*middle, 1.0])[:3], 2 * np.sqrt(hole.area / np.pi)))
    return found


def test_whole(hub, cache: Cache) -> None:
    spec, made, mesh = hub
    assert mesh.is_watertight and mesh.is_winding_consistent and mesh.body_count == 1
    assert leaking_edges(made) == 0
    assert 0 < mesh.volume == pytest.approx(properties(spec, cache).volume_mm3, rel=2e-3)


def test_sockets_by_slices(hub) -> None:
    """Diameter within 0.05 mm; azimuth and coning of the line through the socket's middles within 0.05 deg."""
    spec, _, mesh = hub
    for k in range(spec.blades):
        frame = arm_frame(spec, k)
        middles = []
        for s in (60.0, 85.0, 110.0):
            sockets = [(m, d) for m, d in holes(mesh, spec, k, s, frame) if abs(d - spec.socket) < 0.3]
            ((middle, diameter),) = sockets
            assert diameter == pytest.approx(spec.socket, abs=0.05)
            middles.append(middle)
        line = middles[2] - middles[0]
        azimuth = np.degrees(np.arctan2(line[1], line[0]))
        coning = np.degrees(np.arctan2(line[2], np.hypot(line[0], line[1])))
        wanted = (-1 if spec.clockwise else 1) * 120.0 * k
        assert (azimuth - wanted + 180) % 360 - 180 == pytest.approx(0.0, abs=0.05)
        assert coning == pytest.approx(spec.coning, abs=0.05)
        assert np.linalg.norm(middles[1] - (middles[0] + middles[2]) / 2) < 0.01
        start = middles[0] - line * np.hypot(*middles[0][:2]) / np.hypot(*line[:2])
        assert start == pytest.approx([0.0, 0.0, spec.axis_height], abs=0.05)  # they meet on the rotor axis


def test_ducts_are_open_from_seat_to_bay(hub) -> None:
    """Over the slot's whole range, close to its edges too; and the wall round it is there."""
    spec, _, mesh = hub
    void, wall = [], []
    for k in range(spec.blades):
        for duct in spec.ducts:
            s = np.concatenate([np.linspace(spec.duct_from(duct) - 0.5, spec.seat + 0.5, 25)])
            for angle in np.radians(np.linspace(duct.from_deg, duct.to_deg, 5)):
                for r in duct.radius + duct.width / 2 * np.array([-0.97, 0.0, 0.97]):
                    void += [at(spec, k, along, r * np.cos(angle), r * np.sin(angle)) for along in s]
                r = duct.radius + duct.width / 2 + spec.wall * 0.95
                wall += [at(spec, k, along, r * np.cos(angle), r * np.sin(angle)) for along in (60.0, 90.0, 120.0)]
    assert not inside(mesh.vertices, mesh.faces, void).any()
    assert inside(mesh.vertices, mesh.faces, wall).all()
    start = spec.duct_from(spec.ducts[0]) - 0.5
    x, y = spec.ducts[0].radius * np.cos(np.radians(-8)), spec.ducts[0].radius * np.sin(np.radians(-8))
    assert np.hypot(*at(spec, 0, start, x, y)[:2]) < spec.bay_radius  # it does begin in the bay


def test_spar_and_collar_go_in(hub) -> None:
    """Room for the spar from bay to seat, for the collar before its face, and a whole ring behind that to bear on."""
    spec, _, mesh = hub
    ring = np.radians(np.arange(0.0, 360.0, 15.0))
    void, solid = [], []
    for k in range(spec.blades):
        for angle in ring:
            c, s = np.cos(angle), np.sin(angle)
            void += [at(spec, k, r, 5.0 * c, 5.0 * s) for r in np.linspace(30.0, 122.0, 24)]
            void += [at(spec, k, r, 10.2 * c, 10.2 * s) for r in np.linspace(36.0, spec.collar_seat - 0.05, 8)]
            solid += [at(spec, k, spec.collar_seat + 0.05, r * c, r * s) for r in (5.4, 8.0, 10.2)]
            solid += [at(spec, k, spec.collar_seat + 2.9, r * c, r * s) for r in (5.4, 10.2)]
    assert not inside(mesh.vertices, mesh.faces, void).any() and inside(mesh.vertices, mesh.faces, solid).all()


def test_seat_is_flat_square_and_where_it_should_be(hub) -> None:
    spec, _, mesh = hub
    for k in range(spec.blades):
        out = arm_frame(spec, k)[0]
        above = mesh.face_normals @ out > 1 - 1e-9
        s = (mesh.triangles_center[above] - [0, 0, spec.axis_height]) @ out
        seat = np.abs(s - spec.seat) < 1e-3
        assert s.max() < spec.seat + 1e-3  # nothing stands before it
        assert s[~seat] == pytest.approx(spec.seat - spec.pilot_depth)  # and the floors of the pilot holes
        whole = np.pi * spec.flange**2 / 4
        assert mesh.area_faces[above][seat].sum() > 0.8 * whole


def test_bay_bore_and_bolts_by_slices(hub) -> None:
    spec, _, mesh = hub
    cut, _ = mesh.section(plane_origin=[0, 0, 2.0], plane_normal=Z).to_2D(to_2D=np.eye(4))
    (floor,) = cut.polygons_full
    sizes = sorted(2 * np.sqrt(trimesh.path.polygons.Polygon(ring).area / np.pi) for ring in floor.interiors)
    assert sizes == pytest.approx([4.5, 4.5, 4.5, 8.0], abs=0.05)
    middles = np.array([trimesh.path.polygons.Polygon(ring).centroid.coords[0] for ring in floor.interiors])
    wanted = np.array([(0.0, 0.0), *((x, -y if spec.clockwise else y) for x, y in spec.bolts)])
    assert max(np.hypot(*(middles - bolt).T).min() for bolt in wanted) < 0.05
    bay = mesh.section(plane_origin=[0, 0, spec.rim - 0.5], plane_normal=Z)
    r = np.hypot(*bay.vertices[:, :2].T)
    r = r[r < 60.0]  # flanges reach as high
    assert r.min() == pytest.approx(spec.bay_radius, abs=0.05) and r.max() == pytest.approx(48.0, abs=0.05)
    assert mesh.bounds[0, 2] == pytest.approx(0.0, abs=1e-9)  # it stands on its underside


def test_volume_of_a_plain_hub(cache: Cache) -> None:
    """Against the sum of its shapes, each written down here; what curved walls take is integrated over a disc."""
    spec = PLAIN
    inner, outer = spec.bay_radius, spec.bay_radius + spec.wall

    def over_disc(radius: float, height) -> float:
        """Integral of height(x, r) over a disc: Gauss points along r, even ones round it (exact for smooth heights)."""
        nodes, weights = np.polynomial.legendre.leggauss(40)
        r = radius * (nodes + 1) / 2
        angle = 2 * np.pi * np.arange(400) / 400
        x = r[:, None] * np.cos(angle)
        return float(((weights * radius / 2 * r)[:, None] * height(x, r[:, None] + 0 * x)).sum() * 2 * np.pi / 400)

    def ring(big: float, small: float) -> float:
        return np.pi / 4 * (big**2 - small**2)

    cup = np.pi * (outer**2 * spec.rim - inner**2 * spec.bay_height)
    arm = over_disc(spec.arm / 2, lambda x, r: spec.seat - np.sqrt(outer**2 - x**2))
    root = over_disc(spec.boss / 2, lambda x, r: spec.boss_end - np.sqrt(outer**2 - x**2))
    root -= over_disc(spec.arm / 2, lambda x, r: spec.boss_end - np.sqrt(outer**2 - x**2))
    big, small = spec.boss / 2, spec.arm / 2
    taper = np.pi / 3 * (big - small) * (big**2 + big * small + small**2) - np.pi * small**2 * (big - small)
    flange = spec.flange_thickness * ring(spec.flange, spec.arm)
    socket = np.pi / 4 * spec.socket**2 * (spec.seat - spec.collar_seat)
    spot_face = over_disc(spec.pocket / 2, lambda x, r: spec.collar_seat - np.sqrt(inner**2 - x**2))
    floor = spec.floor * np.pi / 4 * (spec.bore**2 + 4 * spec.bolt**2)
    expected = cup + 2 * (arm + root + taper + flange - socket - spot_face) - floor
    made = properties(spec, cache)
    assert made.volume_mm3 == pytest.approx(expected, rel=1e-7)
    assert mesh_of(spec, cache).volume() == pytest.approx(expected, rel=2e-3)
    assert made.centroid[:2] == pytest.approx([0.0, 0.0], abs=1e-3)


def test_inertia_by_the_mesh(cache: Cache) -> None:
    """The exact solid's against those of its mesh in the other library, which is finer than 0.2 %."""
    made = properties(FULL, cache)
    facets = mesh_of(FULL, cache)
    mesh = trimesh.Trimesh(facets.vertices, facets.faces, process=False)
    assert made.centroid == pytest.approx(mesh.center_mass, abs=0.05)
    assert made.inertia == pytest.approx(mesh.moment_inertia, rel=3e-3, abs=3e-3 * np.trace(made.inertia))


def test_clockwise_twin_is_the_mirror_image(cache: Cache) -> None:
    volume = properties(FULL, cache).volume_mm3
    assert properties(replace(FULL, clockwise=True), cache).volume_mm3 == volume
    one, other = mesh_of(FULL, cache), mesh_of(replace(FULL, clockwise=True), cache)
    assert other.volume() == pytest.approx(one.volume(), rel=1e-12)
    assert other.vertices == pytest.approx(one.vertices * [1, -1, 1])
    exact = solid_of(replace(FULL, clockwise=True), cache)
    assert exact.isValid() and exact.Volume() == pytest.approx(volume, rel=1e-4)
    for angle, empty in ((-8.0, True), (172.0, False)):  # the wide duct lies aft, towards +Y in the twin
        x, y = 24.5 * np.cos(np.radians(angle)), 24.5 * np.sin(np.radians(angle))
        point = at(replace(FULL, clockwise=True), 0, 90.0, x, y)
        assert (point[1] > 0) == empty and exact.isInside(tuple(point)) != empty


@pytest.mark.parametrize("spec", [replace(FULL, blades=2, coning=0.0, collar_seat=45.0), replace(FULL, coning=-3.0)])
def test_other_hubs_pass_the_gate(spec, cache: Cache) -> None:
    """Level arms, whose faces meet those of the cup squarely, and drooping ones."""
    made = mesh_of(spec, cache)
    assert trimesh.Trimesh(made.vertices, made.faces).is_watertight

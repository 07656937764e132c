"""Wedges as parts: printed meshes sliced and put together, what holds them, what they weigh, what they do to pitch."""

from __future__ import annotations

import io
import math
from collections.abc import Callable

import meshio
import numpy as np
import pytest
import shapely
import trimesh

from geomgen.craft import Craft
from geomgen.model.joint import Bond
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.step import Phase
from geomgen.printing.solid import mesh_of
from geomgen.printing.stl import stl_bytes
from geomgen.root.pin_spread import pin_spread
from geomgen.strength.load_path import chain, hanging
from geomgen.tolerances import STANDARD
from geomgen.views.check import check_data, check_page

CraftOf = Callable[..., Craft]
WEDGES = ('step    = "6 deg"', 'step = "2 deg"\nrim = 60\npattern = "wedge"')
CLOCKWISE = ('turn   = "anticlockwise"', 'turn   = "clockwise"')


@pytest.fixture(scope="module", params=[(), (CLOCKWISE,)], ids=["anticlockwise", "clockwise"])
def craft(request: pytest.FixtureRequest, craft_of: CraftOf) -> Craft:
    return craft_of("lantern", WEDGES, *request.param)


@pytest.fixture(scope="module")
def printed(craft: Craft) -> dict[str, trimesh.Trimesh]:
    """Meshes by the parts' names, read back from the files to print."""
    found = {}
    for part in craft.finished_of(Role.TURNING_CAP, Role.FIXED_CAP, Role.WEDGE):
        data = stl_bytes(mesh_of(flat(part), None, STANDARD, part.name))
        found[part.name] = trimesh.load_mesh(io.BytesIO(data), file_type="stl")
    return found


def flat(part: Part) -> Flat:
    assert isinstance(part.shape, Flat)
    return part.shape


def slice_at(mesh: trimesh.Trimesh, height: float) -> shapely.Polygon:
    """What is solid so far from the middle of its thickness, in the part's own frame."""
    middle = mesh.bounds[:, 2].mean()
    cut = mesh.section(plane_origin=[0.0, 0.0, middle + height], plane_normal=[0.0, 0.0, 1.0])
    (shape,) = cut.to_2D(to_2D=np.eye(4))[0].polygons_full
    return shape


def five(rings) -> list[np.ndarray]:
    """Those with five corners, once corners in a straight line are dropped."""
    simple = [np.array(shapely.simplify(shapely.Polygon(ring), 1e-3).exterior.coords)[:-1] for ring in rings]
    return [ring if shapely.LinearRing(ring).is_ccw else ring[::-1] for ring in simple if len(ring) == 5]


def round_holes(shape: shapely.Polygon, diameter: float) -> np.ndarray:
    rings = [shapely.Polygon(ring) for ring in shape.interiors]
    holes = [ring for ring in rings if abs(2 * math.sqrt(ring.area / math.pi) - diameter) < 0.02]
    return np.array([hole.centroid.coords[0] for hole in holes])


def axes(ring: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Middle and axes of an outline along its longest edge."""
    edges = np.roll(ring, -1, axis=0) - ring
    along = edges[np.hypot(*edges.T).argmax()]
    ways = np.array([along, (-along[1], along[0])]) / np.hypot(*along)
    spans = ring @ ways.T
    return (spans.min(axis=0) + spans.max(axis=0)) / 2 @ ways, ways


def test_printed_wedges_and_caps_are_coaxial_at_every_setting(craft: Craft, printed) -> None:
    """Slices of the meshes: each wedge in the middle of each window, its hole against the turning cap's, turned."""
    up, size = (1.0 if craft.design.rotor.turn == "clockwise" else -1.0), craft.pattern.hole_mm
    turning = round_holes(slice_at(printed["turning cap"], 1.0), size)
    windows = five(slice_at(printed["fixed cap"], 0.0).interiors)
    assert len(turning) == len(windows) == 2 and len(craft.pattern.settings_deg) == 7
    for pitch in craft.pattern.settings_deg:
        shape = slice_at(printed[f"wedge {pitch:g} deg"], 0.0)
        (outline,), (hole,) = five([shape.exterior]), round_holes(shape, size)
        middle, ways = axes(outline)
        c, s = math.cos(math.radians(up * pitch)), math.sin(math.radians(up * pitch))
        turned = turning @ np.array([[c, s], [-s, c]])
        for there, other in map(axes, windows):
            at = (hole - middle) @ ways.T @ other + there
            assert np.hypot(*(turned - at).T).min() < 0.01


def test_two_libraries_find_them_closed(craft: Craft, printed, tmp_path) -> None:
    assert sum(name.startswith("wedge") for name in printed) == 7
    for name, mesh in printed.items():
        assert mesh.is_watertight and mesh.is_winding_consistent and mesh.body_count == 1 and mesh.volume > 0
        (tmp_path / f"{name}.stl").write_bytes(mesh.export(file_type="stl"))
        read = meshio.read(tmp_path / f"{name}.stl")
        a, b, c = read.points[read.get_cells_type("triangle")].astype(float).transpose(1, 0, 2)
        assert np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6 == pytest.approx(mesh.volume, rel=1e-4)


def test_only_those_of_the_pitch_to_fly_at_are_weighed(craft: Craft, printed) -> None:
    """By the volume of the file to print; two blades, two pins each."""
    (line,) = [line for line in craft.mass.lines if line.role is Role.WEDGE]
    (measured,) = [each for each in craft.measured if each.part.role is Role.WEDGE]
    assert measured.part.name == line.name == "wedge 8 deg" and measured.part.count == 4
    assert measured.amounts["mm3"] == pytest.approx(printed["wedge 8 deg"].volume, rel=1e-3)
    spare = [part for part in craft.parts if part.role is Role.WEDGE and part.assembly is Assembly.BENCH]
    assert [part.name for part in spare] == [f"wedge {pitch} deg" for pitch in (2, 4, 6, 10, 12, 14)]
    assert {part.name for part in craft.printed_parts} >= {part.name for part in spare}


def test_what_holds_a_wedge(craft: Craft) -> None:
    """Thrown outwards it lies against the turning cap; across it is held by its window, and the pin by it."""
    (key,) = [part.key for part in craft.flying if part.role is Role.WEDGE]
    bonds = {(one.a.role, one.b.role): one.bond for one in craft.flying.joints if key in (one.a, one.b)}
    assert bonds == {
        (Role.WEDGE, Role.FIXED_CAP): Bond.PINNED,
        (Role.WEDGE, Role.TURNING_CAP): Bond.BEARING,
        (Role.PIN, Role.WEDGE): Bond.PINNED,
    }
    held = hanging(craft.flying.joints)
    assert [each.role for each in chain(key, held)][:2] == [Role.TURNING_CAP, Role.RIB]
    assert all(part.key in held or part.role is Role.HUB for part in craft.flying)


def test_order_of_work_and_pages_name_them(craft: Craft) -> None:
    (step,) = [task for task in craft.order if task.does.startswith("Put the wedges marked 8")]
    assert step.phase is Phase.MOUNT and "clipped corner outwards" in step.does
    numbers = {key.role: k for k, task in enumerate(craft.order) for key in task.keys if task.phase is Phase.MOUNT}
    assert numbers[Role.FIXED_CAP] < numbers[Role.WEDGE] < numbers[Role.PIN]
    data = check_data(craft, None)["pitch_pattern"]
    assert data["kind"] == "wedge" and len(data["wedge"]["corners_mm"]) == 5
    assert any("wedges in the fixed cap" in str(section) for section in check_page(craft).sections)


def test_the_page_says_why_wedges_were_taken(craft_of: CraftOf) -> None:
    """A rim that leaves no room for two rings of figures round holes; wedges need none."""
    edit = ('step    = "6 deg"', 'step = "2 deg"\nrim = 50')
    pattern = craft_of("lantern", edit).pattern
    assert pattern.kind == "wedge" and "a plain pattern doesn't fit" in pattern.why and "nor does" in pattern.why


@pytest.mark.parametrize(("fit", "loose", "scatter"), [(0.2, 0.05, 0.1), (0.1, 0.1, 0.2), (0.0, 0.1, 0.05)])
def test_pitch_error_against_blades_drawn(fit: float, loose: float, scatter: float) -> None:
    """Two pins at 40 mm, 100 000 blades: holes of cap and wedge, and the window, anywhere in discs; each wedge goes
    where the pin wants it, within a square. The blade stands anywhere between what stops it."""
    rng = np.random.default_rng(11)
    discs = [scatter * np.sqrt(rng.random((100_000, 2))) * np.exp(2j * np.pi * rng.random((100_000, 2))) for _ in "123"]
    along, across = sum(discs).real, np.maximum(np.abs(sum(discs).imag) - loose, 0.0)
    free = np.where(across <= fit, loose + np.sqrt(np.maximum(fit**2 - across**2, 0.0)), -np.inf)
    low, high = (along - free).max(axis=1) / 40.0, (along + free).min(axis=1) / 40.0
    goes = low <= high
    stands = np.degrees(low[goes] + (high - low)[goes] * rng.random(goes.sum()))
    found = pin_spread((40.0, 40.0), fit_mm=fit, scatter_mm=(scatter,) * 3, loose_mm=loose)
    root = math.hypot(found.play_spread_deg, found.holes_spread_deg)
    assert root == pytest.approx(math.sqrt(3) * stands.std(), rel=0.05)
    assert np.abs(stands).max() <= found.play_limit_deg + found.holes_limit_deg
    assert found.eased == pytest.approx(1.0 - goes.mean(), abs=0.01)


def test_shares_of_pitch_error(craft: Craft) -> None:
    """Limits by hand: 0.2 mm of fit, half of 0.1 mm at the middle of the range, three printed places of 0.2 mm."""
    causes, circle = {cause.path: cause for cause in craft.pitch_error.causes}, craft.pattern.circle_mm
    assert causes["pitch.pin.fit"].limit_deg == pytest.approx(math.degrees(0.2 / circle))
    assert causes["pitch.wedge.fit"].limit_deg == pytest.approx(math.degrees(0.05 / circle))
    assert causes["pitch.scatter.holes"].limit_deg == pytest.approx(math.degrees(0.6 / circle))

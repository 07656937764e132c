"""Caps of paired patterns by what is made: holes in cutting files, read by ezdxf, and in slices of printed meshes."""

from __future__ import annotations

import io
import itertools
from functools import cache

import ezdxf
import numpy as np
import pytest
import shapely
import trimesh
from root_faces import design_of, root_face

from geomgen.cache import Cache
from geomgen.cutting.dxf import part_dxf
from geomgen.errors import MakeError
from geomgen.marking.finish import finished
from geomgen.model.part import Flat, Part
from geomgen.printing.solid import mesh_of
from geomgen.printing.stl import stl_bytes
from geomgen.root.pitch_caps import caps
from geomgen.root.pitch_pattern import pitch_pattern
from geomgen.root.root import Root
from geomgen.root.seat import seat

RANGES, STEPS, PINS, RIMS = (
    ((0.0, 4.0), (2.0, 14.0), (-8.0, 16.0)),
    (0.5, 2.0, 4.0),
    ((1, 2.0), (2, 3.0), (3, 4.0)),
    (58, 75),
)
GRID = list(itertools.product(RANGES, STEPS, PINS, RIMS))
PRINTED = [((2.0, 14.0), 1.0, (2, 3.0), 60), ((-8.0, 16.0), 2.0, (3, 2.0), 75), ((0.0, 4.0), 0.5, (1, 3.0), 58)]
FACE, FIT, WEB = root_face(), 0.1, 1.6
TURNS = ("anticlockwise", "clockwise")


@cache
def made(across: tuple[float, float], step: float, pin: tuple[int, float], rim: float, turn: str) -> tuple | None:
    """Design, pattern, and both caps as they are made; None where there is no pattern."""
    design = design_of(
        rotor__turn=turn, pitch__pattern="paired", pitch__range=across, pitch__set=across[0], pitch__step=step,
        pitch__pin__count=pin[0], pitch__pin__diameter=pin[1], pitch__pin__fit=FIT, pitch__rim=float(rim),
        pitch__turning_cap__thickness=5.0,
    )  # fmt: skip
    there = seat(design, FACE)
    try:
        pattern = pitch_pattern(design, FACE, seat=there)
    except MakeError:
        return None
    drawn = caps(Root(design, FACE, there, pattern)).read().parts
    return design, pattern, *finished(drawn, clockwise=turn == "clockwise", units=None, cache=Cache())


def in_file(part: Part, design, diameter: float) -> np.ndarray:
    """(n, 2) middles of the cutting file's circles of one size."""
    data = part_dxf(part, design.laser.colour.model_dump(), design.rotor.blades, "mm")
    model = ezdxf.read(io.StringIO(data.decode())).modelspace()
    return np.array(sorted({tuple(e.dxf.center)[:2] for e in model.query("CIRCLE") if on(e.dxf.radius, diameter / 2)}))


def on(one: float, other: float) -> bool:
    return abs(one - other) < 1e-4


def in_mesh(part: Part, diameter: float) -> np.ndarray:
    """(n, 2) middles of the round holes of one size, above half and below, from the file's triangles."""
    mesh = trimesh.load_mesh(io.BytesIO(stl_bytes(mesh_of(part.shape, Cache()))), file_type="stl")
    assert mesh.is_watertight and mesh.is_winding_consistent
    rings = []
    for z in (1.7, part.shape.thickness_mm - 1.7):  # pins' holes end within a printed cap
        cut, _ = mesh.section(plane_origin=[0, 0, z], plane_normal=[0, 0, 1]).to_2D(to_2D=np.eye(4))
        rings += [shapely.Polygon(ring) for shape in cut.polygons_full for ring in shape.interiors]
    size = np.pi * diameter**2 / 4
    return np.array([ring.centroid.coords[0] for ring in rings if abs(ring.area / size - 1.0) < 0.01])


def off_axis(turning: np.ndarray, fixed: np.ndarray, pitch: float, turn: str) -> np.ndarray:
    """(n,) how far each hole of the turning cap, leading edge up by a pitch, stands off the nearest fixed one [mm]."""
    angle = np.radians(pitch if turn == "clockwise" else -pitch)
    c, s = np.cos(angle), np.sin(angle)
    turned = turning @ np.array([[c, s], [-s, c]])
    return np.hypot(*(turned[:, None] - fixed[None, :]).transpose(2, 0, 1)).min(axis=1)


@pytest.mark.parametrize("turn", TURNS)
def test_pins_are_coaxial_at_every_setting_in_the_cutting_files(turn: str) -> None:
    several, some = 0, GRID[:: 3 if turn == "clockwise" else 2]
    for ask in some:
        if (these := made(*ask, turn)) is None:
            continue
        design, _, *both = these
        ((low, high), step, (pins, diameter), _), several = ask, several + 1
        turning, fixed = (in_file(part, design, diameter + FIT) for part in both)
        settings = np.arange(low, high + step / 2, step)
        for pitch in settings:
            assert (off_axis(turning, fixed, pitch, turn) < 0.01).sum() >= pins, (ask, pitch)
    assert several >= 0.8 * len(some)


@pytest.mark.parametrize("turn", TURNS)
def test_every_web_is_as_wide_as_asked(turn: str) -> None:
    """Between any two holes of a cap, and from each to its edge, as polygons."""
    for ask in GRID[:: 2 if turn == "clockwise" else 1]:
        for part in (made(*ask, turn) or ())[2:]:
            assert isinstance(part.shape, Flat)
            region, pockets = part.shape.region, part.shape.pockets
            loops = [*region.holes, *(pocket.loop for pocket in pockets)]
            holes = np.array([shapely.Polygon(loop.flattened(0.005)) for loop in loops])
            i, j = np.triu_indices(len(holes), 1)
            assert shapely.distance(holes[i], holes[j]).min() >= WEB - 0.02, ask
            edge = shapely.Polygon(region.outer.flattened(0.005)).exterior
            assert shapely.distance(holes, edge).min() >= WEB - 0.02, ask


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("ask", PRINTED, ids=str)
def test_pins_are_coaxial_at_every_setting_in_printed_meshes(ask: tuple, turn: str) -> None:
    these = made(*ask, turn)
    assert these is not None
    (low, high), step, (pins, diameter), _ = ask
    turning, fixed = (in_mesh(part, diameter + FIT) for part in these[2:])
    assert len(turning) and len(fixed)
    for pitch in np.arange(low, high + step / 2, step):
        at = off_axis(turning, fixed, pitch, turn)
        assert len(np.unique(turning[at < 0.01].round(2), axis=0)) >= pins

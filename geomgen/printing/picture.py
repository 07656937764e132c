"""A shaded picture of solids, the same bytes for the same solids."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geomgen.frames import applied
from geomgen.printing.mesh import Mesh
from geomgen.printing.raster import NOTHING, Float32Array, visible, weights
from geomgen.printing.shading import corner_normals, corners_dark, edges, lit

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

FINER = 2  # pixels worked out for each pixel shown, each way
MARGIN = 0.04  # of the picture's breadth, left free all round
CORNER_MM = 9.0  # how far light is kept from corners
LINE = 0.35  # what is left of the light on an edge


@dataclass(frozen=True, eq=False)
class Body:
    """One solid to show.

    mesh   : in its own frame [mm]
    place  : (4, 4) from there to the world
    colour : red, green, blue, 0..1
    """

    mesh: Mesh
    place: FloatArray
    colour: tuple[float, float, float]

    def placed(self) -> Mesh:
        """The mesh in the world; a place that mirrors doesn't turn it inside out."""
        faces = self.mesh.faces if np.linalg.det(self.place[:3, :3]) > 0.0 else self.mesh.faces[:, ::-1]
        return Mesh(applied(self.place, self.mesh.vertices), faces)


@dataclass(frozen=True, eq=False)
class Scene:
    """Triangles that face the eye, as the picture has them.

    pixels  : (n, 3, 3) corners: right [px], down [px], to the eye [mm]
    normals : (n, 3, 3) unit normals at the corners: right, up, to the eye
    body    : (n,) which body
    width, height : [px]
    per_px  : size of a pixel [mm]
    """

    pixels: FloatArray
    normals: FloatArray
    body: IntArray
    width: int
    height: int
    per_px: float


def picture(bodies: Sequence[Body], azimuth_deg: float, height_deg: float, width_px: int = 900) -> bytes:
    """PNG of solids, seen from far off, on white.

    azimuth_deg, height_deg : where the eye stands: round Z from X, and above the XY plane [deg]
    width_px                : breadth of the picture; its height follows from what is shown [px]
    """
    eye = _eye(azimuth_deg, height_deg)
    scene = _scene([body.placed() for body in bodies], eye, width_px)
    colours = np.array([body.colour for body in bodies])
    image = _shaded(scene, colours, eye @ (0.0, 0.0, 1.0))
    parts = [image[i::FINER, j::FINER] for i in range(FINER) for j in range(FINER)]
    small = np.sum(parts, axis=0) / FINER**2
    return _png(np.round(255.0 * np.clip(small, 0.0, 1.0)).astype(np.uint8))


def _eye(azimuth_deg: float, height_deg: float) -> FloatArray:
    """(3, 3) from the world to right, up, to the eye."""
    a, h = np.radians((azimuth_deg, height_deg))
    to_eye = np.array([np.cos(a) * np.cos(h), np.sin(a) * np.cos(h), np.sin(h)])
    right = np.array([-np.sin(a), np.cos(a), 0.0])
    return np.array([right, np.cross(to_eye, right), to_eye])


def _scene(meshes: Sequence[Mesh], eye: FloatArray, width_px: int) -> Scene:
    corners = np.concatenate([mesh.corners() for mesh in meshes]) @ eye.T
    normals = np.concatenate([corner_normals(mesh) for mesh in meshes]) @ eye.T
    body = np.repeat(np.arange(len(meshes)), [len(mesh.faces) for mesh in meshes])
    (left, low), (right, high) = corners[..., :2].min(axis=(0, 1)), corners[..., :2].max(axis=(0, 1))
    width, border = width_px * FINER, width_px * FINER * MARGIN
    scale = (width - 2 * border) / (right - left)
    height = FINER * round(((high - low) * scale + 2 * border) / FINER)
    x, y = (corners[..., 0] - left) * scale + border, (high - corners[..., 1]) * scale + border
    (ax, bx, cx), (ay, by, cy) = x.T, y.T
    front = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax) < -1e-9  # y runs down: anticlockwise becomes clockwise
    pixels = np.stack((x, y, corners[..., 2]), axis=-1)
    return Scene(pixels[front], normals[front], body[front], width, height, 1.0 / scale)


def _shaded(scene: Scene, colours: FloatArray, up: FloatArray) -> Float32Array:
    """(height, width, 3) colours 0..1."""
    seen, depth = visible(scene.pixels, scene.width, scene.height)
    shown = seen != NOTHING
    rows, columns = np.nonzero(shown)
    triangle = seen[shown]
    share = weights(scene.pixels, triangle, columns, rows)
    normal = np.einsum("ij,ijk->ik", share, scene.normals.astype(np.float32)[triangle])
    normal /= np.maximum(np.sqrt(np.einsum("ij,ij->i", normal, normal)), 1e-30)[:, None]
    normals, body = np.zeros((*seen.shape, 3), dtype=np.float32), np.full(seen.shape, NOTHING)
    normals[shown], body[shown] = normal, scene.body[triangle]
    coarse = corners_dark(depth[::FINER, ::FINER], CORNER_MM / scene.per_px / FINER, scene.per_px * FINER)
    light = np.repeat(np.repeat(coarse, FINER, axis=0), FINER, axis=1)
    light[edges(depth, normals, body, scene.per_px)] *= LINE
    image = np.ones((*seen.shape, 3), dtype=np.float32)
    image[shown] = lit(colours.astype(np.float32)[body[shown]], normal, up) * light[shown][:, None]
    return image


def _png(pixels: NDArray[np.uint8]) -> bytes:
    from PIL import Image

    file = io.BytesIO()
    Image.fromarray(pixels, "RGB").save(file, "PNG", optimize=False, compress_level=6)
    return file.getvalue()

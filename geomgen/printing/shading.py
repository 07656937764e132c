"""Light on what is seen: smooth normals, two lamps and the sky, darker corners, lines along edges."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geomgen.printing.mesh import Mesh
from geomgen.printing.raster import Float32Array, runs

FloatArray = NDArray[np.float64]

CREASE_DEG = 30.0  # faces that meet at less look like one round face
EDGE_DEG = 25.0  # normals of neighbouring pixels further apart than this are parted by a line
KEY, FILL = np.array([-0.35, 0.80, 0.60]), np.array([0.90, 0.05, 0.55])  # towards the lamps: right, up, to the eye


def corner_normals(mesh: Mesh) -> FloatArray:
    """(m, 3, 3) unit normals at each triangle's corners, those of faces that meet smoothly made one."""
    a, b, c = mesh.corners().transpose(1, 0, 2)
    cross = np.cross(b - a, c - a)
    unit = cross / np.maximum(np.linalg.norm(cross, axis=1, keepdims=True), 1e-30)
    order = np.argsort(mesh.faces.ravel(), kind="stable")
    vertex, face = mesh.faces.ravel()[order], order // 3
    count = np.bincount(vertex, minlength=len(mesh.vertices))
    first = np.cumsum(count) - count
    other, mine = runs(first[vertex], count[vertex])
    smooth = np.einsum("ij,ij->i", unit[face[mine]], unit[face[other]]) > np.cos(np.radians(CREASE_DEG))
    total = np.zeros((len(order), 3))
    for axis in range(3):
        total[:, axis] = np.bincount(mine[smooth], weights=cross[face[other[smooth]], axis], minlength=len(order))
    total /= np.maximum(np.linalg.norm(total, axis=1, keepdims=True), 1e-30)
    normals = np.empty_like(total)
    normals[order] = total
    return normals.reshape(-1, 3, 3)


def lit(colour: Float32Array, normal: Float32Array, up: FloatArray) -> Float32Array:
    """(n, 3) colours under the lamps.

    colour : (n, 3) 0..1
    normal : (n, 3) unit, in the eye's frame: right, up, to the eye
    up     : (3,) where the sky is, in the same frame
    """
    key, fill = KEY / np.linalg.norm(KEY), FILL / np.linalg.norm(FILL)
    half = key + np.array([0.0, 0.0, 1.0])
    towards = np.stack((key, fill, up, half / np.linalg.norm(half))).astype(np.float32)
    key_light, fill_light, sky, shine = towards @ normal.T
    light = 0.56 * np.maximum(key_light, 0.0) + 0.36 * np.maximum(fill_light, 0.0) + (0.40 + 0.12 * sky)
    shine = np.maximum(shine, 0.0) ** 2
    for _ in range(4):  # to the 32nd power
        shine *= shine
    return np.asarray(colour * light[:, None] + 0.16 * shine[:, None])


def corners_dark(depth: Float32Array, reach_px: float, per_px: float) -> Float32Array:
    """(h, w) share of light that gets into corners and recesses.

    depth    : (h, w) towards the eye, -inf where there is nothing
    reach_px : how far round each pixel is looked [px]
    per_px   : depth that counts as much as one pixel sideways
    """
    height, width = depth.shape
    hidden = np.zeros_like(depth)
    rings = ((0.35, 10), (1.0, 14))
    for share, count in rings:
        for angle in 2.0 * np.pi * (np.arange(count) + share) / count:
            dx, dy = round(share * reach_px * np.cos(angle)), round(share * reach_px * np.sin(angle))
            there = np.full_like(depth, -np.inf)
            rows, columns = slice(max(dy, 0), height + min(dy, 0)), slice(max(dx, 0), width + min(dx, 0))
            back = slice(max(-dy, 0), height + min(-dy, 0)), slice(max(-dx, 0), width + min(-dx, 0))
            there[back] = depth[rows, columns]
            with np.errstate(invalid="ignore"):
                rise = (there - depth) * np.float32(1.0 / (per_px * share * reach_px))
            hidden += np.where(rise > 0.15, np.clip(rise, 0.0, 1.0) * np.clip(4.0 - rise, 0.0, 1.0), 0.0)
    return np.asarray(1.0 - 0.75 * hidden / sum(count for _, count in rings))


def edges(depth: Float32Array, normal: Float32Array, body: NDArray[np.int64], per_px: float) -> NDArray[np.bool_]:
    """(h, w) pixels at the nearer side of an edge: another body, a step in depth, or a crease.

    normal : (h, w, 3), 0 where there is nothing
    body   : (h, w) which body
    per_px : depth that counts as much as one pixel sideways
    """
    line = np.zeros(depth.shape, dtype=bool)
    crease = np.cos(np.radians(EDGE_DEG))
    for axis in (0, 1):
        a, b = (tuple(s if i == axis else slice(None) for i in (0, 1)) for s in (slice(None, -1), slice(1, None)))
        with np.errstate(invalid="ignore"):
            step = np.abs(depth[a] - depth[b]) > 12.0 * per_px
        bent = np.einsum("ijk,ijk->ij", normal[a], normal[b]) < crease
        parted = (body[a] != body[b]) | step | (bent & (body[a] >= 0))
        nearer = depth[a] >= depth[b]
        line[a] |= parted & nearer
        line[b] |= parted & ~nearer
    return line & (body >= 0)

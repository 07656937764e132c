"""Velocities that vortices of unit circulation induce: straight segments, and a cylinder that runs down without end."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray

_ON_LINE = 1e-12  # share of the product of distances below which a point lies on the segment itself
_GAUSS = 48


def filament_velocity(points: FloatArray, nodes: FloatArray, core: float = 0.0) -> tuple[FloatArray, FloatArray]:
    """Velocity across the span and along the axis that filaments of straight segments induce, y and z components.

    points  : (p, 3) [R]
    nodes   : (f, k, 3) the nodes of f filaments, circulation 1 along them [R]
    core    : radius within which velocity falls to nothing [R]
    returns : two (p, f) arrays, y and z [1/R for circulation 1]; nothing from a segment on whose own line a point lies
    source  : Biot-Savart's law of a straight segment, textbook; for u, v from its ends to the point and X = u x v it is
              X (|u| + |v|) (|u||v| - u.v) / (4 pi |u||v| sqrt(|X|^4 + core^4 length^4))
    """
    x, y, z = (points[:, k, None, None] - nodes[None, :, :, k] for k in range(3))
    far = np.sqrt(x * x + y * y + z * z)
    ux, uy, uz, vx, vy, vz = x[..., :-1], y[..., :-1], z[..., :-1], x[..., 1:], y[..., 1:], z[..., 1:]
    both = far[..., :-1] * far[..., 1:]
    dot = ux * vx + uy * vy + uz * vz
    if core:
        length2 = np.sum(np.diff(nodes, axis=1) ** 2, axis=-1)
        across = (both - dot) * (both + dot)
        below = both * np.sqrt(across * across + (core * core * length2) ** 2)
        share = (both - dot) / below
    else:
        below = both * (both + dot)
        on_line = below <= _ON_LINE * both * both
        share = np.where(on_line, 0.0, 1.0 / np.where(on_line, 1.0, below))
    share *= far[..., :-1] + far[..., 1:]
    along_y = np.einsum("pfk,pfk->pf", uz * vx - ux * vz, share)
    along_z = np.einsum("pfk,pfk->pf", ux * vy - uy * vx, share)
    return along_y / (4.0 * np.pi), along_z / (4.0 * np.pi)


def cylinder_downwash(radius: ArrayLike, below: ArrayLike, off_axis: FloatArray) -> FloatArray:
    """Velocity down the axis of a vortex cylinder without end, of strength 1 for each unit of its length.

    radius   : (f,) of cylinders [R]
    below    : (f,) how far their tops lie below the points [R]
    off_axis : (p,) the points' distances from the axis [R]
    returns  : (p, f) [1]; 1/2 inside and 0 outside at the top's own height
    source   : the solid angle of the top's rim, integrated over its half by Gauss's 48 points
    """
    node, weight = np.polynomial.legendre.leggauss(_GAUSS)
    cosine = np.cos(0.5 * np.pi * (node + 1.0))
    a, h, out = np.asarray(radius)[:, None], np.asarray(below)[:, None], off_axis[:, None, None]
    near2 = a * a + out * out - 2.0 * a * out * cosine
    rim = a * (a - out * cosine) / near2 * (1.0 - h / np.sqrt(near2 + h * h))
    down: FloatArray = rim @ weight / 4.0  # twice the half: 2 (pi / 2) / (4 pi)
    return down

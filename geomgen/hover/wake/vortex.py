"""Velocities that vortices of unit circulation induce: straight segments, and a cylinder that runs down without end."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray

_ON_IT = 1e-12  # share of |u||v| below which |u||v| + u.v says that a point lies on the segment itself
_IN_CACHE = 10_000  # distances worked on at a time; many more are slower
_GAUSS = np.polynomial.legendre.leggauss(48)


def filament_velocity(points: FloatArray, nodes: FloatArray, core: float = 0.0) -> FloatArray:
    """Velocity across the span and along the axis that filaments of straight segments induce.

    points  : (p, 3) [R]
    nodes   : (f, k, 3) the nodes of f filaments, circulation 1 along them [R]
    core    : radius within which velocity falls to nothing [R]
    returns : (2, p, f) its y and z [1/R for circulation 1]; nothing from a segment on which a point lies
    source  : Biot-Savart's law of a straight segment, textbook; for u, v from its ends to the point and X = u x v it is
              X (|u| + |v|) (|u||v| - u.v) / (4 pi |u||v| sqrt(|X|^4 + core^4 length^4))
    """
    chunk = max(1, _IN_CACHE // (len(points) * nodes.shape[1]))
    parts = [_velocity(points, nodes[k : k + chunk], core) for k in range(0, len(nodes), chunk)]
    return np.concatenate(parts, axis=-1)


def _velocity(points: FloatArray, nodes: FloatArray, core: float) -> FloatArray:
    """X is split as length x point - length x end, so that the sum over segments is a product of matrices."""
    length = np.diff(nodes, axis=1)
    moment = np.cross(length, nodes[:, 1:])
    share = _share(points, nodes, np.sum(length**2, axis=-1)[:, None], core)  # (f, p, k - 1)
    sums = share @ np.concatenate((length, moment[..., 1:]), axis=-1)
    lx, ly, lz, my, mz = np.moveaxis(sums, (2, 1), (0, 1))
    x, y, z = points.T[..., None]
    return np.stack((lz * x - lx * z - my, lx * y - ly * x - mz)) / (4.0 * np.pi)


def _share(points: FloatArray, nodes: FloatArray, length2: FloatArray, core: float) -> FloatArray:
    """What X is multiplied with; |u||v| + u.v and |u||v| - u.v by the law of cosines."""
    far = np.zeros((len(nodes), len(points), nodes.shape[1]))
    for axis in range(3):
        away = points[None, :, None, axis] - nodes[:, None, :, axis]
        far += np.square(away, out=away)
    np.sqrt(far, out=far)
    u, v = far[..., :-1], far[..., 1:]
    both, sides = u * v, u + v
    plus = (sides * sides - length2) / 2.0
    if not core:
        on_it = plus <= _ON_IT * both
        return np.where(on_it, 0.0, sides / np.where(on_it, 1.0, both * plus))
    minus = (length2 - (u - v) ** 2) / 2.0
    across2 = plus * minus
    share: FloatArray = sides * minus / (both * np.sqrt(across2 * across2 + (core * core * length2) ** 2))
    return share


def cylinder_downwash(radius: ArrayLike, below: ArrayLike, off_axis: FloatArray) -> FloatArray:
    """Velocity down the axis of a vortex cylinder without end, of strength 1 for each unit of its length.

    radius   : (f,) of cylinders [R]
    below    : (f,) how far their tops lie below the points [R]
    off_axis : (p,) the points' distances from the axis [R]
    returns  : (p, f) [1]; 1/2 inside and 0 outside at the top's own height
    source   : the solid angle of the top's rim, integrated over its half by Gauss's 48 points
    """
    node, weight = _GAUSS
    cosine = np.cos(0.5 * np.pi * (node + 1.0))
    a, h, out = np.asarray(radius)[:, None], np.asarray(below)[:, None], off_axis[:, None, None]
    near2 = a * a + out * out - 2.0 * a * out * cosine
    rim = a * (a - out * cosine) / near2 * (1.0 - h / np.sqrt(near2 + h * h))
    down: FloatArray = rim @ weight / 4.0  # twice the half: 2 (pi / 2) / (4 pi)
    return down

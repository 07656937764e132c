"""Surfaces to lay flat, from their equations, and the check that a flat pattern is true to one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

SHARE, LEAST_MM = 2e-4, 0.05  # a line keeps its length within the greater of 0.02 % and 0.05 mm


def cylinder(
    radius: float = 30.0, turn_deg: float = 270.0, length: float = 600.0, k: int = 20, n: int = 160
) -> FloatArray:
    """(k, n, 3) of straight rulings along x."""
    return cone(radius, radius, length, turn_deg, k, n)


def cone(
    root: float = 60.0, tip: float = 35.0, slant: float = 500.0, turn_deg: float = 250.0, k: int = 20, n: int = 160
) -> FloatArray:
    """(k, n, 3) of a frustum; its rows are circles about x."""
    share, turn = np.linspace(0.0, 1.0, k)[:, None], np.radians(np.linspace(0.0, turn_deg, n))[None]
    radius = root + (tip - root) * share
    along = share * np.sqrt(slant**2 - (root - tip) ** 2)
    return np.stack(np.broadcast_arrays(along, radius * np.cos(turn), radius * np.sin(turn)), axis=-1)


def blade(
    r: tuple[float, float] = (130.0, 800.0),
    chord: tuple[float, float] = (210.0, 150.0),
    twist_deg: tuple[float, float] = (5.0, 0.0),
    k: int = 20,
    side: int = 60,
) -> FloatArray:
    """(k, 2 side - 1, 3) from upper tail round the nose to lower tail, chord and twist straight from root to tip.

    Of NACA 2412 ending at 0.98 chord, turned about 0.3 chord; x out, y forward, z up.
    """
    share, section = np.linspace(0.0, 1.0, k)[:, None], naca(side) - (0.3, 0.0)
    size = chord[0] + (chord[1] - chord[0]) * share
    back, up = size * section[:, 0], size * section[:, 1]
    turn = np.radians(twist_deg[0] + (twist_deg[1] - twist_deg[0]) * share)
    out = np.broadcast_to(r[0] + (r[1] - r[0]) * share, back.shape)
    return np.stack((out, -back * np.cos(turn) - up * np.sin(turn), -back * np.sin(turn) + up * np.cos(turn)), axis=-1)


def naca(side: int, m: float = 0.02, p: float = 0.4, t: float = 0.12) -> FloatArray:
    """(2 side - 1, 2) points of a four-digit section, closest at the nose. Equations of NACA Report 460."""
    x = 0.98 * (1.0 - np.cos(np.linspace(0.0, 0.5 * np.pi, side)))
    half = 5.0 * t * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    mean = np.where(x < p, m / p**2 * (2 * p * x - x**2), m / (1 - p) ** 2 * (1 - 2 * p + 2 * p * x - x**2))
    slope = np.arctan(np.where(x < p, 2 * m / p**2 * (p - x), 2 * m / (1 - p) ** 2 * (p - x)))
    upper, lower = (
        np.column_stack((x - s * half * np.sin(slope), mean + s * half * np.cos(slope))) for s in (1.0, -1.0)
    )
    return np.vstack((upper[::-1], lower[1:]))


def lines(points: FloatArray) -> dict[str, FloatArray]:
    """Lengths of every whole row and column, and of the diagonals of cells and of blocks of cells, both ways."""
    k, n = points.shape[:2]
    found = {"rib lines": _length(points), "rulings": _length(points.swapaxes(0, 1))}
    for size in sorted({min(size, k - 1, n - 1) for size in (1, 4, 9, k)}):
        step, run = max(1, size // 2), np.arange(size + 1)
        i, j = (a.ravel()[:, None] for a in np.meshgrid(range(0, k - size, step), range(0, n - size, step)))
        both = (points[i + run, j + run], points[i + size - run, j + run])
        found[f"diagonals of {size} cells"] = np.concatenate([_length(each) for each in both])
    return found


def _length(polylines: FloatArray) -> FloatArray:
    return np.linalg.norm(np.diff(polylines, axis=-2), axis=-1).sum(axis=-1)


def misfit(space: FloatArray, flat: FloatArray) -> float:
    """Greatest change of any line's length over what it may change: a pattern is true to its surface up to 1."""
    true, laid = lines(space), lines(flat)
    return max(
        float((abs(laid[name] - length) / np.maximum(LEAST_MM, SHARE * length)).max()) for name, length in true.items()
    )


def trapezoid(space: FloatArray) -> FloatArray:
    """(k, n, 2) the easy answer: straight rib lines, the right widths at both ends and the right area."""
    k = len(space)
    width = _length(space)
    d, e = space[1:, 1:] - space[:-1, :-1], space[1:, :-1] - space[:-1, 1:]
    area = 0.5 * np.linalg.norm(np.cross(d, e), axis=-1).sum()
    u = np.linspace(0.0, 1.0, k)[:, None]
    along = np.cumsum(np.linalg.norm(np.diff(space, axis=1), axis=-1), axis=1)
    v = np.hstack((np.zeros((k, 1)), along)) / width[:, None]
    x = np.broadcast_to(u * 2.0 * area / (width[0] + width[-1]), v.shape)
    return np.stack((x, (v - 0.5) * (width[0] + (width[-1] - width[0]) * u)), axis=-1)

"""Vortices' velocities, and a hover point whose wake speed is told, in bare numpy."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def velocities(points: Array, nodes: Array, core: float) -> Array:
    """(2, p, f) y and z of what filaments (f, k, 3) induce at points (p, 3): Biot and Savart's law as in books."""
    u = points[:, None, None] - nodes[None, :, :-1]
    v = points[:, None, None] - nodes[None, :, 1:]
    run = u - v
    across = np.cross(u, v)
    along = ((u / np.linalg.norm(u, axis=-1)[..., None] - v / np.linalg.norm(v, axis=-1)[..., None]) * run).sum(-1)
    fourth = (across**2).sum(-1) ** 2 + core**4 * (run**2).sum(-1) ** 2
    share = along / (4.0 * np.pi * np.sqrt(fourth))
    return np.moveaxis((across * share[..., None]).sum(2)[..., 1:], 2, 0)


def thrust(
    blades: int,
    r: Array,
    dr: Array,
    chord: Array,
    matrices: Array,
    pitch: float,
    slope: float,
    drag: tuple[float, float],
) -> float:
    """Thrust coefficient of sections whose lift runs straight, at one wake speed, by Newton's steps without a check."""
    down_a, toward_a, down_q, toward_q = matrices
    gamma = np.linalg.solve(np.eye(r.size) + np.pi * chord[:, None] * down_a, np.pi * chord * r * pitch)
    for _ in range(5):
        w, u = down_a @ gamma, r + toward_a @ gamma
        alpha, speed = pitch - np.arctan2(w, u), np.hypot(w, u)
        half = 0.5 * chord / speed
        by_w, by_u = half * slope * (u - alpha * w), half * slope * (alpha * u + w)
        steep = np.eye(r.size) + by_w[:, None] * down_a - by_u[:, None] * toward_a
        gamma = gamma - np.linalg.solve(steep, gamma - 0.5 * chord * speed * slope * alpha)
    w, u = down_q @ gamma, r + toward_q @ gamma
    push = 0.5 * chord * np.hypot(w, u) * (drag[0] + drag[1] * alpha**2)
    return float(blades / math.pi * np.sum((gamma * u - push * w) * dr))

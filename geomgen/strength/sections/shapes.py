"""Plane shapes that run along a blade, as what bends and twists: round, solid, and thin along a line."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.bar import rectangle_torsion_mm4
from geomgen.strength.formulas.tube import tube_section

ROUND = 24  # places round a tube's outside
SHARPEST = 0.25  # a corner sharper than 60 deg is cut off: least square of the mean of its two normals


@dataclass(frozen=True, eq=False)
class Shape:
    """One shape in the blade frame's (y, z), forward and up.

    area_mm2    : [mm2]
    centre      : (2,) [mm]
    second      : (2, 2) second moments about it: [[int y2, int yz], [int yz, int z2]] [mm4]
    torsion_mm4 : torsion constant [mm4]
    rim         : (n, 2) places where it may be bent most [mm]
    thin_mm     : (thickness, length of the middle line) of a wall; None for what is solid [mm]
    within_mm2  : area within the middle line of the closed wall that it is, or is part of; 0 for others [mm2]
    """

    area_mm2: float
    centre: FloatArray
    second: FloatArray
    torsion_mm4: float
    rim: FloatArray
    thin_mm: tuple[float, float] | None = None
    within_mm2: float = 0.0


def tube(centre: FloatArray, outside_mm: float, inside_mm: float = 0.0) -> Shape:
    """A round tube, or a rod. centre (2,) [mm]"""
    of = tube_section(outside_mm, inside_mm)
    turn = np.linspace(0.0, 2.0 * np.pi, ROUND, endpoint=False)
    rim = centre + outside_mm / 2.0 * np.column_stack([np.cos(turn), np.sin(turn)])
    second = float(of.second_mm4) * np.eye(2)
    return Shape(float(of.area_mm2), np.asarray(centre, dtype=np.float64), second, float(of.torsion_mm4), rim)


def solid(ring: FloatArray) -> Shape:
    """What lies within a ring of straight edges (n, 2), not closed, whichever way round [mm].

    source : Green's theorem; of four square corners the torsion constant is a rectangle's, else `full_mm4`
    """
    nxt = np.roll(ring, -1, axis=0)
    cross = ring[:, 0] * nxt[:, 1] - ring[:, 1] * nxt[:, 0]
    area = float(cross.sum() / 2.0)
    both = ring + nxt
    centre = (both * cross[:, None]).sum(axis=0) / (6.0 * area)
    about = (
        np.einsum("n,ni,nj->ij", cross, ring, ring)
        + np.einsum("n,ni,nj->ij", cross, nxt, nxt)
        + np.einsum("n,ni,nj->ij", cross, both, both)
    ) / 24.0
    second = about - area * np.outer(centre, centre)
    sign = 1.0 if area > 0.0 else -1.0
    area, second = sign * area, sign * second
    sides = np.linalg.norm(nxt - ring, axis=1)
    oblong = len(ring) == 4 and abs(area - sides[0] * sides[1]) < 0.02 * area
    torsion = float(rectangle_torsion_mm4(sides[0], sides[1])) if oblong else full_mm4(area, second)
    return Shape(area, centre, second, torsion, ring)


def wall(line: FloatArray, thickness_mm: float, closed: bool = False) -> Shape:
    """A wall of one thickness along its middle line (n, 2) [mm].

    closed : whether the line's ends are one; its torsion constant is that of an open wall all the same
    source : each straight stretch exact; torsion constant of a thin open wall, sum of s t^3/3
    """
    if closed:
        line = np.vstack([line, line[:1]])
    step = np.diff(line, axis=0)
    long = np.hypot(step[:, 0], step[:, 1])
    some = long > 1e-9
    step, long, middle = step[some], long[some], ((line[1:] + line[:-1]) / 2.0)[some]
    total = float(long.sum())
    centre = long @ middle / total
    way = step / long[:, None]
    across = np.column_stack([-way[:, 1], way[:, 0]])
    away = middle - centre
    second = thickness_mm * (
        np.einsum("n,ni,nj->ij", long, away, away)
        + np.einsum("n,ni,nj->ij", long**3 / 12.0, way, way)
        + thickness_mm**2 / 12.0 * np.einsum("n,ni,nj->ij", long, across, across)
    )
    before = np.vstack([across[-1:] if closed else across[:1], across[:-1]])
    places = middle - step / 2.0
    if not closed:
        places, before = np.vstack([places, line[-1:]]), np.vstack([before, across[-1:]])
        across = np.vstack([across, across[-1:]])
    out = thickness_mm / 2.0 * _mitred(before, across)
    torsion = total * thickness_mm**3 / 3.0
    rim, within = np.vstack([places + out, places - out]), area_mm2(line) if closed else 0.0
    return Shape(total * thickness_mm, centre, second, torsion, rim, (thickness_mm, total), within)


def area_mm2(ring: FloatArray) -> float:
    """Area within a ring of straight edges (n, 2), closed or not [mm], whichever way round [mm2]."""
    x, y = ring.T
    return float(abs(np.roll(x, -1) @ y - x @ np.roll(y, -1)) / 2.0)


def _mitred(before: FloatArray, after: FloatArray) -> FloatArray:
    """(n, 2) where a corner of a wall lies, for each mm of its face, given unit normals (n, 2) either side of it."""
    mean = (before + after) / 2.0
    return np.asarray(mean / np.maximum((mean**2).sum(axis=1, keepdims=True), SHARPEST))


def full_mm4(area_mm2: float, second: FloatArray) -> float:
    """Torsion constant of a shape without hollows [mm4].

    area_mm2 : [mm2]
    second   : (2, 2) second moments about its centre [mm4]
    source   : Saint-Venant's A^4/(4 pi^2 Ip), exact for an ellipse, some 10 % off for a slender section; from memory
    """
    return float(area_mm2**4 / (4.0 * np.pi**2 * np.trace(second)))

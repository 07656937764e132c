"""Flat patterns of box spars: one board scored and folded, or four plates glued up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.figures import mm
from geomgen.materials.catalogue import known
from geomgen.model.role import Role
from geomgen.model.spread import along_r, of_sides, second_of
from geomgen.structure.spars.boards import Pattern, frame
from geomgen.structure.spars.hollow import Box, hollow
from geomgen.structure.spars.splices import Along

Side = Literal["ahead", "behind", "bottom", "top"]

SIDES: tuple[Side, ...] = ("ahead", "behind", "bottom", "top")

LAP_MM = 10.0  # paper that laps the last corner of a folded box; common practice, from memory


@dataclass(frozen=True, eq=False)
class Shell:
    """A box's outside along the blade, straight between its n places.

    r_mm    : (n,) where it is held or ends [mm]
    corners : (n, 4, 3) corners in the blade frame: low ahead, low behind, high behind, high ahead [mm]
    heights : (n,) over all [mm]
    """

    r_mm: FloatArray
    corners: FloatArray
    heights: FloatArray


@dataclass(frozen=True, eq=False)
class Spread:
    """How a board's mass is shared out along r, straight between n places.

    r_mm    : (n,) [mm]
    breadth : (n,) of the board there [mm]
    centres : (n, 3) its middle there, in the blade frame [mm]
    across  : (n, 3, 3) how its cross-section lies round that: mean of place times place [mm2]
    """

    r_mm: FloatArray
    breadth: FloatArray
    centres: FloatArray
    across: FloatArray

    def second(self, shares: FloatArray) -> FloatArray:
        """(3, 3) how (m, 4) shares `between` two radii lie round their middle, see `Part.second` [mm2]."""
        flat = self.across.reshape(len(self.r_mm), 9)
        own = np.column_stack([np.interp(shares[:, 1], self.r_mm, column) for column in flat.T])
        return second_of(shares, own.reshape(-1, 3, 3))

    def between(self, low_mm: float, high_mm: float) -> FloatArray:
        """(m, 4) shares of what lies between two radii [mm]."""
        inside = self.r_mm[(self.r_mm > low_mm) & (self.r_mm < high_mm)]
        legs = np.linalg.norm(np.diff(self.centres, axis=0), axis=1) / np.diff(self.r_mm)

        def measure(r: float) -> tuple[float, FloatArray]:
            leg = int(np.clip(np.searchsorted(self.r_mm, r) - 1, 0, len(legs) - 1))
            centre = np.array([np.interp(r, self.r_mm, self.centres[:, k]) for k in range(3)])
            return float(np.interp(r, self.r_mm, self.breadth) * legs[leg]), centre

        return along_r(np.array([low_mm, *inside, high_mm]), measure)[1]


@dataclass(frozen=True, eq=False)
class Board:
    """A flat part of a box.

    side    : which plate it is; None for a board that makes all four
    pattern : as it is drawn, as long as the box
    along   : where it runs along the pattern's x
    spread  : its mass along r
    """

    side: Side | None
    pattern: Pattern
    along: Along
    spread: Spread


def folds(design: Design, stock: str) -> bool:
    """Whether a sheet is folded into a box: board with paper on its faces. Others are glued up of plates."""
    material = known(design.stock[stock].of)
    return material is not None and material.kind == "board"


def boards(member: Box) -> list[Board]:
    """A box as it is drawn: one board to fold, or four plates, each as long as the box."""
    corners, heights, r = [], [], member.nodes()
    for at in member.inside(r):
        lies = hollow(member, at) if at else None
        if at and lies:
            corners.append(at.station.to_blade(lies.corners()))
            heights.append(lies.depth_mm)
    shell = Shell(r, np.array(corners), np.array(heights))
    if folds(member.layout.design, member.spar.stock):
        return [_folded(member, shell)]
    return [_plate(member, shell, side) for side in SIDES]


def _folded(member: Box, shell: Shell) -> Board:
    """One board: aft side, bottom, side ahead, top, and a lap of paper, three folds and the last corner glued.

    It is drawn from its scored face, the inside, and measured on the paper that stays whole, the outside.
    """
    ahead_low, aft_low, aft_high, ahead_high = (shell.corners[:, k] for k in range(4))
    first = _laid(ahead_low)
    bottom = _beside(first, ahead_low, aft_low, -1.0)
    aft = _beside(bottom, aft_low, aft_high, -1.0)
    ahead = _beside(first, ahead_low, ahead_high, 1.0)
    top = _beside(ahead, ahead_high, aft_high, 1.0)
    lap = top + LAP_MM * _square(top)
    rows = (aft, bottom, first, ahead, top)
    pattern = Pattern(
        name=f"spar {member.name}",
        role=Role.SPAR,
        stock=member.spar.stock,
        path=member.path,
        outline=_ring((*rows, lap)),
        matrix=frame(ahead_low[0], ahead_low[-1] - ahead_low[0], (ahead_low - aft_low).mean(axis=0)),
        grain=0.0,
        face="inside",
        text=f"SPAR {member.name}",
        up="TOP",
        marks=(*rows[1:], *(np.array([row[k] for row in rows]) for k in range(1, len(first) - 1))),
        stays=_ring(rows),
        notes=(
            f"V-scored on the face drawn down to the paper, along three lines, and folded; the lap of {mm(LAP_MM)} "
            "beyond the fourth is paper only, glued round the last corner",
        ),
        folds=rows[1:],
    )
    centres = shell.corners.mean(axis=1)
    across = _walls(shell.corners - centres[:, None], member.sheet_mm)
    spread = Spread(shell.r_mm, 2 * (member.spar.width + shell.heights), centres, across)
    return Board(None, pattern, Along.through(ahead_low), spread)


def _plate(member: Box, shell: Shell, side: Side) -> Board:
    """One of four plates: the sides as high as the box, bottom and top between them."""
    t, width, corners = member.sheet_mm, member.spar.width, shell.corners
    upright = side in ("ahead", "behind")
    low, high = {"ahead": (0, 3), "behind": (1, 2), "bottom": (1, 0), "top": (2, 3)}[side]
    start, end = corners[:, low], corners[:, high]
    if not upright:
        start, end = start + t / width * (end - start), end - t / width * (end - start)
    rows = (first := _laid(start), _beside(first, start, end, 1.0))
    inwards = corners.mean(axis=1) - corners[:, (low, high)].mean(axis=1)
    inwards = inwards / np.linalg.norm(inwards, axis=1)[:, None]
    pattern = Pattern(
        name=f"spar {member.name} {side}",
        role=Role.SPAR,
        stock=member.spar.stock,
        path=member.path,
        outline=_ring(rows),
        matrix=frame(start[0], start[-1] - start[0], (end - start).mean(axis=0)),
        grain=0.0,
        face="aft side" if upright else "upper side",
        text=f"{member.name} {side}".upper(),
        mark=(side,),
        up="UP" if upright else "FWD",
        marks=tuple(np.array([row[k] for row in rows]) for k in range(1, len(first) - 1)),
    )
    breadth = np.linalg.norm(end - start, axis=1)
    across = of_sides(np.stack([end - start, t * inwards], axis=1))
    spread = Spread(shell.r_mm, breadth, (start + end) / 2 + t / 2 * inwards, across)
    return Board(side, pattern, Along.through(start), spread)


def _walls(corners: FloatArray, sheet_mm: float) -> FloatArray:
    """(n, 3, 3) mean of place times place over the walls of boxes whose outer corners (n, 4, 3) are given about their
    middles: the outside less the inside [mm2]."""
    wide, high = corners[:, 0] - corners[:, 1], corners[:, 3] - corners[:, 0]
    sizes = np.linalg.norm(wide, axis=1), np.linalg.norm(high, axis=1)
    outside = np.stack([wide, high], axis=1)
    inside = np.stack(
        [way * (1.0 - 2.0 * sheet_mm / size)[:, None] for way, size in zip((wide, high), sizes, strict=True)], axis=1
    )
    area = sizes[0] * sizes[1]
    hollow = (sizes[0] - 2.0 * sheet_mm) * (sizes[1] - 2.0 * sheet_mm)
    return np.asarray(
        (area[:, None, None] * of_sides(outside) - hollow[:, None, None] * of_sides(inside))
        / (area - hollow)[:, None, None]
    )


def _laid(edge: FloatArray) -> FloatArray:
    """(n, 2) an edge in space (n, 3) laid out along x, straight [mm]."""
    s = Along.through(edge).s_mm
    return np.column_stack([s, np.zeros_like(s)])


def _square(flat: FloatArray) -> FloatArray:
    """(2,) unit vector square to an edge laid flat (n, 2), to its left."""
    along = flat[-1] - flat[0]
    return np.asarray(np.array([-along[1], along[0]]) / np.hypot(*along))


def _beside(flat: FloatArray, edge: FloatArray, other: FloatArray, way: float) -> FloatArray:
    """(n, 2) the other edge of a panel whose first edge is laid flat; exact where the panel is plane [mm].

    flat        : (n, 2) the first edge as it is laid
    edge, other : (n, 3) both in the blade frame
    way         : 1 to the left of the first edge, -1 to its right
    """
    along = (edge[-1] - edge[0]) / np.linalg.norm(edge[-1] - edge[0])
    across = other - edge
    reach = across @ along
    wide = np.sqrt(np.maximum((across * across).sum(axis=1) - reach**2, 0.0))
    left = _square(flat)
    return np.asarray(flat + reach[:, None] * np.array([left[1], -left[0]]) + way * wide[:, None] * left)


def _ring(rows: Sequence[FloatArray]) -> FloatArray:
    """(m, 2) corners anticlockwise of what lies between the first and the last of several edges (n, 2) [mm]."""
    up, down = [row[-1:] for row in rows[1:-1]], [row[:1] for row in rows[-2:0:-1]]
    return np.vstack([rows[0], *up, rows[-1][::-1], *down])

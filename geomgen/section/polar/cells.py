"""Tables over angle and Reynolds number, ready for being asked thousands of times: straight between their points."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray, IntArray

STEP_RAD = math.radians(0.25)
TURN = 1440  # steps of a turn
GRID_RAD: FloatArray = np.arange(TURN + 1, dtype=np.float64) * np.float64(STEP_RAD) - np.float64(math.pi)

_PER_RAD, _HALF = 1.0 / STEP_RAD, TURN / 2.0


@dataclass(frozen=True, eq=False)
class Cells:
    """One or several tables of the same Reynolds numbers, cell by cell.

    logs : (k,) logarithms of the Reynolds numbers
    gaps : (k,) to the next one; infinite after the last
    rows : (tables · k · 1441, 4 q) of each cell, q quantities at its corner of least angle and Reynolds number, their
           change over its angles, their change to the next Reynolds number, and the change of their change
    """

    logs: FloatArray
    gaps: FloatArray
    rows: FloatArray

    def at(
        self, alpha_rad: FloatArray, reynolds: FloatArray, tables: Sequence[tuple[IntArray | int, FloatArray | None]]
    ) -> tuple[FloatArray, FloatArray]:
        """The quantities and their slopes by the angle [1/rad], each (n, q).

        alpha_rad : (n,) any [rad]
        reynolds  : (n,) beyond the table's the last holds [-]
        tables    : of each that takes part its first row, one or (n,), and its share (n, 1), or None for all of it
        """
        place = np.remainder(alpha_rad * _PER_RAD + _HALF, TURN)
        column = place.astype(np.intp)
        log = np.log(np.maximum(reynolds, 1.0))
        level = self.logs[1:].searchsorted(log, side="right")
        up = np.maximum(log - self.logs[level], 0.0) / self.gaps[level]
        found: FloatArray | None = None
        for first, share in tables:
            rows = self.rows.take(column + (level * (TURN + 1) + first), axis=0)
            rows = rows if share is None else rows * share
            found = rows if found is None else found + rows
        assert found is not None
        half = found.shape[1] // 2
        found = found[:, :half] + up[:, None] * found[:, half:]
        quarter = half // 2
        change = found[:, quarter:]
        return found[:, :quarter] + (place - column)[:, None] * change, change * _PER_RAD


def cells(tables: Sequence[tuple[FloatArray, FloatArray]]) -> Cells:
    """Cells of one or several tables, on all their Reynolds numbers together.

    tables : of each its Reynolds numbers (k,), rising [-], and its quantities (q, k, 1441) at GRID_RAD; q alike in all
    """
    logs = np.unique(np.concatenate([np.log(reynolds) for reynolds, _ in tables]))
    rows = []
    for reynolds, values in tables:
        own = np.log(reynolds)
        whole = np.stack([[_between(own, row, log) for log in logs] for row in values])  # (q, k, 1441)
        along = np.concatenate([whole, np.diff(whole, axis=2, append=whole[:, :, 1:2])])
        up = np.diff(along, axis=1, append=along[:, -1:])
        rows.append(np.concatenate([along, up]).reshape(-1, len(logs) * (TURN + 1)).T)
    return Cells(logs, np.append(np.diff(logs), np.inf), np.ascontiguousarray(np.concatenate(rows)))


def _between(logs: FloatArray, rows: FloatArray, log: float) -> FloatArray:
    """(m,) rows (k, m) at one logarithm, straight between; beyond the ends the last."""
    i = int(np.clip(np.searchsorted(logs, log, side="right") - 1, 0, max(len(logs) - 2, 0)))
    if len(logs) == 1 or log <= logs[0]:
        return np.asarray(rows[0])
    share = min((log - logs[i]) / (logs[i + 1] - logs[i]), 1.0)
    return np.asarray((1.0 - share) * rows[i] + share * rows[i + 1])

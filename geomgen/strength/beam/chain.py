"""Matrices whose nodes know only their neighbours: kept as blocks, solved for many at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import BoolArray, FloatArray
from geomgen.strength.beam.beam import FREE


@dataclass(frozen=True, eq=False)
class Chain:
    """A symmetric matrix of a beam.

    own  : (..., n, 5, 5) of each node
    next : (..., n-1, 5, 5) rows of a node, columns of the one beyond it
    """

    own: FloatArray
    next: FloatArray

    def plus(self, times: FloatArray, other: Chain) -> Chain:
        """(s, ...) this and other times (s,) factors."""
        factor = times[:, None, None, None]
        return Chain(self.own + factor * other.own, self.next + factor * other.next)

    def dense(self) -> FloatArray:
        """(5 n, 5 n) all of it."""
        n = len(self.own)
        full = np.zeros((n, FREE, n, FREE))
        at, to = np.arange(n), np.arange(n - 1)
        full[at, :, at, :] = self.own
        full[to, :, to + 1, :] = self.next
        full[to + 1, :, to, :] = self.next.swapaxes(-1, -2)
        return np.asarray(full.reshape(n * FREE, n * FREE))


def joined(pieces: FloatArray) -> Chain:
    """The matrix of all pieces (n-1, 10, 10) together."""
    own = np.zeros((len(pieces) + 1, FREE, FREE))
    own[:-1] += pieces[:, :FREE, :FREE]
    own[1:] += pieces[:, FREE:, FREE:]
    return Chain(own, pieces[:, :FREE, FREE:].copy())


def solved(matrix: Chain, held: BoolArray, load: FloatArray) -> FloatArray:
    """(s, n, 5) what s matrices times it give the loads (s, n, 5), where what is held (n, 5) stays 0.

    source : elimination from the inner end to the outer, block by block; exact
    """
    free = ~held
    own = matrix.own * (free[:, :, None] & free[:, None, :]) + np.eye(FREE) * held[:, None, :]
    to = matrix.next * (free[:-1, :, None] & free[1:, None, :])
    load = np.where(held, 0.0, load)
    n = len(held)
    block, rest = own[:, 0], load[:, 0, :, None]
    passed: list[FloatArray] = []  # (s, 5, 6): block^-1 (next | load)
    for k in range(n - 1):
        passed.append(np.asarray(np.linalg.solve(block, np.concatenate((to[:, k], rest), axis=-1)), dtype=np.float64))
        back = to[:, k].swapaxes(-1, -2) @ passed[-1]
        block = own[:, k + 1] - back[..., :FREE]
        rest = load[:, k + 1, :, None] - back[..., FREE:]
    found = np.empty_like(load)
    found[:, -1] = np.linalg.solve(block, rest)[..., 0]
    for k in range(n - 2, -1, -1):
        found[:, k] = passed[k][..., FREE] - (passed[k][..., :FREE] @ found[:, k + 1, :, None])[..., 0]
    return found

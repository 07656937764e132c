"""Symmetric equations whose matrix is a narrow band, block by block: with numpy alone, so that checks load no more."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray


def solved(band: FloatArray, right: FloatArray, block: int) -> FloatArray:
    """The solution of a symmetric positive definite band.

    band    : (h, n) diagonals from the main one down: band[d, i] is the matrix's row i + d, column i
    right   : (n,) right-hand side
    block   : unknowns in one block; they divide n, and no block has to do with any but its two neighbours
    returns : (n,)
    source  : block elimination of a tridiagonal matrix of blocks (Thomas), from memory
    """
    height, n = band.shape
    count = n // block
    down, first = np.meshgrid(np.arange(height), np.arange(block), indexing="ij")
    inside = down + first < 2 * block
    down, first = down[inside], first[inside]
    columns = np.zeros((count, 2 * block, block))  # each block's own rows, then those of the next
    columns[:, down + first, first] = band.reshape(height, count, block)[down, :, first].T
    own, below = columns[:, :block], columns[:, block:]
    own = own + np.tril(own, -1).swapaxes(1, 2)
    upward = np.zeros((count, block, block + 1))  # of each block: what the next one takes off, and its own right side
    pivot, rest = own[0], right[:block]
    for j in range(count):
        last = j == count - 1
        sides = rest[:, None] if last else np.column_stack([below[j].T, rest])
        found = np.linalg.solve(pivot, sides)
        upward[j, :, -1] = found[:, -1]
        if not last:
            upward[j, :, :-1] = found[:, :-1]
            pivot = own[j + 1] - below[j] @ found[:, :-1]
            rest = right[(j + 1) * block : (j + 2) * block] - below[j] @ found[:, -1]
    x = np.empty((count, block))
    x[-1] = upward[-1, :, -1]
    for j in range(count - 2, -1, -1):
        x[j] = upward[j, :, -1] - upward[j, :, :-1] @ x[j + 1]
    return x.ravel()

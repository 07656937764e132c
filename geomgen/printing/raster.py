"""Which triangle is seen at each pixel: a depth buffer in arrays."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
Float32Array = NDArray[np.float32]
IntArray = NDArray[np.int64]

FRAGMENTS = 2_000_000  # worked on at once
NOTHING = -1


def visible(corners: FloatArray, width: int, height: int) -> tuple[IntArray, Float32Array]:
    """The foremost triangle at each pixel's middle, and its depth.

    corners       : (n, 3, 3) x to the right [px], y down [px], z towards the eye
    width, height : of the picture [px]
    returns       : (height, width) row of `corners`, or NOTHING; (height, width) z there, -inf where there is nothing
    """
    seen = np.full(width * height, NOTHING, dtype=np.int64)
    depth = np.full(width * height, -np.inf, dtype=np.float32)
    planes = _planes(corners)
    low, high = corners[..., 2].min(axis=1), corners[..., 2].max(axis=1)
    for triangle, column, row in _fragments(corners, width, height):
        at, across, down = planes[triangle].T
        z = np.clip(at + across * (column + 0.5) + down * (row + 0.5), low[triangle], high[triangle]).astype(np.float32)
        pixel = row * width + column
        np.maximum.at(depth, pixel, z)
        foremost = z == depth[pixel]
        seen[pixel[foremost]] = triangle[foremost]
    return seen.reshape(height, width), depth.reshape(height, width)


def weights(corners: FloatArray, triangle: IntArray, column: IntArray, row: IntArray) -> Float32Array:
    """(n, 3) shares of the three corners of triangles at the middles of pixels.

    corners  : (m, 3, 3)
    triangle : (n,) rows of `corners`
    column, row : (n,)
    """
    x, y = column.astype(np.float64) + 0.5, row.astype(np.float64) + 0.5
    a = corners[:, 0]
    (ux, uy, _), (vx, vy, _) = (corners[:, 1] - a).T, (corners[:, 2] - a).T
    area = ux * vy - uy * vx
    second = np.stack((vy / area, -vx / area, (a[:, 1] * vx - a[:, 0] * vy) / area))[:, triangle]
    third = np.stack((-uy / area, ux / area, (a[:, 0] * uy - a[:, 1] * ux) / area))[:, triangle]
    shares = np.empty((len(triangle), 3), dtype=np.float32)
    for k, (along, down, at) in ((1, second), (2, third)):
        shares[:, k] = np.clip(along * x + down * y + at, 0.0, 1.0)
    shares[:, 0] = 1.0 - shares[:, 1] - shares[:, 2]
    return shares


def _planes(corners: FloatArray) -> FloatArray:
    """(n, 3) of each triangle: z at (0, 0), and its growth along x and along y."""
    a = corners[:, 0]
    (ux, uy, uz), (vx, vy, vz) = (corners[:, 1] - a).T, (corners[:, 2] - a).T
    area = ux * vy - uy * vx
    across, down = (uz * vy - vz * uy) / area, (ux * vz - vx * uz) / area
    return np.stack((a[:, 2] - across * a[:, 0] - down * a[:, 1], across, down), axis=1)


def _fragments(corners: FloatArray, width: int, height: int) -> Iterator[tuple[IntArray, IntArray, IntArray]]:
    """Every pixel whose middle lies in a triangle: (triangle, column, row), in handy portions."""
    y = corners[..., 1]
    first = np.maximum(np.ceil(y.min(axis=1) - 0.5), 0).astype(np.int64)
    last = np.minimum(np.floor(y.max(axis=1) - 0.5), height - 1).astype(np.int64)
    row, triangle = runs(first, np.maximum(last - first + 1, 0))
    left, right = _spans(corners[triangle], row)
    start = np.maximum(np.ceil(left - 0.5), 0).astype(np.int64)
    stop = np.minimum(np.floor(right - 0.5), width - 1).astype(np.int64) + 1
    count = np.maximum(stop - start, 0)
    filled = count > 0
    row, triangle, start, count = row[filled], triangle[filled], start[filled], count[filled]
    portions = np.searchsorted(np.cumsum(count), np.arange(FRAGMENTS, count.sum(), FRAGMENTS))
    for part in np.split(np.arange(len(count)), portions):
        column, span = runs(start[part], count[part])
        yield triangle[part][span], column, row[part][span]


def _spans(corners: FloatArray, row: IntArray) -> tuple[FloatArray, FloatArray]:
    """Least and greatest x of each triangle along the middle of a row of pixels."""
    y = row.astype(np.float64) + 0.5
    ends = np.roll(corners, -1, axis=1)
    rise = ends[..., 1] - corners[..., 1]
    share = np.divide(y[:, None] - corners[..., 1], rise, out=np.full(rise.shape, np.nan), where=rise != 0.0)
    x = np.where((share >= 0.0) & (share <= 1.0), corners[..., 0] + share * (ends[..., 0] - corners[..., 0]), np.nan)
    return np.fmin.reduce(x, axis=1), np.fmax.reduce(x, axis=1)


def runs(first: IntArray, count: IntArray) -> tuple[IntArray, IntArray]:
    """Whole numbers first, first + 1, ... of many runs end to end, and the run each is of."""
    owner = np.repeat(np.arange(len(count)), count)
    return np.arange(len(owner)) + np.repeat(first - (np.cumsum(count) - count), count), owner

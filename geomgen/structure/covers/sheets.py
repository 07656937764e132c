"""A pattern larger than one sheet: how many strips side by side, how many lengths, and where their joints lie."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import SheetStock
from geomgen.plane.path import Path, from_points
from geomgen.plane.region import Region

TRIM_MM = 2.0  # taken off a sheet's width or length for straight edges; common practice
KERF_MM = 1.0  # besides what a laser keeps from both edges: no kerf is wider


@dataclass(frozen=True)
class SheetPlan:
    """How a pattern is made up from sheets, the sheets' length along the blade.

    strips  : sheets side by side, their edges joined
    lengths : sheets end to end
    joints  : lines to join along, within the pattern [mm]
    ends    : x of the joints that run across, by strip from the lowest; of a single strip whose joints step, those
              below the step and those above it [mm]
    """

    strips: int
    lengths: int
    joints: tuple[Path, ...]
    ends: tuple[tuple[float, ...], ...]

    @property
    def sheets(self) -> int:
        """Sheets it takes, each cut once."""
        return self.lengths if self.strips == 1 else sum(len(cuts) + 1 for cuts in self.ends)

    @property
    def apart_mm(self) -> float:
        """Least distance along the blade between joints of neighbours [mm]; infinite where there are none."""
        return min((abs(a - b) for one, other in pairwise(self.ends) for a in one for b in other), default=math.inf)


def trim(edge_mm: float) -> float:
    """What of a sheet's width or length no part is cut from, by what a laser keeps from its edge [mm]."""
    return max(TRIM_MM, 2.0 * edge_mm + KERF_MM)


def sheet_plan(
    stock: SheetStock, region: Region, stagger_mm: float, step: FloatArray | None = None, trim_mm: float = TRIM_MM
) -> SheetPlan:
    """Strips of even width over a pattern, end joints set apart from strip to strip.

    stock      : the sheet; one without a size goes round any pattern
    region     : the pattern, x along the blade [mm]
    stagger_mm : distance along the blade between end joints of neighbouring strips, less where sheets are short [mm]
    step       : (n, 2) line along the blade, x rising, on which the joints of a single strip step by as much; None
                 where they run straight across [mm]
    trim_mm    : of the sheet's width and length that nothing is cut from, where it is cut at all [mm]
    """
    x0, y0, x1, y1 = region.bounds()
    if stock.size is None:
        return SheetPlan(1, 1, (), ((),))
    long, wide = max(stock.size), min(stock.size)
    rim = trim_mm if trim_mm > TRIM_MM else 0.0  # of a sheet that goes whole, too
    if stock.grain is None and x1 - x0 <= wide - rim and wide - rim < y1 - y0 <= long - rim:  # fits whole, turned
        return SheetPlan(1, 1, (), ((),))
    strips = 1 if y1 - y0 <= wide - rim else math.ceil((y1 - y0) / (wide - trim_mm) - 1e-9)
    lengths = 1 if x1 - x0 <= long - rim else math.ceil((x1 - x0) / (long - trim_mm) - 1e-9)
    if strips == 1 and lengths > 1 and step is not None:
        return _stepped(region, long - trim_mm, stagger_mm, step)
    height = (y1 - y0) / strips
    joints = [from_points([(x0, y0 + k * height), (x1, y0 + k * height)], closed=False) for k in range(1, strips)]
    ends: list[tuple[float, ...]] = []
    for k in range(strips):
        shift = min(stagger_mm, 0.5 * (long - trim_mm)) if k % 2 else 0.0
        cuts = _ends(x0, x1, long - trim_mm, lengths, shift)
        low, high = y0 + k * height, y0 + (k + 1) * height
        joints += [from_points([(x, low), (x, high)], closed=False) for x in cuts]
        ends.append(cuts)
    return SheetPlan(strips, max(len(cuts) for cuts in ends) + 1, tuple(joints), tuple(ends))


def _ends(x0: float, x1: float, long: float, lengths: int, shift_mm: float) -> tuple[float, ...]:
    """Where one strip's lengths meet: full lengths from the root; every other strip begins with a shorter one."""
    if lengths == 1:
        return ()
    cuts, x = [], x0 + long - shift_mm
    while x < x1 - 1e-6:
        cuts.append(x)
        x += long
    return tuple(cuts)


def _stepped(region: Region, long: float, stagger_mm: float, step: FloatArray) -> SheetPlan:
    """One strip of sheets end to end, each joint nearer the root above the step than below it."""
    x0, y0, x1, y1 = region.bounds()
    apart = min(stagger_mm, long / 2.0)
    if x0 + 2.0 * long - apart < x1 - 1e-6:  # two joints and more: each is to stand clear of the next one's other part
        apart = min(stagger_mm, long / 3.0)
    joints, low = [], x0 + long
    ends: list[tuple[float, float]] = []
    while not ends or ends[-1][1] + long < x1 - 1e-6:
        high = low - apart
        between = step[(step[:, 0] > high) & (step[:, 0] < low)][::-1]
        on = [(x, float(np.interp(x, step[:, 0], step[:, 1]))) for x in (low, high)]
        joints.append(from_points([(low, y0), on[0], *between.tolist(), on[1], (high, y1)], closed=False))
        ends.append((low, high))
        low += long - apart
    return SheetPlan(1, len(ends) + 1, tuple(joints), (tuple(a for a, _ in ends), tuple(b for _, b in ends)))

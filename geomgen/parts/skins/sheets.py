"""A pattern larger than one sheet: how many strips side by side, how many lengths, and where their joints lie."""

from __future__ import annotations

import math
from dataclasses import dataclass

from geomgen.design.schema import SheetStock
from geomgen.plane.path import Path, from_points
from geomgen.plane.region import Region

TRIM_MM = 2.0  # taken off a sheet's width or length for straight edges; common practice


@dataclass(frozen=True)
class Layout:
    """How a pattern is made up from sheets, the sheets' length along the blade.

    strips  : sheets side by side, their edges joined
    lengths : sheets end to end
    joints  : lines to join along, within the pattern [mm]
    ends_r  : x of the joints that run across, by strip from the lowest [mm]
    """

    strips: int
    lengths: int
    joints: tuple[Path, ...]
    ends: tuple[tuple[float, ...], ...]

    @property
    def sheets(self) -> int:
        """Sheets it takes, each cut once."""
        return self.strips * self.lengths


def layout(stock: SheetStock, region: Region, stagger_mm: float) -> Layout:
    """Strips of even width over a pattern, end joints set apart from strip to strip.

    stock      : the sheet; one without a size goes round any pattern
    region     : the pattern, x along the blade [mm]
    stagger_mm : least distance along the blade between end joints of neighbouring strips, where there are any [mm]
    """
    x0, y0, x1, y1 = region.bounds()
    if stock.size is None:
        return Layout(1, 1, (), ((),))
    long, wide = max(stock.size), min(stock.size)
    if stock.grain is None and x1 - x0 <= wide and wide < y1 - y0 <= long:  # fits whole, turned
        return Layout(1, 1, (), ((),))
    strips = 1 if y1 - y0 <= wide else math.ceil((y1 - y0) / (wide - TRIM_MM) - 1e-9)
    lengths = 1 if x1 - x0 <= long else math.ceil((x1 - x0) / (long - TRIM_MM) - 1e-9)
    height = (y1 - y0) / strips
    joints = [from_points([(x0, y0 + k * height), (x1, y0 + k * height)], closed=False) for k in range(1, strips)]
    ends: list[tuple[float, ...]] = []
    for k in range(strips):
        cuts = _ends(x0, x1, long - TRIM_MM, lengths, stagger_mm if k % 2 else 0.0)
        low, high = y0 + k * height, y0 + (k + 1) * height
        joints += [from_points([(x, low), (x, high)], closed=False) for x in cuts]
        ends.append(cuts)
    return Layout(strips, max(len(cuts) for cuts in ends) + 1, tuple(joints), tuple(ends))


def _ends(x0: float, x1: float, long: float, lengths: int, shift_mm: float) -> tuple[float, ...]:
    """Where one strip's lengths meet: full lengths from the root; every other strip begins with a shorter one."""
    if lengths == 1:
        return ()
    cuts, x = [], x0 + long - shift_mm
    while x < x1 - 1e-6:
        cuts.append(x)
        x += long
    return tuple(cuts)

"""A scale of a picture, with round figures along it."""

from __future__ import annotations

import math


class Axis:
    """A scale from one figure to another, to round ends."""

    def __init__(self, low: float, high: float) -> None:
        step = 10.0 ** math.floor(math.log10((high - low) / 4 or 1.0))
        step *= next(times for times in (1, 2, 5, 10) if times * step * 5 >= high - low)
        self.low, self.high = math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
        self.ticks = [self.low + k * step for k in range(round((self.high - self.low) / step) + 1)]

    def at(self, value: float, long: float) -> float:
        """Where a figure stands on an axis so long [mm]."""
        return long * (value - self.low) / (self.high - self.low)

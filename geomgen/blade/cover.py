"""What lies over the ribs: how deep skin, sheet, strips and film reach into the section at each radius."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Cover:
    """What lies over a rib at one radius.

    ahead_mm  : depth of what covers it from the section inwards, along the normal, ahead of `step` [mm]
    behind_mm : the same behind it [mm]
    step      : chord share at which the depth changes; None where it is the same all round
    nose_mm   : how much of the chord a strip along the nose takes; the rib begins behind it [mm]
    tail_mm   : how much of the chord a strip along the tail takes; the rib ends ahead of it [mm]
    """

    ahead_mm: float
    behind_mm: float
    step: float | None = None
    nose_mm: float = 0.0
    tail_mm: float = 0.0

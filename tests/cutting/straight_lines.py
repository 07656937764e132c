"""Where things cross the demo's ribs, worked out from the words of its design file alone: nothing of ours is called.

Frames: space has y forward and z up of the feather axis; a rib's own frame has x aft from the leading edge and y up.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

ROOT, RADIUS = 130.0, 800.0
FRAME_END = RADIUS - 18.0  # where the rounded tip's 18 mm begin; chord and twist run on to the radius
FAN, STRIP_END, TUBE_END = 0.96 * RADIUS, 0.92 * RADIUS, FRAME_END
ZERO_AT = 0.75 * RADIUS
# 130 to 200 in bays of 35; 200 to 782 at 60 at most: ten bays of 58.2, for nine would be 64.7; one more at the fan;
# end ribs flush: 2 mm ply, 3 mm balsa
RIBS = (131.0, 165.0, *(200.0 + 58.2 * i for i in range(10)), FAN, FRAME_END - 1.5)


def camber(thickness: float, x: float) -> float:
    """Half way between the surfaces of naca 44xx at equal x, chord 1.

    source : NACA Report 460: yc = m/p² (2px - x²) ahead of p, m/(1-p)² (1 - 2p + 2px - x²) behind it, m = 0.04,
             p = 0.4; yt = 5 t (0.2969√x - 0.126x - 0.3516x² + 0.2843x³ - 0.1015x⁴) laid off square to it
    """
    m, p = 0.04, 0.4

    def surface(s: float, side: float) -> tuple[float, float]:
        ahead = s < p
        line = m / p**2 * (2 * p * s - s * s) if ahead else m / (1 - p) ** 2 * (1 - 2 * p + 2 * p * s - s * s)
        slope = 2 * m / p**2 * (p - s) if ahead else 2 * m / (1 - p) ** 2 * (p - s)
        half = 5 * thickness * (0.2969 * s**0.5 - 0.126 * s - 0.3516 * s**2 + 0.2843 * s**3 - 0.1015 * s**4)
        along = np.hypot(1.0, slope)
        return s - side * half * slope / along, line + side * half / along

    heights = []
    for side in (1.0, -1.0):
        low, high = 0.01, 0.99
        for _ in range(60):  # bisection: the surface's x rises with s
            middle = 0.5 * (low + high)
            low, high = (middle, high) if surface(middle, side)[0] < x else (low, middle)
        heights.append(surface(low, side)[1])
    return 0.5 * sum(heights)


@dataclass(frozen=True)
class Words:
    """What a variant of the demo's file says: forward offset at the tip [mm], chord shares and heights at both ends."""

    tip_offset: float = 0.0
    strip_chord: tuple[float, float] = (0.62, 0.62)
    strip_height: tuple[float | None, float | None] = (None, None)  # None: on the camber line
    channel_chord: tuple[float, float] = (0.38, 0.42)
    fan_chord: float = 0.25

    def axis(self, r: float) -> tuple[float, float]:
        """The feather axis in the rib's own frame."""
        x = 0.25 * chord(r) + self.tip_offset * share(r)
        return x, height(r, x / chord(r))

    def in_space(self, r: float, at: float, up: float | None) -> np.ndarray:
        """A place by chord share and height, (y, z)."""
        x, y = self.axis(r)
        aft, above = at * chord(r) - x, (height(r, at) if up is None else up) - y
        return np.array(
            [-aft * np.cos(angle(r)) - above * np.sin(angle(r)), -aft * np.sin(angle(r)) + above * np.cos(angle(r))]
        )

    def crossing(
        self, r: float, ends: tuple[float, float], at: tuple[float, float], up: tuple[float | None, float | None]
    ) -> tuple[float, float]:
        """Where a straight line between two places meets a rib, in the rib's own frame."""
        inner, outer = (
            self.in_space(float(np.clip(e, ROOT, RADIUS)), a, u) for e, a, u in zip(ends, at, up, strict=True)
        )
        y, z = inner + (outer - inner) * (r - ends[0]) / (ends[1] - ends[0])
        x0, y0 = self.axis(r)
        return x0 - (y * np.cos(angle(r)) + z * np.sin(angle(r))), y0 + z * np.cos(angle(r)) - y * np.sin(angle(r))

    def strip(self, r: float) -> tuple[float, float]:
        """Middle of the rear strip."""
        return self.crossing(r, (ROOT, STRIP_END), self.strip_chord, self.strip_height)

    def channel(self, r: float) -> tuple[float, float]:
        """Middle of the wires' channel."""
        return self.crossing(r, (ROOT, FAN), self.channel_chord, (None, None))

    def screws(self, r: float) -> list[tuple[float, float]]:
        """The fan's two screws, on a radius of 8 about its place on the camber line, the first straight ahead."""
        x, y = self.fan_chord * chord(r), height(r, self.fan_chord)
        return [(x - 8.0, y), (x + 8.0, y)] if r == FAN else []


def share(r: float) -> float:
    """How far out between root and tip."""
    return (r - ROOT) / (RADIUS - ROOT)


def chord(r: float) -> float:
    """210 at the root to 150 at the tip."""
    return 210.0 - 60.0 * share(r)


def angle(r: float) -> float:
    """Twist, 5 deg at the root to none at the tip, less that at 75 % [rad]; leading edge up."""
    return float(np.radians(5.0 * (share(ZERO_AT) - share(r))))


def height(r: float, at: float) -> float:
    """The camber line's height: that of naca 4415 at the root and of naca 4414 at the tip, straight in between.

    Sections in between are blended at equal arc length, not at equal x: they differ from this by 0.00005 mm.
    """
    return chord(r) * ((1 - share(r)) * camber(0.15, at) + share(r) * camber(0.14, at))

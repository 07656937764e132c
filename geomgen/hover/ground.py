"""What the ground does to a hovering rotor: a factor on induced speed, by two published forms."""

from __future__ import annotations

LOWEST = 0.5  # height below which neither form is to be believed [R]
BAND_BELOW = 1.0  # height below which the two are a band, above it the first serves [R]


def cheeseman_bennett(height: float) -> float:
    """Induced speed over that far from the ground.

    height  : of the rotor's plane above ground [R], >= LOWEST
    returns : [-]
    raises  : ValueError below
    source  : Cheeseman and Bennett, ARC R&M 3021, 1955: thrust at constant power grows by 1 / (1 - (R / 4 z)^2)
    """
    return 1.0 - (1.0 / (4.0 * _high_enough(height))) ** 2


def hayden(height: float) -> float:
    """The same by another form, never above 1.

    source : Hayden, 1976, from memory: induced power at constant thrust falls by 1 / (0.9926 + 0.0379 (2 R / z)^2)
    """
    return min(1.0, 1.0 / (0.9926 + 0.0379 * (2.0 / _high_enough(height)) ** 2))


def ground_factors(height: float) -> tuple[float, float]:
    """Least and greatest factor on induced speed at a height [R]: one figure from BAND_BELOW up, a band below it."""
    one = cheeseman_bennett(height)
    return (one, one) if height >= BAND_BELOW else (hayden(height), one)


def _high_enough(height: float) -> float:
    if not height >= LOWEST:
        raise ValueError(f"{height:g} R above ground: nothing is known below {LOWEST:g} R")
    return height

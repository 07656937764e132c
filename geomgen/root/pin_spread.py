"""What pins leave of a blade's pitch: the play of their fit, and holes that don't stand where they are drawn."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray

POINTS, CELLS = 2**15, 401  # how finely places of holes, and stops of a blade, are told apart
LEAST_SHARE = 1e-6  # of blades whose pins go in; of fewer nothing is said


@dataclass(frozen=True)
class PinSpread:
    """How far a blade may be turned off its pitch while its pins are in, either way [deg].

    play_limit_deg, holes_limit_deg   : at most, by the pins' fit, and by holes out of place; at worst they add up
    play_spread_deg, holes_spread_deg : sqrt 3 times the standard deviation of what fit and holes make of it; the two
                                        are independent, and the root of their squares is that of the blade
    eased                             : share of blades whose pins don't go in until holes are eased [-]
    """

    play_limit_deg: float
    holes_limit_deg: float
    play_spread_deg: float
    holes_spread_deg: float
    eased: float


def pin_spread(
    radii_mm: Sequence[float], *, fit_mm: float, scatter_mm: Sequence[float], loose_mm: float = 0.0
) -> PinSpread:
    """The spread of pitch of blades whose pins go in.

    radii_mm   : circle that each pin stands on [mm]
    fit_mm     : how much wider holes are than pins: a pin passes two whose middles are no further apart [mm]
    scatter_mm : how far the turning, and the fixed cap's holes stand off their places; and of windows with wedges [mm]
    loose_mm   : how far what carries a fixed hole can be moved, either way, along the circle and across it [mm]

    Each hole's middle lies evenly anywhere in a disc of the scatter's radius about its place, and the blade evenly
    anywhere between the first pin that stops it one way and the first that stops it the other way. It turns on an axis
    that stands still; arcs are as long as their chords. Each pin has holes of its own, so that what it stops is
    independent of the others: the chance that none stops the blade before `a` or beyond `b` is a product.
    """
    off, off_radially = _out_of_place(scatter_mm)
    free_mm = fit_mm + loose_mm
    reach = (free_mm + sum(scatter_mm)) / min(radii_mm)
    play, holes = free_mm / max(radii_mm), sum(scatter_mm) / max(radii_mm)
    across = np.maximum(np.abs(off_radially) - loose_mm, 0.0)
    free = np.where(across <= fit_mm, loose_mm + np.sqrt(np.maximum(fit_mm**2 - across**2, 0.0)), np.nan)
    goes_in = _stops(radii_mm, reach, off, free) if free_mm > 0.0 else np.zeros((1, 1))
    share = float(goes_in.sum())
    if share < LEAST_SHARE:
        return _in_deg(play, holes, left=play, drawn=holes, share=float(reach == 0.0))
    at = np.linspace(-reach, reach, CELLS)
    half, middle = (at[None, :] - at[:, None]) / 2, (at[None, :] + at[:, None]) / 2
    left = np.sqrt((goes_in * half**2).sum() / share)
    drawn = np.sqrt(3.0 * (goes_in * middle**2).sum() / share)
    return _in_deg(play, holes, left=left, drawn=drawn, share=share)


def _in_deg(play: float, holes: float, *, left: float, drawn: float, share: float) -> PinSpread:
    """From angles [rad] and the share of blades whose pins go in."""
    most, most_drawn, left, drawn = (math.degrees(angle) for angle in (play, holes, left, drawn))
    return PinSpread(most, most_drawn, left, drawn, eased=max(0.0, 1.0 - share))


def _out_of_place(scatter_mm: Sequence[float]) -> tuple[FloatArray, FloatArray]:
    """(n,) how far two holes stand off one another along their circle, and across it [mm].

    source : points of even density: multiples of square roots of primes, less their whole parts; textbook, from memory
    """
    even = np.arange(1, POINTS + 1)[:, None] * np.sqrt([2.0, 3.0, 5.0, 7.0, 11.0, 13.0]) % 1.0
    places = [
        scatter * np.sqrt(even[:, 2 * k]) * np.exp(2j * np.pi * even[:, 2 * k + 1])
        for k, scatter in enumerate(scatter_mm)
    ]
    apart = places[0] - sum(places[1:])
    return np.asarray(apart.real), np.asarray(apart.imag)


def _stops(radii_mm: Sequence[float], reach: float, off: FloatArray, free: FloatArray) -> FloatArray:
    """(CELLS, CELLS) share of blades that stop at one angle downwards and at another upwards, up to `reach` [rad].

    off  : (n,) how far the two holes of a pin stand off one another along their circle [mm]
    free : (n,) how far a pin lets them move along it, either way; not a number where it doesn't go in [mm]
    """
    edges = (np.arange(CELLS + 1) - CELLS / 2) * 2.0 * reach / (CELLS - 1)
    goes = np.isfinite(free)
    within = np.ones((CELLS, CELLS))
    for radius in radii_mm:
        low, high = ((off + way * free)[goes] / radius for way in (-1.0, 1.0))
        found, _, _ = np.histogram2d(low, high, bins=(edges, edges))
        within *= found.cumsum(axis=0)[:, ::-1].cumsum(axis=1)[:, ::-1] / len(off)
    each = -np.diff(np.diff(within, axis=0, prepend=0.0), axis=1, append=0.0)
    return np.asarray(np.triu(each))

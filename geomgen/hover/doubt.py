"""How far hover's figures may be off: what each doubt does alone, and the root of the sum of their squares."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

NINETY = 1.645  # standard deviations either way that hold nine of ten; normal distribution
EVEN = 1.0 / math.sqrt(3.0)  # standard deviation of what lies evenly within its limit, by the limit

MODEL_THRUST = 0.12  # lifting line, thrust at a given pitch, either way: against NACA TN 2474 and NASA TM 81232
MODEL_POWER = (-0.10, 0.20)  # the same, power at a given thrust


@dataclass(frozen=True)
class Doubts:
    """What goes into hover and isn't known, each as one standard deviation.

    weight        : of what is carried, as a share [-]
    pitch_deg     : of all blades alike [deg]
    slope         : of the sections' lift, as a share [-]
    zero_lift_deg : of the angle without lift [deg]
    greatest      : of the greatest lift, as a share [-]
    drag          : of the sections' drag, of its natural logarithm [-]
    efficiency    : of the fans at their speed, as a share [-]
    """

    weight: float
    pitch_deg: float
    slope: float
    zero_lift_deg: float
    greatest: float
    drag: float
    efficiency: float = 0.0


@dataclass(frozen=True)
class Draw:
    """How far each lies from its typical figure; units as in `Doubts`."""

    weight: float = 0.0
    pitch_deg: float = 0.0
    slope: float = 0.0
    zero_lift_deg: float = 0.0
    greatest: float = 0.0
    drag: float = 0.0
    efficiency: float = 0.0


@dataclass(frozen=True)
class Doubted:
    """A figure, and between what nine of ten craft lie as far as weight, pitch and sections are in doubt.

    typical, low, high : [any]
    causes             : share of the variance that each doubt makes, the largest first
    unknown            : doubts at whose ends, below and above, nothing hovers: they aren't in the band
    """

    typical: float
    low: float
    high: float
    causes: tuple[tuple[str, float], ...]
    unknown: tuple[str, ...] = ()


def each_alone(doubts: Doubts) -> Iterator[tuple[str, Draw, Draw]]:
    """Each doubt's name, with it alone at one standard deviation below and above."""
    for name, size in vars(doubts).items():
        if size > 0.0:
            yield name, Draw(**{name: -size}), Draw(**{name: size})


def banded(
    typical: Mapping[str, float], figures: Callable[[Draw], Mapping[str, float] | None], doubts: Doubts
) -> dict[str, Doubted]:
    """The figures of hover with their bands.

    typical : by name, without doubts
    figures : the same for a draw; None where it doesn't hover, without those that can't be had there
    returns : by name; logarithms are what is added up, so that no band reaches below nothing
    source  : propagation of independent errors to first order (textbook)
    """
    logs: dict[str, dict[str, float]] = {name: {} for name in typical}
    unknown: dict[str, list[str]] = {name: [] for name in typical}
    for cause, below, above in each_alone(doubts):
        ends = [figures(below), figures(above)]
        for name, value in typical.items():
            known = [end[name] for end in ends if end is not None and name in end]
            if len(known) == 2:
                logs[name][cause] = math.log(known[1] / known[0]) / 2.0
            elif known:
                logs[name][cause] = abs(math.log(known[0] / value))
            else:
                unknown[name].append(cause)
    return {name: _band(typical[name], found, unknown[name]) for name, found in logs.items()}


def _band(typical: float, by_cause: Mapping[str, float], unknown: Sequence[str]) -> Doubted:
    variance = sum(size**2 for size in by_cause.values())
    half = NINETY * math.sqrt(variance)
    shares = sorted(((cause, size**2 / (variance or 1.0)) for cause, size in by_cause.items()), key=lambda one: -one[1])
    return Doubted(typical, typical * math.exp(-half), typical * math.exp(half), tuple(shares), tuple(unknown))

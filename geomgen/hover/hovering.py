"""Hover of a whole design: every pitch that can be pinned, what would be best, and how sure that is."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geomgen.hover.doubt import Doubted, Doubts, Draw, banded
from geomgen.hover.flight import CHARGE, Flight, at_rpm, flight, pulled_n
from geomgen.hover.ground import ground_factors
from geomgen.hover.power.chain import Chain, Working, lasting, pulling
from geomgen.hover.power.wire import Warmth, granted_share, rise_k, warmth
from geomgen.hover.rotor import Rotor, Setting, setting
from geomgen.hover.two_theories import TwoTheories, two_theories
from geomgen.section.polar.forces import SectionPolar

TWO_OF_THREE = math.sqrt(2.0 / 3.0)  # effective current of a motor's wires, of which two conduct at a time
STEP_DEG = 1.0  # of the pitches that are looked through for the best
SPEEDS_FROM, SPEEDS_TO, SPEEDS = 0.5, 1.3, 13  # of the rpm that carries it, and how many
HEIGHTS = (2.0, 1.5, 1.0, 0.75, 0.5)  # of the rotor above ground, where its effect is told [R]

Ends = tuple[float, float]


@dataclass(frozen=True)
class AboveGround:
    """The pitch to fly at near the ground.

    height     : of the rotor above it [R]
    rpm, air_w : least and greatest, as two published forms have it [1/min], [W]
    """

    height: float
    rpm: Ends
    air_w: Ends


@dataclass(frozen=True)
class AtSpeed:
    """The pitch to fly at, at one rpm.

    rpm      : [1/min]
    lifted_n : fans' own pull included [N]
    air_w    : that blades and housings take [W]
    most_w   : that fans give them there at full throttle [W]; None where no chain is known
    """

    rpm: float
    lifted_n: float
    air_w: float
    most_w: float | None


@dataclass(frozen=True)
class Control:
    """What it costs to have speed controls at one end of the wires or the other, in hover at the pitch to fly at.

    at_tip  : at the fans, or at the hub
    working : the chain
    wire_a  : current of each wire, effective where it is a motor's [A]
    drop_v  : there and back [V]
    rise_k  : of each wire's outside above still air, all wires of its channel as warm [K]; at full throttle full_rise_k
    stands  : how a wire stands that, full throttle's rise included
    """

    at_tip: bool
    working: Working
    wire_a: float
    drop_v: float
    rise_k: float
    full_rise_k: float
    stands: Warmth


@dataclass(frozen=True, eq=False)
class Hovering:
    """Hover of a design.

    weight_n  : typical, all that is carried [N]
    pinned    : each pitch that can be pinned, rising; the one to fly at is among them
    flown     : the pitch to fly at
    others    : pitches in between, out to the ends of the range
    bands     : of `figures_of` at the pitch to fly at; empty where it doesn't carry
    theories  : both theories at that pitch and rpm; None likewise
    lift_left : what the design wants left over at full throttle [-]
    lacks     : what isn't known of fans, pack and wires, in words with what to state
    words     : where polars and fans came from
    chain     : from pack to fans; None where there is none
    controls  : speed controls where the design has them first, then at the other end; none where wires aren't known
    speeds    : the pitch to fly at, at rising rpm
    ground    : from HEIGHTS; nothing is known lower down
    coning_deg: at which lift, weight and centrifugal force would hold a free blade [deg]; None where it isn't known
    """

    weight_n: float
    pinned: tuple[Flight, ...]
    flown: Flight
    others: tuple[Flight, ...]
    bands: dict[str, Doubted]
    theories: TwoTheories | None
    lift_left: float
    lacks: tuple[str, ...]
    words: tuple[str, ...]
    chain: Chain | None
    controls: tuple[Control, ...] = ()
    speeds: tuple[AtSpeed, ...] = ()
    ground: tuple[AboveGround, ...] = ()
    coning_deg: float | None = None

    def coned(self, coning_deg: float | None) -> Hovering:
        """The same with the coning that its blades would take if they were free [deg]."""
        return replace(self, coning_deg=coning_deg)

    def saying(self, words: str) -> Hovering:
        """The same with one sentence more of what it rests on."""
        return replace(self, words=(words, *self.words))

    @property
    def best_pinned(self) -> Flight | None:
        """Of those that can be pinned, with the reserve that is wanted, the one that takes least power."""
        return best(self.pinned, self.lift_left)

    @property
    def best_of_all(self) -> Flight | None:
        """The same of all that were looked at."""
        return best((*self.pinned, *self.others), self.lift_left)


def best(flights: Sequence[Flight], lift_left: float) -> Flight | None:
    """The one that takes least power of those that reach the reserve; failing that, the one with most lift left."""
    if good := [each for each in flights if each.reaches(lift_left)]:
        return min(good, key=lambda each: each.cost_w)
    left = [each for each in flights if each.holds and each.full is not None]
    return max(left, key=lambda each: each.full.lift_left if each.full else -1.0) if left else None


def hovering(
    rotor: Rotor,
    chain: Chain | None,
    *,
    weight_n: float,
    pitch_deg: float,
    settings_deg: Sequence[float],
    range_deg: tuple[float, float],
    lift_left: float,
    doubts: Doubts,
    doubted_polar: Callable[[Draw], SectionPolar],
    lacks: Sequence[str] = (),
    words: Sequence[str] = (),
) -> Hovering:
    """Hover of a design.

    settings_deg  : pitches that can be pinned; range_deg: between what they lie [deg]
    doubts        : of weight, pitch and sections
    doubted_polar : the sections' polar for a draw of them
    others        : as in `Hovering` and `flight`
    """
    pitches = sorted({*settings_deg, pitch_deg})
    pinned = {pitch: flight(rotor, chain, pitch, weight_n) for pitch in pitches}
    low, high = range_deg
    looked = np.arange(math.ceil(low / STEP_DEG), math.floor(high / STEP_DEG) + 1) * STEP_DEG
    others = [flight(rotor, chain, float(one), weight_n) for one in looked if float(one) not in pinned]
    flown = pinned[pitch_deg]

    def figures(draw: Draw) -> dict[str, float] | None:
        at = drawn(rotor, pitch_deg, weight_n, draw, doubted_polar(draw))
        return None if at is None else figures_of(rotor, chain, at, draw.efficiency)

    bands, theories = {}, None
    if isinstance(flown.setting, Setting):
        at = flown.setting
        bands = banded(figures_of(rotor, chain, at), figures, doubts)
        angle = rotor.twist_rad + math.radians(pitch_deg)
        reynolds = at.blades.task.reynolds_at_tip(at.blades.tip_speed_m_s)
        theories = two_theories(rotor.wake, angle, rotor.polar, reynolds)
    return Hovering(
        weight_n,
        tuple(pinned[pitch] for pitch in pitches),
        flown,
        tuple(others),
        bands,
        theories,
        lift_left,
        tuple(lacks),
        tuple(words),
        chain,
        _controls(rotor, chain, flown),
        _speeds(rotor, chain, flown),
        _ground(rotor, flown),
    )


def figures_of(rotor: Rotor, chain: Chain | None, at: Setting, efficiency: float = 0.0) -> dict[str, float]:
    """What bands are told of: "rpm" [1/min] and "air_w" [W]; with a chain that holds it, "cells_w" [W] and "minutes".

    efficiency : how far that of the fans lies from the typical one, as a share [-]
    """
    found = {"rpm": at.rpm, "air_w": at.air_w}
    if chain is None:
        return found
    share, density = chain.fan.efficiency.typical * max(1.0 + efficiency, 0.2), rotor.air.density_kg_m3
    working = pulling(chain, at.fan_n, at.fan_m_s, density, CHARGE, share)
    if isinstance(working, Working):
        lasts = lasting(chain, at.fan_n, at.fan_m_s, density, share)
        found |= {"cells_w": working.taken_w} | ({"minutes": lasts.minutes} if lasts.minutes > 0.0 else {})
    return found


def _speeds(rotor: Rotor, chain: Chain | None, flown: Flight) -> tuple[AtSpeed, ...]:
    at = flown.setting
    if not isinstance(at, Setting):
        return ()
    to = SPEEDS_TO * at.rpm if flown.full is None else max(flown.full.rpm, SPEEDS_TO * at.rpm)
    found = []
    for rpm in np.linspace(SPEEDS_FROM * at.rpm, to, SPEEDS):
        one = at_rpm(rotor, at, float(rpm))
        most = None
        if chain is not None and flown.full is not None and rotor.fans is not None:
            pull = pulled_n(chain, flown.full.working, one.fan_m_s, rotor.air.density_kg_m3)
            most = chain.fans * pull * rotor.fans.along(flown.pitch_deg) * one.fan_m_s
        found.append(AtSpeed(one.rpm, one.weight_n, one.air_w, most))
    return tuple(found)


def _ground(rotor: Rotor, flown: Flight) -> tuple[AboveGround, ...]:
    if not isinstance(flown.setting, Setting):
        return ()
    rows = []
    for height in HEIGHTS:
        each = [setting(rotor, flown.pitch_deg, flown.setting.weight_n, one) for one in set(ground_factors(height))]
        found = [one for one in each if isinstance(one, Setting)]
        if len(found) == len(each):
            rpm, air_w = [one.rpm for one in found], [one.air_w for one in found]
            rows.append(AboveGround(height, (min(rpm), max(rpm)), (min(air_w), max(air_w))))
    return tuple(rows)


def _controls(rotor: Rotor, chain: Chain | None, flown: Flight) -> tuple[Control, ...]:
    at, full = flown.setting, flown.full
    if chain is None or chain.wire is None or full is None or not isinstance(at, Setting):
        return ()
    rows = []
    for one in (chain, chain.other()):
        working = pulling(one, at.fan_n, at.fan_m_s, rotor.air.density_kg_m3, CHARGE)
        if isinstance(working, Working):
            rows.append(_control(rotor, one, working, full.working))
    return tuple(rows)


def _control(rotor: Rotor, chain: Chain, working: Working, full: Working) -> Control:
    wire = chain.wire
    assert wire is not None
    share = granted_share(wire.beside)

    def carried(at: Working) -> float:
        return at.motor_a * (at.throttle if chain.at_tip else TWO_OF_THREE)

    def rise(at: Working) -> float:
        return rise_k(carried(at), wire.copper_mm2, wire.outside_mm, rotor.air, granted=share)

    loop_a = working.motor_a * (working.throttle if chain.at_tip else 1.0)
    stands = warmth(wire, carried(full), rise(full))
    return Control(chain.at_tip, working, carried(working), loop_a * chain.wire_ohm, rise(working), rise(full), stands)


def drawn(rotor: Rotor, pitch_deg: float, weight_n: float, draw: Draw, polar: SectionPolar) -> Setting | None:
    """The setting of one draw of weight, pitch and sections; that past stall too, None where nothing carries."""
    at = setting(rotor, pitch_deg + draw.pitch_deg, weight_n * (1.0 + draw.weight), polar=polar)
    return at if isinstance(at, Setting) else at.nearest


def carrying_rpm(
    hover: Hovering | None, mean_lift: tuple[float, float, float]
) -> tuple[tuple[float, float, float], bool]:
    """(low, typical, high) rpm that carries the craft, and whether hover says so [1/min].

    mean_lift : what the mean-lift formula says; it stands in where hover finds no rpm at the pitch to fly at
    """
    if hover is None or "rpm" not in hover.bands:
        return mean_lift, False
    band = hover.bands["rpm"]
    return (band.low, band.typical, band.high), True

"""Hover of a design: which pitches are looked at, which is best, and what is told where something lacks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import pytest
from rotor_cases import POLAR, WEIGHT, chain, rotor

from geomgen.hover.doubt import Doubts, Draw
from geomgen.hover.flight import Flight, flight
from geomgen.hover.hovering import Hovering, best, drawn, hovering
from geomgen.hover.power.chain import Chain
from geomgen.hover.rotor import NoSetting, Setting, setting
from geomgen.section.polar.forces import SectionPolar

DOUBTS = Doubts(0.05, 0.3, 0.0, 0.0, 0.0, 0.1)
CHAIN = chain()


def polar(draw: Draw) -> SectionPolar:
    return replace(POLAR, drag_at_zero=POLAR.drag_at_zero * (1.0 + draw.drag))


def of(
    with_chain: Chain | None = CHAIN,
    pitch_deg: float = 8.0,
    settings: Sequence[float] = (4.0, 8.0, 12.0),
    lift_left: float = 0.3,
    range_deg: tuple[float, float] = (4.0, 12.0),
) -> Hovering:
    return hovering(
        rotor(),
        with_chain,
        weight_n=WEIGHT,
        pitch_deg=pitch_deg,
        settings_deg=settings,
        range_deg=range_deg,
        lift_left=lift_left,
        doubts=DOUBTS,
        doubted_polar=polar,
    )


def pitches(flights: Sequence[Flight]) -> list[float]:
    return [each.pitch_deg for each in flights]


def test_every_pitch_is_looked_at_once() -> None:
    got = of()
    assert pitches(got.pinned) == [4.0, 8.0, 12.0] and pitches(got.others) == [5.0, 6.0, 7.0, 9.0, 10.0, 11.0]
    assert got.flown is got.pinned[1]
    between = of(pitch_deg=8.5, range_deg=(3.6, 12.4))
    assert pitches(between.pinned) == [4.0, 8.0, 8.5, 12.0] and between.flown.pitch_deg == 8.5
    assert pitches(between.others) == [5.0, 6.0, 7.0, 9.0, 10.0, 11.0]


def test_least_power_of_all_that_have_enough_left() -> None:
    """By going through them all: power falls as pitch rises, and so does what is left over."""
    got = of()
    all_of_them = [flight(rotor(), CHAIN, float(pitch), WEIGHT) for pitch in range(4, 13)]
    left = {each.pitch_deg: each.full.lift_left for each in all_of_them if each.full}
    power = {each.pitch_deg: each.working.taken_w for each in all_of_them if hasattr(each.working, "taken_w")}
    enough = [pitch for pitch in power if left[pitch] >= 0.3]
    assert got.best_of_all is not None and got.best_of_all.pitch_deg == min(enough, key=power.__getitem__)
    pinned = [pitch for pitch in enough if pitch in (4.0, 8.0, 12.0)]
    assert got.best_pinned is not None and got.best_pinned.pitch_deg == min(pinned, key=power.__getitem__)


def test_where_none_has_enough_left_the_one_with_most() -> None:
    got = of(lift_left=9.0)
    most = max((each for each in got.pinned if each.full), key=lambda each: each.full.lift_left if each.full else 0.0)
    assert got.best_pinned is most
    assert best([flight(rotor(), CHAIN, 30.0, WEIGHT)], 0.3) is None


def test_without_a_chain_the_air_alone_decides() -> None:
    got = of(None)
    by_air = {each.pitch_deg: each.setting.air_w for each in got.pinned if isinstance(each.setting, Setting)}
    assert got.best_pinned is not None and got.best_pinned.pitch_deg == min(by_air, key=by_air.__getitem__)
    assert got.chain is None and got.flown.working is None and set(got.bands) == {"rpm", "air_w"}


def test_bands_hold_their_figure_and_both_theories_stand_beside_it() -> None:
    got = of()
    at = got.flown.setting
    assert isinstance(at, Setting) and got.theories is not None
    assert got.bands["rpm"].typical == at.rpm and got.bands["air_w"].typical == at.air_w
    for band in got.bands.values():
        assert band.low < band.typical < band.high
    assert got.theories.lifting_line.thrust == pytest.approx(at.blades.point.thrust, rel=1e-3)
    # rpm goes with the root of weight, and the sections' drag hardly matters to it
    weight, pitch = 0.5 * math.log(1.05 / 0.95) / 2, math.log(of_pitch(7.7) / of_pitch(8.3)) / 2
    half = 1.645 * math.hypot(weight, pitch)
    assert math.log(got.bands["rpm"].high / at.rpm) == pytest.approx(half, rel=0.03)


def of_pitch(pitch_deg: float) -> float:
    at = setting(rotor(), pitch_deg, WEIGHT)
    assert isinstance(at, Setting)
    return at.rpm


def test_a_pitch_that_does_not_carry_has_no_bands() -> None:
    got = of(pitch_deg=30.0)
    assert isinstance(got.flown.setting, NoSetting) and got.bands == {} and got.theories is None
    assert got.best_pinned is not None and got.best_pinned.pitch_deg in (4.0, 8.0, 12.0)


def test_draws_of_weight_and_pitch() -> None:
    """A twentieth more weight and a degree less pitch, and past stall all the same; nothing without lift."""
    at = drawn(rotor(), 8.0, WEIGHT, Draw(weight=0.05, pitch_deg=-1.0), POLAR)
    other = setting(rotor(), 7.0, 1.05 * WEIGHT)
    assert at is not None and isinstance(other, Setting) and at.rpm == pytest.approx(other.rpm)
    assert drawn(rotor(), 30.0, WEIGHT, Draw(), POLAR) is not None
    assert drawn(rotor(), -3.0, WEIGHT, Draw(), POLAR) is None

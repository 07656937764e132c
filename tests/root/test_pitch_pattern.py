"""The plain pattern: what fits, what is said where nothing does, and that nothing else pins up."""

from __future__ import annotations

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from root_faces import design_of, root_face

from geomgen.errors import MakeError
from geomgen.figures import spelled
from geomgen.root.pattern import PitchPattern
from geomgen.root.pitch_bounds import finest_step_deg, least_circle_mm
from geomgen.root.pitch_pattern import pitch_pattern
from geomgen.root.seat import seat

FACE = root_face()


def pattern_of(**changes) -> PitchPattern:
    design = design_of(**changes)
    return pitch_pattern(design, FACE, seat=seat(design, FACE))


def figure(text: str, after: str) -> float:
    """The first number after some words of a message."""
    return float(re.search(r"-?\d+(\.\d+)?", text.split(after, 1)[1]).group())


def test_least_circle_of_a_fine_pattern() -> None:
    """17 settings of 1 deg, 5 mm from hole to hole: R = 5 / (2 sin 0.5 deg) = 286.48 mm, by the chord's closed form."""
    design = design_of(pitch__pin__diameter=3.2)
    assert least_circle_mm(design, 1.0) == pytest.approx(286.48, abs=0.01)
    assert finest_step_deg(design, 286.48) == pytest.approx(1.0, abs=1e-4)


def test_neighbouring_holes_keep_their_web_and_no_more() -> None:
    pattern = pattern_of()
    holes = pattern.fixed()[::2]  # those of the first pin
    gap = np.hypot(*np.diff(holes, axis=0).T) - pattern.hole_mm
    assert gap.min() >= 1.6 and gap.max() < 1.6 + 0.02  # the circle is rounded up by less than 0.1 mm


def test_play_of_a_pin() -> None:
    """0.2 mm of fit at 25 mm radius: atan(0.2 / 25) = 0.458 deg either way."""
    pattern = pattern_of(pitch__step=12.0, pitch__set=2.0, pitch__index_circle=36.0)
    assert pattern.play_deg == pytest.approx(np.degrees(np.arctan(0.2 / 36.0)), rel=1e-4)
    assert pattern.play_deg * 36.0 / 25.0 == pytest.approx(0.458, abs=0.001)


def test_too_fine_a_step_names_the_least_circle_and_the_finest_step() -> None:
    with pytest.raises(MakeError) as caught:
        pattern_of(pitch__step=1.0)
    (fault,) = spelled(caught.value.faults)
    assert fault.path == "pitch.step" and fault.value == "1 deg"
    assert figure(fault.wrong, "index circle of") == pytest.approx(4.8 / 2 / np.sin(np.radians(0.5)), abs=0.1)
    assert "width of the blade's root section" in fault.allowed
    finest = figure(fault.remedy, "finest step there is")
    span = finest * 2  # three settings at the step that is said to do
    assert pattern_of(pitch__step=finest, pitch__range=(2.0, 2.0 + span), pitch__set=2.0).settings_deg[-1] == 2.0 + span
    with pytest.raises(MakeError):
        pattern_of(pitch__step=finest - 0.2, pitch__range=(2.0, 2.0 + 2 * (finest - 0.2)), pitch__set=2.0)


def test_too_small_a_circle_names_what_would_do() -> None:
    with pytest.raises(MakeError) as caught:
        pattern_of(pitch__index_circle=40.0)
    (fault,) = spelled(caught.value.faults)
    assert fault.path == "pitch.step"
    least, finest = figure(fault.wrong, "at least"), figure(fault.remedy, "on 40 mm is")
    assert pattern_of(pitch__index_circle=least).circle_mm == least
    made = pattern_of(pitch__index_circle=40.0, pitch__step=finest, pitch__range=(2.0, 2.0 + finest), pitch__set=2.0)
    assert made.circle_mm == 40.0
    with pytest.raises(MakeError):
        pattern_of(pitch__index_circle=least - 0.2)


def test_a_circle_inside_the_wires_is_refused_with_every_reason() -> None:
    with pytest.raises(MakeError) as caught:
        pattern_of(pitch__index_circle=20.0)
    paths = [fault.path for fault in spelled(caught.value.faults)]
    assert paths.count("pitch.step") == 1 and paths.count("pitch.index_circle") >= 1
    assert any("blade.channel.c0" in fault.wrong for fault in spelled(caught.value.faults))
    # 20.0 to the channel's middle, 5.5 to the slot's edge, 3 of wall, 0.5 clear, 1.6 of hole
    wires = next(fault for fault in spelled(caught.value.faults) if "blade.channel.c0" in fault.wrong)
    assert figure(wires.wrong, "at least") == pytest.approx(np.hypot(20.0, 0.5) + 5.5 + 3 + 0.5 + 1.6, abs=0.1)


def test_next_blades_cap_limits_the_circle() -> None:
    with pytest.raises(MakeError) as caught:
        pattern_of(rotor__blades=6, pitch__step=3.0, pitch__set=8.0)
    (fault,) = spelled(caught.value.faults)
    assert fault.path == "pitch.step" and "next blade" in fault.allowed
    # seat at 130 - 4 - 0.3 - 4; planes at 60 deg meet at seat tan 30; less clearance, letters, web, hole
    assert figure(fault.allowed, "circle of") == pytest.approx(121.7 * np.tan(np.pi / 6) - 0.5 - 6 - 1.6 - 1.6, abs=0.1)


def test_what_sets_the_circle_is_blamed_and_not_the_step() -> None:
    """Steps of 12 deg need 23 mm, the wires 30.6 and the pins beside the flange 21 or so: no other step would help."""
    with pytest.raises(MakeError) as caught:
        pattern_of(printer__bed=(60.0, 60.0), pitch__step=12.0, pitch__set=2.0)
    paths = {fault.path for fault in spelled(caught.value.faults)}
    assert "blade.channel.c0.chord" in paths
    wires = next(fault for fault in spelled(caught.value.faults) if fault.path == "blade.channel.c0.chord")
    assert figure(wires.wrong, "index circle of") == pytest.approx(np.hypot(20.0, 0.5) + 5.5 + 3 + 0.5 + 1.6, abs=0.1)
    assert figure(wires.allowed, "circle of") == pytest.approx(30 - 1.6 - 1.6 - 6, abs=0.1)
    assert "nearer to the feather axis" in wires.remedy and "step" not in wires.remedy
    with pytest.raises(MakeError) as coarser:
        pattern_of(printer__bed=(60.0, 60.0), pitch__range=(2.0, 2.0), pitch__set=2.0)
    assert {fault.path for fault in coarser.value.faults} <= paths - {"pitch.step"}


def test_a_circle_that_is_said_to_do_does() -> None:
    """Where the blade's width alone is in the way, a circle may be asked for; steps are told that fill the range."""
    with pytest.raises(MakeError) as caught:
        pattern_of(pitch__step=1.0, printer__bed=(900.0, 900.0))
    (fault,) = spelled(caught.value.faults)
    circle = figure(fault.remedy, "write pitch.index_circle = ")
    assert pattern_of(pitch__step=1.0, printer__bed=(900.0, 900.0), pitch__index_circle=circle).circle_mm == circle
    step = float(re.search(r"and ([\d.]+) deg of whole steps", fault.remedy).group(1))
    assert pattern_of(pitch__step=step, pitch__set=2.0).settings_deg[-1] == 14.0


def test_where_no_cap_has_room_that_is_blamed() -> None:
    with pytest.raises(MakeError) as caught:
        pattern_of(printer__bed=(10.0, 10.0))
    (fault,) = spelled(caught.value.faults)
    assert fault.path == "printer.bed" and "no room for any cap" in fault.wrong


def test_pitch_to_fly_at_must_have_a_hole() -> None:
    with pytest.raises(MakeError) as caught:
        pattern_of(pitch__set=9.0)
    assert spelled(caught.value.faults)[0].path == "pitch.set" and "8 or 14" in spelled(caught.value.faults)[0].allowed


def test_sets_that_run_into_each_other() -> None:
    with pytest.raises(MakeError) as caught:
        pattern_of(pitch__pin__count=4, pitch__range=(-40.0, 50.0), pitch__step=30.0, pitch__set=-10.0)
    assert spelled(caught.value.faults)[0].path == "pitch.pin.count"


@settings(max_examples=60, deadline=None)
@given(
    count=st.integers(1, 5),
    step=st.floats(2.0, 12.0),
    steps=st.integers(0, 5),
    low=st.floats(-10.0, 10.0),
    fit=st.floats(0.0, 0.4),
)
def test_only_the_pitches_asked_for_pin_up(count: int, step: float, steps: int, low: float, fit: float) -> None:
    """By brute force all round: holes that all lie within the fit of one another mean a pitch that was asked for."""
    try:
        pattern = pattern_of(
            pitch__pin__count=count,
            pitch__pin__fit=fit,
            pitch__step=step,
            pitch__range=(low, low + steps * step),
            pitch__set=low,
        )
    except MakeError as error:
        assert all(fault.path.startswith("pitch.") and (fault.remedy or fault.allowed) for fault in error.faults)
        return
    wanted = np.array(pattern.settings_deg)
    assert len(wanted) == steps + 1
    pitches = np.concatenate([np.arange(-180.0, 180.0, 0.05), wanted])
    stand = np.array([angle for _, angle in pattern.turning_holes])
    angles = np.radians(stand[None, :] - pitches[:, None])
    turning = pattern.circle_mm * np.stack((np.cos(angles), np.sin(angles)), axis=-1)
    fixed = pattern.fixed()
    off = np.linalg.norm(turning[:, :, None] - fixed[None, None], axis=-1).min(axis=2).max(axis=1)
    assert off[-len(wanted) :].max() < 1e-9
    pinned = pitches[off <= fit]
    away = np.abs(pinned[:, None] - wanted[None, :])
    assert np.minimum(away, 360.0 - away).min(axis=1).max(initial=0.0) <= pattern.play_deg + 1e-3

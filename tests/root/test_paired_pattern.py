"""Paired patterns, judged from where their holes stand: by a scan of the whole turn, through frames, from cut files."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from root_faces import design_of, root_face

from geomgen.craft import Craft
from geomgen.cutting.dxf import part_dxf
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.errors import MakeError
from geomgen.figures import spelled
from geomgen.model.part import Flat
from geomgen.model.role import Role
from geomgen.root.pattern import PitchPattern
from geomgen.root.pinned import pinned_deg
from geomgen.root.pitch_pattern import pitch_pattern
from geomgen.root.seat import seat

FACE = root_face()
GRID = [
    (low, low + steps * step, step, pins, diameter, rim)
    for low, steps, step in (
        (2.0, 12, 1.0),
        (0.0, 8, 2.0),
        (-4.0, 16, 0.5),
        (2.0, 4, 6.0),
        (1.0, 8, 0.5),
        (0.0, 12, 2.0),
    )
    for pins in (1, 2, 3)
    for diameter, rim in ((2.0, 55.0), (3.0, 60.0), (4.0, 75.0))
]


def pattern_of(**changes) -> PitchPattern:
    design = design_of(pitch__pattern="paired", **changes)
    return pitch_pattern(design, FACE, seat=seat(design, FACE))


@cache
def asked(low: float, high: float, step: float, pins: int, diameter: float, rim: float) -> PitchPattern | MakeError:
    try:
        return pattern_of(
            pitch__range=(low, high), pitch__step=step, pitch__set=low, pitch__pin__count=pins,
            pitch__pin__diameter=diameter, pitch__rim=rim, pitch__pin__fit=0.1,
        )  # fmt: skip
    except MakeError as error:
        return error


@cache
def made() -> dict[tuple, PitchPattern]:
    """Of all that is asked for, what there is."""
    found = {ask: asked(*ask) for ask in GRID}
    return {ask: pattern for ask, pattern in found.items() if isinstance(pattern, PitchPattern)}


def xy(holes: tuple[tuple[float, float], ...], turned_deg: float = 0.0) -> np.ndarray:
    """Places of (radius, angle), the leading edge turned up: clockwise, as the root is seen from its side."""
    return np.array(
        [(r * math.cos(math.radians(a - turned_deg)), r * math.sin(math.radians(a - turned_deg))) for r, a in holes]
    )


def scanned(pattern: PitchPattern, pins: int, fit: float) -> list[tuple[float, float]]:
    """Stretches of pitch at which so many pins go in, by trying every hundredth of a degree of the whole turn."""
    turning, fixed = xy(pattern.turning_holes), xy(pattern.fixed_holes)
    tries, inside = np.arange(-18000, 18000) / 100.0, []
    for some in np.split(tries, 90):
        turn = np.radians(some)[:, None]
        x = turning[:, 0] * np.cos(turn) + turning[:, 1] * np.sin(turn)
        y = turning[:, 1] * np.cos(turn) - turning[:, 0] * np.sin(turn)
        off = np.hypot(x[..., None] - fixed[:, 0], y[..., None] - fixed[:, 1])
        inside.append((off.min(axis=2) <= fit).sum(axis=1) >= pins)
    goes = np.concatenate(inside)
    starts = np.flatnonzero(goes & ~np.roll(goes, 1))
    ends = np.flatnonzero(goes & ~np.roll(goes, -1))
    if len(starts) and ends[0] < starts[0]:
        ends = np.roll(ends, -1)
    return [(float(tries[a]), float(tries[b]) + 360.0 * (b < a)) for a, b in zip(starts, ends, strict=True)]


def test_all_of_the_grid_is_made() -> None:
    assert set(made()) == set(GRID)
    assert len({pattern.circle_mm for pattern in made().values()}) > 5
    inside = [stop.circle_mm < made()[ask].circle_mm for ask in GRID if (stop := made()[ask].stop)]
    assert len(inside) == len(GRID) and 0 < sum(inside) < len(inside)


@pytest.mark.parametrize("pins", [1, 2, 3])
def test_every_setting_has_its_holes_and_every_web_is_kept(pins: int) -> None:
    for ask, pattern in made().items():
        low, high, step, _, diameter, rim = ask
        if ask[3] != pins:
            continue
        assert np.allclose(pattern.settings_deg, np.arange(low, high + step / 2, step))
        fixed = xy(pattern.fixed_holes)
        for pitch, pairs in zip(pattern.settings_deg, pattern.pairs, strict=True):
            turned = xy(pattern.turning_holes, pitch)
            assert len(pairs) == pins and len({t for t, _ in pairs}) == len({f for _, f in pairs}) == pins
            assert max(np.hypot(*(turned[t] - fixed[f])) for t, f in pairs) < 1e-9
        for places in (np.vstack((xy(pattern.turning_holes), [pattern.stop.place()])), fixed):
            apart = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1))
            assert apart[np.triu_indices(len(places), 1)].min() >= diameter + 0.1 + 1.6 - 1e-9
        assert np.hypot(*fixed.T).max() + (diameter + 0.1) / 2 + 1.6 + 12.0 <= rim + 1e-6  # and two rings of figures


def _about_zero(pitch: float) -> float:
    """A pitch within half a turn; half a turn itself is -180."""
    return (round(pitch, 2) + 180.0) % 360.0 - 180.0


def test_unwanted_pitches_are_those_of_a_scan() -> None:
    """Every hundredth of a degree; a stretch's middle within one of them."""
    for ask, pattern in list(made().items())[::4]:
        found, step = scanned(pattern, ask[3], 0.1), ask[2]
        wanted = [s for s in found if any(s[0] - 0.011 <= pitch <= s[1] + 0.011 for pitch in pattern.settings_deg)]
        others = sorted(_about_zero(sum(s) / 2) for s in found if s not in wanted)
        told = np.array(sorted(_about_zero(pitch) for pitch in (*pattern.inside_deg, *pattern.outside_deg)))
        assert len(told) == len(others), ask
        assert np.abs(told - np.array(others)).max(initial=0.0) <= 0.011, ask
        assert all(any(s[0] - 0.011 <= pitch <= s[1] + 0.011 for s in wanted) for pitch in pattern.settings_deg)
        low, high = pattern.settings_deg[0] - step, pattern.settings_deg[-1] + step
        assert all(low < pitch < high for pitch in pattern.inside_deg)
        assert not any(pattern.settings_deg[0] < pitch < pattern.settings_deg[-1] for pitch in pattern.outside_deg)


def test_the_stop_lets_every_setting_be_and_nothing_that_it_is_said_to_stop() -> None:
    """The stop pin, 0.1 mm narrower than its slot, moved along: where its outline leaves the slot, the blade ends."""
    for ask, pattern in made().items():
        stop, (low, high, step), room = pattern.stop, ask[:3], math.degrees(0.05 / pattern.stop.circle_mm)
        ends = stop.turning_deg - stop.to_deg - room, stop.turning_deg - stop.from_deg + room
        assert ends[0] < low - room and high + room < ends[1] and ends[1] - high < step / 2 and low - ends[0] < step / 2
        play = math.degrees(0.1 / pattern.circle_mm)
        assert not any(ends[0] < pitch - play and pitch + play < ends[1] for pitch in pattern.outside_deg)


def test_no_pins_hole_comes_over_the_stops_slot() -> None:
    for ask, pattern in list(made().items())[::3]:
        stop = pattern.stop
        slot = xy(tuple((stop.circle_mm, angle) for angle in np.linspace(stop.from_deg, stop.to_deg, 300)))
        for pitch in np.linspace(ask[0] - ask[2] / 4, ask[1] + ask[2] / 4, 40):
            holes = xy(pattern.turning_holes, pitch)
            off = np.hypot(*(holes[:, None] - slot[None]).transpose(2, 0, 1))
            assert off.min() >= ask[4] + 0.1 + 1.6 - 0.01, ask


def test_a_pattern_that_pins_up_half_a_degree_off_is_seen() -> None:
    """Planted: one more fixed hole, so that the pin also goes in at 8.5 deg."""
    holes = [(40.0, 0.0 - pitch) for pitch in (2.0, 8.0, 14.0)]
    found = pinned_deg([(40.0, 0.0)], [*holes, (40.0, -8.5)], pins=1, fit_mm=0.1)
    assert np.abs(found.mean(axis=1) - 8.5).min() < 1e-6 and len(found) == 4
    assert len(pinned_deg([(40.0, 0.0)], [*holes, (40.0, -8.5)], pins=1, fit_mm=0.2)) == 3  # play of both meets


CRAFTS = {
    "lantern": ('step    = "6 deg"', 'step = "1 deg"\nrim = 60', ""),
    "starter": ('step    = "6 deg"', 'step = "2 deg"\nrim = 60', ""),
    "kite_day": ('step    = "8 deg"', 'step = "2 deg"\nrim = "60 mm"', "index_circle = 2\n"),
}


@pytest.fixture(scope="module", params=[(name, turn) for name in CRAFTS for turn in ("", "other")], ids="-".join)
def fine(request) -> Craft:
    name, turn = request.param
    old, new, gone = CRAFTS[name]
    text = example_path(name).read_text(encoding="utf-8").replace(old, new).replace(gone, "")
    if turn:
        here = "clockwise" if 'turn   = "clockwise"' in text or '"clockwise"' in text else "anticlockwise"
        text = text.replace(f'"{here}"', '"anticlockwise"' if here == "clockwise" else '"clockwise"')
    return Craft(read_text(text).design, example_path(name).parent)


def test_examples_get_a_fine_pattern_within_60_mm(fine: Craft) -> None:
    pattern = fine.pattern
    assert pattern.kind == "paired" and "plain pattern doesn't fit" in pattern.why and fine.faults == ()
    for part in fine.finished_of(Role.TURNING_CAP, Role.FIXED_CAP):
        assert isinstance(part.shape, Flat)
        assert np.hypot(*part.shape.region.outer.flattened(0.01).T).max() <= 60.0


def test_pins_are_coaxial_in_the_reopened_cutting_files(fine: Craft) -> None:
    """Circles of the pins' size from both caps' DXF, read by ezdxf; the turning cap's turned to each pitch."""
    import io

    import ezdxf

    pin = fine.design.pitch.pin
    (turning,), (fixed,) = fine.finished_of(Role.TURNING_CAP), fine.finished_of(Role.FIXED_CAP)
    places = []
    for part in (turning, fixed):
        data = part_dxf(part, fine.design.laser.colour.model_dump(), fine.design.rotor.blades, "mm")
        model = ezdxf.read(io.StringIO(data.decode())).modelspace()
        size = (pin.diameter + pin.fit) / 2
        found = {tuple(e.dxf.center)[:2] for e in model.query("CIRCLE") if abs(e.dxf.radius - size) < 1e-4}
        places.append(np.array(sorted(found)))
    up = 1.0 if fine.design.rotor.turn == "clockwise" else -1.0  # leading edge up, the nose at the right or the left
    for pitch in fine.pattern.settings_deg:
        c, s = math.cos(math.radians(up * pitch)), math.sin(math.radians(up * pitch))
        turned = places[0] @ np.array([[c, s], [-s, c]])
        off = np.hypot(*(turned[:, None] - places[1][None]).transpose(2, 0, 1)).min(axis=1)
        assert (off < 0.01).sum() >= pin.count


def test_letters_of_both_caps_lead_to_the_same_pitch(fine: Craft) -> None:
    """Each setting's letter stands once a pin on either cap, in line with its hole as seen from the axis."""
    (turning,), (fixed,) = fine.finished_of(Role.TURNING_CAP), fine.finished_of(Role.FIXED_CAP)
    assert isinstance(turning.shape, Flat) and isinstance(fixed.shape, Flat)
    up = 1.0 if fine.design.rotor.turn == "clockwise" else -1.0
    for name, pitch in zip(fine.pattern.names(), fine.pattern.settings_deg, strict=True):
        angles = []
        for shape, turn in ((turning.shape, up * pitch), (fixed.shape, 0.0)):
            texts = [text for text in shape.texts if text.height_mm < 4.0 and name in text.text]
            assert len(texts) == fine.design.pitch.pin.count
            angles.append([math.degrees(math.atan2(text.at[1], text.at[0])) + turn for text in texts])
        off = (np.array(angles[0])[:, None] - np.array(angles[1])[None] + 180.0) % 360.0 - 180.0
        assert np.abs(off).min(axis=1).max() < 1e-6


def test_what_can_not_be_done_names_the_nearest_that_can() -> None:
    with pytest.raises(MakeError) as caught:
        pattern_of(pitch__step=0.05, pitch__range=(0.0, 9.0), pitch__set=0.0, pitch__rim=50.0)
    (fault,) = spelled(caught.value.faults)
    assert fault.path == "pitch.step" and "fits in this range" in fault.remedy
    step = float(fault.remedy.split("a step of ")[1].split(" deg")[0])
    made = pattern_of(pitch__step=step, pitch__range=(0.0, 9.0), pitch__set=0.0, pitch__rim=50.0)
    assert len(made.settings_deg) == round(9.0 / step) + 1
    with pytest.raises(MakeError) as small:
        pattern_of(pitch__step=1.0, pitch__rim=30.0)
    (fault,) = spelled(small.value.faults)
    assert fault.path == "pitch.rim"
    least = float(fault.allowed.split("at least ")[1].split(" mm")[0])
    assert pattern_of(pitch__step=1.0, pitch__rim=least).kind == "paired"

"""How far a blade's pitch may be off: each cause by hand from the design file's own figures, and how they add up."""

from __future__ import annotations

import json
import math
from collections.abc import Callable

import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.figures import spelled
from geomgen.model.part import Flat
from geomgen.plane.path import Circle
from geomgen.render.data import json_text
from geomgen.root.pitch_error import Cause, PitchError
from geomgen.views.pitch_error import pitch_error_data, pitch_lines

CraftOf = Callable[..., Craft]


def causes(craft: Craft) -> dict[str, Cause]:
    return {cause.path: cause for cause in craft.pitch_error.causes}


def with_scatter(craft_of: CraftOf, words: str, *more: tuple[str, str]) -> Craft:
    return craft_of("lantern", ('zero_at = "75 %"', f'scatter = {words}\nzero_at = "75 %"'), *more)


def test_the_demo_by_hand(lantern: Craft) -> None:
    """Two pins, 0.2 mm of fit; both caps printed; M3 in 3.4 mm (ISO 273, medium); spar's fit 0.1 mm."""
    found, circle = causes(lantern), lantern.pattern.circle_mm
    assert found["pitch.pin.fit"].limit_deg == pytest.approx(math.degrees(0.2 / circle))
    assert found["pitch.scatter.holes"].limit_deg == pytest.approx(math.degrees((0.2 + 0.2) / circle))
    assert found["pitch.scatter.rib"].limit_deg == found["pitch.scatter.washout"].limit_deg == 0.3
    (cap,) = (part for part in lantern.finished if part.path == "pitch.turning_cap")
    assert isinstance(cap.shape, Flat)
    circles = [hole for hole in cap.shape.region.holes if isinstance(hole, Circle)]
    screws = [math.hypot(*hole.center) for hole in circles if abs(2 * hole.radius - 3.4) < 1e-6]
    assert len(screws) == 4
    assert found["pitch.fixing.screw"].limit_deg == pytest.approx(math.degrees(0.2 / screws[0]))
    rib = min(lantern.blanks, key=lambda blank: abs(blank.place.r_mm - 600.0))  # 75 % of 800 mm
    behind = rib.outline.tail_mm - 0.25 * (210 - 60 * (rib.place.r_mm - 130) / 670)  # 210 mm at 130, 150 at 800
    assert found["blade.spar.main.fit"].limit_deg == pytest.approx(math.degrees(0.05 / behind), rel=1e-6)
    assert len(found) == 6


def test_what_is_even_is_counted_at_its_limit(lantern: Craft) -> None:
    for path, cause in causes(lantern).items():
        if path in ("pitch.pin.fit", "pitch.scatter.holes"):
            assert 0.0 < cause.spread_deg < cause.limit_deg
        else:
            assert cause.spread_deg == cause.limit_deg


def test_how_causes_add_up() -> None:
    """3, 4 and 12 deg: 19 at worst, 13 as a root of squares; between two blades 38, and 13 sqrt 2."""
    error = PitchError(tuple(Cause("", "", deg, deg, "") for deg in (3.0, 4.0, 12.0)), 0.0)
    assert (error.worst_deg, error.likely_deg) == (19.0, pytest.approx(13.0))
    assert (error.apart_worst_deg, error.apart_likely_deg) == (38.0, pytest.approx(13.0 * math.sqrt(2.0)))


def test_the_root_of_squares_is_that_of_blades_drawn() -> None:
    """Even causes drawn 200 000 times: sqrt 3 times the standard deviation, and of two blades' difference."""
    limits, rng = (0.87, 0.3, 0.3, 0.25), np.random.default_rng(7)
    error = PitchError(tuple(Cause("", "", deg, deg, "") for deg in limits), 0.0)
    one, other = (rng.uniform(-1.0, 1.0, (200_000, 4)) @ limits for _ in range(2))
    assert error.likely_deg == pytest.approx(math.sqrt(3.0) * one.std(), rel=0.01)
    assert error.apart_likely_deg == pytest.approx(math.sqrt(3.0) * (one - other).std(), rel=0.01)
    assert np.abs(one).max() < error.worst_deg and np.abs(one - other).max() < error.apart_worst_deg


def test_each_cap_scatters_as_it_is_made(craft_of: CraftOf, kite_day: Craft) -> None:
    """Kite day's turning cap is cut from ply, 0.1 mm; its fixed cap printed, 0.2 mm; a file's own replaces both."""
    found = causes(kite_day)["pitch.scatter.holes"]
    assert found.limit_deg == pytest.approx(math.degrees(0.3 / kite_day.pattern.circle_mm))
    own = with_scatter(craft_of, '{ holes = 0.05, rib = "0.1 deg", washout = "0.2 deg" }')
    mine = causes(own)
    assert mine["pitch.scatter.holes"].limit_deg == pytest.approx(math.degrees(0.1 / own.pattern.circle_mm))
    assert (mine["pitch.scatter.rib"].limit_deg, mine["pitch.scatter.washout"].limit_deg) == (0.1, 0.2)


def test_one_pin_lets_the_spar_shift_in_its_socket(craft_of: CraftOf, lantern: Craft) -> None:
    lone = craft_of("lantern", ("diameter = 3, count = 2", "diameter = 3, count = 1"))
    found, circle = causes(lone), lone.pattern.circle_mm
    assert found["hub.socket.fit"].limit_deg == pytest.approx(math.degrees(0.15 / circle))
    assert found["pitch.pin.fit"].limit_deg == pytest.approx(math.degrees(0.2 / circle))
    assert "hub.socket.fit" not in causes(lantern)


def test_largest_first_and_told_first(lantern: Craft) -> None:
    error = lantern.pitch_error
    assert [cause.spread_deg for cause in error.causes] == sorted((c.spread_deg for c in error.causes), reverse=True)
    line = spelled(pitch_lines(lantern))[0]
    assert isinstance(line, str) and f"±{error.likely_deg:.1f} deg (root of squares)" in line
    assert error.causes[0].what in line and error.causes[0].remedy in line
    share = 100 * error.apart_likely_deg * lantern.lift_per_pitch.blade_share_per_deg
    assert f"{share:.0f} % of a blade's lift" in line


def test_data_says_what_is_a_guess(craft_of: CraftOf, lantern: Craft) -> None:
    def guessed(craft: Craft) -> set[str]:
        data = json.loads(json_text(pitch_error_data(craft)))["pitch_error"]
        assert data["worst_deg"] == pytest.approx(sum(each["limit_deg"] for each in data["causes"]))
        return {each["key"] for each in data["causes"] if each["guess"]}

    assert guessed(lantern) == {"pitch.scatter.holes", "pitch.scatter.rib", "pitch.scatter.washout"}
    assert guessed(with_scatter(craft_of, '{ rib = "0.3 deg" }')) == {"pitch.scatter.holes", "pitch.scatter.washout"}
    assert "blade.spar.main.fit" in guessed(
        craft_of("lantern", ("fit   = 0.1                         # the hole", "#"))
    )

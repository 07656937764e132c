"""Hover of whole designs: examples lift; what is too weak, stalled or unknown is told, with what would do."""

from __future__ import annotations

import json
import math
import pathlib
from xml.etree import ElementTree

import pytest

from geomgen.cache import Cache
from geomgen.cli import main
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read, read_text
from geomgen.design.vary import vary
from geomgen.errors import DesignError
from geomgen.figures import spelled
from geomgen.hover.rotor import NoSetting, Setting
from geomgen.judging.verdict import Lifts
from geomgen.render.data import json_text
from geomgen.render.text import page_text
from geomgen.views.hover import hover_page
from geomgen.views.hover_data import hover_data
from geomgen.views.verdict import verdict_lines

NAMES = ("starter", "kite_day", "lantern")
POLAR = "reynolds number, angle, lift, drag\n" + "".join(
    f"{reynolds}, {angle}, {0.1 * angle + 0.3:.3f}, {0.02 + 0.0002 * angle**2:.5f}\n"
    for reynolds in (50_000, 400_000)
    for angle in range(-8, 13, 2)
)


def craft(name: str, changes: dict[str, object] | None = None, option: str | None = None) -> Craft:
    file = read(example_path(name), option)
    file = vary(file, changes) if changes else file
    return Craft(file.design, file.source.folder, Cache(), exact=False)


@pytest.mark.parametrize("name", NAMES)
def test_every_example_lifts_as_it_is_pinned_in_every_way_of_building(name: str) -> None:
    """With the lift left that it wants, at an rpm below the highest, also at full throttle; nothing lacks."""
    for option in (None, *read(example_path(name)).options):
        each = craft(name, option=option)
        hover, duty = each.hover, each.design.duty
        assert hover is not None and hover.lacks == () and each.verdict.hover is not None
        assert each.verdict.hover.lifts is Lifts.YES, option
        assert hover.flown.pitch_deg in each.pattern.settings_deg
        assert hover.flown.full is not None and hover.flown.full.lift_left > duty.lift_left
        assert hover.flown.lasts is not None and hover.flown.lasts.minutes > 5.0
        assert each.warnings == (), option


def test_without_fans_and_pack_the_airs_side_is_told_and_what_lacks() -> None:
    bare = {"fitting.fan.fan": None, "fan": None, "pack": None, "fitting.battery.pack": None}
    each = craft("starter", {**bare, "fitting.speed_control.controls": None})
    hover, said = each.hover, each.verdict.hover
    assert hover is not None and said is not None and said.lifts is Lifts.IN_AIR
    assert isinstance(hover.flown.setting, Setting) and hover.flown.working is None
    assert said.rpm is not None and said.air_w is not None and said.minutes is None
    assert "fan" in hover.lacks[0] and hover.lacks[0] in spelled(verdict_lines(each.verdict, 0))[2]
    driven = craft("starter").verdict.hover
    assert driven is not None and driven.rpm is not None
    assert said.rpm[1] == pytest.approx(driven.rpm[1], rel=0.02)  # the fans' own pull upwards is all that is missing


def test_a_fan_that_is_too_weak_is_told_with_what_would_do() -> None:
    weak = craft("starter", {"fan.small.static": {"thrust": "0.5 N", "power": "15 W", "voltage": "10.5 V"}})
    assert weak.verdict.hover is not None and weak.verdict.hover.lifts is Lifts.TOO_WEAK
    assert "DOESN'T LIFT" in spelled(verdict_lines(weak.verdict, 1))[2]
    (warning,) = [each for each in weak.warnings if each.path == "pitch.set"]
    assert "too weak" in warning.wrong and warning.remedy


@pytest.mark.parametrize(
    ("pack", "words"),
    [
        ({"pack.main.resistance": "90 mohm", "pack.main.floor": "3.96 V"}, "even when full"),  # sags below its floor
        ({"pack.main.cells": 1}, "throttle"),
        ({"pack.main.cells": 1, "pack.main.resistance": "900 mohm"}, "more than the pack can give"),
    ],
)
def test_a_pack_that_is_too_weak_is_told_and_data_stay_numbers(pack: dict[str, object], words: str) -> None:
    weak = craft("starter", pack)
    assert weak.verdict.hover is not None and weak.verdict.hover.lifts is Lifts.TOO_WEAK
    line = spelled(verdict_lines(weak.verdict, 1))[2]
    assert line.startswith("DOESN'T LIFT") and words in line
    assert [each for each in weak.warnings if each.path == "pitch.set"]
    text = json_text(hover_data(weak), "mm")
    assert "Infinity" not in text and "NaN" not in text
    assert "inf" not in page_text(hover_page(weak)).split()


def test_figures_of_a_fan_that_are_likely_a_slip_are_warned_of() -> None:
    for static, words in (
        ({"thrust": "0.3 N", "power": "80 W", "voltage": "10.5 V"}, "slip of the pen"),
        ({"thrust": "2.45 N", "power": "80 W", "voltage": "10.5 V"}, "doubtful"),
    ):
        (warning,) = [each for each in craft("starter", {"fan.small.static": static}).warnings if "fan." in each.path]
        assert words in warning.wrong and warning.path == "fan.small.static"


def test_another_pin_that_lifts_is_the_remedy() -> None:
    """At 2 deg this fan falls short, at 14 deg it doesn't: the warning says which to set, and that passes."""
    fan = {"fan.small.static": {"thrust": "0.95 N", "power": "34 W", "voltage": "10.5 V"}, "pitch.set": "2 deg"}
    low = craft("starter", fan)
    (warning,) = [each for each in low.warnings if each.path == "pitch.set"]
    assert low.hover is not None and low.hover.best_pinned is not None
    best = low.hover.best_pinned.pitch_deg
    assert warning.remedy == f'set = "{best:g} deg"' and best != 2.0
    mended = craft("starter", {**fan, "pitch.set": f"{best:g} deg"})
    assert not [each for each in mended.warnings if each.path == "pitch.set"]


def test_a_pitch_past_stall_is_no_rpm() -> None:
    """30 deg and no twist: beyond what any section of this kind holds."""
    steep = {"pitch.set": "30 deg", "pitch.range": ["18 deg", "30 deg"], "pitch.step": "6 deg"}
    stalled = craft("starter", steep)
    assert stalled.hover is not None and isinstance(stalled.hover.flown.setting, NoSetting)
    assert stalled.verdict.hover is not None and stalled.verdict.hover.lifts is Lifts.NO
    assert not stalled.verdict.by_hover and stalled.verdict.carrying_rpm == stalled.verdict.mean_lift_rpm
    assert "stall" in spelled(verdict_lines(stalled.verdict, 1))[2]


def test_less_lift_left_than_wanted_is_warned_of() -> None:
    wanting = craft("lantern", {"duty.lift_left": "99 %"})
    assert wanting.verdict.hover is not None and wanting.verdict.hover.lifts is Lifts.SHORT
    assert any("at least 99 %" in str(each) for each in wanting.warnings)


def test_a_top_speed_that_full_throttle_passes_is_warned_of() -> None:
    found = craft("lantern", {"duty.rpm_max": 280})
    assert found.hover is not None and found.hover.flown.full is not None
    (warning,) = [each for each in found.warnings if each.path == "duty.rpm_max"]
    assert warning.allowed == f"{math.ceil(found.hover.flown.full.rpm)} rpm"


def test_thrust_that_no_fan_of_its_size_has_is_refused() -> None:
    """2.9 N from 40 mm round 20 mm: (2.9^3 / (4 rho A))^0.5 = 72.7 W in the air of 80 W, by momentum."""
    each = craft("starter", {"fan.small.static": {"thrust": "2.9 N", "power": "80 W", "voltage": "10.5 V"}})
    (fault,) = each.faults
    assert fault.path == "fan.small.static" and "not to be believed" in fault.wrong
    area = math.pi / 4 * (0.04**2 - 0.02**2)
    assert f"{100 * math.sqrt(2.9**3 / (4 * 1.225 * area)) / 80:.0f} %" in fault.wrong


def test_a_class_stands_in_for_a_measured_fan() -> None:
    each = craft("starter", {"fan.small.static": None, "fan.small.class": "40 mm"})
    assert each.verdict.hover is not None and each.verdict.hover.minutes is not None
    assert each.hover is not None and any("by class" in words for words in each.hover.words)


def test_speed_controls_at_the_tip_waste_less_in_the_wires() -> None:
    """As designed first, and the other beside it: at the fan wires carry d times the current, d² of the loss."""
    at_hub = craft("starter").hover
    assert at_hub is not None
    hub, tip = at_hub.controls
    assert (hub.at_tip, tip.at_tip) == (False, True)
    d = tip.working.throttle
    assert tip.working.wires_w == pytest.approx(hub.working.wires_w * d**2, rel=1e-6)
    moved = {"fitting.speed_control": {"on": "blade", "at": "80 %", "mass": "18 g", "controls": ["fan"]}}
    out = craft("starter", {**moved, "wire.fan.count": 2}).hover
    assert out is not None and out.controls[0].at_tip and out.lacks == ()


def test_the_makers_own_polar_is_taken_and_its_faults_have_file_and_line(tmp_path: pathlib.Path) -> None:
    text = example_path("starter").read_text(encoding="utf-8")
    text = text.replace('section = "naca 4415"', 'section = { naca = "4415", polar = "mine.csv" }')
    file, table = tmp_path / "rotor.toml", tmp_path / "mine.csv"
    file.write_text(text, encoding="utf-8")
    table.write_text(POLAR, encoding="utf-8")
    own = Craft(read(file).design, tmp_path, Cache(), exact=False)
    (radius, polar), *_ = own.polars
    assert radius == 120.0 and polar.covers(100_000.0)
    assert own.hover is not None and isinstance(own.hover.flown.setting, Setting)
    forces = polar.at(own.rotor.twist_rad * 0.0 + math.radians(4.0), own.rotor.twist_rad * 0.0 + 1e5)  # type: ignore[union-attr]
    assert forces.lift == pytest.approx(0.7, abs=1e-6) and forces.drag == pytest.approx(0.0232, abs=1e-6)
    table.write_text(POLAR.replace("50000, 4, ", "50000, 2, "), encoding="utf-8")
    with pytest.raises(DesignError) as told:
        Craft(read(file).design, tmp_path, Cache(), exact=False).polars  # noqa: B018
    assert "mine.csv:8" in str(told.value.faults[0])
    table.unlink()
    gone = Craft(read(file).design, tmp_path, Cache(), exact=False)
    assert any("can't be read" in str(fault) for fault in gone.faults)


def test_the_page_and_its_files_say_what_the_data_says(
    tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = str(example_path("lantern"))
    assert main(["hover", path, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert main(["hover", path, "--out", str(tmp_path)]) == 0
    page = capsys.readouterr().out
    folder = tmp_path / "lantern" / "hover"
    assert (folder / "hover.txt").read_text(encoding="utf-8").strip() in page
    assert json.loads((folder / "hover.json").read_text(encoding="utf-8")) == data
    assert ElementTree.parse(folder / "hover.svg").getroot().tag.endswith("svg")
    flown = next(each for each in data["hover"]["pitches"] if each["pitch_deg"] == data["hover"]["flown_deg"])
    row = next(line for line in page.splitlines() if line.strip().startswith("8.0") and " set " in line).split()
    assert row[2:4] == [f"{flown['rpm']:.0f}", f"{flown['air_w']:.1f}"]
    assert sum(data["hover"]["power_w"].values()) == pytest.approx(flown["cells_w"], rel=1e-6)
    for words in ("within 12 %", "-10 % to +20 %", "Spinning:", "Fans on the bench"):
        assert words in page
    assert "safe" not in page.lower()


def test_overlapping_blades_are_not_reckoned() -> None:
    text = example_path("starter").read_text(encoding="utf-8").replace("blades = 2", "blades = 8")
    crowded = Craft(read_text(text).design, None, Cache(), exact=False)
    assert crowded.outcome(Craft.wake).value is None and crowded.outcome(Craft.rotor).value is None


def test_a_levelled_fan_pulls_along_the_tangent_at_its_pitch() -> None:
    """Left out, it lies on its rib's chord line: at 96 % of 700 mm, where the starter's twist of 4 to 0 deg is
    1.21 deg under that at 75 %."""
    plain = craft("starter").drive.place
    twist = [4.0 * (700.0 - r) / 580.0 for r in (0.96 * 700.0, 0.75 * 700.0)]
    assert plain is not None and plain.tilt_deg == pytest.approx(twist[0] - twist[1], abs=1e-9)
    assert plain.up(8.0, 0.0) == pytest.approx(math.sin(math.radians(8.0 + twist[0] - twist[1])))
    mount = {"screw": "M2", "count": 4, "circle": 10}
    level = craft("starter", {"fitting.fan.mount": mount, "fitting.fan.level_at": "8 deg"}).drive.place
    assert level is not None and level.up(8.0, 0.0) == pytest.approx(0.0, abs=1e-9) and level.along(8.0) == 1.0
    assert level.up(14.0, 0.0) == pytest.approx(math.sin(math.radians(6.0)))


def test_what_is_carried_drawn_and_wired_by_hand() -> None:
    """Weight of the statement; two packs side by side last more than twice as long at the weight of one; a motor's
    wires carry sqrt(2/3) of its current, as two of three conduct at a time, over rho l / A of copper there and back."""
    one = craft("starter", {"fitting.battery.mass": "75 g"})
    two = craft("starter", {"fitting.battery.mass": "75 g", "fitting.battery.count": 2})
    hover = one.hover
    assert hover is not None and hover.weight_n == pytest.approx(one.mass.craft.lift_g.typical * 9.80665e-3)
    heavier = craft("starter", {"fitting.battery.mass": "150 g"}).hover
    assert two.hover is not None and two.hover.flown.lasts and heavier is not None and heavier.flown.lasts
    assert 2.0 < two.hover.flown.lasts.minutes / heavier.flown.lasts.minutes < 2.1
    (hub, tip), wire = hover.controls, one.drive.chain.wire if one.drive.chain else None
    assert wire is not None and hub.wire_a == pytest.approx(hub.working.motor_a * math.sqrt(2.0 / 3.0))
    area = math.pi / 4.0 * (0.127 * 92.0 ** ((36.0 - 18.0) / 39.0)) ** 2  # ASTM B258
    (line,) = [each for each in one.mass.lines if each.path == "wire.fan"]
    assert wire.length_m == pytest.approx(line.amount * 1e-3) and wire.copper_mm2 == pytest.approx(area)
    ohm = 2.0 * 0.017241 * wire.length_m / area * (1.0 + 0.00393 * (15.0 + 20.0 - 20.0))
    assert hub.drop_v == pytest.approx(hub.working.motor_a * ohm, rel=1e-6)
    assert hub.working.wires_w == pytest.approx(2 * hub.working.motor_a**2 * ohm, rel=1e-6)
    assert tip.wire_a == pytest.approx(tip.working.pack_a / 2.0) and tip.drop_v == pytest.approx(tip.wire_a * ohm)
    twice = craft("starter", {"wire.fan.count": 6, "blade.channel.power.diameter": 11}).drive.chain
    assert twice is not None and twice.wire is not None and twice.wire.copper_mm2 == pytest.approx(2.0 * area)
    fewer = craft("starter", {"wire.fan.count": 2}).drive
    assert fewer.chain is not None and fewer.chain.wire is not None and "3 wires" in fewer.lacks[0]
    assert fewer.chain.wire.copper_mm2 == pytest.approx(area)


def test_coning_by_moments_about_the_axis() -> None:
    """Lift and fans' pull upwards, weight and centrifugal force of the pieces of one blade, by hand."""
    each = craft("starter")
    hover = each.hover
    assert hover is not None and hover.coning_deg is not None and isinstance(hover.flown.setting, Setting)
    at, mine = hover.flown.setting, [one for one in each.elements if one.assembly == "blade"]
    up = float(at.blades.lift_n @ at.blades.r_m) + at.fans_up_n / 2.0 * 0.96 * 0.7
    first = sum(one.mass_g * one.centre[0] for one in mine) * 1e-6
    second = sum(one.mass_g * one.centre[0] ** 2 for one in mine) * 1e-9
    angle = math.radians(hover.coning_deg)
    held = at.blades.rad_s**2 * second * math.sin(angle) * math.cos(angle) + 9.80665 * first * math.cos(angle)
    assert held == pytest.approx(up, rel=1e-3)  # the fans' pull is across the blade, which stands at 2 deg

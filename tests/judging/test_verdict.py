"""The verdict's figures by hand, in both systems, the same on every page and in --json."""

from __future__ import annotations

import json
import math
import re

import pytest

from geomgen.cache import Cache
from geomgen.cli import main
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read
from geomgen.design.vary import vary
from geomgen.figures import spelled
from geomgen.views.verdict import verdict_lines

G_M_S2, POUND_G, FOOT_M = 9.80665, 453.59237, 0.3048
LBF_N = POUND_G * 1e-3 * G_M_S2


def craft_of(name: str, option: str | None, cache: Cache) -> Craft:
    file = read(example_path(name), option)
    return Craft(file.design, file.source.folder, cache, exact=False)


def carried_g(blades: int, root_m: float, tip_m: float, chords_m: tuple[float, float], rpm: float, air: float) -> float:
    """1/2 rho Omega^2 C_L N times the integral of (a + b r) r^2 from root to tip, without coning [g]."""
    b = (chords_m[1] - chords_m[0]) / (tip_m - root_m)
    a = chords_m[0] - b * root_m
    integral = a * (tip_m**3 - root_m**3) / 3 + b * (tip_m**4 - root_m**4) / 4
    return 0.5 * air * (rpm * math.pi / 30) ** 2 * 0.33 * blades * integral / G_M_S2 * 1e3


def test_the_starter_by_hand(cache: Cache) -> None:
    """Two blades of 180 to 150 mm chord from 120 to 700 mm; 600 g guessed; C_L 0.33; air at sea level, 1.225 kg/m3."""
    craft = craft_of("starter", None, cache)
    found, lift = craft.verdict, craft.mass.craft.lift_g.typical
    assert found.blade_area_mm2 == pytest.approx(2 * (180 + 150) / 2 * 580)
    assert found.disc_area_mm2 == pytest.approx(math.pi * 700**2)
    assert found.disc_loading_kg_m2 == pytest.approx(lift * 1e-3 / (math.pi * 0.49))
    assert found.off_the_guess == pytest.approx(lift / 600 - 1)
    by_hand = carried_g(2, 0.12, 0.7, (0.18, 0.15), 250, 1.225) * math.cos(math.radians(2)) ** 3
    assert found.mean_lift_rpm[1] == pytest.approx(250 * math.sqrt(lift / by_hand), rel=1e-4)
    assert found.by_hover and found.hover is not None and found.hover.rpm == found.carrying_rpm
    assert found.lifted_g == pytest.approx(lift * (290 / found.carrying_rpm[1]) ** 2)
    assert found.carries and found.pull_n[2] > found.pull_n[1] > found.pull_n[0]
    lines = spelled(verdict_lines(found, 0, 3))
    assert len(lines) <= 7
    assert f"Blades 0.191 m2, disc 1.54 m2: {lift * 1e-3 / 1.5394:.3f} kg/m2 of disc." in lines
    assert lines[0].startswith(f"To lift: {lift:.1f} g (")
    assert lines[2].startswith(f"Lifts: at 8 deg {found.carrying_rpm[1]:.0f} rpm (") and "more" in lines[2]
    assert lines[-1] == "Told besides: no warnings, 3 notes to build by (--notes)."


def test_kite_day_by_hand(cache: Cache) -> None:
    """Three blades of 11 to 5 in from 6 to 36 in: 8 in x 30 in each, 5 ft2 in a disc of 9 pi ft2."""
    craft = craft_of("kite_day", None, cache)
    found, pounds = craft.verdict, craft.mass.craft.lift_g.typical / POUND_G
    assert found.blade_area_mm2 == pytest.approx(5.0 * (FOOT_M * 1e3) ** 2)
    assert found.off_the_guess == pytest.approx(pounds / 3.5 - 1)
    line = f"Blades 5.000 ft2, disc 28.27 ft2: {pounds / (9 * math.pi):.3f} lb/ft2 of disc."
    assert line in spelled(verdict_lines(found, 0), "in")


def test_too_little_is_said_so(cache: Cache) -> None:
    slow = vary(read(example_path("starter")), {"duty.rpm": 200})
    low = Craft(slow.design, slow.source.folder, cache, exact=False)
    assert not low.verdict.carries
    assert "TOO LITTLE" in verdict_lines(low.verdict, 1)[4]


@pytest.mark.parametrize("name", ["starter", "kite_day", "lantern"])
def test_pages_and_data_say_the_same(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Of every option: the lines that check and weigh print are made of what --json says."""
    path = str(example_path(name))
    for option in (None, *read(example_path(name)).options):
        asked = [path] + (["--option", option] if option else [])
        data = {}
        for command in ("check", "weigh"):
            assert main([command, *asked, "--json"]) == 0
            data[command] = json.loads(capsys.readouterr().out)
            assert main([command, *asked]) == 0
            page = " ".join(capsys.readouterr().out.split())
            verdict = data[command]["verdict"]
            assert f"{verdict['carrying_rpm']['typical']:.0f} rpm (" in page
            typical, high = verdict["pull_n"]["typical"], verdict["pull_n"]["high"]
            pulls = f"{typical:.0f} N (at most {high:.0f})"
            if name == "kite_day":
                pulls = f"{typical / LBF_N:.1f} lbf (at most {high / LBF_N:.1f})"
            assert f"pulls {pulls} on the hub" in page
            off = verdict["off_the_guess"]
            assert re.search(rf"{abs(100 * off):.0f} % {'over' if off >= 0 else 'under'} the guess", page)
            assert "no warnings" in page and data[command]["warnings"] == []
        assert data["check"]["verdict"]["lift_g"]["typical"] == pytest.approx(
            data["weigh"]["verdict"]["lift_g"]["typical"],
            rel=1e-3,  # prints by their slices, with the kernel or without
        )


def test_warnings_have_their_lines_on_every_page(tmp_path: object, capsys: pytest.CaptureFixture[str]) -> None:
    text = example_path("starter").read_text(encoding="utf-8").replace('"600 g"', '"1.1 kg"')
    line = next(k for k, words in enumerate(text.splitlines(), 1) if words.startswith("mass_guess"))
    file = tmp_path / "mine.toml"  # type: ignore[operator]
    file.write_text(text, encoding="utf-8")
    for command in (["check"], ["weigh"], ["compare"]):
        assert main([*command, str(file)]) == 0
        page = " ".join(capsys.readouterr().out.split())
        assert f"mine.toml:{line} duty.mass_guess" in page and "warning:" in page
        assert main([*command, str(file), "--json"]) == 0
        data = json.loads(capsys.readouterr().out)
        warned = data["options"][0]["warnings"] if command == ["compare"] else data["warnings"]
        assert [(one["path"], one["line"]) for one in warned] == [("duty.mass_guess", line)]

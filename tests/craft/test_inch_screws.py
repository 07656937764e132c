"""A design with screws in inches, made: holes, heads, lengths and masses by hand, from the tables' inches."""

from __future__ import annotations

import csv
import io
import re

import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.cutting.dxf import part_dxf
from geomgen.design import read_text, starter_text
from geomgen.making import Output, make
from geomgen.model.role import Role

IN = 25.4
STEEL = 7.85e-3  # [g/mm3]
EDITS = (
    ('screw = "M3", count = 4', 'screw = "#4-40", count = 4'),
    ('bolt  = "M4"', 'bolt  = "1/4-20"\nclearance = "coarse"'),
    ("rib  = true", 'rib  = true\nmount = { screw = "#2-56", count = 2, circle = "3/8 in", first = "0 deg" }'),
)


def craft_with(*edits: tuple[str, str]) -> Craft:
    text = starter_text()
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return Craft(read_text(text, "inch.toml").design)


@pytest.fixture(scope="module")
def craft() -> Craft:
    return craft_with(*EDITS)


@pytest.fixture(scope="module")
def made(craft: Craft) -> Output:
    return make(craft)


def circles(data: bytes) -> list[tuple[str, float, np.ndarray]]:
    """Layer, diameter and middle of every circle in a cutting file, read by a library."""
    import ezdxf

    found = ezdxf.read(io.StringIO(data.decode("utf-8"))).modelspace().query("CIRCLE")
    return [(one.dxf.layer, 2 * one.dxf.radius, np.array([one.dxf.center.x, one.dxf.center.y])) for one in found]


def like(made: Output, name: str, diameter_mm: float) -> int:
    return sum(abs(diameter - diameter_mm) < 1e-4 for _, diameter, _ in circles(made.files[name]))


def test_holes_in_caps_rib_and_hub(craft: Craft, made: Output) -> None:
    """ASME B18.2.8: drill 30 for a #4 and drill 38 for a #2 go normal, 19/64 in for a 1/4 goes loose."""
    for cap in craft.finished_of(Role.TURNING_CAP, Role.FIXED_CAP):
        holes = circles(part_dxf(cap, craft.design.laser.colour.model_dump(), craft.design.rotor.blades))
        assert sum(abs(diameter - 0.1285 * IN) < 1e-4 for _, diameter, _ in holes) == 4
    assert like(made, "cut/laser/rib_R01.dxf", 0.1285 * IN) == 4
    ribs = [name for name in made.files if name.startswith("cut/laser/rib_") and like(made, name, 0.1015 * IN)]
    assert len(ribs) == 1 and like(made, ribs[0], 0.1015 * IN) == 2
    assert craft.hub_spec.bolt == pytest.approx(19 / 64 * IN)
    assert craft.hub_spec.pilot == pytest.approx(0.8 * 0.112 * IN)


def test_parts_are_called_as_the_trade_does(made: Output) -> None:
    rows = {row["part"]: row for row in csv.DictReader(made.files["parts.csv"].decode().splitlines())}
    # cap 4 mm, rib and two doublers of 2 mm, nut 0.098 in, a thread of 1 mm: 13.49 mm; cap 4 mm and pilot
    # 2.5 x 0.112 in + 1 mm: 12.1 mm; fan's flange 3 mm, rib and two doublers of 2 mm, nut 0.066 in, 1 mm: 11.68 mm
    assert {name for name in rows if "screw" in name} == {
        "turning cap screw #4-40 x 5/8 in", "fixed cap screw #4-40 x 7/16 in", "screw of fan #2-56 x 1/2 in",
    }  # fmt: skip
    for cap in ("turning cap", "fixed cap"):
        assert f"to {0.225 * IN:.3g} mm at 82 deg" in rows[cap]["notes"]
    assert "pilot holes of 2.28 mm take #4-40 screws" in rows["hub"]["notes"]


def test_masses_by_hand(made: Output) -> None:
    rows = {row["part"]: row for row in csv.DictReader(made.files["mass.csv"].decode().splitlines())}

    def screw(diameter: float, head: float, height: float, length: float) -> float:
        top, bottom = head / 2, diameter / 2
        cone = np.pi * height / 3 * (top**2 + top * bottom + bottom**2)
        return STEEL * IN**3 * (cone + np.pi / 4 * (0.9 * diameter) ** 2 * (length - height))

    def nut(diameter: float, across: float, height: float) -> float:
        return STEEL * IN**3 * height * (np.sqrt(3) / 2 * across**2 - np.pi / 4 * (0.95 * diameter) ** 2)

    no_4 = screw(0.112, 0.225, 0.067, 5 / 8) + nut(0.112, 1 / 4, 0.098)
    no_2 = screw(0.086, 0.172, 0.051, 1 / 2) + nut(0.086, 3 / 16, 0.066)
    for name, grams, count in (
        ("turning cap screw #4-40 x 5/8 in", no_4, 4),
        ("fixed cap screw #4-40 x 7/16 in", screw(0.112, 0.225, 0.067, 7 / 16), 8),
        ("screw of fan #2-56 x 1/2 in", no_2, 2),
    ):
        assert float(rows[name]["mass_one_typical_g"]) == pytest.approx(grams, abs=1e-4)
        assert float(rows[name]["mass_typical_g"]) == pytest.approx(count * grams, abs=1e-3)


def test_the_pages_links_lead_somewhere(made: Output) -> None:
    page = made.files["index.html"].decode()
    places = set(re.findall(r' id="([^"]*)"', page))
    links = set(re.findall(r'href="#([^"]*)"', page))
    assert any("screw_of_fan" in link for link in links) and links <= places
    assert not any(re.search(r"[#/ ]", place) for place in places)


def test_a_cap_too_thin_for_an_inch_head() -> None:
    """A #10's head is 0.116 in, 2.95 mm, and wants 0.5 mm under it."""
    thin = (
        'turning_cap = { stock = "print_petg", thickness = 4',
        'turning_cap = { stock = "print_petg", thickness = 3',
    )
    faults = craft_with(('screw = "M3", count = 4', 'screw = "#10-24", count = 3'), thin).faults
    (fault,) = [one for one in faults if one.path == "pitch.turning_cap.thickness"]
    assert "#10-24 screws' countersunk heads are 2.95 mm high" in fault.wrong and fault.allowed == "at least 3.45 mm"

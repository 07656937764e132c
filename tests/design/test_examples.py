"""The designs that ship, judged by their own words and by closed forms; and the JSON Schema over them."""

from __future__ import annotations

import math
import tomllib
from typing import Any

import numpy as np
import pytest

from geomgen.design import demo, example_path, json_schema, read, read_text, starter_text
from geomgen.design.schema import Design, LengthStock, Place, SheetStock, Spread

NAMES = ("starter", "lantern", "kite_day")


def design_of(name: str) -> Design:
    return read(example_path(name)).design


@pytest.mark.parametrize("name", NAMES)
def test_each_example_and_all_its_options_can_be_read(name: str) -> None:
    file = read(example_path(name))
    assert file.options
    for option in file.options:
        assert read(example_path(name), option).design != file.design


def test_the_demo_is_the_lantern_and_says_that_it_is_invented() -> None:
    assert demo().design == design_of("lantern")
    for name in NAMES:
        assert "invented" in example_path(name).read_text(encoding="utf-8")[:300].lower()


def test_attributes_are_the_keys_and_values_the_house_units() -> None:
    design = design_of("kite_day")
    assert design.rotor.radius == pytest.approx(914.4) and design.rotor.root == pytest.approx(152.4)
    assert (design.rotor.turn, design.rotor.blades, design.units) == ("clockwise", 3, "in")
    assert design.duty.air.temperature == pytest.approx(20.0) and design.duty.payload == pytest.approx(4 * 28.349523125)
    assert design.blade.ribs["inner"].every == pytest.approx(38.1)
    assert design.blade.ribs["outer"].to == Place(name="tip") and design.blade.along[1].at == Place(share=1.0)
    assert design.blade.channel["power"].chord == (0.28, 0.53)
    assert design.blade.channel["power"].height == ("camber", "camber")
    assert design.blade.spar["main"].chord is None and design.main_spar == "main"
    assert design.pitch.range == (0.0, 16.0) and design.pitch.pin.fit == 0.2
    strip = design.stock["balsa_1_16"]
    assert isinstance(strip, SheetStock) and isinstance(strip.areal, Spread) and strip.areal.low < strip.areal.typical
    assert design.blade.along[0].section is not None and design.blade.along[0].section.file == "kite_day_section.dat"


def test_places_become_distances() -> None:
    design = design_of("lantern")
    assert design.r(Place(name="root")) == 130
    assert design.r(Place(name="tip")) == 800 - 18 == design.frame_end  # a rounded tip lies beyond the frame
    assert design.r(Place(share=0.75)) == 600 and design.r(Place(mm=12.5)) == 12.5
    assert design.r(Place(name="hub")) == design.hub.bay.radius
    assert design.r(Place(name="fan")) == design.r(design.fitting["fan"].at)


def test_one_figure_stands_for_all_three() -> None:
    glue = design_of("kite_day").glue
    assert glue is not None and glue.coverage is not None
    assert glue.coverage.typical == pytest.approx(0.55 * 305.151727, rel=1e-6)
    text = starter_text().replace('of   = "balsa" ', 'of   = "balsa"\ndensity = "130 kg/m3" ')
    sheet = read_text(text).design.stock["balsa_3"]
    assert isinstance(sheet, SheetStock) and sheet.density == Spread(130.0, 130.0, 130.0)


def test_the_kite_day_leading_edge_is_straight() -> None:
    """offset = d - 0.25 chord: the leading edge lies d ahead of the feather axis at every entry, so all along."""
    design = design_of("kite_day")
    ahead = [(entry.offset or 0) + design.blade.feather.chord * (entry.chord or 0) for entry in design.blade.along]
    assert ahead == pytest.approx([2 * 25.4] * 2)


def test_the_kite_day_section_is_the_published_equation() -> None:
    """Four-digit equations (NACA Report 460), camber 3.5 % at 40 %, thickness 13.5 %, to the file's last digit."""
    lines = example_path("kite_day").with_name("kite_day_section.dat").read_text(encoding="utf-8").splitlines()
    assert "four-digit equations" in lines[0]
    xy = np.array([[float(figure) for figure in line.split()] for line in lines[1:]])
    nose = int(np.flatnonzero((xy == 0).all(axis=1))[0])
    assert len(xy) == 2 * nose + 1
    x = (1 - np.cos(np.linspace(0, np.pi, nose + 1))) / 2
    half = 5 * 0.135 * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    fore = x < 0.4
    camber = np.where(fore, 0.035 / 0.16 * (0.8 * x - x**2), 0.035 / 0.36 * (0.2 + 0.8 * x - x**2))
    slope = np.where(fore, 0.07 / 0.16 * (0.4 - x), 0.07 / 0.36 * (0.4 - x))
    upper, lower = xy[nose::-1], xy[nose:]
    for side, sign in ((upper, 1), (lower, -1)):
        normal = np.column_stack([-np.sin(np.arctan(slope)), np.cos(np.arctan(slope))])
        assert side == pytest.approx(np.column_stack([x, camber]) + sign * half[:, None] * normal, abs=6e-7)


@pytest.mark.parametrize("name", NAMES)
def test_the_index_holes_stand_side_by_side(name: str) -> None:
    """2 R sin(step/2) >= pin + fit + web on a circle of no more than 60 mm."""
    pitch = design_of(name).pitch
    needed = pitch.pin.diameter + pitch.pin.fit + pitch.pin.web
    least = needed / (2 * math.sin(math.radians(pitch.step / 2)))
    assert least <= (pitch.index_circle or 60)


@pytest.mark.parametrize("name", NAMES)
def test_the_rotor_flies_at_a_sensible_lift(name: str) -> None:
    """Mean lift, T = rho/2 N C_L int (Omega r)^2 c dr, within 30 % of the mass that the design guesses."""
    design = design_of(name)
    r = np.linspace(design.rotor.root, design.rotor.radius, 400) * 1e-3
    places = [design.r(entry.at) * 1e-3 for entry in design.blade.along]
    chord = np.interp(r, places, [(entry.chord or 0) * 1e-3 for entry in design.blade.along])
    speed = design.duty.rpm * 2 * math.pi / 60 * r
    area = float(np.sum((speed**2 * chord)[1:] + (speed**2 * chord)[:-1]) * (r[1] - r[0]) / 2)
    lift = 0.5 * 1.225 * design.rotor.blades * design.duty.lift_coefficient * area
    mass = (design.duty.mass_guess or 0) + design.duty.payload
    assert lift / 9.80665 * 1e3 == pytest.approx(mass, rel=0.3)


@pytest.mark.parametrize("name", NAMES)
def test_spar_tubes_have_a_wall(name: str) -> None:
    design = design_of(name)
    tube = design.stock[design.blade.spar[design.main_spar].stock]
    assert isinstance(tube, LengthStock) and tube.outside is not None and tube.inside is not None
    assert 0.5 <= (tube.outside - tube.inside) / 2 <= 2


def _raw(name: str) -> dict[str, Any]:
    return tomllib.loads(example_path(name).read_text(encoding="utf-8"))


def test_the_json_schema_takes_the_examples_and_refuses_what_we_refuse() -> None:
    jsonschema = pytest.importorskip("jsonschema")
    schema = json_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    judge = jsonschema.Draft202012Validator(schema)
    for name in NAMES:
        assert [error.message for error in judge.iter_errors(_raw(name))] == []
    for path, value in {
        ("rotor", "radiuss"): 3,
        ("rotor", "turn"): "left",
        ("rotor", "radius"): True,
        ("stock", "ply_2", "kind"): "sheat",
        ("pitch", "range"): ["2 deg"],
        ("blade", "channel", "power", "chord"): [0.1, 0.2, 0.3],
    }.items():
        raw = _raw("starter")
        table = raw
        for step in path[:-1]:
            table = table[step]
        table[path[-1]] = value
        assert not judge.is_valid(raw), path


def test_every_key_is_described_and_required_ones_have_an_example() -> None:
    schema = json_schema()
    for table in (schema, *schema["$defs"].values()):
        for key, value in table.get("properties", {}).items():
            assert "description" in value or key == "kind" or "$ref" in value, (table["title"], key)
            if key in table.get("required", ()) and value.get("type") not in ("object", "array") and key != "kind":
                told = "examples" in value or "$ref" in value or "oneOf" in value  # of several kinds: each is told
                assert told, (table["title"], key)

"""Mass of a measure of stock against weighed and listed stock. Sources named beside the figures."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any

import pytest

from geomgen.design.schema import Design
from geomgen.design.schema.table import Reading
from geomgen.errors import DesignError
from geomgen.mass.unit_mass import DESIGN_FILE, of_glue, of_stock, of_wire


def design(**changed: Any) -> Design:
    """The built-in demo with other stocks, wires or glue."""
    raw = tomllib.loads(files("geomgen.design").joinpath("examples/lantern.toml").read_text(encoding="utf-8"))
    raw.pop("option", None)
    raw["stock"] |= changed.pop("stock", {})
    return Design.model_validate(raw | changed, context=Reading(bare="mm"))


def of(**table: Any) -> Any:
    return of_stock(design(stock={"mine": table}), "mine")


# Tubes and rods as listed [mm, g/m]; masses worked out there at 1.55, 8.5, 2.7 and 0.65 g/cm3.
@pytest.mark.parametrize(
    ("material", "outside", "inside", "listed"),
    [
        ("carbon tube", 6, 4, 24.3),
        ("carbon tube", 10, 8, 43.8),
        ("carbon tube", 16, 14, 73.0),
        ("brass", 3.969, 3.258, 34.3),
        ("brass", 3.0, 2.55, 16.7),
        ("aluminium", 6.350, 5.639, 18.1),
        ("hardwood dowel", 6.350, None, 20.6),
    ],
)
def test_tubes_and_rods(material: str, outside: float, inside: float | None, listed: float) -> None:
    figure = of(kind="length", of=material, outside=outside, **({"inside": inside} if inside else {}))
    assert figure.per == "mm"
    assert figure.grams[1] * 1000 == pytest.approx(listed, abs=0.06)
    assert figure.grams[0] < figure.grams[1] < figure.grams[2]
    assert figure.figure.source.startswith(f"catalogue, {material}: ")


def test_carbon_tube_ranges_of_a_second_list() -> None:
    """8 to 12 mm outside: 25 to 55 g/m; 15 to 20 mm: 55 to 110 g/m (a maker's guide to tubes)."""
    for outside, low, high in ((8, 25, 55), (10, 25, 55), (12, 25, 55), (16, 55, 110), (20, 55, 110)):
        grams = of(kind="length", of="carbon tube", outside=outside, inside=outside - 2).grams[1] * 1000
        assert low <= grams <= high


def test_strip() -> None:
    figure = of(kind="length", of="spruce", width=3, height=6, density="440 kg/m3")
    assert figure.grams == pytest.approx((0.00792,) * 3)  # 18 mm2 of 440 kg/m3, by hand 7.92 g/m
    assert figure.across == pytest.approx(18)


def test_sheet_of_a_printed_table() -> None:
    """1/16 x 3 x 36 in at 8 lb/ft3 is 14.17 g; the table prints 14."""
    figure = of(kind="sheet", of="balsa", thickness="1/16 in", density="8 lb/ft3")
    assert figure.per == "mm2"
    assert figure.grams[1] * (3 * 25.4) * (36 * 25.4) == pytest.approx(14.17, abs=0.01)
    assert figure.figure.source == DESIGN_FILE


def test_sheet_by_area_needs_no_thickness() -> None:
    figure = of(kind="sheet", of="foam board", thickness=5, areal=["300 g/m2", "310 g/m2", "330 g/m2"])
    assert figure.grams == pytest.approx((300e-6, 310e-6, 330e-6))
    from_catalogue = of(kind="sheet", of="foam board", thickness=4.8)
    assert from_catalogue.grams[1] * (508 * 762) == pytest.approx(115, abs=0.5)  # one 20 x 30 in sheet, weighed 115 g
    assert from_catalogue.across == 1.0


def test_film_weighs_by_area_whatever_its_thickness() -> None:
    figure = of(kind="sheet", of="polyester film, light", thickness=0.03)
    assert figure.grams[1] == pytest.approx(36e-6)


def test_ply_takes_the_row_of_its_thickness() -> None:
    thin, thick = (of(kind="sheet", of="birch ply", thickness=t) for t in (0.4, 4))
    assert thin.figure.typical == pytest.approx(961) and thick.figure.typical == pytest.approx(660)
    assert thick.grams[1] == pytest.approx(660 * 4e-6)


def test_print_is_taken_as_solid() -> None:
    figure = of(kind="volume", of="PLA, printed", solid="40 %")
    assert figure.per == "mm3" and figure.grams[1] == pytest.approx(1.24e-3)


def test_piece_and_its_doubt() -> None:
    assert of(kind="piece", mass="20 g", plus_minus="10 %").grams == pytest.approx((18, 20, 22))


def test_own_mass_per_length() -> None:
    assert of(kind="length", of="carbon tube", outside=10, inside=8, linear="41 g/m").grams[1] == pytest.approx(0.041)


def test_wire() -> None:
    assert of_wire(design(), "fan").grams == pytest.approx((0.0105,) * 3)


def test_glue_by_kind_and_by_coverage() -> None:
    assert of_glue(design(glue={"kind": "wood glue"})).grams[1] == pytest.approx(186e-6 * 0.475)
    assert of_glue(design(glue={"coverage": "120 g/m2"})).grams == pytest.approx((120e-6,) * 3)


@pytest.mark.parametrize("glue", [None, {"mass": "12 g"}])
def test_no_glue_figure_for_an_area(glue: Any) -> None:
    with pytest.raises(DesignError) as caught:
        of_glue(design(glue=glue))
    assert caught.value.faults[0].path == "glue"


def test_by_area_only_cannot_be_a_length() -> None:
    with pytest.raises(DesignError) as caught:
        of(kind="length", of="foam board", outside=5)
    assert caught.value.faults[0].path == "stock.mine.of"

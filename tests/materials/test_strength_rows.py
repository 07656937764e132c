"""Each strength of the catalogue against rows that were gathered beside it: none is higher, and hardly any is lower.

strength_rows.csv was put together from what its column `source` names, by somebody who didn't write the catalogue. Its
column `tag` says how a row's typical figure came about: R read, R2 read second hand, C computed, M from memory, none
not known. `at` is the density or thickness that it holds for.
"""

from __future__ import annotations

import csv
import pathlib
import subprocess
import sys

import pytest

from geomgen.materials.catalogue import find, names
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property, Strength, unit_of
from geomgen.materials.strength_table import strength_of, strength_table

Row = dict[str, str]
ROWS: list[Row] = list(csv.DictReader(pathlib.Path(__file__).with_name("strength_rows.csv").open(encoding="utf-8")))
ROUNDED = 1.025  # rows are rounded to two digits, 1.74 to 1.7
NEAR = 0.97  # a typical figure is not below this share of its row
LOWER = {  # what is held lower on purpose, and why
    ("birch ply", "shear_across"): "the least of three thicknesses, not that of 4 mm",
    ("extruded polystyrene", "compression"): "10 % strain is no working stress",
    ("expanded polypropylene", "compression"): "25 % strain is no working stress",
    ("glass fibre, pultruded", "bending"): "fails by compression",
    ("acrylic", "tension"): "cracks at notches",
}
DENSITY_UNITS = ("kg/m3", "g/m2")


def strength_at(material: str, at: str) -> Strength:
    """A material at a density or mass per area, or at a thickness; of a ply and a film one is taken where none is."""
    number, _, unit = at.partition(" ")
    if unit in DENSITY_UNITS:
        rho = float(number)
        return strength_of(material, density=Figure(rho, rho, rho, unit, "stated"))
    usual = {"ply": 2.0, "film": 0.03}.get(find(material).kind)
    return strength_of(material, density=None, thickness_mm=float(number) if unit == "mm" else usual)


@pytest.mark.parametrize("row", ROWS, ids=[f"{row['material']} {row['property']} {row['at']}" for row in ROWS])
def test_no_strength_is_higher_than_its_row_and_typical_ones_are_no_lower(row: Row) -> None:
    figure = strength_at(row["material"], row["at"]).figures[Property(row["property"])]
    assert figure.unit == row["unit"]
    known = {end: float(row[end]) for end in ("low", "typical", "high") if row[end]}
    for end, most in known.items():
        assert getattr(figure, end) <= ROUNDED * most, end
    if "typical" not in known:  # a least or a most alone
        assert figure.typical <= ROUNDED * max(known.values())
    if (row["material"], row["property"]) not in LOWER:
        assert "typical" not in known or figure.typical >= NEAR * known["typical"]
        assert "low" not in known or figure.low >= 0.85 * known["low"]


@pytest.mark.parametrize("row", ROWS, ids=[f"{row['material']} {row['property']} {row['at']}" for row in ROWS])
def test_a_source_says_what_was_read_and_what_is_from_memory(row: Row) -> None:
    source = strength_at(row["material"], row["at"]).figures[Property(row["property"])].source
    if row["tag"] in ("M", "none"):
        assert "from memory" in source
    elif row["tag"] in ("R", "R2", "C from R", "C from R2") and (row["material"], row["property"]) not in LOWER:
        assert "read" in source
    if row["tag"].endswith("R2"):
        assert "second hand" in source


def test_what_has_no_row_is_worked_out_or_from_memory() -> None:
    have = {(row["material"], row["property"]) for row in ROWS}
    like = {name: entry["like"] for name, entry in strength_table()["material"].items() if "like" in entry}
    none = []
    for name in names():
        for one, figure in strength_at(name, "").figures.items():
            base = name if (name, one.value) in have else like.get(name, name)
            if (base, one.value) not in have and not figure.source.startswith(("from memory", "worked out")):
                none.append((name, one.value, figure.source))
    assert none == []


@pytest.mark.parametrize("name", names())
def test_every_figure_is_in_order_and_every_gap_says_unpublished(name: str) -> None:
    strength = strength_at(name, "")
    assert strength.name == name
    for one in Property:
        figure = strength.of(one)
        if figure is None:
            assert strength.why_not(one).startswith("unpublished")
            continue
        assert 0 < figure.low <= figure.typical <= figure.high and figure.unit == unit_of(one)
        assert any(word in figure.source for word in ("read", "worked out", "from memory")), figure.source


def test_all_materials_have_a_table_and_all_tables_a_material() -> None:
    assert set(strength_table()["material"]) == set(names())


def test_what_is_not_to_be_counted_on_is_nowhere() -> None:
    """A seller's bending strength of tube, shear of crossed fibres, film at 100 % strain, foam at 10 %, green wood."""

    def most(material: str, one: Property) -> float:
        return strength_at(material, "").figures[one].high

    for tube in ("carbon tube", "carbon, pultruded", "glass fibre, pultruded"):
        assert most(tube, Property.BENDING) <= most(tube, Property.COMPRESSION) < most(tube, Property.TENSION)
        assert most(tube, Property.SHEAR) <= 70
    assert most("polyester film", Property.TENSION) < 200
    assert (
        most("expanded polystyrene", Property.COMPRESSION) < 0.11
        and most("extruded polystyrene", Property.COMPRESSION) < 0.3
    )
    assert strength_at("basswood", "").figures[Property.MODULUS].typical > 9000
    assert strength_at("balsa", "140 kg/m3").figures[Property.BEARING_ACROSS].high < 8 / 4
    assert most("PLA, printed", Property.TENSION_ACROSS) < 60


def test_a_ply_bent_is_stiffer_along_than_stretched_and_softer_across() -> None:
    """Moduli of bent ply are not those of its plane: 1.5 times too stiff along, and across far too soft."""
    ply = strength_of("birch ply", density=None, thickness_mm=1.0).figures
    assert ply[Property.BENDING_MODULUS].typical / ply[Property.MODULUS].typical == pytest.approx(26 / 27 * 3 / 2)
    assert ply[Property.BENDING_MODULUS_ACROSS].typical / ply[Property.MODULUS_ACROSS].typical == pytest.approx(1 / 9)


def test_what_the_maker_states_goes_first_and_unknown_words_have_only_that() -> None:
    own = Figure(30.0, 30.0, 30.0, "MPa", "design file")
    assert strength_of("carbon tube", density=None, own={Property.SHEAR: own}).of(Property.SHEAR) is own
    for word in ("unobtainium", "carbon", None):  # "carbon" is a tube or a rod
        strength = strength_of(word, density=None, own={Property.SHEAR: own})
        assert dict(strength.figures) == {Property.SHEAR: own}
        assert strength.why_not(Property.TENSION).startswith("unpublished")


def test_trade_words_lead_to_the_same() -> None:
    assert strength_of("PETG", density=None).name == "PETG, printed"
    assert strength_of("piano wire", density=None) == strength_of("steel", density=None)


def test_reading_a_design_reads_no_strengths() -> None:
    code = (
        "import sys; from geomgen.design import demo; demo(); "
        "print([name for name in sys.modules if name.startswith('geomgen.materials.strength')])"
    )
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert done.stdout.strip() == "[]"

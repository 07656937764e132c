"""The catalogue: every figure in order and sourced, and in agreement with what has been weighed or published."""

from __future__ import annotations

import pytest

from geomgen.errors import DesignError
from geomgen.materials.catalogue import (
    Figure,
    find,
    find_glue,
    glue_names,
    glue_words,
    known,
    meant,
    meant_glue,
    names,
    words,
)


def figures() -> list[tuple[str, Figure]]:
    found = []
    for name in names():
        material = find(name)
        found += [(name, material.figure), *((f"{name} {t:g} mm", figure) for t, figure in material.by_thickness)]
    for name in glue_names():
        found += [(name, find_glue(name).wet), (name, find_glue(name).dry_share)]
    return found


@pytest.mark.parametrize(("name", "figure"), figures(), ids=lambda v: v if isinstance(v, str) else "")
def test_every_figure_is_in_order_and_says_where_it_is_from(name: str, figure: Figure) -> None:
    assert 0 < figure.low <= figure.typical <= figure.high
    assert figure.unit in ("kg/m3", "g/m2", "-")
    words = ("read", "weighed", "worked out", "from memory", "as the row", "already")
    assert any(word in figure.source for word in words), figure.source


def test_rows_by_thickness_keep_the_unit_and_rise() -> None:
    for name in names():
        material = find(name)
        assert all(figure.unit == material.figure.unit for _, figure in material.by_thickness)
        thicknesses = [t for t, _ in material.by_thickness]
        assert thicknesses == sorted(set(thicknesses))


# Weighed or listed sheets: (material, thickness [mm], mass per area [g/m2]).
# Sources: sheets weighed by modellers (contest balsa, poplar-type and thin birch ply, paper-faced foam board), and a
# birch plywood size list (4, 6.5, 9 mm).
SHEETS = [
    ("balsa", 1.587, 163),
    ("balsa", 2.381, 244),
    ("balsa, light", 1.587, 163),
    ("light ply", 3.175, 1190),
    ("light ply", 3.175, 1083),
    ("birch ply", 0.397, 381),
    ("birch ply", 0.794, 603),
    ("birch ply", 4.0, 2654),
    ("birch ply", 6.5, 4367),
    ("birch ply", 9.0, 6383),
    ("foam board", 4.76, 297),
    ("foam board", 4.76, 295),
]


@pytest.mark.parametrize(("name", "thickness", "areal"), SHEETS)
def test_weighed_sheets_lie_in_the_band(name: str, thickness: float, areal: float) -> None:
    figure = find(name).at_thickness(thickness)
    times = thickness if figure.unit == "kg/m3" else 1.0
    assert figure.low * times * 0.995 <= areal <= figure.high * times * 1.005


# Published densities [kg/m3] with the tolerance they are worth: woods 20 %, foams and prints 30 %, metals 2 %.
# Sources: Wood Handbook values at 12 % moisture (specific gravity x 1.12), extension timber table, alloy data pages,
# printing material pages, a sandwich panel core sheet.
PUBLISHED = [
    ("balsa", 160, 0.20),
    ("balsa", 130, 0.20),
    ("spruce", 432, 0.20),
    ("spruce", 0.40 * 1120, 0.20),
    ("basswood", 0.37 * 1120, 0.20),
    ("birch", 0.55 * 1120, 0.20),
    ("birch", 0.62 * 1120, 0.20),
    ("douglas fir", 545, 0.20),
    ("birch ply", 680, 0.20),
    ("extruded polystyrene", 33, 0.30),
    ("expanded polypropylene", 20.8, 0.30),
    ("PLA, printed", 1240, 0.30),
    ("PETG, printed", 1270, 0.30),
    ("aluminium", 2700, 0.02),
    ("steel", 7850, 0.02),
    ("steel", 7870, 0.02),
    ("copper", 8890, 0.02),
    ("carbon tube", 1550, 0.05),
]


@pytest.mark.parametrize(("name", "density", "tolerance"), PUBLISHED)
def test_typical_densities_agree_with_published_ones(name: str, density: float, tolerance: float) -> None:
    found = find(name).density
    assert found is not None
    assert found.typical == pytest.approx(density, rel=tolerance)


def test_thickness_runs_straight_between_rows_and_holds_beyond() -> None:
    ply = find("birch ply")
    rows = dict(ply.by_thickness)
    assert ply.at_thickness(0.4) == rows[0.4] == ply.at_thickness(0.1)
    assert ply.at_thickness(12) == rows[9.0]
    middle = ply.at_thickness(2.4)
    assert middle.typical == pytest.approx((rows[0.8].typical + rows[4.0].typical) / 2)
    assert middle.low == pytest.approx((rows[0.8].low + rows[4.0].low) / 2)
    assert rows[0.8].source in middle.source and rows[4.0].source in middle.source
    assert ply.at_thickness(4.0).typical == rows[4.0].typical


def test_what_is_known_by_area_has_no_density() -> None:
    film = find("polyester film, light")
    assert film.density is None
    assert film.at_thickness(0.02) is film.figure


def test_glue_is_weighed_dry() -> None:
    """Wood glue: 200 to 300 ft2 a gallon at 1.1 g/cm3 is 149 to 224 g/m2 wet; 45 to 50 % of it stays."""
    gallon_g, foot2 = 3785.41 * 1.1, 0.3048**2
    glue = find_glue("wood glue")
    assert glue.wet.low == pytest.approx(gallon_g / (300 * foot2), abs=0.6)
    assert glue.wet.high == pytest.approx(gallon_g / (200 * foot2), abs=0.6)
    assert glue.dry.low == pytest.approx(0.45 * glue.wet.low)
    assert glue.dry.high == pytest.approx(0.50 * glue.wet.high)
    assert glue.dry_share.source in glue.dry.source
    assert find_glue("epoxy").dry == find_glue("epoxy").wet


@pytest.mark.parametrize(
    ("asked", "meant"), [("foam bord", "foam board"), ("balsaa", "balsa"), ("PETG, printd", "PETG, printed")]
)
def test_a_near_miss_is_named(asked: str, meant: str) -> None:
    with pytest.raises(DesignError) as caught:
        find(asked, "stock.sheet.of")
    (fault,) = caught.value.faults
    assert fault.path == "stock.sheet.of" and fault.value == f'"{asked}"'
    assert f'"{meant}"' in fault.remedy


@pytest.mark.parametrize(
    ("asked", "meant"), [("Balsa", "balsa"), ("PETG printed", "PETG, printed"), ("petg", "PETG, printed"),
    ("piano wire", "steel"), ("XPS", "extruded polystyrene"), ("EPS", "expanded polystyrene")]
)  # fmt: skip
def test_the_trades_words_are_known_in_any_case(asked: str, meant: str) -> None:
    material = find(asked)
    assert material.name == meant and known(asked) is material


@pytest.mark.parametrize(
    ("asked", "meant"), [("pva", "wood glue"), ("CA", "cyanoacrylate"), ("PU", "polyurethane glue")]
)
def test_the_trades_words_for_glues_are_known(asked: str, meant: str) -> None:
    assert find_glue(asked).name == meant


def test_a_word_for_several_is_refused_with_the_choice() -> None:
    assert meant("plywood") == ("birch ply", "light ply") and known("plywood") is None
    with pytest.raises(DesignError) as caught:
        find("plywood")
    assert caught.value.faults[0].allowed == 'one of "birch ply", "light ply"'


def test_no_other_word_hides_a_name() -> None:
    """What a word means is what its table says, and no name of the catalogue is another one's word."""
    for name in names():
        assert meant(name) == (name,)
    for name in glue_names():
        assert meant_glue(name) == (name,)
    assert len(words()) > len(names()) and all(meant(word) for word in words())
    assert all(meant_glue(word) for word in glue_words())


def test_a_far_miss_lists_what_there_is() -> None:
    with pytest.raises(DesignError) as caught:
        find_glue("zzz", "glue.kind")
    assert all(name in caught.value.faults[0].allowed for name in glue_names())


def test_materials_asked_for_are_there() -> None:
    wanted = {
        "balsa", "spruce", "basswood", "birch", "birch ply", "light ply", "extruded polystyrene",
        "expanded polypropylene", "foam board", "card", "carbon tube", "carbon, pultruded", "hardwood dowel",
        "aluminium", "brass", "steel", "copper", "PLA, printed", "PETG, printed", "ABS, printed", "PA12, printed",
    }  # fmt: skip
    assert wanted <= set(names())
    assert {"wood glue", "cyanoacrylate", "epoxy", "spray adhesive", "contact adhesive"} <= set(glue_names())

"""Balsa, woods, foams and films by density, against hand calculations and what was measured."""

from __future__ import annotations

import pytest

from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property
from geomgen.materials.strength_table import strength_of


def at(density: float, unit: str = "kg/m3") -> Figure:
    return Figure(density, density, density, unit, "stated")


KSI, PSI = 6.894757, 6.894757e-3  # [MPa]


@pytest.mark.parametrize("rho", [80.0, 103.0, 140.0, 200.0])
def test_balsa_by_the_functions_of_a_technical_manual(rho: float) -> None:
    """TM 5-852-4 table 2-2: E 2800 G ksi, crushing 12 200 G psi, bending 25 700 G^1.25 psi, across 4630 G^2.25 psi; G
    is oven-dry mass on volume at 12 % moisture, so that air-dry density is 1120 G kg/m3."""
    g = rho / 1120.0
    figures = strength_of("balsa", density=at(rho)).figures
    assert figures[Property.MODULUS].typical == pytest.approx(2800 * KSI * g, rel=2e-3)
    assert figures[Property.COMPRESSION].typical == pytest.approx(12_200 * PSI * g, rel=2e-3)
    assert figures[Property.BENDING].typical == pytest.approx(25_700 * PSI * g**1.25, rel=2e-3)
    assert figures[Property.COMPRESSION_ACROSS].typical == pytest.approx(4630 * PSI * g**2.25, rel=2e-3)
    assert figures[Property.SHEAR].typical == pytest.approx(2.1 * rho / 160, rel=3e-3)  # 2.1 MPa at 160 kg/m3


# three test sets of tropical timber data at a mean of 160 kg/m3 air dry: modulus [MPa], crushing, bending
TESTED = ((3170, 15.51, 22.75), (2930, 8.96, 14.62), (3790, 11.72, 19.31))


@pytest.mark.parametrize("row", TESTED)
def test_three_read_test_sets_of_balsa_lie_in_the_band(row: tuple[float, ...]) -> None:
    figures = strength_of("balsa", density=at(160.0)).figures
    for one, value in zip((Property.MODULUS, Property.COMPRESSION, Property.BENDING), row, strict=True):
        assert figures[one].low <= value <= 1.01 * figures[one].high, one
    crushing = sum(each[1] for each in TESTED) / 3
    assert figures[Property.COMPRESSION].typical == pytest.approx(crushing, rel=0.01)


def test_a_measured_sheet_lies_in_the_band() -> None:
    """A sheet of 75.3 kg/m3, bent: 1103 MPa."""
    modulus = strength_of("balsa, light", density=at(75.3)).figures[Property.MODULUS]
    assert modulus.low < 1103 < modulus.typical


def test_the_low_end_goes_with_the_low_end_of_density() -> None:
    """0.65 and 1.45 times 0.0751 rho [MPa], and (rho / 1120)^2.25, at 80, 140 and 240 kg/m3."""
    figures = strength_of("balsa", density=Figure(80.0, 140.0, 240.0, "kg/m3", "")).figures
    crush, across = figures[Property.COMPRESSION], figures[Property.COMPRESSION_ACROSS]
    assert (crush.low, crush.typical, crush.high) == pytest.approx((3.905, 10.514, 26.13), rel=1e-3)
    assert (across.low, across.high) == pytest.approx((0.0505, 1.994), rel=2e-3)
    assert strength_of("balsa", density=None).figures[Property.COMPRESSION] == crush  # the catalogue's band


@pytest.mark.parametrize(("material", "rho"), [("spruce", 400.0), ("birch", 650.0)])
def test_a_pin_along_the_grain_by_the_timber_code(material: str, rho: float) -> None:
    """EN 1995-1-1: 0.082 (1 - 0.01 d) rho for a pin of 3 mm."""
    bearing = strength_of(material, density=at(rho)).figures[Property.BEARING]
    assert bearing.typical == pytest.approx(0.082 * 0.97 * rho, rel=2e-3)
    assert bearing.low <= bearing.typical


def test_a_pin_across_softwood_by_the_timber_code() -> None:
    """The same over 1.35 + 0.015 d."""
    across = strength_of("spruce", density=at(400.0)).figures[Property.BEARING_ACROSS]
    assert across.typical == pytest.approx(0.082 * 0.97 * 400 / 1.395, rel=2e-3)


def test_foam_runs_straight_between_rows_and_holds_beyond() -> None:
    """ASTM D6817, stress at 1 % strain [MPa]: 0.025 at 14.4 and 0.040 at 18.4 kg/m3; 0.015 at 11.2, 0.075 at 28.8."""

    def eps(rho: float) -> float:
        return strength_of("EPS", density=at(rho)).figures[Property.COMPRESSION].low

    assert eps(16.4) == pytest.approx((0.025 + 0.040) / 2)
    assert eps(14.4) == pytest.approx(0.025)
    assert (eps(8.0), eps(40.0)) == pytest.approx((0.015, 0.075))


def test_lighter_foam_is_weaker_in_everything() -> None:
    light, heavy = (strength_of("XPS", density=at(rho)).figures for rho in (22.0, 34.0))
    assert all(light[one].low < heavy[one].low and light[one].typical < heavy[one].typical for one in heavy)


@pytest.mark.parametrize(
    ("material", "grams", "polyester"),
    [("polyester film, bare", 12.0, 1.0), ("laminating film", 24.0, 1.0), ("covering film", 61.0, 0.6)],
)
def test_film_is_polyester_of_1380_and_its_glue_carries_nothing(material: str, grams: float, polyester: float) -> None:
    """Thickness is what of the mass is polyester over 1380 kg/m3; 4500 MPa, and 100 MPa at 5 % strain."""
    film = strength_of(material, density=at(grams, "g/m2")).figures
    thick_mm = polyester * grams / 1380.0
    assert film[Property.WIDTH_STIFFNESS].typical == pytest.approx(4500 * thick_mm, rel=2e-3)
    assert film[Property.WIDTH_TENSION].typical == pytest.approx(100 * thick_mm, rel=2e-3)


def test_film_known_by_thickness() -> None:
    film = strength_of("PET film", density=None, thickness_mm=0.02).figures
    assert film[Property.WIDTH_STIFFNESS].typical == pytest.approx(4500 * 0.02)
    assert film[Property.WIDTH_TENSION].low == pytest.approx(80 * 0.02) and film[Property.WIDTH_TENSION].unit == "N/mm"


def test_a_sheet_known_by_its_mass_for_each_area_has_that_over_its_thickness() -> None:
    """213 g/m2 over 1.5 mm is 142 kg/m3."""
    sheet = strength_of("balsa", density=at(213.0, "g/m2"), thickness_mm=1.5)
    assert sheet.figures[Property.MODULUS].typical == pytest.approx(17.24 * 142)


def test_film_whose_density_is_stated_has_that_times_its_thickness() -> None:
    """1200 kg/m3 of 0.02 mm is 24 g/m2."""
    film = strength_of("laminating film", density=at(1200.0), thickness_mm=0.02)
    assert film.figures[Property.WIDTH_STIFFNESS].typical == pytest.approx(4500 * 24 / 1380, rel=2e-3)


def test_board_by_its_papers_bends_as_the_sandwich_form_says() -> None:
    """D = E t_f d^2 / 2 with paper of 0.12 mm at 3000 MPa, and 15 MPa at failure: 4.8 mm board 3942 N mm2/mm and
    8.4 N mm/mm, worked out beside the catalogue."""
    board = strength_of("foam board", density=None, thickness_mm=4.8).figures
    apart = 4.8 - 0.12
    assert board[Property.WIDTH_STIFFNESS].typical * apart**2 / 2 == pytest.approx(3942, rel=2e-3)
    assert board[Property.WIDTH_TENSION].typical * apart == pytest.approx(8.4, rel=5e-3)

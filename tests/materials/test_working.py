"""What a material lets be done with it, against published tables and closed forms; and a source on every figure."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geomgen.materials.catalogue import Figure, Grain, find, find_glue, glue_names, names

# AC 43.13-1B table 1-2, least bend radii of aircraft plywood as printed, all in inches:
# thickness, plies, dry at 90 deg to face grain, dry at 0 or 45, soaked in hot water at 90, soaked at 0 or 45.
TABLE_1_2 = [
    (0.035, 3, 2.0, 1.1, 0.5, 0.1),
    (0.070, 3, 5.2, 3.2, 1.5, 0.4),
    (0.100, 3, 8.6, 5.2, 2.6, 0.8),
    (0.125, 3, 12.0, 7.1, 3.8, 1.2),
    (0.155, 3, 16.0, 10.0, 5.3, 1.8),
    (0.185, 3, 20.0, 13.0, 7.1, 2.6),
    (0.160, 5, 17.0, 11.0, 6.0, 2.0),
    (0.190, 5, 21.0, 14.0, 7.0, 3.0),
    (0.225, 5, 27.0, 17.0, 10.0, 4.0),
    (0.250, 5, 31.0, 20.0, 12.0, 5.0),
    (0.315, 5, 43.0, 28.0, 16.0, 7.0),
    (0.375, 5, 54.0, 36.0, 21.0, 10.0),
]
TAKEN = [row for row in TABLE_1_2 if row[:2] != (0.160, 5)]  # the 3-ply rows run past that thickness
COLUMNS: list[tuple[Grain, bool, int]] = [
    ("round", False, 2),
    ("along", False, 3),
    ("round", True, 4),
    ("along", True, 5),
]
BENDS: list[tuple[Grain | None, bool]] = [
    (grain, soaked) for grain in ("round", "along", None) for soaked in (False, True)
]
SOURCED = ("read", "worked out", "from memory")


def radius(name: str, thickness_mm: float, grain: Grain | None, soaked: bool = False) -> Figure:
    figure = find(name).bend(thickness_mm, grain, soaked)
    assert figure is not None
    return figure


def working_figures() -> list[tuple[str, Figure]]:
    found = []
    for name in names():
        material = find(name)
        bends = [material.bend(t, grain, soaked) for t in (0.4, 3.0, 8.0) for grain, soaked in BENDS]
        found += [(name, f) for f in (*bends, material.stretch, material.scarf) if f is not None]
    return found


def test_every_figure_is_in_order_and_says_where_it_is_from() -> None:
    for name, figure in working_figures():
        assert 0 < figure.low <= figure.typical <= figure.high, (name, figure)
        assert any(word in figure.source for word in SOURCED), (name, figure.source)
    for name in names():
        material = find(name)
        assert material.stretch is None or material.stretch.unit == "%"
        assert material.scarf is None or material.scarf.unit == "-"


@pytest.mark.parametrize(("grain", "soaked", "column"), COLUMNS)
@pytest.mark.parametrize("row", TAKEN, ids=lambda row: f"{row[0]} in")
def test_plywood_bends_as_the_table_says(row: tuple[float, ...], grain: Grain, soaked: bool, column: int) -> None:
    """The larger printed radius, "at 90 degrees to face grain", is for face grain round the bend."""
    figure = radius("birch ply", row[0] * 25.4, grain, soaked)
    assert figure.unit == "mm"
    assert figure.typical == pytest.approx(row[column] * 25.4, rel=1e-9)
    heading = "at 90 degrees to face grain" if grain == "round" else "0 or 45 degrees to face grain"
    assert "AC 43.13-1B table 1-2" in figure.source and heading in figure.source
    assert ("soaked" in figure.source) is soaked


def test_the_row_left_out_is_near_what_is_made_of_the_others() -> None:
    """AC 43.13-1B table 1-2, 5 plies of 0.160 in: 17 and 11 in dry, 6 and 2 in soaked."""
    for (grain, soaked, column), within in zip(COLUMNS, (0.05, 0.05, 0.08, 0.20), strict=True):
        (row,) = (row for row in TABLE_1_2 if row[:2] == (0.160, 5))
        assert radius("birch ply", 0.160 * 25.4, grain, soaked).typical == pytest.approx(row[column] * 25.4, rel=within)


def test_radius_over_thickness_runs_straight_between_rows_and_holds_beyond() -> None:
    middle = (0.070 + 0.100) / 2 * 25.4
    assert radius("birch ply", middle, "round").typical == pytest.approx((5.2 / 0.070 + 8.6 / 0.100) / 2 * middle)
    assert radius("birch ply", middle, "along").typical == pytest.approx((3.2 / 0.070 + 5.2 / 0.100) / 2 * middle)
    assert radius("birch ply", 0.4, "round").typical == pytest.approx(2.0 / 0.035 * 0.4)
    assert radius("birch ply", 12.0, "along").typical == pytest.approx(36 / 0.375 * 12.0)


def test_with_the_grain_along_the_axis_a_sheet_takes_the_tighter_bend() -> None:
    """A construction plywood list (APA) orders them alike: 610 mm across the grain, 1524 mm along it, at 1/4 in."""
    for name in ("birch ply", "light ply", "balsa"):
        for thickness in (0.8, 1.5, 3.0, 6.0):
            assert radius(name, thickness, "along").typical < radius(name, thickness, "round").typical
            assert find(name).bend(thickness, None) == find(name).bend(thickness, "round")
    assert radius("birch ply", 1.5, "along").high == pytest.approx(radius("birch ply", 1.5, "round").typical)
    assert radius("birch ply", 1.5, "along", soaked=True).high < radius("birch ply", 1.5, "round").typical


@given(st.floats(0.2, 15.0), st.floats(0.01, 2.0))
def test_a_thicker_sheet_wants_a_larger_radius(thickness: float, more: float) -> None:
    for name in ("birch ply", "light ply", "balsa", "acrylic"):
        for grain in ("round", "along"):
            thin, thick = radius(name, thickness, grain), radius(name, thickness + more, grain)
            assert thin.low < thick.low and thin.typical < thick.typical and thin.high < thick.high


def test_soaking_makes_plywood_bend_tighter() -> None:
    for name in ("birch ply", "light ply"):
        for thickness in (0.4, 0.8, 2.0, 4.75, 8.0):
            for grain in ("round", "along"):
                assert radius(name, thickness, grain, soaked=True).typical < radius(name, thickness, grain).typical


def test_balsa_round_the_grain_bends_to_its_breaking_strain() -> None:
    """R = t / (2 e) at e = 1.2 % elongation: 41.7 t. A builder calls 42 mm of diameter too tight for 1/8 in, dry."""
    figure = radius("balsa", 2.0, "round")
    assert figure.typical / 2.0 == pytest.approx(1 / (2 * 0.012), rel=0.01)
    assert figure.typical / 2.0 >= 1 / (2 * 0.012)
    eighth = 25.4 / 8
    assert radius("balsa", eighth, "round").low > 42 / 2
    assert "from memory" in radius("balsa", 2.0, "along").source
    assert find("balsa").bend(2.0, "round", soaked=True) is None and "unpublished" in find("balsa").bend_note


def test_cold_plates_bend_as_published_and_have_no_grain() -> None:
    """Pages on bending plastics cold: acrylic 330 t, impact grade 240 t; plastics in general 100 t up to 3 mm."""
    acrylic = radius("acrylic", 2.0, None)
    assert (acrylic.low, acrylic.typical) == (480, 660)
    assert find("acrylic").bend(2.0, "along") == acrylic == find("acrylic").bend(2.0, "round")
    assert radius("polycarbonate", 3.0, None).typical == 300
    assert find("polycarbonate").bend(4.0, None) is None
    assert "unpublished" in find("polycarbonate").bend_note


@pytest.mark.parametrize("name", names())
def test_where_no_bend_is_known_the_catalogue_says_so(name: str) -> None:
    material = find(name)
    assert material.bend_note
    known = [material.bend(2.0, grain) is not None for grain in ("round", "along", None)]
    assert all(known) or not any(known)
    assert known[0] or material.bend_note.startswith("unpublished")


def test_foams_and_foam_board_have_no_published_bend() -> None:
    for name in ("foam board", "extruded polystyrene", "expanded polystyrene", "expanded polypropylene"):
        for grain, soaked in BENDS:
            assert find(name).bend(3.0, grain, soaked) is None
        assert find(name).scarf is None and find(name).stretch is not None


@pytest.mark.parametrize("name", names())
def test_every_material_has_a_laser_verdict_with_a_reason(name: str) -> None:
    laser = find(name).laser
    assert laser.verdict in ("yes", "ask", "no")
    assert laser.reason
    assert any(word in laser.source for word in SOURCED), laser.source


# Laser shops' lists (six of them; woods and acrylic from two): what is cut, what isn't, and where they disagree.
LASER = [
    ("balsa", "yes", ""),
    ("basswood", "yes", ""),
    ("card", "yes", ""),
    ("acrylic", "yes", "cast"),
    ("birch ply", "ask", "glue fumes"),
    ("foam board", "ask", "polystyrene"),
    ("extruded polystyrene", "no", "fire"),
    ("expanded polystyrene", "no", "fire"),
    ("expanded polypropylene", "no", "fire"),
    ("polyester covering film", "no", "fire"),
    ("carbon, pultruded", "no", "fumes"),
    ("carbon tube", "no", "fumes"),
    ("glass fibre, pultruded", "no", "glass"),
    ("ABS, printed", "no", "hydrogen cyanide"),
    ("polycarbonate", "no", "burns"),
]


@pytest.mark.parametrize(("name", "verdict", "word"), LASER)
def test_lasers_are_as_the_shops_say(name: str, verdict: str, word: str) -> None:
    laser = find(name).laser
    assert laser.verdict == verdict
    assert word in laser.reason
    assert "read" in laser.source
    assert "chlorine" not in laser.reason  # said of polycarbonate by two lists; the polymer has none


def test_metals_are_for_a_metal_shop() -> None:
    for name in ("aluminium", "brass", "steel", "stainless steel", "copper"):
        assert find(name).laser.verdict == "no" and find(name).laser.source == "from memory"


def test_scarfs_of_wood_and_ply_are_one_in_twelve() -> None:
    """AC 43.13-1B 1-51c (plywood, the steepest permitted) and the Wood Handbook chapter 10 (solid wood): 1 in 12."""
    for name, source in (("birch ply", "AC 43.13-1B 1-51c"), ("spruce", "Wood Handbook"), ("balsa", "Wood Handbook")):
        scarf = find(name).scarf
        assert scarf is not None and scarf.typical == 12 and scarf.low == 8
        assert source in scarf.source
    for name in ("carbon tube", "foam board", "expanded polystyrene", "polyester film", "aluminium", "PLA, printed"):
        assert find(name).scarf is None
    jointed = {find(name).kind for name in names() if find(name).scarf is not None}
    assert jointed == {"wood", "ply"}


def test_stretch_stays_below_breaking_and_films_take_most() -> None:
    """Balsa breaks at 1.2 % along the grain, its tension data say; a covering film shrinks some per cent."""
    stretch = {name: figure for name in names() if (figure := find(name).stretch) is not None}
    assert stretch["balsa"].high < 1.2
    wrapped = (
        "balsa",
        "birch ply",
        "light ply",
        "card",
        "foam board",
        "extruded polystyrene",
        "expanded polypropylene",
    )
    assert all(stretch[name].typical < stretch["polyester covering film"].typical for name in wrapped)
    assert stretch["birch ply"].typical < stretch["balsa"].typical < stretch["extruded polystyrene"].typical


def test_glues_that_melt_foam_say_so() -> None:
    """Paper-faced foam board: superglue and solvent glues melt it. Sheeting to foam held by epoxy and polyurethane."""
    melting = {name for name in glue_names() if find_glue(name).melts_foam}
    assert melting == {"cyanoacrylate", "spray adhesive", "contact adhesive"}
    for name in melting:
        assert "read" in find_glue(name).foam_source
        assert not find_glue(f"{name}, for foam").melts_foam
    for name in glue_names():
        assert any(word in find_glue(name).foam_source for word in SOURCED)

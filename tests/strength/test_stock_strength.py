"""What the stocks of a design stand: by their density as they are weighed, their maker's own first; prints by walls."""

from __future__ import annotations

import itertools
import math

import pytest

from geomgen.design import Design, demo, read_text, starter_text
from geomgen.materials.print_strength import FATIGUE, STEADY, print_heat, strength_share
from geomgen.materials.strength import Property, Strength
from geomgen.strength.stock_strength import print_share, stock_strength


def starter(*edits: tuple[str, str]) -> Design:
    text = starter_text()
    for old, new in edits:
        assert text.count(old) == 1
        text = text.replace(old, new)
    return read_text(text).design


def test_every_stock_of_the_demo_is_known() -> None:
    design = demo().design
    for name in design.stock:
        strength = stock_strength(design, name)
        assert isinstance(strength, Strength) and strength.figures


def test_a_stocks_own_density_governs() -> None:
    """0.0751 rho: at 130 kg/m3 9.763 MPa typical, 0.65 and 1.45 of it at the ends."""
    design = starter(('of   = "balsa" ', 'density = "130 kg/m3"\nof   = "balsa" '))
    crushing = stock_strength(design, "balsa_3").figures[Property.COMPRESSION]
    assert (crushing.low, crushing.typical, crushing.high) == pytest.approx((6.346, 9.763, 14.156), rel=1e-3)


def test_a_mass_for_each_area_or_length_is_a_density_too() -> None:
    """420 g/m2 over 3 mm is 140 kg/m3; 4 g/m over 4 mm by 8 mm is 125 kg/m3."""
    design = starter(('of   = "balsa" ', 'areal = "420 g/m2"\nof   = "balsa" '))
    assert stock_strength(design, "balsa_3").figures[Property.MODULUS].typical == pytest.approx(17.24 * 140)
    strip = '[stock.strip]\nkind = "length"\nof = "balsa"\nwidth = 4\nheight = 8\nlinear = "4 g/m"\n[stock.steel_rod_3]'
    design = starter(("[stock.steel_rod_3]", strip))
    assert stock_strength(design, "strip").figures[Property.MODULUS].low == pytest.approx(0.65 * 17.24 * 125)


def test_ply_by_its_thickness() -> None:
    """2 mm: 5 equal veneers, 3 of them along: 0.6 of 75 MPa."""
    assert stock_strength(starter(), "ply_2").figures[Property.TENSION].typical == pytest.approx(45.0)


OWN = 'strength = { tension = "1.2 GPa", shear = ["38 MPa", "40 MPa", "5.8 ksi"], modulus = "120 GPa" }\n'


def test_what_the_maker_states_goes_before_the_catalogue() -> None:
    """5.8 ksi is 39.99 MPa: out of order with nothing; 1.2 GPa is 1200 MPa."""
    design = starter(('of      = "carbon tube"', OWN.replace("5.8", "6.5") + 'of      = "carbon tube"'))
    own, usual = stock_strength(design, "carbon_tube_8"), stock_strength(starter(), "carbon_tube_8")
    tension, shear = own.figures[Property.TENSION], own.figures[Property.SHEAR]
    assert (tension.low, tension.typical, tension.high) == (1200.0, 1200.0, 1200.0)
    assert (shear.low, shear.typical) == (38.0, 40.0) and shear.high == pytest.approx(6.5 * 6.894757, rel=1e-6)
    assert tension.source == shear.source == "design file" and tension.unit == "MPa"
    same = set(usual.figures) - {Property.TENSION, Property.SHEAR, Property.MODULUS}
    assert same and all(own.figures[one] == usual.figures[one] for one in same)


def test_what_the_catalogue_does_not_know_has_what_its_maker_states() -> None:
    stock = '[stock.odd]\nkind = "sheet"\nof = "unobtainium"\nthickness = 2\ndensity = "900 kg/m3"\n'
    design = starter(("[stock.steel_rod_3]", f'{stock}strength = {{ peel = "0.4 N/mm" }}\n[stock.steel_rod_3]'))
    odd = stock_strength(design, "odd")
    assert list(odd.figures) == [Property.PEEL] and odd.figures[Property.PEEL].unit == "N/mm"
    assert odd.why_not(Property.TENSION).startswith("unpublished")


def test_pieces_are_known_by_what_they_are_of_or_not_at_all() -> None:
    piece = '[stock.bit]\nkind = "piece"\nmass = "3 g"\n[stock.steel_rod_3]'
    assert stock_strength(starter(("[stock.steel_rod_3]", piece)), "bit").figures == {}


SOLID = 'solid = "45 %"'
PRINT = "print = { walls = 3, top = 4, bottom = 4, infill = %s }"


@pytest.mark.parametrize(("infill", "share"), [(0.15, 0.47), (0.2, 0.49), (0.4, 0.58), (0.6, 0.68), (1.0, 0.94)])
def test_share_of_strength_of_a_printed_bar(infill: float, share: float) -> None:
    """20 by 6 mm with 3 walls of 0.45 mm and 1 mm skins: w 0.423, worked out beside the product to two digits."""
    walls = 1 - (20 - 2.7) * (6 - 2) / 120
    assert strength_share(walls, infill, "").typical == pytest.approx(share, abs=0.006)


@pytest.mark.parametrize(("wall", "w"), [(2.0, 1.0), (2.7, 1.0), (5.4, 0.5), (10.8, 0.25)])
def test_walls_of_a_print_by_its_lines(wall: float, w: float) -> None:
    """3 lines of 0.45 mm on either face, 20 % infill: w + (1 - w) 0.2 (0.5 + 0.08); ends 15 % below, 10 % above."""
    design = starter((SOLID, PRINT % '"20 %"'))
    share, hand = print_share(design, "print_petg", wall), w + (1 - w) * 0.116
    assert share.typical == pytest.approx(hand) and share.unit == "-"
    assert (share.low, share.high) == pytest.approx((0.85 * hand, min(1.1 * hand, 1.0)))
    across = print_share(design, "print_petg", wall, across=True)
    assert across.typical == pytest.approx(w)  # infill holds no layers together


def test_a_print_of_which_only_its_plastic_is_known() -> None:
    """45 % solid; 3 lines of 0.45 mm a face are half of 5.4 mm, more than all of it: nothing inside. Of 10.8 mm they
    are a quarter, and what is left of 0.45 fills (0.45 - 0.25) / 0.75 of the rest."""
    design = starter()
    assert print_share(design, "print_petg", 5.4).typical == pytest.approx(0.5)
    f = (0.45 - 0.25) / 0.75
    share = print_share(design, "print_petg", 10.8)
    assert share.typical == pytest.approx(0.25 + 0.75 * f * (0.5 + 0.4 * f))
    assert "taken for its walls" in share.source


def test_shares_lie_between_nothing_and_all_and_fall_with_thickness() -> None:
    design = starter((SOLID, PRINT % '"0 %"'))
    shares = [print_share(design, "print_petg", wall) for wall in (1.0, 3.0, 6.0, 12.0, 50.0)]
    assert all(0 < each.low <= each.typical <= each.high <= 1 for each in shares)
    assert [each.typical for each in shares] == sorted((each.typical for each in shares), reverse=True)


@pytest.mark.parametrize("across", [False, True])
@pytest.mark.parametrize("infill", [0, 20, 60, 100])
def test_a_thicker_wall_never_carries_less(infill: int, across: bool) -> None:
    """What a wall carries by width is its share times its thickness: more plastic, no less of it."""
    design = starter((SOLID, PRINT % f'"{infill} %"'))
    walls = (1.0, 2.7, 3.0, 6.0, 12.0, 50.0)
    shares = [print_share(design, "print_petg", wall, across=across) for wall in walls]
    for end in ("low", "typical", "high"):
        carried = [getattr(share, end) * wall for share, wall in zip(shares, walls, strict=True)]
        assert all(more >= less - 1e-9 for less, more in itertools.pairwise(carried)), end


def test_sheets_have_all_of_their_strength() -> None:
    share = print_share(starter(), "ply_2", 3.0)
    assert (share.low, share.typical, share.high) == (1.0, 1.0, 1.0)


def test_where_prints_soften() -> None:
    """Data sheet of a filament: PLA 52 degC under 1.8 MPa, 57.8 under 0.45, glass 60.6; no PETG above 65 (memory)."""
    pla, petg = print_heat("PLA"), print_heat("PETG, printed")
    assert pla is not None and petg is not None and (pla.unit, pla.low) == ("degC", 52) and pla.high <= 60.6
    assert petg.low <= 65 and print_heat("balsa") is None and print_heat("unobtainium") is None


def test_what_steady_loads_and_many_of_them_leave() -> None:
    """From memory: 0.2 to 0.4, and 0.15 to 0.35."""
    assert (STEADY.low, STEADY.typical, STEADY.high) == (0.2, 0.3, 0.4)
    assert (FATIGUE.low, FATIGUE.typical, FATIGUE.high) == (0.15, 0.25, 0.35)
    assert "from memory" in STEADY.source and "from memory" in FATIGUE.source


def test_defaults_of_the_keys() -> None:
    text = starter_text()
    bare = text.replace("factor = 3 ", "# ").replace('run_up = "3 s" ', "# ")
    for design in (read_text(text).design, read_text(bare).design):
        assert (design.strength.factor, design.strength.run_up, design.hub.layers) == (3.0, 3.0, "flat")
        assert design.fan["small"].speed is None
    assert math.isclose(starter(("centre = 20 ", "speed = 42000\ncentre = 20 ")).fan["small"].speed or 0, 42000)

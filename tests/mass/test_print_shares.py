"""A print by its slices: the lines of the statement, what one weighed print does to all, amounts and the bill."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from mass_by_hand import Exact, design, part

from geomgen.craft import Craft
from geomgen.design.schema import Design, Print, WeighedPrint
from geomgen.design.schema.table import Reading
from geomgen.errors import DesignError
from geomgen.mass.lines import Line, lines
from geomgen.mass.measured import measured
from geomgen.mass.print_shares import factors, print_shares
from geomgen.model.part import Flat, Solid
from geomgen.model.role import Role
from geomgen.plane.path import from_points
from geomgen.plane.region import Region
from geomgen.render.text import page_text
from geomgen.stock.need import needs
from geomgen.stock.sheets import Layout
from geomgen.views.weigh import weigh_page
from geomgen.views.weigh_data import mass_list

SIZE_MM3 = 100.0 * 20.0 * 4.0  # of the cap
HUB_MM3 = 50_000.0
HOW = 'print = { walls = 3, top = 4, bottom = 4, infill = "20 %" }'
SLICED = ('solid = "45 %"', HOW), ("wall   = 4.5 ", "wall   = 3 "), ("floor  = 7.5", "floor  = 5")  # as it was sliced


@dataclass(frozen=True)
class Plastic:
    """What is laid down, by figures that are chosen here."""

    stock: str
    share: float
    words: str = "3 walls"
    bulk: Exact | None = None


def built(weighed: WeighedPrint | None = None) -> Design:
    """A print of 1000 kg/m3 +- 10 %, so a mm3 of plastic weighs a thousandth of a gram."""
    made = design()
    how = Print(walls=3, top=4, bottom=4, infill=0.2, weighed=weighed)
    change = {"print": how, "solid": None, "density": (900.0, 1000.0, 1100.0)}
    stock = made.stock["print_sure"].model_copy(update=change)
    return made.model_copy(update={"stock": made.stock | {"print_sure": stock}})


HUB = part("hub", Solid("spec"), [[1, 0, 0, 0]], "print_sure", assembly="hub", role=Role.HUB, places=(np.eye(4),))
CAP = part(
    "cap", Flat(Region(from_points([(0, 0), (100, 0), (100, 20), (0, 20)], closed=True)), 4.0), [[1, 0, 0, 0]],
    "print_sure", assembly="hub", role=Role.FIXED_CAP,
)  # fmt: skip
SOLIDS = {HUB.key: Exact(HUB_MM3, (0.0, 0.0, 5.0))}
LAID = {HUB.key: Plastic("print_sure", 0.6, bulk=Exact(30_000.0, (0.0, 0.0, 4.0))), CAP.key: Plastic("print_sure", 0.7)}


def scales(name: str, mass: str) -> WeighedPrint:
    return WeighedPrint.model_validate({"part": name, "mass": mass}, context=Reading(bare="mm"))


def weigh(made: Design) -> tuple[Line, Line]:
    there = measured([HUB, CAP], SOLIDS, {}, {HUB.key: LAID[HUB.key].bulk})
    shares = print_shares(LAID, factors(there, LAID, made), made)
    hub, cap = lines(there, made, shares)
    return hub, cap


def test_each_print_has_its_own_share() -> None:
    """50 cm3 x 0.6 and 8 cm3 x 0.7 at 1 g/cm3; density and laying at their worst ends together."""
    hub, cap = weigh(built())
    assert hub.one_g == pytest.approx((30.0 * 0.9 * 0.95, 30.0, 30.0 * 1.1 * 1.05))
    assert cap.one_g[1] == pytest.approx(SIZE_MM3 * 1e-3 * 0.7)
    assert hub.share is not None and hub.share.source == "3 walls, by its slices"


def test_a_prints_middle_is_that_of_its_plastic() -> None:
    hub, _ = weigh(built())
    assert hub.place_mm == pytest.approx((0.0, 0.0, 4.0))


def test_one_weighed_print_puts_all_right() -> None:
    """36 g instead of 30: a fifth more of all; the filament's density no longer counts, and what is left of the bands
    is 1 % of what was on the scales and 3 % of the rest."""
    hub, cap = weigh(built(scales("hub", "36 g")))
    assert hub.one_g == pytest.approx((36.0 * 0.99, 36.0, 36.0 * 1.01))
    cap_g = SIZE_MM3 * 1e-3 * 0.7 * 1.2
    assert cap.one_g == pytest.approx((cap_g * 0.97, cap_g, cap_g * 1.03))
    assert cap.share is not None and "times 1.200 by your weighed print" in cap.share.source


def test_the_cap_may_be_the_one_on_the_scales() -> None:
    hub, cap = weigh(built(scales("fixed_cap", "5.04 g")))
    assert cap.one_g[1] == pytest.approx(5.04)
    assert hub.one_g == pytest.approx((27.0 * 0.97, 27.0, 27.0 * 1.03))


@pytest.mark.parametrize(("mass", "refused"), [("44 g", False), ("46 g", True), ("21 g", False), ("19 g", True)])
def test_what_cant_be_that_print_is_refused(mass: str, refused: bool) -> None:
    """30 g by its slices: half as much again is another part, or printed otherwise."""
    if refused:
        with pytest.raises(DesignError) as caught:
            weigh(built(scales("hub", mass)))
        (fault,) = caught.value.faults
        assert fault.path == "stock.print_sure.print.weighed.mass" and "by 3 walls it would weigh" in fault.wrong
    else:
        assert weigh(built(scales("hub", mass)))[0].one_g[1] == pytest.approx(float(mass.split()[0]))


def test_what_is_needed_of_it() -> None:
    """Both prints, once each."""
    (need,) = needs([HUB, CAP], built(), Layout(()), {HUB.key: HUB_MM3}, {HUB.key: 0.6, CAP.key: 0.7})
    assert need.amount == pytest.approx(0.6 * HUB_MM3 + 0.7 * SIZE_MM3)


def test_the_demo_by_its_slices(craft_of) -> None:
    """Hub and caps as a general slicer has them (tests/printing/slicer_sums.toml, "usual"), at 1.27 g/cm3 of PETG: its
    94.6, 4.70 and 6.54 cm3 within 2 %; the bill asks for as much filament, with the coupon."""
    craft: Craft = craft_of("lantern", *SLICED)
    by_role = {line.role: line for line in craft.mass.lines}
    for role, cm3 in ((Role.HUB, 94.571), (Role.TURNING_CAP, 4.696), (Role.FIXED_CAP, 6.543)):
        assert by_role[role].one_g[1] == pytest.approx(1.27 * cm3, rel=0.02)
    (due,) = (due for due in craft.bill if due.name == "print_petg")
    printed_g = sum(by_role[role].one_g[1] * (1 if role == Role.HUB else 2) for role in list(by_role) if
                    role in (Role.HUB, Role.TURNING_CAP, Role.FIXED_CAP))  # fmt: skip
    coupon_g = due.takes * 1e3 - printed_g
    (coupon,) = (each for each in craft.printed_parts if each.role == Role.COUPON)
    assert 0.5 * 1.27 < coupon_g / (coupon.shape.volume_mm3 * 1e-3) < 0.85 * 1.27


def test_the_demos_hub_lies_where_its_plastic_does(craft_of) -> None:
    """With and without the kernel. Of its floor's 25 layers 8 are solid, less than of the rest."""
    craft: Craft = craft_of("lantern", *SLICED)
    (hub,) = (each for each in craft.elements if each.key.role == Role.HUB)
    (solid,) = craft.solids.values()
    height = craft.hub_spec.axis_height
    assert 0.4 < hub.centre[2] - (solid.centroid[2] - height) < 1.2
    rough = Craft(craft.design, craft.folder, craft.cache, exact=False)
    (same,) = (each for each in rough.elements if each.key.role == Role.HUB)
    assert same.mass_g == pytest.approx(hub.mass_g, rel=1e-4)
    assert same.inertia == pytest.approx(hub.inertia, rel=1e-3, abs=1.0)


def test_plates_without_letters_are_a_little_light(craft_of) -> None:
    """Under letters a thin plate is closed anew: without room found for them it is up to 5 % too light, never heavy."""
    craft: Craft = craft_of("lantern", *SLICED)
    rough = Craft(craft.design, craft.folder, craft.cache, exact=False)
    for exact, other in zip(craft.mass.lines, rough.mass.lines, strict=True):
        if exact.role in (Role.TURNING_CAP, Role.FIXED_CAP):
            assert 0.95 * exact.one_g[1] < other.one_g[1] <= exact.one_g[1]


def test_the_page_says_how_it_is_printed(craft_of) -> None:
    """Each print's own share in its row, all of them where the figures come from, and in the list for a spreadsheet."""
    craft: Craft = craft_of("lantern", *SLICED)
    text = " ".join(page_text(weigh_page(craft)).split())
    assert text.count("3 walls, 4 top, 4 bottom, 20 % infill, by its slices") == 1
    for line in craft.mass.lines:
        if line.role in (Role.HUB, Role.TURNING_CAP, Role.FIXED_CAP) and (share := line.share) is not None:
            assert f"1270 kg/m3 x {100 * share.typical:.0f} %" in text
            assert f"{line.name} {100 * share.low:.1f}, {100 * share.typical:.1f}, {100 * share.high:.1f} %" in text
    (row,) = (row for row in mass_list(craft.mass).rows if row["part"] == "hub")
    assert "3 walls, 4 top, 4 bottom, 20 % infill" in row["source"] and 0.55 < row["print_share"] < 0.7

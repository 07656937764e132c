"""What the pages say of balance, against the craft's own figures and its data, in either system of units."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from other_system import metric_figures, other_system

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.figures import spelled
from geomgen.render.text import page_text
from geomgen.views.balance import balance_data, balance_sections
from geomgen.views.page import Page

CraftOf = Callable[..., Craft]
BESIDE = ("at     = 0\nheight = 40", "at     = 15\nheight = 40")  # the receiver, 16 g: 240 g mm along blade 1
ACROSS = ("at     = 0\nheight = 40", 'at     = 15\nazimuth = "90 deg"\nheight = 40')
NO_HUB = ('trim        = { circle = 48, count = 8, most = "10 g" }        # weights on its rim\n', "")
NO_TIP = ('[blade.trim.tip]                    # a pocket for weights in each blade\nat    = "tip"\nchord = 0.2\n'
          'most  = "6 g"\n', "")  # fmt: skip
NOSE = ('aim  = "60 g mm"', 'aim  = "60 g mm"\nnose_weight = { at = "60 %", chord = 0.02, to = -5 }')


def text(craft: Craft) -> str:
    """The sections as a page on one line."""
    sections = balance_sections(craft)
    return " ".join(page_text(Page(sections, craft.design.units or "mm")).split())


def test_what_is_out_of_balance_and_what_trims_it(craft_of: CraftOf) -> None:
    craft = craft_of("lantern", BESIDE)
    said, told = text(craft), json.loads(json.dumps(balance_data(craft)))["balance"]
    assert "unbalance g·mm 240 0 " in said and "ISO 21940-11" in said and "stiff rotors in bearings" in said
    assert f"its force at the mast N {told['unbalance']['force_n']:.3f} " in said
    assert f"at {craft.verdict.carrying_rpm[1]:.0f} rpm, as hover has it" in said
    for each in told["iso_21940_11"]["permissible"]:
        assert f"at G {each['grade_mm_s']:g} g·mm {each['unbalance_g_mm']:.0f} " in said
    assert "tip of blade 2 1 0.50 " in said and "hub 1 4 2.00 48.0 0.0 -14.4" in said
    left = told["trim"]["after"]["static"]
    assert f"Left: {left['size_g_mm']:.0f} g·mm at {left['azimuth_deg']:.0f} deg from blade 1" in said
    assert [(each["path"], each["number"], each["count"]) for each in told["trim"]["weights"]] == [
        ("blade.trim.tip", 2, 1),
        ("hub.trim", 1, 4),
    ]
    assert "Out of reach" not in said and "no choice of whole weights is better" in said


def test_what_two_blades_cant_reach_is_told(craft_of: CraftOf) -> None:
    """Both pockets lie 7.6 mm ahead of their axes, at 782 mm: their line is turned by half a degree."""
    said = text(craft_of("lantern", ACROSS, NO_HUB))
    assert "None help." in said and "Out of reach of every pocket, however heavy the weight: 240 g·mm at 91 deg" in said
    assert "All pockets stand in one line through the axis: weights in them take nothing away across it." in said
    assert "in one line" not in text(craft_of("lantern", ACROSS))


def test_the_demo_wants_none_and_a_design_without_pockets_is_told_of_them(craft_of: CraftOf) -> None:
    assert "None are needed as designed." in text(craft_of("lantern"))
    assert "names no pockets for trim weights" in text(craft_of("lantern", NO_HUB, NO_TIP))


def test_a_nose_weight_is_told_with_what_it_costs(craft_of: CraftOf) -> None:
    craft = craft_of("lantern", NOSE)
    of = craft.balance.chordwise.nose_weight
    assert of is not None and of.mass_g is not None
    said = text(craft)
    assert f"A nose weight of {of.mass_g:.1f} g at r 480.0 mm" in said
    assert f"It costs {2 * of.mass_g:.1f} g in 2 blades" in said


@pytest.mark.parametrize("edits", [(BESIDE, NOSE), (ACROSS, NO_HUB)])
def test_a_design_in_inches_is_told_in_its_own_units(cache: Cache, edits: tuple[tuple[str, str], ...]) -> None:
    own = example_path("lantern").read_text(encoding="utf-8").split("[option.")[0]
    for old, new in edits:
        assert old in own
        own = own.replace(old, new)
    craft = Craft(read_text(other_system(own), "mine.toml").design, None, cache, exact=False)
    said = text(craft)
    assert metric_figures(said) == [] and "unbalance oz·in 0.33 " in said  # 240 g mm are .333 oz in
    warned = " ".join(str(spelled(each, "in")) for each in craft.warnings)
    assert metric_figures(warned) == []


def test_data_has_the_tensors(craft_of: CraftOf) -> None:
    craft = craft_of("lantern")
    told = json.loads(json.dumps(balance_data(craft)))["inertia"]
    assert told["blade"]["reference_g_mm2"] == craft.inertia.blade.reference.tolist()
    assert told["craft"]["about_rotor_axis_g_mm2"] == craft.inertia.craft.about_rotor_axis
    assert f"{told['blade']['about_rotor_axis_g_mm2'] / 100:.0f}" in text(craft)


def test_what_to_expect_before_anything_is_weighed_is_told(lantern: Craft) -> None:
    """Both rows, the weights to have ready, and where copies on several sheets go; the same in the data."""
    said, of = text(lantern), lantern.scatter
    told = json.loads(json.dumps(balance_data(lantern)))["balance"]["expected"]
    for scatter, key in ((of.chosen, "shared"), (of.apart, "own_sheets")):
        assert f"{scatter.median:.0f} {scatter.ninety:.0f}" in said
        assert (told[key]["median_g_mm"], told[key]["ninety_g_mm"]) == (scatter.median, scatter.ninety)
    assert f"{of.chosen.ninety / of.reach_mm:.2f} g at {of.reach_mm:.0f} mm" in said
    assert "tip: from balsa_3 1 to blade" in said and told["ready_g"] == of.ready_g

"""What is wrong with spars is told with path, place and figures."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from spar_blades import cuts_in, half_depth, made

from geomgen.craft import Craft
from geomgen.errors import Fault, MakeError
from geomgen.structure.spars.cuts import notch_at

CAPS = """[blade.spar.main2]
kind = "caps"
stock = "spruce_6x2"
chord = 0.5
from = "root"
to = "90 %"
web = { stock = "balsa_1_5", side = "ahead" }
"""


def faults(craft: Craft) -> tuple[Fault, ...]:
    with pytest.raises(MakeError) as caught:
        made(craft)
    return caught.value.faults


def test_caps_that_meet(spar_craft: Callable[..., Craft]) -> None:
    """At 0.5 of the chord the plain section is 23.8 mm deep: six strips of 2 mm from both sides overlap."""
    (fault,) = faults(spar_craft(CAPS.replace("web", 'layers = ["90 %", "90 %", "90 %", "90 %", "90 %", "90 %"]\nweb')))
    assert 2 * half_depth(90.0) < 24.0
    assert fault.path == "blade.spar.main2.layers"
    assert fault.wrong.startswith("6 of 2 mm above and below meet at r ")
    assert fault.allowed == "at least 2 mm left, blade.construction.web"


def test_caps_that_leave_too_little(spar_craft: Callable[..., Craft]) -> None:
    """Five leave 23.8 - 20 mm, less what their tilt takes."""
    thick = ("web        = 2.0", "web        = 4.0")
    (fault,) = faults(spar_craft(CAPS.replace("web", 'layers = ["90 %", "90 %", "90 %", "90 %", "90 %"]\nweb'), thick))
    left = float(fault.wrong.split("leave ")[1].split(" mm")[0])
    assert left == pytest.approx(2 * half_depth(90.0) - 20.0, abs=0.8)
    assert left < 2 * half_depth(90.0) - 20.0


def test_web_into_the_tube(spar_craft: Callable[..., Craft]) -> None:
    """The tube reaches to 49 mm from the nose; a web ahead of caps at 0.29 of 180 mm stands from 47.7 to 49.2."""
    (fault,) = faults(spar_craft(CAPS.replace("0.5", "0.29")))
    assert fault.path == "blade.spar.main2.web"
    assert "runs into blade.spar.main at r " in fault.wrong
    assert "other side" in fault.remedy
    assert made(spar_craft(CAPS.replace("0.5", "0.3")))  # 1.8 mm farther aft they are clear


def test_sheet_into_a_channel(spar_craft: Callable[..., Craft]) -> None:
    sheet = '[blade.spar.rear]\nkind = "sheet"\nstock = "balsa_1_5"\nchord = 0.37\nfrom = "root"\nto = "tip"\n'
    (fault,) = faults(spar_craft(sheet))
    assert fault.path == "blade.spar.rear"
    assert "runs into blade.channel.power at r " in fault.wrong
    assert "over 1.5 x " in fault.wrong


def test_sheet_where_there_is_no_depth(spar_craft: Callable[..., Craft]) -> None:
    sheet = '[blade.spar.rear]\nkind = "sheet"\nstock = "balsa_1_5"\nchord = 0.95\nfrom = "root"\nto = "tip"\n'
    (fault,) = faults(spar_craft(sheet))
    left = float(fault.wrong.split("leaves ")[1].split(" mm")[0])
    assert left == pytest.approx(half_depth(0.95 * 180 + 0.75), abs=0.01)
    assert fault.allowed.startswith("at least 2 mm")


def test_box_too_flat(spar_craft: Callable[..., Craft]) -> None:
    box = '[blade.spar.box]\nkind = "box"\nstock = "board_3"\nchord = 0.88\nwidth = 20\nfrom = "root"\nto = "tip"\n'
    (fault,) = faults(spar_craft(box))
    assert fault.path == "blade.spar.box"
    assert "under 2 mm of rib" in fault.wrong
    (fault,) = faults(spar_craft(box.replace("20", "6")))
    assert fault.path == "blade.spar.box.width"


def test_a_thin_place_is_laid_at_the_notch(spar_craft: Callable[..., Craft]) -> None:
    craft = spar_craft(CAPS)
    blank = craft.bare_ribs[1]
    cuts = cuts_in(craft, "main2", blank)
    inner = cuts.notches[0].corners()[2:].mean(axis=0)
    found = notch_at(cuts.notches, (float(inner[0]), float(inner[1])))
    assert found is not None and found.path == "blade.spar.main2"
    assert notch_at(cuts.notches, (20.0, 0.0)) is None


SHEETED = (
    (
        'kind       = "ribbed"',
        'kind       = "sheeted"\nstock = "balsa_1_5"\nto = 0.35\nnose = { stock = "nose", width = 8 }',
    ),
    ("\n[stock.rod_6]", '\n[stock.nose]\nkind = "length"\nof = "balsa"\nwidth = 16\nheight = 16\n[stock.rod_6]'),
)


def test_caps_across_the_sheets_end(spar_craft: Callable[..., Craft]) -> None:
    """A sheet of 1.5 mm ends at 0.35 of 180 mm, at 63: caps 6 mm wide may stand from 66 on."""
    (fault,) = faults(spar_craft(CAPS.replace("0.5", "0.355"), *SHEETED))
    assert fault.path == "blade.spar.main2.chord"
    assert "63.0 mm from the nose" in fault.wrong
    channel = ("chord    = 0.38", "chord    = 0.6")
    assert made(spar_craft(CAPS.replace("0.5", "0.37").replace("ahead", "behind"), *SHEETED, channel))

"""What hangs on each link of the demo's load path, line by line, and its pull m r Omega^2 at 345 1/min."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from geomgen.craft import Craft
from geomgen.mass.lines import Line

OMEGA = 345.0 * 2.0 * math.pi / 60.0  # 1/s, from rpm_max of the design file

SKIN = ("skin all",)
ON_THE_RIBS = (
    *(f"rib R{i:02d}" for i in range(1, 15)),
    "doubler root",
    "doubler fan",
    "spar rear",
    "tip",
    "wire fan",
    "wire lights",
    "tie of power",
    "glue skin to ribs",
    "glue spars to ribs",
    "glue on tubes",
    "glue tail seam",
    "glue doublers",
    "glue tip",
    "turning cap",
    "pitch pin",
    "turning cap screw M3 x 12",
    "screw of fan M2 x 12",
    "fitting fan",
    "fitting light_strip",
)
CARRIED = {
    "ribs": (*SKIN, "fitting light_strip"),
    "spar": (*SKIN, *ON_THE_RIBS),
    "collar": (*SKIN, *ON_THE_RIBS, "spar main"),
    "hub": (*SKIN, *ON_THE_RIBS, "spar main", "collar"),
}
AT_THE_HUB = (
    "mast bolt M4 x 16",
    "fixed cap",
    "fixed cap screw M3 x 12",
    "fitting battery",
    "fitting receiver",
    "fitting speed_control",
    "hub",
)


@pytest.fixture(scope="module")
def lines(lantern: Craft) -> dict[str, Line]:
    return {line.name: line for line in lantern.mass.lines}


def test_the_lists_name_every_line_once(lantern: Craft, lines: dict[str, Line]) -> None:
    """A part that is new, or gone, must be put on a link here by hand."""
    assert sorted(line.name for line in lantern.mass.lines) == sorted((*CARRIED["hub"], *AT_THE_HUB))


@pytest.mark.parametrize("held_by", CARRIED)
def test_each_link_by_hand(lantern: Craft, lines: dict[str, Line], held_by: str) -> None:
    assert [one.held_by for one in lantern.load_path.links] == list(CARRIED)
    (link,) = (one for one in lantern.load_path.links if one.held_by == held_by)
    for end in range(3):  # low, typical, high
        carried = [lines[name] for name in CARRIED[held_by]]
        grams = sum(line.set_g[end] for line in carried)
        newtons = sum(line.set_g[end] / 1000.0 * line.place_mm[0] / 1000.0 * OMEGA**2 for line in carried)
        assert link.mass_g[end] == pytest.approx(grams, rel=1e-9)
        assert link.pull_n[end] == pytest.approx(newtons, rel=1e-9)
        # even the lightest line stands far above that tolerance
        lightest = min(line.set_g[end] * abs(line.place_mm[0]) for line in carried) * 1e-6 * OMEGA**2
        assert lightest > 1e-6 * newtons


def test_lines_weigh_and_stand_as_the_words_say(lines: dict[str, Line]) -> None:
    """What goes into the sums, where the design file tells it: grams, and the radius of the middle."""
    assert (lines["fitting fan"].set_g[1], lines["fitting fan"].place_mm[0]) == pytest.approx((26.0, 768.0))
    strip = lines["fitting light_strip"]
    assert (strip.set_g[1], strip.place_mm[0]) == pytest.approx((12.0, 480.0))
    # tube 8 x 5 from 30 to 782, where the rounded tip begins; pins and screws of each blade: two, and four
    assert lines["spar main"].place_mm[0] == pytest.approx((30.0 + 782.0) / 2)
    assert lines["spar main"].amount == pytest.approx(752.0)
    assert (lines["pitch pin"].count, lines["turning cap screw M3 x 12"].count) == (2, 4)
    # and epoxy on 12 mm of the tube, 111 to 221 g/m2 by its maker's films
    coat = [math.pi * 8.0 * 12.0 * 1e-6 * each for each in (111, 166, 221)]
    assert lines["collar"].set_g == pytest.approx([7.0 + grams for grams in coat])
    # doublers of 2 and 3 mm lie outside ribs of 2 mm: of the root, whose inner face is at 130, and of the fan
    assert lines["doubler root"].place_mm[0] == pytest.approx(130.0 + 2.0 + 1.0)
    assert lines["doubler fan"].place_mm[0] == pytest.approx(768.0 + 1.0 + 1.5)
    # a cap of 4 mm before the root face; its letters and countersinks move its centre a little
    assert lines["turning cap"].place_mm[0] == pytest.approx(128.0, abs=0.1)
    pin = lines["pitch pin"]  # steel 3 mm round, 7850 kg/m3 by common tables, give or take 1 %
    one_g = math.pi / 4 * 3.0**2 * pin.amount * 7.85e-3
    assert pin.set_g[1] == pytest.approx(2 * one_g, rel=0.01)


def test_tip_and_mount_by_hand(lines: dict[str, Line]) -> None:
    """The rounded tip of 18 mm is two quarter ellipses on the chord at r 782; the fan's screws stand on its rib.

    source : area pi a b / 4 of a quarter ellipse with half axes a and b, its centroid 4 b / 3 pi from the axis a:
             tables of plane figures. The chord falls from 210 at r 130 to 150 at r 800.
    """
    chord = 210.0 - 60.0 * (782.0 - 130.0) / 670.0
    tip, seam, screws = lines["tip"], lines["glue tip"], lines["screw of fan M2 x 12"]
    assert tip.amount == pytest.approx(math.pi / 4 * chord * 18.0, rel=1e-4)
    assert tip.place_mm[0] == pytest.approx(782.0 + 4 * 18.0 / (3 * math.pi), abs=0.01)
    # of the same sheet of 3 mm balsa as most ribs: masses are as the areas
    rib = lines["rib R04"]
    assert tip.set_g == pytest.approx([grams * tip.amount / rib.amount for grams in rib.set_g])
    assert seam.amount == pytest.approx(3.0 * chord, rel=1e-4)  # glued along its edge, 3 mm thick
    assert 782.0 <= seam.place_mm[0] < tip.place_mm[0] + 0.01  # between the edge glued and the middle of the plate
    assert (screws.count, screws.place_mm[0]) == (2, pytest.approx(768.0))


COVERS = {
    "film": ("film", ("film upper", "film lower")),
    "balsa": ("sheeting and film", ("sheeting upper", "sheeting lower", "film upper", "film lower")),
    "foam_board": ("folded skin", ("folded skin",)),
}


@pytest.mark.parametrize("option", COVERS)
def test_covers_of_other_constructions_hang_on_the_ribs(craft_of: Callable[..., Craft], option: str) -> None:
    """Film, sheet and folded board pull at the ribs by their own mass; all but spar and collar pulls at the spar."""
    craft = craft_of("lantern", option=option)
    words, names = COVERS[option]
    lines = [line for line in craft.mass.lines if line.assembly == "blade"]
    covers = [line for line in lines if line.name in (*names, "fitting light_strip")]  # which sticks to the cover
    assert len(covers) == len(names) + 1
    within = [line for line in lines if line.name not in ("spar main", "collar")]
    cover, ribs, *_ = craft.load_path.links
    assert (cover.carried, cover.held_by, ribs.held_by) == (words, "ribs", "spar")
    for link, carried in ((cover, covers), (ribs, within)):
        for end in range(3):
            newtons = sum(line.set_g[end] / 1000.0 * line.place_mm[0] / 1000.0 * OMEGA**2 for line in carried)
            assert link.mass_g[end] == pytest.approx(sum(line.set_g[end] for line in carried), rel=1e-9)
            assert link.pull_n[end] == pytest.approx(newtons, rel=1e-9)

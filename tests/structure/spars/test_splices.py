"""Joints: how many, where, and what is cut, by hand and for any lengths."""

from __future__ import annotations

import itertools
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from spar_blades import made

from geomgen.craft import Craft
from geomgen.errors import MakeError
from geomgen.figures import spelled
from geomgen.model.part import Length
from geomgen.structure.spars.splices import places_mm

CAPS = """[blade.spar.main2]
kind = "caps"
stock = "spruce_6x2"
chord = 0.5
from = "root"
to = "90 %"
joint = { kind = "scarf", slope = 12 }
"""
SHORT = ('density = "420 kg/m3"\nlength = 1000', 'density = "420 kg/m3"\nlength = 300')


def test_scarfs_of_caps_by_hand(spar_craft: Callable[..., Craft]) -> None:
    """510 mm out of 300, scarfs of 12 times 2 mm: above one joint at 288 mm, the first piece a whole stick.

    Below, no joint may stand within 3 times 24 mm of that: the farthest out the first can stand is 216, and two are
    needed; the second stands at 438, 3 times 24 mm from the end.
    """
    parts = made(spar_craft(CAPS, SHORT))
    upper, lower = parts["spar main2 upper 1"], parts["spar main2 lower 1"]
    assert isinstance(upper.shape, Length) and upper.shape.length_mm == pytest.approx(510.0)
    assert upper.facts == pytest.approx({"joint_1_r_mm": 408.0, "piece_1_mm": 300.0, "piece_2_mm": 234.0})
    assert spelled(upper.notes[0]) == "of 2 pieces, 300 and 234 mm, scarfed 1:12 at r 408 mm"
    assert len(upper.notes) == 1  # 1:12 is what the catalogue wants of spruce
    pieces = {"piece_1_mm": 228.0, "piece_2_mm": 246.0, "piece_3_mm": 84.0}
    assert lower.facts == pytest.approx({"joint_1_r_mm": 336.0, "joint_2_r_mm": 558.0, **pieces})
    assert sum(pieces.values()) == 510 + 2 * 24


def test_a_steep_scarf_is_told(spar_craft: Callable[..., Craft]) -> None:
    notes = made(spar_craft(CAPS.replace("slope = 12", "slope = 6"), SHORT))["spar main2 upper 1"].notes
    assert notes[1].startswith("1:6 is steeper than 1:12 wanted for spruce: Wood Handbook")


MAIN = '# reaches into the hub\nto    = "tip"'
SLEEVED = (
    (MAIN, MAIN + '\njoint = { kind = "sleeve", stock = "rod_6" }'),
    ("outside = 6\n", "outside = 5\n"),
    ("inside  = 5\nlength  = 1000", "inside  = 5\nlength  = 400"),
)


def test_sleeve_of_the_main_tube_by_hand(spar_craft: Callable[..., Craft]) -> None:
    """670 mm from 30 to 700, in tubes of 400: one joint at r 430; a sleeve of 8 times 8 mm, half on either side."""
    parts = made(spar_craft("", *SLEEVED))
    tube, sleeve = parts["spar main"], parts["spar main sleeve"]
    assert tube.facts == pytest.approx({"joint_1_r_mm": 430.0, "piece_1_mm": 400.0, "piece_2_mm": 270.0})
    assert isinstance(sleeve.shape, Length) and sleeve.shape.length_mm == pytest.approx(64.0)
    assert (sleeve.stock, sleeve.count) == ("rod_6", 1)
    assert sleeve.spread[:, 0] @ sleeve.spread[:, 1:] == pytest.approx([430.0, 0.0, 0.0])


def test_no_joint_under_a_fitting(spar_craft: Callable[..., Craft]) -> None:
    """A light strip at 430 mm sends the joint inwards by half the sleeve, out from under it."""
    light = (
        "[fitting.battery]",
        '[fitting.light]\non = "blade"\nat = 430\nmass = "5 g"\nstuck = true\n[fitting.battery]',
    )
    tube = made(spar_craft("", *SLEEVED, light))["spar main"]
    assert tube.facts["joint_1_r_mm"] == pytest.approx(430.0 - 32.0)


@pytest.mark.parametrize(
    ("edits", "path", "wrong"),
    [
        (SLEEVED[2:], "blade.spar.main.stock", "spar main is 670 mm long, and it is sold in 400 mm"),
        (
            (*SLEEVED, ("outside = 5\n", "outside = 5.5\n")),
            "blade.spar.main.joint.stock",
            "does not go into a tube of 5 mm",
        ),
        (
            (SLEEVED[2], (MAIN, MAIN + '\njoint = { kind = "scarf" }')),
            "blade.spar.main.joint.kind",
            "tube",
        ),
        ((*SLEEVED, ("length  = 400", "length  = 130")), "blade.spar.main.joint", "has no place for joints of 64 mm"),
    ],
)
def test_refused_joints(
    spar_craft: Callable[..., Craft], edits: tuple[tuple[str, str], ...], path: str, wrong: str
) -> None:
    with pytest.raises(MakeError) as caught:
        made(spar_craft("", *edits))
    (fault,) = caught.value.faults
    assert fault.path == path
    assert wrong in str(fault)


@given(
    length=st.floats(100, 5000),
    sold=st.floats(50, 2000),
    overlap=st.floats(0, 60),
    closed=st.lists(st.tuples(st.floats(0, 5000), st.floats(1, 100)), max_size=5),
)
def test_any_joints_keep_the_rules(
    length: float, sold: float, overlap: float, closed: list[tuple[float, float]]
) -> None:
    spans = [(low, low + wide) for low, wide in closed]
    apart = 3 * max(overlap, 10.0)
    at = places_mm(length, sold, overlap, apart, spans)
    if at is None:
        return
    ends = [0.0, *at, length]
    gaps = [b - a for a, b in itertools.pairwise(ends)]
    cut = [gap + overlap * (2 if 0 < i < len(gaps) - 1 else 1) / 2 for i, gap in enumerate(gaps)]
    assert max(cut) <= sold + 1e-6
    assert sum(cut) == pytest.approx(length + overlap * len(at))
    assert all(gap >= apart - 1e-6 for gap in gaps[1:])
    assert not any(low + 1e-9 < x < high - 1e-9 for x in at for low, high in spans)

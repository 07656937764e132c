"""Mass and centre of whole blades, from the design file to the statement, against calculations by hand written here."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.craft import Craft

# The published area of a symmetric four-digit section with its open tail is 0.685083 t c² (the thickness equation of
# NACA Report 460 integrated), its centroid lies at 0.42044 c, its edge is 2.03927 c long for t = 0.12
# (without the tail's own).
AREA, CENTROID, PERIMETER_0012 = 0.685083, 0.42044, 2.03927
BALSA = 160.0  # kg/m3, stated in the edited file


@pytest.fixture(scope="module")
def rectangular(craft_of: object) -> Craft:
    """A bare rectangular, untwisted blade of one section and one wood: six ribs, no skin; chord 180, 120 to 700 mm."""
    return craft_of(  # type: ignore[operator]
        "starter",
        ('chord = 180, twist = "4 deg", section = "naca 4415"', 'chord = 180, twist = "0 deg", section = "naca 0015"'),
        ('chord = 150, twist = "0 deg", section = "naca 4415"', 'chord = 180, twist = "0 deg", section = "naca 0015"'),
        ('[blade.skin.all]\nstock = "foam_sheet_2"\n', ""),
        ('every = 30\nstock = "ply_2"', 'every = 60\nstock = "balsa_3"'),
        ('every = 60\nstock = "balsa_3"\n\n', 'every = 180\nstock = "balsa_3"\n\n'),
        ('of   = "balsa"', 'of   = "balsa"\ndensity = "160 kg/m3"'),
        ("least_tail = 2.5", "least_tail = 0.2"),
        ('rib_stock = "ply_2"', 'rib_stock = "balsa_3"'),
    )


def test_rectangular_blade_by_hand(rectangular: Craft) -> None:
    ribs = [line for line in rectangular.mass.lines if line.role == "rib"]
    # 120 .. 180 in one bay, 180 .. 700 in three, end ribs flush, 3 mm thick; one more where the fan sits, at 96 %
    radii = [121.5, 180.0, 180 + 520 / 3, 180 + 1040 / 3, 672.0, 698.5]
    assert [line.place_mm[0] for line in ribs] == pytest.approx(radii, abs=1e-6)
    section = AREA * 0.15 * 180.0**2
    spar, channel, screw = np.pi / 4 * 8.1**2, np.pi / 4 * 9.0**2, np.pi / 4 * 3.4**2
    # axis at 45 mm, channel at 68.4 mm on the chord line; forward of the axis is positive
    tie = np.pi / 4 * 2.5**2  # one in the root rib, one in the last that the channel passes, 2 mm of wood from it
    ties = {each.at[0]: 45.0 - each.hole.center[0] for each in rectangular.ties}
    assert list(ties) == pytest.approx([121.5, 672.0])
    for each in rectangular.ties:
        assert np.hypot(each.hole.center[0] - 68.4, each.hole.center[1]) == pytest.approx(4.5 + 2.0 + 1.25, abs=0.01)
    holes = [spar + channel + tie + 4 * screw, *3 * [spar + channel], spar + channel + tie, spar]  # wires end at 672
    for line, cut, first in zip(ribs, holes, [True, *5 * [False]], strict=True):
        grams = (section - cut) * 3.0 * BALSA * 1e-6
        assert line.set_g[1] == pytest.approx(grams, rel=3e-4)
        has_channel = cut > spar
        moment = section * (45.0 - CENTROID * 180.0) - (channel * (45.0 - 68.4) if has_channel else 0.0)
        moment -= sum(tie * forward for r, forward in ties.items() if abs(r - line.place_mm[0]) < 1e-6)
        # the spar's hole and the ring of screws are centred on the axis: they take no moment away
        assert line.place_mm[1] == pytest.approx(moment / (section - cut), abs=0.03 if first else 0.01)
        assert line.place_mm[2] == pytest.approx(0.0, abs=2e-3)


def test_tube_and_wires_by_hand(rectangular: Craft) -> None:
    lines = {line.name: line for line in rectangular.mass.lines}
    spar = lines["spar main"]
    assert spar.amount == pytest.approx(700 - 30)
    assert spar.place_mm == pytest.approx(((30 + 700) / 2, 0.0, 0.0), abs=1e-9)
    wire = lines["wire fan"]
    # axis to root to the fan's rib straight along the channel, 23.4 mm aft, over to the fan, which sits on the feather
    # axis, and 80 mm of slack, half at each end
    assert wire.amount == pytest.approx(672.0 + 23.4 + 80.0)
    assert wire.set_g[1] == pytest.approx(3 * 14e-3 * 775.4)
    assert wire.place_mm[0] == pytest.approx((672.0 * 336.0 + 23.4 * 672.0 + 40.0 * 672.0) / 775.4)
    assert wire.place_mm[1] == pytest.approx(-(672.0 * 23.4 + 23.4 * 11.7 + 40.0 * 23.4) / 775.4, abs=1e-6)


def test_skin_of_a_tapered_blade_in_closed_form(craft_of: object) -> None:
    """Girth at half thickness: perimeter less half the thickness times the angle turned through, both straight in r.

    The closed form leaves out the surface's slope along r, which makes the sheet longer by half its square: the nose,
    a quarter chord ahead of the axis, comes in by 20 mm over 580 (6e-4), the flats by a few hundredths of that.
    """
    craft: Craft = craft_of(  # type: ignore[operator]
        "starter",
        ('chord = 180, twist = "4 deg", section = "naca 4415"', 'chord = 240, twist = "0 deg", section = "naca 0012"'),
        ('chord = 150, twist = "0 deg", section = "naca 4415"', 'chord = 160, twist = "0 deg", section = "naca 0012"'),
    )
    skin = next(line for line in craft.mass.lines if line.role == "skin")
    # the tangent at the tail slopes by the derivative of the thickness equation at x = 1
    slope = 5 * 0.12 * (0.29690 / 2 - 0.12600 - 2 * 0.35160 + 3 * 0.28430 - 4 * 0.10150)
    turned = np.pi - 2 * np.arctan(slope)  # slope < 0: from one tail round the nose to the other
    r0, r1, c0, c1 = 120.0, 700.0, 240.0, 160.0
    length = r1 - r0

    def moment(power: int) -> float:  # integral of girth times r^power
        girth = np.poly1d(
            [(c1 - c0) / length * PERIMETER_0012, (c0 - (c1 - c0) / length * r0) * PERIMETER_0012 - 1.0 * turned]
        )
        whole = np.polyint(girth * np.poly1d([1.0] + [0.0] * power))
        return float(whole(r1) - whole(r0))

    assert skin.amount == pytest.approx(moment(0), rel=2e-4)
    assert skin.amount > moment(0)
    assert skin.place_mm[0] == pytest.approx(moment(1) / moment(0), rel=2e-4)


def test_twisted_blade_with_an_off_axis_fitting(craft_of: object) -> None:
    """A fitting 30 mm ahead of the axis on a blade twisted linearly: forward and up by cosine and sine of its angle."""
    craft: Craft = craft_of(  # type: ignore[operator]
        "starter",
        ('chord = 180, twist = "4 deg"', 'chord = 180, twist = "12 deg"'),
        ("chord = 150,", "chord = 180,"),
        ('mass = "26 g"', 'mass = "26 g"\nchord = 0.0625\nheight = "5 mm"'),
    )
    fan = next(line for line in craft.mass.lines if line.name == "fitting fan")
    r = 0.96 * 700
    angle = np.radians(12.0 * (700 - r) / 580 - 12.0 * (700 - 525) / 580)  # against the chord at 75 % of the radius
    # 5 mm above the chord line, less the axis's height: the published mean line, m/p² (2 p x - x²), at 0.25 c
    up = 5.0 - 180 * 0.04 / 0.16 * (2 * 0.4 * 0.25 - 0.25**2)
    forward = 0.1875 * 180
    assert fan.place_mm[0] == pytest.approx(r)
    assert fan.place_mm[1] == pytest.approx(forward * np.cos(angle) - up * np.sin(angle), abs=0.01)
    assert fan.place_mm[2] == pytest.approx(
        forward * np.sin(angle) + up * np.cos(angle), abs=0.05
    )  # half way between the surfaces is not quite the mean line


def test_a_fitting_without_a_height_sits_on_the_mean_line(craft_of: object) -> None:
    """Half way back on an even, untwisted 4415: the published mean line there, 7.0 mm, less its 6.19 on the axis."""
    craft: Craft = craft_of(  # type: ignore[operator]
        "starter",
        ('chord = 180, twist = "4 deg"', 'chord = 180, twist = "0 deg"'),
        ("chord = 150,", "chord = 180,"),
        ('mass = "26 g"', 'mass = "26 g"\nchord = 0.5'),
    )
    fan = next(line for line in craft.mass.lines if line.name == "fitting fan")
    ahead, behind = 0.04 / 0.16 * (2 * 0.4 * 0.25 - 0.25**2), 0.04 / 0.36 * (1 - 2 * 0.4 + 2 * 0.4 * 0.5 - 0.5**2)
    assert fan.place_mm[1] == pytest.approx(45.0 - 90.0)
    assert fan.place_mm[2] == pytest.approx(180 * (behind - ahead), abs=0.05)  # not quite half way between surfaces


def test_sums_are_those_of_the_lines(lantern: Craft) -> None:
    blade = [line for line in lantern.mass.lines if line.assembly == "blade"]
    mass = sum(line.set_g[1] for line in blade)
    assert lantern.mass.blade.mass_g.typical == pytest.approx(mass)
    moment = sum(line.set_g[1] * line.place_mm[0] for line in blade)
    assert lantern.mass.blade.static_moment_g_mm.typical == pytest.approx(moment)
    assert lantern.mass.blade.cg_radius_mm.typical == pytest.approx(moment / mass)
    hub = sum(line.set_g[1] for line in lantern.mass.lines if line.assembly == "hub")
    assert lantern.mass.craft.mass_g.typical == pytest.approx(2 * mass + hub)
    assert lantern.mass.craft.cg_x_mm.typical == pytest.approx(0.0, abs=2.0)

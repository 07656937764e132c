"""The statement against hand calculations and closed-form integrals written out here."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from mass_by_hand import Exact, design, part
from numpy.polynomial import Polynomial

from geomgen.errors import DesignError
from geomgen.frames import shift, turn
from geomgen.mass.statement import MassStatement, weigh
from geomgen.model.part import Area, Bought, Flat, Length, Part, Shape, Solid
from geomgen.model.spread import along_r, straight
from geomgen.plane.path import Circle, from_points
from geomgen.plane.region import Region


def rectangular_blade() -> list[Part]:
    """Five balsa ribs 100 x 12 x 4 mm at r 100, 200 .. 500, leading edge 25 mm forward, a 10 mm hole on the axis,
    and a balsa strip 8 x 10 mm on the axis from 0 to 600: one material, no twist."""
    rectangle = from_points([(0, -6), (100, -6), (100, 6), (0, 6)], closed=True)
    region = Region(rectangle, (Circle((25, 0), 5),))
    x, y = region.centroid()
    ribs = [part(f"rib R{i}", Flat(region, 4), [[1, 100 * i, 25 - x, y]], "plank") for i in range(1, 6)]
    length, spread = straight([(np.zeros(3), np.array([600.0, 0, 0]))])
    return [*ribs, part("spar main", Length(length), spread, "rod", role="spar")]


def test_rectangular_blade_by_hand() -> None:
    statement = weigh(rectangular_blade(), design(), {})
    # one rib: 100 x 12 - pi 5^2 = 1121.4602 mm2, x 4 mm x 150e-6 g/mm3 = 0.6728761 g;
    # centroid behind the axis: 25 x 1200 / 1121.4602 = 26.750838 mm (the hole sits on the axis)
    rib_g, rib_y = 0.6728761, -26.750838
    spar_g = 600 * 8 * 10 * 150e-6  # 7.2 g, centre at 300
    mass = 5 * rib_g + spar_g  # 10.5643805 g
    first = rib_g * (100 + 200 + 300 + 400 + 500) + spar_g * 300  # 3169.31415 g mm
    blade = statement.blade
    assert blade.mass_g.typical == pytest.approx(mass, rel=1e-7)
    assert blade.mass_g.typical == pytest.approx(10.5643805, rel=1e-7)
    assert blade.static_moment_g_mm.typical == pytest.approx(first, rel=1e-7)
    assert blade.static_moment_g_mm.typical == pytest.approx(3169.31415, rel=1e-7)
    assert blade.cg_radius_mm.typical == pytest.approx(300, rel=1e-12)
    assert blade.cg_chordwise_mm.typical == pytest.approx(5 * rib_g * rib_y / mass, rel=1e-7)
    assert blade.cg_chordwise_r_weighted_mm.typical == pytest.approx(rib_g * rib_y * 1500 / first, rel=1e-7)
    assert blade.cg_vertical_mm.typical == pytest.approx(0, abs=1e-12)
    # ribs 120 .. 200 kg/m3, the spar's density is one figure
    assert blade.mass_g.low == pytest.approx(5 * rib_g * 0.8 + spar_g, rel=1e-7)
    assert blade.mass_g.high == pytest.approx(5 * rib_g * 200 / 150 + spar_g, rel=1e-7)
    # of the variance of wood 0.6 is the grade, shared by all; 0.3 the sheet, which nobody knows; 0.1 its own
    off = rib_g * (200 / 150 - 1) * (0.6 * 5**2 + 0.3 * 5 + 0.1 * 5) ** 0.5
    assert blade.mass_g.likely_high == pytest.approx(mass + off, rel=1e-7)


def integral(polynomial: Polynomial, theta: Polynomial, length: float, wave: str) -> float:
    """Integral from 0 to length of P(s) cos or sin(theta(s)) ds, theta straight: parts taken until P is used up."""
    rate = theta.coef[1]

    def at(s: float) -> float:
        total, derivative, sign = 0.0, polynomial, 1.0
        angle = theta(s)
        for step in range(polynomial.degree() + 1):
            pair = (np.sin(angle), np.cos(angle)) if wave == "cos" else (-np.cos(angle), np.sin(angle))
            total += sign * derivative(s) * pair[step % 2] / rate ** (step + 1)
            derivative, sign = derivative.deriv(), sign * (-1.0 if step % 2 else 1.0)
        return float(total)

    return at(length) - at(0.0)


def test_the_closed_form_itself() -> None:
    """Integral of s^2 cos s from 0 to pi is -2 pi; of s^3 sin s it is pi^3 - 6 pi (any table of integrals)."""
    assert integral(Polynomial([0, 0, 1]), Polynomial([0, 1]), np.pi, "cos") == pytest.approx(-2 * np.pi)
    assert integral(Polynomial([0, 0, 0, 1]), Polynomial([0, 1]), np.pi, "sin") == pytest.approx(np.pi**3 - 6 * np.pi)


def test_tapered_blade_against_closed_form() -> None:
    """A cover of 2 c(r) a mm, c straight from 210 at 130 to 150 at 800, its centre 0.22 c behind the axis."""
    r = Polynomial([130, 1])
    chord = Polynomial([210, -60 / 670])

    def measure(radius: float) -> tuple[float, Any]:
        c = chord(radius - 130)
        return 2 * c, np.array([radius, -0.22 * c, 0.0])

    total, spread = along_r(np.array([130.0, 800]), measure)
    blade = weigh([part("skin all", Area(total), spread, "cover", role="skin")], design(), {}).blade

    def over(polynomial: Polynomial) -> float:
        whole = polynomial.integ()
        return float(whole(670) - whole(0))

    mass, first = over(2 * chord), over(2 * chord * r)
    assert blade.mass_g.typical == pytest.approx(mass * 100e-6, rel=1e-12)
    assert blade.static_moment_g_mm.typical == pytest.approx(first * 100e-6, rel=1e-12)
    assert blade.cg_radius_mm.typical == pytest.approx(first / mass, rel=1e-12)
    assert blade.cg_chordwise_mm.typical == pytest.approx(over(-0.44 * chord**2) / mass, rel=1e-12)
    assert blade.cg_chordwise_r_weighted_mm.typical == pytest.approx(over(-0.44 * chord**2 * r) / first, rel=1e-12)


def test_twisted_blade_with_an_off_axis_fitting_against_closed_form() -> None:
    """The same cover, twisted 12 deg to -2 deg, centre 0.22 c behind the axis along the chord line (so above it where
    the leading edge is down), and a fan of 58 g at r 752, 40 mm ahead of the axis and 25 mm above it."""
    r, chord = Polynomial([130, 1]), Polynomial([210, -60 / 670])
    theta = Polynomial(np.radians([12, -14 / 670]))

    def measure(radius: float) -> tuple[float, Any]:
        c, t = chord(radius - 130), theta(radius - 130)
        return 2 * c, np.array([radius, -0.22 * c * np.cos(t), -0.22 * c * np.sin(t)])

    total, spread = along_r(np.array([130.0, 800]), measure)
    fan = part("fitting fan", Bought((52.2, 58, 63.8)), [[1, 752, 40, 25]], role="fitting")
    blade = weigh([part("skin", Area(total), spread, "cover", role="skin"), fan], design(), {}).blade

    grams = 100e-6
    whole, whole_r = (2 * chord).integ(), (2 * chord * r).integ()
    mass = grams * (whole(670) - whole(0)) + 58
    first = grams * (whole_r(670) - whole_r(0)) + 58 * 752
    forward = grams * integral(-0.44 * chord**2, theta, 670, "cos") + 58 * 40
    up = grams * integral(-0.44 * chord**2, theta, 670, "sin") + 58 * 25
    forward_r = grams * integral(-0.44 * chord**2 * r, theta, 670, "cos") + 58 * 40 * 752
    assert blade.mass_g.typical == pytest.approx(mass, rel=1e-9)
    assert blade.cg_radius_mm.typical == pytest.approx(first / mass, rel=1e-9)
    assert blade.cg_chordwise_mm.typical == pytest.approx(forward / mass, rel=1e-9)
    assert blade.cg_vertical_mm.typical == pytest.approx(up / mass, rel=1e-9)
    assert blade.cg_chordwise_r_weighted_mm.typical == pytest.approx(forward_r / first, rel=1e-9)
    assert blade.static_moment_g_mm.typical == pytest.approx(first, rel=1e-9)
    assert blade.mass_g.high - blade.mass_g.typical == pytest.approx(5.8)


def test_craft_by_hand() -> None:
    """Three blades, each 100 g at r 500, 30 mm ahead, 10 mm up, coned by 30 deg, pitch set 8 deg; 40 g on the hub."""
    blade = part("blade", Bought((100, 100, 100)), [[1, 500, 30, 10]])
    hub = part("pack", Bought((40, 40, 40)), [[1, 12, -5, -60]], assembly="hub")
    craft = weigh([blade, hub], design(blades=3, coning="30 deg"), {}).craft
    # pitch lifts (30, 10) to up = 30 sin 8 + 10 cos 8, coning then adds 500 sin 30 and tilts up by cos 30
    up = 30 * np.sin(np.radians(8)) + 10 * np.cos(np.radians(8))
    z = 500 * 0.5 + up * np.sqrt(0.75)
    assert craft.mass_g.typical == pytest.approx(340)
    assert craft.lift_g.typical == pytest.approx(340 + craft.payload_g) and craft.payload_g == 150
    assert craft.cg_z_mm.typical == pytest.approx((300 * z + 40 * -60) / 340)
    assert (craft.cg_x_mm.typical, craft.cg_y_mm.typical) == pytest.approx((40 * 12 / 340, 40 * -5 / 340))


def test_clockwise_is_the_mirror_image() -> None:
    parts = [*rectangular_blade(), part("pack", Bought((40, 40, 40)), [[1, 12, -5, -60]], assembly="hub")]
    mine, twin = (weigh(parts, design(turn=turning), {}) for turning in ("clockwise", "anticlockwise"))
    assert mine.blade == twin.blade
    assert mine.craft.cg_y_mm.typical == pytest.approx(-twin.craft.cg_y_mm.typical) != 0
    assert mine.craft.cg_z_mm.typical == pytest.approx(twin.craft.cg_z_mm.typical)


def test_solids_weigh_their_share_at_their_places() -> None:
    cap = part(
        "fixed cap", Solid("spec"), [[1, 0, 0, 0]], "print_petg", count=2, assembly="hub",
        places=(shift((50, 0, 0)), turn("z", 180) @ shift((50, 0, 0))),
    )  # fmt: skip
    statement = weigh([cap], design(), {cap.key: Exact(2000.0, (3.0, 4.0, 1.0))})
    (line,) = statement.lines
    assert line.one_g[1] == pytest.approx(2000 * 1.27e-3 * 0.45)
    assert line.set_g[1] == pytest.approx(2 * line.one_g[1])
    assert line.place_mm == pytest.approx((0, 0, 1))
    assert line.out_forward_mm2 == pytest.approx(53 * 4)


def test_a_solid_that_is_not_there_is_named_and_left_out() -> None:
    hub = part("hub", Solid("spec"), [[1, 0, 0, 0]], "print_petg", assembly="hub")
    bare, without = weigh([*rectangular_blade(), hub], design(), {}), weigh(rectangular_blade(), design(), {})
    assert bare.unweighed == ("hub",)
    assert bare.craft == without.craft


def test_counts_wires_and_glue() -> None:
    wire = part("wire fan", Length(840), [[1, 400, -15, 0]], count=3, role="wire", path="wire.fan")
    glue = part("glue", Area(50_000), [[1, 450, -30, 0]], role="glue", path="glue")
    lines = {line.name: line for line in weigh([wire, glue], design(), {}).lines}
    assert lines["wire fan"].set_g[1] == pytest.approx(3 * 0.840 * 10.5)
    assert lines["glue"].set_g[1] == pytest.approx(0.05 * 186 * 0.475)
    assert lines["wire fan"].lot != lines["glue"].lot


@pytest.mark.parametrize(
    ("stock", "grams"),  # of 2000 mm3 at 1 g for each 1000 mm3, by hand
    [
        ("print_usual", (1.06, 1.26, 1.46)),  # 53, 63, 73 %: a slicer's figures for the demo's hub
        ("print_sure", (1.0, 1.0, 1.0)),
        ("print_band", (0.9 * 2 * 0.4, 1.0, 1.2 * 2 * 0.55)),  # light plastic thinly filled, heavy plastic well filled
        ("block", (0.07, 0.07, 0.07)),  # foam is cut, not printed
    ],
)
@pytest.mark.parametrize("shape", ["solid", "flat"])
def test_how_much_of_a_print_is_there(stock: str, grams: tuple[float, float, float], shape: str) -> None:
    plate = Flat(Region(from_points([(0, 0), (50, 0), (50, 10), (0, 10)], True)), 4)
    hub = part("hub", Solid("spec") if shape == "solid" else plate, [[1, 0, 0, 0]], stock, assembly="hub")
    statement = weigh([hub], design(), {hub.key: Exact(2000.0, (0.0, 0.0, 0.0))} if shape == "solid" else {})
    (line,) = statement.lines
    assert line.one_g == pytest.approx(grams, rel=1e-12)
    mass = statement.craft.mass_g
    assert (mass.low, mass.typical, mass.high) == pytest.approx(grams, rel=1e-12)
    assert (mass.likely_low, mass.likely_high) == pytest.approx(grams[::2], rel=1e-12)  # one stock: off as a whole


def test_who_says_how_much_of_a_print_is_there() -> None:
    shares = {name: stock.share for name, stock in design().stock.items() if stock.kind == "volume"}
    assert shares["print_sure"].source == shares["print_band"].source == "design file"
    assert "a slicer's figures for this tool's demo hub" in shares["print_usual"].source
    (rib,) = weigh(rectangular_blade()[:1], design(), {}).lines
    assert rib.share is None


def test_flat_print_weighs_its_share() -> None:
    square = Region(from_points([(0, 0), (50, 0), (50, 20), (0, 20)], True))
    (line,) = weigh([part("cap", Flat(square, 4), [[1, 130, 0, 0]], "print_petg")], design(), {}).lines
    assert line.one_g[1] == pytest.approx(50 * 20 * 4 * 1.27e-3 * 0.45)


@pytest.mark.parametrize(("shape", "stock"), [(Length(100), "plank"), (Area(100), "rod"), (Area(100), "")])
def test_what_cannot_be_weighed_is_a_fault_with_its_path(shape: Shape, stock: str) -> None:
    with pytest.raises(DesignError) as caught:
        weigh([part("odd", shape, [[1, 0, 0, 0]], stock, path="blade.spar.odd")], design(), {})
    assert caught.value.faults[0].path == "blade.spar.odd"


def test_the_lines_add_up_to_the_sums() -> None:
    statement: MassStatement = weigh(rectangular_blade(), design(), {})
    for end, name in enumerate(("low", "typical", "high")):
        assert sum(line.set_g[end] for line in statement.lines) == pytest.approx(getattr(statement.blade.mass_g, name))
        assert getattr(statement.craft.mass_g, name) == pytest.approx(2 * getattr(statement.blade.mass_g, name))

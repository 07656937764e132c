"""Mass elements against closed forms of plates and rods, the statement's sums, and a direct integral of a craft."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import Any

import numpy as np
import pytest
from mass_by_hand import Exact, design, part

from geomgen.craft import Craft
from geomgen.frames import applied, blade_to_rotor, shift, turn
from geomgen.mass import elements as mass_elements
from geomgen.mass.elements import of_craft
from geomgen.mass.lines import lines
from geomgen.mass.measured import measured
from geomgen.model.element import body
from geomgen.model.part import Bought, Flat, Length, Solid
from geomgen.model.role import Assembly
from geomgen.model.spread import straight
from geomgen.plane.path import Circle, from_points
from geomgen.plane.region import Region

GRAMS = 150e-6  # of a mm3 of plank


def elements(parts: Any, built: Any, solids: Any) -> Any:
    """Of parts that are weighed first."""
    weighed = measured(parts, solids)
    return mass_elements.elements(weighed, lines(weighed, built), solids)


def plate(a: float, b: float, place: Any, name: str = "plate", **more: Any) -> Any:
    """A rectangle a x b of a sheet of 4 mm, its middle in the origin of its own frame."""
    region = Region(from_points([(-a / 2, -b / 2), (a / 2, -b / 2), (a / 2, b / 2), (-a / 2, b / 2)], closed=True))
    return part(name, Flat(region, 4.0), [[1.0, *place[:3, 3]]], "plank", places=(place,), **more)


def test_a_tilted_plate_by_its_closed_form() -> None:
    """Box of 100 x 40 x 4: m (b2 + t2) / 12 and so on about its own edges, whichever way it lies."""
    place = shift((500, 20, -3)) @ turn("x", 30) @ turn("z", -20)
    (element,) = elements([plate(100, 40, place)], design(), {})
    mass = 100 * 40 * 4 * GRAMS
    own = mass / 12 * np.diag([40**2 + 4**2, 100**2 + 4**2, 100**2 + 40**2])
    assert element.mass_g == pytest.approx(mass)
    assert element.centre == pytest.approx((500, 20, -3))
    assert element.inertia == pytest.approx(place[:3, :3] @ own @ place[:3, :3].T, abs=1e-9 * mass * 1e4)
    assert (element.lot, element.assembly, element.blade) == ("stock.plank", Assembly.BLADE, None)


def test_a_ring_and_a_mirrored_plate() -> None:
    """A ring: m (R2 + r2) / 2 about its axis, m (R2 + r2) / 4 + m t2 / 12 across; a mirrored place mirrors products."""
    ring = part(
        "ring", Flat(Region(Circle((0, 0), 30), (Circle((0, 0), 10),)), 4.0), [[1, 0, 0, 0]], "plank",
        places=(np.eye(4),),
    )  # fmt: skip
    (element,) = elements([ring], design(), {})
    mass = np.pi * (30**2 - 10**2) * 4 * GRAMS
    across, about = mass * (1000 / 4 + 16 / 12), mass * 1000 / 2
    assert element.inertia == pytest.approx(np.diag([across, across, about]), abs=1e-6)
    mirror = np.diag((1.0, -1.0, 1.0, 1.0))
    one, other = (elements([plate(100, 40, at @ turn("z", 25))], design(), {})[0] for at in (np.eye(4), mirror))
    assert other.inertia[0, 1] == pytest.approx(-one.inertia[0, 1]) != 0
    assert one.moved(mirror).inertia == pytest.approx(other.inertia)


def test_a_plate_drawn_from_its_corner() -> None:
    """A right triangle of legs a, b from the origin, by any table of moments of area: centre (a/3, b/3), about it
    m b2 / 18 and m a2 / 18, and a product of -m a b / 36."""
    a, b = 90.0, 40.0
    triangle = Flat(Region(from_points([(0, 0), (a, 0), (0, b)], closed=True)), 4.0)
    place = shift((300, 10, 0)) @ turn("z", 35)
    centre = applied(place, (a / 3, b / 3, 0.0))
    (element,) = elements([part("gusset", triangle, [[1, *centre]], "plank", places=(place,))], design(), {})
    mass, turned = a * b / 2 * 4 * GRAMS, place[:3, :3]
    own = np.diag([b**2 / 18 + 16 / 12, a**2 / 18 + 16 / 12, (a**2 + b**2) / 18])
    own[0, 1] = own[1, 0] = a * b / 36
    assert element.mass_g == pytest.approx(mass) and element.centre == pytest.approx(centre)
    assert element.inertia == pytest.approx(mass * turned @ own @ turned.T)


def test_a_bent_wire_as_thin_rods() -> None:
    """Legs of 300 along x and 40 along y from its end, 10.5 g/m: m l2 / 12 each, by parallel axes."""
    corner = np.array([300.0, 0, 0])
    length, spread = straight([(np.zeros(3), corner), (corner, corner + np.array([0, 40, 0]))])
    wire = part("wire fan", Length(length), spread, role="wire", path="wire.fan", count=3)
    (element,) = elements([wire], design(), {})
    long, short = 3 * 0.0105 * 300, 3 * 0.0105 * 40
    x, y = (long * 150 + short * 300) / (long + short), short * 20 / (long + short)
    assert element.centre == pytest.approx((x, y, 0))
    about_x = long * y**2 + short * (40**2 / 12 + (20 - y) ** 2)
    about_y = long * (300**2 / 12 + (150 - x) ** 2) + short * (300 - x) ** 2
    product_xy = long * (150 - x) * (0 - y) + short * (300 - x) * (20 - y)
    expected = [[about_x, -product_xy, 0], [-product_xy, about_y, 0], [0, 0, about_x + about_y]]
    assert element.inertia == pytest.approx(np.array(expected), rel=1e-9, abs=1e-9)


def test_solids_and_points() -> None:
    spec = Exact(2000.0, np.array([3.0, 4.0, 1.0]), np.diag([1e5, 2e5, 3e5]))
    caps = part(
        "cap", Solid("spec"), [[1, 0, 0, 0]], "print_petg", assembly="hub", count=2,
        places=(shift((50, 0, 0)), turn("z", 90) @ shift((50, 0, 0))),
    )  # fmt: skip
    one, other = elements([caps], design(), {caps.key: spec})
    density = 1.27e-3 * 0.45
    assert one.inertia == pytest.approx(density * spec.inertia)
    assert other.inertia == pytest.approx(density * np.diag([2e5, 1e5, 3e5]))
    assert other.centre == pytest.approx((-4, 53, 1))
    packs = part("packs", Bought((9, 10, 11)), [[0.5, 30, 0, 0], [0.5, -30, 0, 0]], assembly="hub", count=2)
    (element,) = elements([packs], design(), {})
    assert element.inertia == pytest.approx(np.diag([0, 20 * 900, 20 * 900]))
    heavy = element.times(1.1)
    assert (heavy.mass_g, heavy.inertia[2, 2]) == (pytest.approx(22), pytest.approx(1.1 * 20 * 900))


@pytest.mark.parametrize(
    ("name", "option"), [("lantern", None), ("lantern", "foam_board"), ("lantern", "balsa"), ("kite_day", None)]
)
def test_sums_and_first_moments_are_the_statements(craft_of: Any, name: str, option: str | None) -> None:
    craft: Craft = craft_of(name, option=option)
    for each in Assembly.BLADE, Assembly.HUB:
        mine = body([one for one in craft.elements if one.assembly == each])
        lines = [line for line in craft.mass.lines if line.assembly == each]
        grams, places = np.array([line.set_g[1] for line in lines]), np.array([line.place_mm for line in lines])
        assert mine.mass_g == pytest.approx(grams.sum(), rel=1e-9)
        assert mine.mass_g * mine.centre == pytest.approx(grams @ places, abs=1e-6 * grams.sum())
    whole = body(of_craft(craft.elements, craft.design))
    assert whole.mass_g == pytest.approx(craft.mass.craft.mass_g.typical, rel=1e-9)
    assert whole.centre[2] == pytest.approx(craft.mass.craft.cg_z_mm.typical, abs=1e-6)
    assert (np.linalg.eigvalsh(whole.inertia) > 0).all()


def test_a_whole_craft_by_parallel_axes_against_a_direct_integral() -> None:
    """Three blades of plate and rod, coned, pitch set, clockwise, and a plate on the hub: dm (r2 1 - r r) over all."""
    on_blade, on_hub = shift((400, -20, 5)) @ turn("y", 90) @ turn("z", 12), shift((10, 0, -40))
    rod_ends = np.array([[60.0, 0, 0], [560.0, 0, 0]])
    rod = part("rod", Length(500.0), straight([tuple(rod_ends)])[1], "rod", role="spar")
    parts = [plate(120, 15, on_blade), rod, plate(50, 30, on_hub, "board", assembly="hub")]
    built = design(blades=3, coning="4 deg", turn="clockwise")
    found = body(of_craft(elements(parts, built, {}), built))

    nodes = np.array([-1.0, 1.0]) / np.sqrt(3.0)  # two Gauss points are exact to the third power
    box = np.array(list(product(nodes, repeat=3))) / 2
    clouds = [
        (120 * 15 * 4 * GRAMS, applied(on_blade, box * [120, 15, 4]), True),
        (500 * 80 * GRAMS, rod_ends.mean(axis=0) + np.outer(nodes / 2, rod_ends[1] - rod_ends[0]), True),
        (50 * 30 * 4 * GRAMS, applied(on_hub, box * [50, 30, 4]), False),
    ]
    mirror = np.diag((1.0, -1.0, 1.0, 1.0))
    placed = [blade_to_rotor(k, 3, built.pitch.set, 4.0, True) for k in (1, 2, 3)]
    points = [
        (mass / len(xyz), point)
        for mass, xyz, flies in clouds
        for matrix in (placed if flies else [mirror])
        for point in applied(matrix, xyz)
    ]
    grams, xyz = np.array([g for g, _ in points]), np.array([p for _, p in points])
    centre = grams @ xyz / grams.sum()
    inertia = sum(g * (d @ d * np.eye(3) - np.outer(d, d)) for g, d in zip(grams, xyz - centre, strict=True))
    assert found.mass_g == pytest.approx(grams.sum())
    assert found.centre == pytest.approx(centre)
    assert found.inertia == pytest.approx(inertia, rel=1e-9, abs=1e-6)


def test_one_blade_may_differ() -> None:
    built = design(blades=2)
    (fan,) = elements([part("fan", Bought((10, 10, 10)), [[1, 500, 0, 0]])], built, {})
    heavier = [fan, replace(fan, mass_g=1.0, blade=2)]
    assert [(one.blade, one.mass_g) for one in of_craft(heavier, built)] == [(1, 10), (2, 10), (2, 1)]

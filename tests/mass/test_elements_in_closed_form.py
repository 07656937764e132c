"""Elements' inertia against closed forms, to 1e-9: plate, tapered plate, disc, tube, ring of screws, sheet in space;
printed parts against another mesh library."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
import trimesh
from mass_by_hand import design, part

from geomgen.craft import Craft
from geomgen.frames import applied, shift, turn
from geomgen.mass import elements as mass_elements
from geomgen.mass.lines import lines
from geomgen.mass.measured import measured
from geomgen.model.element import Element, inertia_of
from geomgen.model.part import Bought, Flat
from geomgen.model.role import Role
from geomgen.plane.path import Circle, from_points
from geomgen.plane.region import Region
from geomgen.structure.covers.outline import whole_second
from geomgen.structure.covers.slab import slab

CraftOf = Callable[..., Craft]
EXACT = 1e-9
GRAMS = 150e-6 * 4.0  # of a mm2 of plank, which is 4 mm thick


def element(shape: Any, place: Any, **more: Any) -> Element:
    """The one that a part has, weighed first."""
    own = part("x", shape, [[1.0, *more.pop("at", place[:3, 3])]], "plank", places=(place,), **more)
    weighed = measured([own], {})
    (found,) = mass_elements.elements(weighed, lines(weighed, design()), {})
    return found


def test_a_plate_and_a_tapered_one() -> None:
    """Rectangle: m b2/12 and m a2/12 with m t2/12. Trapezium, a long, b to c wide, symmetric: its moments are integrals
    of a width that runs straight, w, w x2 and w3/12."""
    place = shift((300.0, 5.0, 2.0)) @ turn("x", 20) @ turn("z", 33)
    turned = place[:3, :3]
    flat = Flat(Region(from_points([(-60, -15), (60, -15), (60, 15), (-60, 15)], closed=True)), 4.0)
    mass = 120 * 30 * GRAMS
    own = mass / 12 * np.diag([30**2 + 16, 120**2 + 16, 120**2 + 30**2])
    assert element(flat, place).inertia == pytest.approx(turned @ own @ turned.T, rel=EXACT, abs=EXACT * mass * 1e4)

    a, b, c = 120.0, 40.0, 22.0
    wide = np.poly1d([(c - b) / a, b])
    terms = wide, wide * np.poly1d([1, 0]), wide * np.poly1d([1, 0, 0]), wide**3 / 12
    area, first, along, across = (float(np.polyint(term)(a)) for term in terms)
    middle = first / area
    flat = Flat(Region(from_points([(0, -b / 2), (a, -c / 2), (a, c / 2), (0, b / 2)], closed=True)), 4.0)
    found = element(flat, place, at=applied(place, (middle, 0.0, 0.0)))
    xx, yy, zz = along / area - middle**2, across / area, 16 / 12
    own = found.mass_g * np.diag([yy + zz, xx + zz, xx + yy])
    assert found.mass_g == pytest.approx(area * GRAMS, rel=EXACT)
    assert found.centre == pytest.approx(applied(place, (middle, 0, 0)), rel=EXACT)
    assert found.inertia == pytest.approx(turned @ own @ turned.T, rel=EXACT, abs=EXACT * found.mass_g * 1e4)


def test_a_disc_on_edge() -> None:
    """m R2/2 about its axis, m R2/4 + m t2/12 across; its axis along x, as a rib's."""
    place = shift((400.0, -10.0, 0.0)) @ turn("y", 90)
    found = element(Flat(Region(Circle((0, 0), 25.0)), 4.0), place)
    mass = np.pi * 625 * GRAMS
    across = mass * (625 / 4 + 16 / 12)
    assert found.inertia == pytest.approx(np.diag([mass * 625 / 2, across, across]), rel=EXACT, abs=EXACT * mass * 625)


def test_a_tube_and_a_strip(craft_of: CraftOf) -> None:
    """Tube 8 x 5 from 30 to 700 mm: m (R2 + r2)/2 about itself, m (3 (R2 + r2) + l2)/12 across. A strip 3 wide and 6
    high, straight from (130, y, z) to 736: what its ends make, and m 9/12, m 36/12."""
    tube = next(e for e in craft_of("starter").elements if e.key.role is Role.SPAR)
    own = (16 + 6.25) / 2
    across = (3 * 22.25 + 670**2) / 12
    assert tube.inertia == pytest.approx(tube.mass_g * np.diag([own, across, across]), rel=EXACT, abs=1e-6)
    assert tube.centre == pytest.approx((365, 0, 0), abs=1e-9)
    craft = craft_of("lantern")
    strip = next(e for e in craft.elements if e.key.path == "blade.spar.rear")
    route = craft.layout.spars["rear"]
    long = np.array(route.end) - np.array(route.start)
    second = np.outer(long, long) / 12 + np.diag([0.0, 9.0, 36.0]) / 12
    assert strip.inertia == pytest.approx(strip.mass_g * inertia_of(second), rel=EXACT, abs=1e-6)


@pytest.mark.parametrize("count", [3, 4, 7])
def test_a_ring_of_screws(count: int) -> None:
    """n points on a circle of R, whatever the first one's angle: m R2 about its axis, m R2/2 across, no products."""
    angle = 0.3 + 2 * np.pi / count * np.arange(count)
    spread = np.column_stack([np.full(count, 1 / count), np.full(count, 40.0), 12 * np.cos(angle), 12 * np.sin(angle)])
    ring = part("screws", Bought((0.7, 0.7, 0.7)), spread, count=count)
    weighed = measured([ring], {})
    (found,) = mass_elements.elements(weighed, lines(weighed, design()), {})
    mass = 0.7 * count
    assert found.inertia == pytest.approx(mass * 144 * np.diag([1.0, 0.5, 0.5]), rel=EXACT, abs=1e-10)


def test_a_sheet_in_space_counts_as_it_lies() -> None:
    """A plane grid, tilted: that of a box of its sides. A half pipe of sheet in 400 flats: closed form of an arc, to
    the square of its chords."""
    tilt = (turn("x", 25) @ turn("y", -8))[:3, :3]
    x, y = np.meshgrid(np.linspace(-90, 90, 7), np.linspace(-20, 20, 5), indexing="ij")
    flat = np.stack([x, y], axis=-1)
    space = np.stack([x + 400, y, np.full_like(x, 7.0)], axis=-1) @ tilt.T
    laid: Any = SimpleNamespace(flat=SimpleNamespace(xy=flat, space=space))
    at = tilt @ np.array([400, 0, 7.0])
    own = tilt @ np.diag([180**2, 40**2, 2.0**2]) @ tilt.T / 12
    assert whole_second(laid, 2.0) == pytest.approx(own + np.outer(at, at), rel=EXACT, abs=1e-7)

    angle = np.linspace(0.0, np.pi, 401)
    x, round_ = np.meshgrid([0.0, 100.0], angle, indexing="ij")
    space = np.stack([x, 30 * np.cos(round_), 30 * np.sin(round_)], axis=-1)
    laid = SimpleNamespace(flat=SimpleNamespace(xy=np.stack([x, 30 * round_], axis=-1), space=space))
    found = whole_second(laid, 0.0)
    assert found == pytest.approx(
        np.array([[100**2 / 3, 0, 50 * 60 / np.pi], [0, 450, 0], [50 * 60 / np.pi, 0, 450]]), rel=1e-4, abs=1e-2
    )


def polygon_second(ring: Any) -> Any:
    """(2, 2) about its centroid, by the triangles that each side makes with the first corner; the middles of a
    triangle's sides are exact for squares."""
    total, area, first = np.zeros((2, 2)), 0.0, np.zeros(2)
    a = ring[0]
    for b, c in pairwise(ring[1:]):
        size = 0.5 * ((b - a)[0] * (c - a)[1] - (b - a)[1] * (c - a)[0])
        for middle in ((a + b) / 2, (b + c) / 2, (c + a) / 2):
            total += size / 3 * np.outer(middle, middle)
        area, first = area + size, first + size * (a + b + c) / 3
    return total / area - np.outer(first / area, first / area)


@pytest.mark.parametrize(("low", "high"), [(None, None), (None, 8.0), (100.0, None), (40.0, 90.0)])
def test_cross_sections_by_triangles(lantern: Craft, low: float | None, high: float | None) -> None:
    """Second moments of what strips and cores are cut to, against those of its outline as a polygon of many points."""
    stations = lantern.blade.stations([140.0, 455.0])
    ends = [None if at is None else np.full(2, at) for at in (low, high)]
    found = slab(stations, 2.0, *ends)
    for k in range(2):
        wanted = polygon_second(found.ring(k))
        assert found.second[k] == pytest.approx(wanted, rel=2e-3, abs=2e-3 * wanted[0, 0])


# The kite day's prints are weighed by walls and infill; a mesh is as heavy all through
SOLID = {"kite_day": (('print = { walls = 5, top = 4, bottom = 4, infill = "10 %" }', "solid = 0.5"),)}


@pytest.mark.parametrize("example", ["lantern", "kite_day"])
def test_printed_parts_by_another_mesh_library(craft_of: CraftOf, example: str) -> None:
    """Hub and printed caps as elements against the mesh that is written, in its place, of the same mass: chords of the
    mesh, and letters, which count nothing in an element, leave a few thousandths."""
    craft = craft_of(example, *SOLID.get(example, ()))
    meshes, clockwise = craft.meshes, craft.design.rotor.turn == "clockwise"
    mirror = np.diag([1.0, -1.0 if clockwise else 1.0, 1.0])
    seen = 0
    for own in (*craft.hub.parts, *craft.caps.parts):
        if own.key not in meshes:
            continue
        mesh = meshes[own.key]
        solid = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
        found = [e for e in craft.elements if e.key == own.key]
        for each, place in zip(found, own.places, strict=True):
            turned = place[:3, :3]
            if own.role is Role.HUB:
                turned = turned @ mirror  # the mesh is of the craft's own hand, elements of the twin's
            elif clockwise:
                turned = turned @ np.diag([-1.0, 1.0, 1.0])
            tensor = turned @ (solid.moment_inertia / solid.volume * each.mass_g) @ turned.T
            size = float(np.trace(tensor))
            assert each.inertia == pytest.approx(tensor, rel=5e-3, abs=5e-3 * size), own.name
            seen += 1
    assert seen >= 2

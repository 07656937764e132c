"""The demo's blade: its inertia against a sum over solids that are built here from the sections' equations.

Shapes come from `blade_by_hand` and `options_by_hand`, which import nothing of geomgen; holes of ribs from the files
that are cut, as another reader reads them; the cap from the mesh that is printed, by another library. Masses are the
statement's, which `test_options_by_hand` judges line by line: here each line's grams are laid out in space anew. What
is bought counts as points where it is fixed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

import numpy as np
import pytest
import shapely
import trimesh
from blade_by_hand import END, RADII, ROOT, between, board, chord, naca, placed, sunk, surface_mm2
from numpy.typing import NDArray
from options_by_hand import BUILT, FAN, REAR_END, TUBE, at, both, doublers, ribs
from test_options_by_hand import read

from geomgen.craft import Craft
from geomgen.cutting.dxf import part_dxf
from geomgen.model.element import Element
from geomgen.model.part import Part

FloatArray = NDArray[np.float64]
CLOSE = 1e-3
POINTS = {"tie", "pin", "screw", "fitting"}  # roles that are told by their places
HALF = np.array([[0.5, 0.5, 0.0], [0.0, 0.5, 0.5], [0.5, 0.0, 0.5]])  # middles of a triangle's edges: exact for squares


def second(points: FloatArray, weights: FloatArray) -> FloatArray:
    """(3, 3) mean of place times place about the feather axis's start."""
    return np.asarray((points * weights[:, None]).T @ points / weights.sum())


def of_polygon(shape: shapely.Polygon, to_space: Callable[[FloatArray], FloatArray], thickness: float) -> FloatArray:
    """Of a plate across the blade, by the triangles that each ring makes with a corner of its own; holes count less."""
    total, area = np.zeros((3, 3)), 0.0
    for k, ring in enumerate((shape.exterior, *shape.interiors)):
        xy = np.array(ring.coords)[:, :2]
        a, b = xy[:-1] - xy[0], xy[1:] - xy[0]
        sizes = 0.5 * (a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
        sign = np.sign(sizes.sum()) * (-1.0 if k else 1.0)
        corners = np.stack([np.broadcast_to(xy[0], a.shape), xy[:-1], xy[1:]], axis=1)
        middles = to_space((HALF @ corners).reshape(-1, 2))
        total += sign * np.einsum("n,ni,nj->ij", np.repeat(sizes / 3.0, 3), middles, middles)
        area += sign * sizes.sum()
    return total / area + np.diag([thickness**2 / 12.0, 0.0, 0.0])


def of_surface(rows: list[FloatArray]) -> FloatArray:
    """Of a sheet through rows of points in space, by triangles."""
    grid = np.array(rows)
    total, area = np.zeros((3, 3)), 0.0
    for a, b, c in ((grid[:-1, :-1], grid[1:, :-1], grid[1:, 1:]), (grid[:-1, :-1], grid[1:, 1:], grid[:-1, 1:])):
        sizes = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=-1)
        for p, q in ((a, b), (b, c), (c, a)):
            middle = (p + q) / 2.0
            total += np.einsum("ab,abi,abj->ij", sizes / 3.0, middle, middle)
        area += sizes.sum()
    return total / area


def of_legs(*legs: tuple[FloatArray, FloatArray, float]) -> FloatArray:
    """Of straight thin things, each with its share: a third of what its ends have, and of their product."""
    total = np.zeros((3, 3))
    for a, b, _ in legs:
        assert a.shape == b.shape == (3,)
    for a, b, share in legs:
        total += share * (np.outer(a, a) + np.outer(b, b) + np.outer(a + b, a + b)) / 6.0
    return total / sum(share for *_, share in legs)


def length(a: FloatArray, b: FloatArray) -> float:
    return float(np.linalg.norm(b - a))


def round_axis(outside: float, inside: float) -> FloatArray:
    """A tube's own, across its axis along x: a quarter of the radii's squares."""
    return np.diag([0.0, 1.0, 1.0]) * (outside**2 + inside**2) / 16.0


def wire(start: FloatArray, *ways: FloatArray, spare: float) -> FloatArray:
    """From the rotor axis straight out to the root, and on; half the spare at each end."""
    centre = np.array([0.0, *start[1:]])
    places = [centre, start, *ways]
    legs = [(a, b, length(a, b)) for a, b in pairwise(places)]
    return of_legs(*legs, (centre, centre, spare / 2), (places[-1], places[-1], spare / 2))


def edge(rib: object) -> tuple[FloatArray, float]:
    """How the edge that the skin is glued to lies, and its length; the upright end of the rib is none of it."""
    room = rib.room  # type: ignore[attr-defined]
    line = room.shape.exterior.difference(shapely.box(room.end - 1e-3, -99.0, room.end + 1e-3, 99.0))
    points = [np.array(part.coords) for part in shapely.get_parts(line)]
    legs = [(a, b) for part in points for a, b in pairwise(placed(part, rib.r))]  # type: ignore[attr-defined]
    found = [(a, b, length(a, b)) for a, b in legs]
    return of_legs(*found), sum(share for *_, share in found)


def tip() -> FloatArray:
    """Half an ellipse beyond the frame in the plane of the last chord, farthest out at 40 % of it, 3 mm thick."""
    c = float(chord(END))
    t = np.linspace(0.0, np.pi, 721)
    aft = np.where(t < np.pi / 2, 0.6 * c * np.cos(t), 0.4 * c * np.cos(t)) + 0.4 * c
    plan = shapely.Polygon(np.column_stack([aft, 18.0 * np.sin(t)]))

    def to_space(xy: FloatArray) -> FloatArray:
        level = placed(np.column_stack([xy[:, 0], np.zeros(len(xy))]), END)
        return level + np.outer(xy[:, 1], [1.0, 0.0, 0.0])

    up = np.cross(to_space(np.array([[1.0, 0.0]]))[0] - to_space(np.array([[0.0, 0.0]]))[0], [1.0, 0.0, 0.0])
    return of_polygon(plan, to_space, 0.0) + np.outer(up, up) * 9.0 / 12.0


def cap(craft: Craft) -> FloatArray:
    """The turning cap as printed, about the feather axis: cap's x aft, y up, z in."""
    key = next(part.key for part in craft.caps if part.role == "turning cap")
    mesh = craft.meshes[key]
    solid = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    about = solid.moment_inertia / solid.volume
    own = np.trace(about) / 2.0 * np.eye(3) - about
    turned = np.array([[0.0, 0.0, -1.0], [-1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
    face = 130.0 - 4.0  # its outer face lies on the root's, 4 mm thick
    centre = turned @ solid.center_mass
    centre[0] = face + 2.0 + (centre[0] - (turned @ solid.bounds.mean(axis=0))[0])
    return np.asarray(turned @ own @ turned.T + np.outer(centre, centre))


def doubled(flats: dict[str, Part], colours: dict[str, str]) -> Iterator[tuple[str, FloatArray]]:
    """Doublers less their holes, and the glue of their whole faces, each in the plane in which it meets its rib."""
    glued, area = np.zeros((3, 3)), 0.0
    for each in doublers("base"):
        holes = read(part_dxf(flats[each.name], colours, 2)).inside
        shape = each.room.shape.difference(shapely.unary_union(holes))
        yield each.name, of_polygon(shape, lambda xy, r=each.r: placed(xy, r), each.thick)
        glued += shape.area * of_polygon(shape, lambda xy, r=each.r - each.thick / 2: placed(xy, r), 0.0)
        area += shape.area
    yield "glue doublers", glued / area


def by_hand(craft: Craft) -> Iterator[tuple[str, FloatArray]]:
    """Name of each line, and how it lies."""
    built, every = BUILT["base"], ribs("base")
    colours = craft.design.laser.colour.model_dump()
    flats = {part.name: part for part in craft.finished}
    for k, rib in enumerate(every, start=1):
        holes = read(part_dxf(flats[f"rib R{k:02d}"], colours, 2)).inside
        shape = rib.room.shape.difference(shapely.unary_union(holes))
        yield f"rib R{k:02d}", of_polygon(shape, lambda xy, r=rib.r: placed(xy, r), rib.thick)
    yield from doubled(flats, colours)
    yield "skin all", of_surface([both(naca, r, built.cover / 2) for r in RADII])
    ends = np.array([30.0, 0.0, 0.0]), np.array([END, 0.0, 0.0])
    yield "spar main", of_legs((*ends, 1.0)) + round_axis(*TUBE)
    yield "spar rear", of_legs((at(ROOT, 0.62), at(REAR_END, 0.62), 1.0)) + np.diag([0.0, 9.0, 36.0]) / 12.0
    yield "tip", tip()
    yield "wire fan", wire(at(ROOT, 0.38), at(FAN, 0.42), at(FAN, 0.25), spare=90.0)
    yield "wire lights", wire(at(ROOT, 0.38), at(FAN, 0.42), spare=60.0)
    edges = [(*edge(rib), rib.thick) for rib in every]
    shares = [long * thick for _, long, thick in edges]
    yield "glue skin to ribs", sum(s * lies for (lies, *_), s in zip(edges, shares, strict=True)) / sum(shares)
    round_ = [(np.array([rib.r, 0.0, 0.0]), np.pi * 8.1 * rib.thick) for rib in every if rib.r < END]
    yield "glue on tubes", second(np.array([p for p, _ in round_]), np.array([w for _, w in round_]))
    rear = [at(ROOT, 0.62), at(REAR_END, 0.62)]
    holes_ = [
        (rear[0] + (rib.r - ROOT) / (REAR_END - ROOT) * (rear[1] - rear[0]), 2 * (3.1 + 6.1) * rib.thick)
        for rib in every
        if rib.r < REAR_END
    ]
    yield "glue spars to ribs", second(np.array([p for p, _ in holes_]), np.array([w for _, w in holes_]))
    seam = [(placed(np.array([[(float(chord(rib.r)) + rib.room.end) / 2, 0.0]]), rib.r)[0],
             float(chord(rib.r)) - rib.room.end) for rib in every]  # fmt: skip
    bays = [(a, b, (wa + wb) / 2 * (b[0] - a[0])) for (a, wa), (b, wb) in pairwise(seam)]
    yield "glue tail seam", of_legs(*bays)
    last = placed(np.array([[0.0, 0.0], [float(chord(END)), 0.0]]), END)
    yield "glue tip", of_legs((last[0], last[1], 1.0))
    yield "turning cap", cap(craft)
    # a ring of 18 mm on the tube, 12 mm long, bearing inside the hub's socket
    collar = next(part for part in craft.held_by if part.role == "collar")
    seat = np.array([collar.facts["bears_at_r_mm"] - 6.0, 0.0, 0.0])
    yield "collar", np.outer(seat, seat) + np.diag([144.0 / 12.0, 0.0, 0.0]) + round_axis(18.0, 8.0)


def under_film(r: float, low: float, high: float) -> shapely.Polygon:
    """The section less its film, between two x."""
    upper, lower = naca(r)
    whole = shapely.Polygon(np.vstack([sunk(upper, 0.03, 1.0)[::-1], sunk(lower, 0.03, -1.0)[1:]]))
    return whole.intersection(shapely.box(low, -99.0, high, 99.0))


def of_sections(shape: Callable[[float], shapely.Polygon]) -> FloatArray:
    """Of what runs from the root to the frame's end, by its cross-sections at the middles of 160 slices."""
    step = (END - ROOT) / 160
    radii = ROOT + step * (np.arange(160) + 0.5)
    shapes = [shape(float(r)) for r in radii]
    areas = np.array([each.area for each in shapes])
    lies = [of_polygon(each, lambda xy, r=r: placed(xy, r), step) for each, r in zip(shapes, radii, strict=True)]
    return np.asarray(np.einsum("n,nij->ij", areas, lies) / areas.sum())


def film(side: int, sign: float) -> FloatArray:
    """A panel of film with 10 mm more round the nose and at both ends, 15 mm at the tail, each at the panel's edge."""
    rows = [placed(between(sunk(naca(r)[side], 0.015, sign), 0.0, 999.0), r) for r in RADII]
    edges = [(np.array([row[0] for row in rows]), 10.0), (np.array([row[-1] for row in rows]), 15.0)]
    edges += [(rows[0], 10.0), (rows[-1], 10.0)]
    total, area = surface_mm2(rows) * of_surface(rows), surface_mm2(rows)
    for line, wide in edges:
        legs = [(a, b, wide * length(a, b)) for a, b in pairwise(line)]
        total += of_legs(*legs) * sum(size for *_, size in legs)
        area += sum(size for *_, size in legs)
    return np.asarray(total / area)


def of_options(option: str) -> Iterator[tuple[str, FloatArray]]:
    """What is built otherwise in an option: film, strips, cap strips; a board's skin by its outer paper."""
    if option == "foam_board":
        yield "folded skin", of_surface([placed(np.vstack([board(r)[0][::-1], board(r)[1][1:]]), r) for r in RADII])
        return
    yield "nose strip", of_sections(lambda r: under_film(r, -9.0, 8.0))
    yield "tail strip", of_sections(lambda r: under_film(r, float(chord(r)) - 18.0, 999.0))
    if option == "film":
        yield from ((f"film {half}", film(*which)) for half, which in (("upper", (0, 1.0)), ("lower", (1, -1.0))))
        return
    for k, rib in list(enumerate(ribs(option), start=1))[1:-1]:  # those of the outermost are moved inwards
        for half, side, sign in zip(("upper", "lower"), naca(rib.r), (1.0, -1.0), strict=True):
            run = placed(between(sunk(side, 0.53, sign), 0.32 * float(chord(rib.r)), rib.room.end), rib.r)
            lies = of_legs(*((a, b, length(a, b)) for a, b in pairwise(run)))
            yield f"cap strip R{k:02d} {half}", lies + np.diag([64.0 / 12.0, 0.0, 0.0])


def about_axis(element: Element) -> FloatArray:
    """(3, 3) mean of place times place about the feather axis's start, of an element."""
    about = element.inertia / element.mass_g
    return np.asarray(np.trace(about) / 2.0 * np.eye(3) - about + np.outer(element.centre, element.centre))


@pytest.mark.parametrize("option", ["film", "balsa", "foam_board"])
def test_what_other_ways_of_building_lay_round_the_section(craft_of: Callable[..., Craft], option: str) -> None:
    craft = craft_of("lantern", option=option)
    names = {part.key: part.name for part in craft.flying.parts}
    found = {names[each.key]: about_axis(each) for each in craft.elements}
    for name, own in of_options(option):
        size = own[1, 1]
        assert np.diag(found[name])[:2] == pytest.approx(np.diag(own)[:2], rel=5e-3), name
        assert found[name][1, 2] == pytest.approx(own[1, 2], abs=5e-3 * size), name
        assert found[name][2, 2] == pytest.approx(own[2, 2], abs=5e-3 * size), name


def test_the_demos_blade_by_solids_of_ones_own(lantern: Craft) -> None:
    """Every line as it lies, and the whole blade about its three axes, with the products between them."""
    lies, total = dict(by_hand(lantern)), np.zeros((3, 3))
    parts = {part.name: part for part in lantern.flying.parts}
    found = {each.key: each for each in reversed(lantern.elements)}
    for line in lantern.mass.lines:
        if line.assembly != "blade":
            continue
        if line.role in POINTS:
            spread = parts[line.name].spread
            own = second(spread[:, 1:], spread[:, 0])
        else:
            own = lies.pop(line.name)
            each = found[line.key]
            theirs = about_axis(each)
            assert np.diag(theirs) == pytest.approx(np.diag(own), rel=1e-2, abs=0.5), line.name
        total += line.set_g[1] * own
    assert not lies
    tensor = np.trace(total) * np.eye(3) - total
    mine = lantern.inertia.blade.reference
    assert np.diag(mine) == pytest.approx(np.diag(tensor), rel=CLOSE)
    sizes = np.sqrt(np.outer(np.diag(tensor), np.diag(tensor)))
    assert np.abs(mine - tensor).max(where=~np.eye(3, dtype=bool), initial=0.0) <= CLOSE * sizes[0, 1]
    assert mine[0, 1] == pytest.approx(tensor[0, 1], rel=CLOSE)
    assert mine[1, 2] == pytest.approx(tensor[1, 2], abs=CLOSE * tensor[0, 0])  # what flattens: against feather's own

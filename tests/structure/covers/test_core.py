"""Foam cores and their templates, against the published thickness in closed form, shapely, and matrices written out.

Equation: NACA Report 460 (thickness of the four-digit family).
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
import shapely

from geomgen.bench.wire_template import wire_templates
from geomgen.craft import Craft
from geomgen.errors import MakeError
from geomgen.figures import spelled
from geomgen.marking.finish import finished
from geomgen.model.part import Flat, Part, Shaped
from geomgen.plane.path import Circle
from geomgen.structure.constructions import construction

CraftOf = Callable[..., Craft]

STOCKS = """
[stock.foam_block]
kind = "volume"
of = "extruded polystyrene"
[stock.covering]
kind = "sheet"
of = "polyester covering film"
thickness = 0.1

[stock.foam_sheet_2]"""
CORE = 'kind = "core"\nstock = "foam_block"\ntemplate = "ply_2"\nwire = 1.2'
ENDS = (  # two end plates of 2 mm ply, from 120 and to 700 mm
    ("to    = 180\nevery = 30", 'to    = "tip"\nevery = 600'),
    ('[blade.ribs.outer]\nfrom  = 180\nto    = "tip"\nevery = 60\nstock = "balsa_3"\n', ""),
    ("blade.ribs.outer.every = 40", "blade.ribs.root.every = 500"),
    ("rib  = true ", "stuck = true"),  # to the foam, so that no rib parts it
    ('rib_stock = "ply_2" ', ""),
)
SPAN = 122.0, 698.0  # of the foam
ALONG = 'chord = 180, twist = "4 deg", section = "naca 4415"', 'chord = 150, twist = "0 deg", section = "naca 4415"'
PLAIN = 'chord = {}, twist = "{} deg", section = "naca 0015"'


def built(craft_of: CraftOf, *edits: tuple[str, str], construction: str = CORE, ends: bool = True) -> Craft:
    return craft_of(
        "starter",
        ('kind       = "ribbed"', construction),
        ('[blade.skin.all]\nstock = "foam_sheet_2"\n', ""),
        ("[stock.foam_sheet_2]", STOCKS),
        *(ENDS if ends else ()),
        *edits,
    )


def made(craft: Craft) -> list[Part]:
    """Each piece of foam, and the templates that it is cut between."""
    built = construction(craft.design)
    foam = [part for part in built.made(craft.lines, ()).read().parts if part.role == "core"]
    drawn = wire_templates(craft.design, built.wire_cuts(craft.lines), craft.tol)
    clockwise = craft.design.rotor.turn == "clockwise"
    return [*foam, *finished(drawn, clockwise=clockwise, units=None, cache=craft.cache)]


def flat(part: Part) -> Flat:
    assert isinstance(part.shape, Flat)
    return part.shape


def test_one_core_and_two_templates(craft_of: CraftOf) -> None:
    core, root, tip = made(built(craft_of))
    assert isinstance(core.shape, Shaped) and core.shape.length_mm == pytest.approx(580.0 - 2 * 2.0)
    assert (core.name, core.role, core.stock, core.assembly) == ("core", "core", "foam_block", "blade")
    for part, end in ((root, "root"), (tip, "tip")):
        assert (part.name, part.assembly, part.stock) == (f"wire template core {end}", "bench", "ply_2")
        assert flat(part).face == f"{end} side"


def test_volume_in_closed_form(craft_of: CraftOf) -> None:
    """0.685083 t c² (twice the integral of the published thickness), less the tube's and the channel's holes."""
    craft = built(craft_of, (ALONG[0], PLAIN.format(150, 0)), (ALONG[1], PLAIN.format(150, 0)))
    core, holes = made(craft)[0], 0.0
    spar, channel = craft.layout.spars["main"], craft.layout.channels["power"]
    for route, wide in ((spar, 8.0 + craft.design.blade.spar["main"].fit), (channel, 9.0)):
        low, high = max(SPAN[0], float(route.start[0])), min(SPAN[1], float(route.end[0]))
        holes += np.pi / 4 * wide**2 * (high - low)
    whole = 0.685083 * 0.15 * 150.0**2 * (SPAN[1] - SPAN[0])
    assert isinstance(core.shape, Shaped)
    assert core.shape.volume_mm3 == pytest.approx(whole - holes, rel=2e-4)


def test_moments_of_a_tapered_twisted_core(craft_of: CraftOf) -> None:
    """Polygons of the section, holes cut out by shapely, summed by Simpson's rule."""
    craft = built(craft_of)
    core = made(craft)[0]
    start, end = SPAN
    ends = (craft.layout.spars["main"].end[0], craft.layout.channels["power"].end[0])
    stops = [start, *sorted(float(r) for r in ends if start < r < end), end]
    sums = np.zeros(4)
    for low, high in pairwise(stops):
        weights = np.tile((2.0, 4.0), 6)[:11] * (high - low) / 30.0
        weights[[0, -1]] /= 2.0
        for r, weight in zip(np.linspace(low, high, 11), weights, strict=True):
            station = craft.blade.station(r)
            points = np.vstack([station.section.upper.xy[::-1], station.section.lower.xy[1:]])
            shape = shapely.Polygon(station.to_blade(station.chord_mm * points)[:, 1:])
            for route, wide in ((craft.layout.spars["main"], 8.0), (craft.layout.channels["power"], 9.0)):
                if route.start[0] <= r and (low + high) / 2 <= route.end[0]:
                    fit = craft.design.blade.spar["main"].fit if wide == 8.0 else 0.0
                    shape = shape.difference(shapely.Point(route.at(r)[1:]).buffer((wide + fit) / 2, quad_segs=64))
            y = shape.centroid.x
            sums += weight * shape.area * np.array([1.0, r, y, r * y])
    assert isinstance(core.shape, Shaped)
    assert core.shape.volume_mm3 == pytest.approx(sums[0], rel=3e-4)
    share, x, y, _ = core.spread.T
    assert (share.sum(), share @ x) == pytest.approx((1.0, sums[1] / sums[0]), abs=0.05)
    assert (share @ y, share @ (x * y) / 410.0) == pytest.approx(
        (sums[2] / sums[0], sums[3] / sums[0] / 410.0), abs=0.02
    )


@pytest.mark.parametrize(("cover", "proud"), [("", 0.6), ('\ncover = "covering"', 0.5)])
def test_a_template_stands_half_the_melt_proud_of_the_core(craft_of: CraftOf, cover: str, proud: float) -> None:
    """Between its tabs its edge is the section's polygon moved out by shapely: half of 1.2 mm, less 0.1 mm of film."""
    craft = built(craft_of, construction=CORE + cover)
    for part, k in ((made(craft)[1], 0), (made(craft)[2], 1)):
        station = craft.blade.station(SPAN[k])
        points = np.vstack([station.section.upper.xy[::-1], station.section.lower.xy[1:]])
        wanted = shapely.Polygon(station.chord_mm * points).buffer(proud, quad_segs=64)
        outer = flat(part).region.outer
        drawn = shapely.Polygon(outer.flattened(1e-3) * ((-1.0, 1.0) if k else (1.0, 1.0)))
        box = shapely.box(4.0, -99, station.chord_mm - 4.0, 99)
        off = drawn.intersection(box).symmetric_difference(wanted.intersection(box))
        assert off.area < 0.015 * wanted.length
        assert drawn.is_valid
        x0, _, x1, _ = drawn.bounds
        assert x0 < -15.0 and x1 > station.chord_mm + 15.0  # tabs to come in and go out on


def test_pins_and_level_lines_set_the_twist(craft_of: CraftOf) -> None:
    """Holes at the same places in space at both ends, and level lines at the stations' own angles, measured."""
    craft = built(craft_of)
    _, root, tip = made(craft)
    places = []
    for part, k in ((root, 0), (tip, 1)):
        station = craft.blade.station(SPAN[k])
        mirror = -1.0 if k else 1.0
        holes = [h for h in flat(part).region.holes if isinstance(h, Circle)]
        assert len(holes) == 2 and all(h.radius == pytest.approx(1.5) for h in holes)
        xy = np.array([h.center for h in holes]) * (mirror, 1.0)
        a = np.radians(station.angle_deg)  # written out: aft and up of the feather axis, nose up by a
        turn = np.array([[np.cos(a), np.sin(a)], [-np.sin(a), np.cos(a)]])
        places.append((xy - station.axis_mm) @ turn.T)
        way = xy[1] - xy[0]
        assert np.degrees(np.arctan2(way[1], abs(way[0]))) == pytest.approx(station.angle_deg, abs=1e-6)
        ring = shapely.LinearRing(flat(part).region.outer.flattened(1e-3))
        assert min(shapely.distance(ring, shapely.Point(h.center)) for h in holes) >= 1.5 + 3.9
    assert places[0] == pytest.approx(places[1], abs=1e-9)
    assert places[0][0, 1] == pytest.approx(places[0][1, 1], abs=1e-9)


def test_ticks_lie_at_tenths_of_the_surfaces(craft_of: CraftOf) -> None:
    """Lengths along the section's own points, summed straight."""
    craft = built(craft_of)
    _, root, _ = made(craft)
    station = craft.blade.station(SPAN[0])
    ticks = [mark.xy for mark in flat(root).marks if len(mark.xy) == 2 and mark.length() < 4.1]
    starts = np.array([xy[0] for xy in ticks])
    for surface in (station.section.upper, station.section.lower):
        xy = station.chord_mm * surface.xy
        along = np.append(0.0, np.cumsum(np.hypot(*np.diff(xy, axis=0).T)))
        for tenth in range(1, 10):
            place = [np.interp(tenth / 10 * along[-1], along, xy[:, c]) for c in (0, 1)]
            assert np.hypot(*(starts - place).T).min() == pytest.approx(0.6, abs=0.02)
    numbers = [text.text for text in flat(root).texts]
    assert numbers.count("4") == 2 and numbers.count("2") == 2
    assert {"core", "root", "r 122"} <= set(numbers)


def test_the_block_holds_the_core_and_the_wire_s_straight_way_is_told(craft_of: CraftOf) -> None:
    """The corner of tail and mid span by hand: chord times sine of the angle isn't straight where both change."""
    craft = built(craft_of)
    core = made(craft)[0]
    start, end = SPAN
    tails = [
        craft.blade.station(r).to_blade(np.array([[craft.blade.station(r).chord_mm, 0.0]]))[0]
        for r in (start, (start + end) / 2, end)
    ]
    sag = float(np.linalg.norm((tails[0] + tails[2]) / 2 - tails[1]))
    assert 0.3 * sag < core.facts["ruled_off_mm"] < 1.5 * sag
    assert any("block of" in note and f"{end - start:.1f} x" in note for note in spelled(core.notes))
    assert any("part" in note and f"{core.facts['ruled_off_mm']:.2f} mm off" in note for note in spelled(core.notes))
    flatter = built(craft_of, (ALONG[0], ALONG[1]))
    assert made(flatter)[0].facts["ruled_off_mm"] < 0.01
    assert any("thinner than 2.5 mm" in note for note in spelled(core.notes))


def test_ribs_between_part_the_core(craft_of: CraftOf) -> None:
    craft = built(craft_of, ends=False)
    parts = [part for part in made(craft) if part.role == "core"]
    gaps = np.diff([rib.r_mm for rib in craft.rib_places])
    assert len(parts) == int(np.sum(gaps > 6.0)) and parts[0].name == "core 1"
    lengths = [part.shape.length_mm for part in parts if isinstance(part.shape, Shaped)]
    wood = sum(rib.thickness_mm for rib in craft.rib_places)
    assert sum(lengths) == pytest.approx(580.0 - wood, abs=3.0)


def test_a_break_in_the_blade_parts_the_core(craft_of: CraftOf) -> None:
    more = ALONG[0] + ' },\n  { at = 400, chord = 175, twist = "1 deg"'
    cut = [part for part in made(built(craft_of, (ALONG[0], more))) if part.role == "core"]
    whole = [part for part in made(built(craft_of)) if part.role == "core"]
    assert len(cut) == len(whole) + 1


def test_clockwise_templates_are_mirrored(craft_of: CraftOf) -> None:
    one, other = (
        made(built(craft_of, *edits))[1] for edits in ((), (('turn   = "anticlockwise"', 'turn   = "clockwise"'),))
    )
    a, b = flat(one).region.to_shapely(0.01), flat(other).region.to_shapely(0.01)
    assert shapely.affinity.scale(a, -1, 1, origin=(0, 0)).symmetric_difference(b).area < 1e-6
    assert all(text.turn_deg == 0 for text in flat(other).texts)


def test_no_room_for_pins(craft_of: CraftOf) -> None:
    craft = built(craft_of, (ALONG[0], PLAIN.format(60, 0)), (ALONG[1], PLAIN.format(40, 0)))
    with pytest.raises(MakeError) as caught:
        made(craft)
    fault = caught.value.faults[0]
    assert fault.path == "blade.construction.template" and "two pins 25 mm apart" in str(fault) and fault.remedy


def test_other_constructions_have_no_core(craft_of: CraftOf) -> None:
    craft = craft_of("starter")
    assert made(craft) == []

"""Every rib put together with what it meets, in planes through its faces and between them: plane geometry, by shapely.

Ribs are cut square, their outline being that of mid thickness, so towards its faces a rib reaches a little into covers
that run at a slope, and leaves a little gap on the other side. Allowed, as the project asks: 0.03 mm of overlap on
average over the contact and 0.1 mm anywhere, unless the part says how much to sand; and no gap beyond the glue's.
Covers are those of `hollow`, drawn from the published equations; spars and ribs are what the parts' record says.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
import pytest
import shapely
from assembled import WEIGHTS, Assembled, Plane, assembled, names
from bodies import Plate, Straight
from by_equations import FloatArray
from meeting import Overlap, beyond, edge_points, farthest, overlap, reach_into

from geomgen.figures import spelled

MEAN, MOST = 0.03, 0.1  # overlap on average over the contact, and anywhere [mm]
DOUBLED = 0.15  # anywhere on a doubler, of which no part says what to sand: it is cut as the rib beside it [mm]
GLUE = 0.3  # the widest gap that wood glue is trusted to fill; common practice, from memory [mm]
AGREE = 0.03  # a note's figure and the measured one [mm]
END = 0.5  # so near the ends of a rib its covers aren't held against it [mm]
SAND = "sand here, "


@pytest.fixture(scope="module", params=names())
def built(request: pytest.FixtureRequest) -> Assembled:
    return assembled(request.param)


@dataclass(frozen=True)
class Fit:
    """A rib against its covers: mean and greatest overlap, and greatest gap [mm], and where they are (chord shares)."""

    mean: float
    most: float
    most_at: tuple[float, ...]
    gap: float
    gap_at: tuple[float, ...]


def fit(planes: list[Plane]) -> Fit:
    """How one rib fits."""
    solid = [shapely.Polygon(plane.wood.exterior) for plane in planes]
    over = [beyond(wood, plane.hollow.inside) for wood, plane in zip(solid, planes, strict=True)]
    mean = WEIGHTS @ [each.area for each in over] / (WEIGHTS @ [each.contact for each in over])
    worst = max(range(len(over)), key=lambda i: over[i].deepest)
    gaps = [farthest(_faced(plane), _filled(plane)) for plane in planes]
    wide = max(range(len(gaps)), key=lambda i: gaps[i][0])
    where = [share(planes[worst], over[worst].at), share(planes[wide], gaps[wide][1])]
    return Fit(float(mean), over[worst].deepest, where[0], gaps[wide][0], where[1])


def share(plane: Plane, yz: tuple[float, float]) -> tuple[float, ...]:
    """Radius [mm], and chord shares aft and up, of a place."""
    at = plane.hollow.placed
    return (round(plane.r, 2), *np.round(at.from_yz(np.array([yz]))[0] / at.chord, 3).tolist())


def _faced(plane: Plane) -> FloatArray:
    """Points on the inside of the covers between a rib's two ends."""
    points = edge_points(plane.hollow.inside)
    x = plane.hollow.placed.from_yz(points)[:, 0]
    own = plane.hollow.placed.from_yz(shapely.get_coordinates(plane.wood.exterior))[:, 0]
    return points[(x > own.min() + END) & (x < own.max() - END)]


def _filled(plane: Plane) -> list[shapely.Geometry]:
    """A rib with all that stands in its notches."""
    solid = [section for name, section in plane.sections.items() if not name.startswith("channel")]
    return [shapely.Polygon(plane.wood.exterior), *solid]


def test_ribs_meet_their_covers(built: Assembled) -> None:
    wrong = []
    for planes in built.rib_planes:
        part, found = planes[0].rib.part, fit(planes)
        said = [float(note.split(SAND)[1].split()[0]) for note in spelled(part.notes) if SAND in note]
        if said and abs(max(said) - found.most) > AGREE:
            wrong.append((part.name, f"says {said}", found))
        most = MOST if part.role == "rib" else DOUBLED
        if not said and (found.mean > MEAN or found.most > most):
            wrong.append((part.name, "says nothing", found))
        if found.gap > GLUE:
            wrong.append((part.name, "gap", found))
    assert wrong == []


def test_outlines_don_t_cross_or_touch_themselves(built: Assembled) -> None:
    flat = [body for body in (*built.ribs, *built.bodies) if isinstance(body, Plate)]
    assert [body.name for body in flat if not body.region.is_valid] == []


def test_ribs_reach_the_strips(built: Assembled) -> None:
    """At nose and tail: a rib ends at its strip, or because it got too thin to be cut."""
    kind = built.design.blade.construction
    width = getattr(kind, "strip", None) or getattr(kind, "nose", None), getattr(kind, "tail", None)
    wrong = []
    for planes in built.rib_planes:
        plane = planes[len(planes) // 2]
        at, own = plane.hollow.placed, shapely.get_coordinates(plane.wood.exterior)
        xy = at.from_yz(own)
        for strip, x, end in (
            (width[0], width[0].width if width[0] else 0.0, xy[:, 0].min()),
            (width[1], at.chord - (width[1].width if width[1] else 0.0), xy[:, 0].max()),
        ):
            high = np.ptp(xy[np.abs(xy[:, 0] - end) < 1e-6, 1])
            if strip and abs(end - x) > 0.01 and high > kind.least_tail + 0.01:
                wrong.append((plane.rib.name, f"strip at {x:.2f}, rib ends at {end:.2f}, {high:.2f} high"))
    assert wrong == []


def test_spars_pass_the_ribs(built: Assembled) -> None:
    """Nothing of them in the wood, and none of their sides farther from wood, cover or one another than glue fills."""
    wrong, met = [], 0
    for planes in built.rib_planes:
        for body in built.bodies:
            shown = [plane for plane in planes if body.name in plane.sections]
            if not shown or not body.path.startswith("blade.spar."):
                continue
            met += 1
            for plane in shown:
                section = plane.sections[body.name]
                inside = reach_into(section, plane.wood)
                held = [plane.wood, plane.hollow.covers]
                held += [other for name, other in plane.sections.items() if name != body.name and "channel" not in name]
                gap, at = farthest(edge_points(section), held)
                if inside > MEAN:
                    wrong.append((body.name, plane.rib.name, f"{inside:.3f} mm in the wood", round(plane.r, 2)))
                if gap > GLUE:
                    wrong.append((body.name, plane.rib.name, f"{gap:.3f} mm from it", share(plane, at)))
    assert met > 0
    assert wrong == []


def test_round_holes_are_no_wider_than_the_fit(built: Assembled) -> None:
    """The other way round: no edge of a hole for something straight farther from it than that."""
    wrong = []
    for planes in built.rib_planes:
        for body in (*built.bodies, *built.channels):
            shown = [plane for plane in planes if isinstance(body, Straight) and body.name in plane.sections]
            for plane in shown:
                section = plane.sections[body.name]
                holes = [ring for ring in plane.wood.interiors if shapely.Polygon(ring).contains(section.centroid)]
                ends = np.array([p.sections[body.name].centroid.coords[0] for p in (shown[0], shown[-1])])
                spar = built.design.blade.spar.get(body.path.split(".")[2])
                allowed = (spar.fit if spar else 0.0) + float(np.hypot(*(ends[1] - ends[0]))) + 0.02
                gap = farthest(shapely.get_coordinates(holes[0].segmentize(0.4)), [section])[0] if holes else 0.0
                if gap > allowed:
                    wrong.append((body.name, plane.rib.name, f"hole {gap:.3f} mm away", f"{allowed:.3f} allowed"))
    assert wrong == []


def test_channels_are_free(built: Assembled) -> None:
    """Of ribs, spars and webs, and inside the covers."""
    wrong = []
    for plane in (
        *(p for planes in built.rib_planes for p in planes),
        *(p for planes in built.bay_planes for p in planes),
    ):
        for channel in built.channels:
            if (way := plane.sections.get(channel.name)) is None:
                continue
            inside = {name: s for name, s in plane.sections.items() if not name.startswith("channel")}
            if plane.rib:
                inside[plane.rib.name] = plane.wood
            for name, other in inside.items():
                if (reach := reach_into(way, other)) > MEAN:
                    wrong.append((channel.name, name, round(plane.r, 2), f"{reach:.3f} mm"))
            if not plane.hollow.inside.contains(way) and (out := beyond(way, plane.hollow.inside)).deepest > MEAN:
                wrong.append((channel.name, "covers", share(plane, out.at), f"{out.deepest:.3f} mm"))
    assert wrong == []


def test_nothing_stands_in_anything_else(built: Assembled) -> None:
    """Spars, webs and what else stands in the blade, with one another and with the covers, at ribs and between them.

    The average is over all planes of one rib or bay that show both.
    """
    wrong = []
    for planes in (*(some[:: len(some) // 2] for some in built.rib_planes), *built.bay_planes):
        met: dict[tuple[str, str], list[tuple[Overlap, Plane]]] = {}
        for plane in planes:
            solid = {name: s for name, s in plane.sections.items() if not name.startswith("channel")}
            for (one, a), (other, b) in combinations(solid.items(), 2):
                met.setdefault((one, other), []).append((overlap(a, b), plane))
            for name, section in solid.items():
                met.setdefault((name, "covers"), []).append((beyond(section, plane.hollow.inside), plane))
        for pair, some in met.items():
            worst, plane = max(some, key=lambda each: each[0].deepest)
            mean = sum(o.area for o, _ in some) / max(sum(o.contact for o, _ in some), 1e-9)
            if worst.deepest > MOST or mean > MEAN:
                wrong.append(
                    (*pair, share(plane, worst.at), f"{mean:.3f} mm on average, {worst.deepest:.3f} mm at most")
                )
    assert wrong == []


def test_webs_touch_both_caps(built: Assembled) -> None:
    """In every plane that shows a web, it stands against an upper and a lower cap with no more gap than glue fills."""
    wrong, seen = [], 0
    for plane in (p for planes in built.bay_planes for p in planes):
        for name, web in plane.sections.items():
            if not name.startswith("web "):
                continue
            seen += 1
            for side in ("upper", "lower"):
                caps = [s for other, s in plane.sections.items() if f" {side} " in other]
                gap = min(web.distance(cap) for cap in caps)
                if gap > GLUE:
                    wrong.append((name, side, round(plane.r, 2), f"{gap:.3f} mm"))
    assert wrong == []
    webs = [body for body in built.bodies if body.name.startswith("web ")]
    assert seen >= 2 * len(webs)

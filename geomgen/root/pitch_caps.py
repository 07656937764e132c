"""The two pitch caps of a blade: one turns with the root rib, one stands on the hub, and pins lock them together.

A cap is no larger than the loop round its holes, each with its web. Both are drawn in the caps' frame: root face seen
from the root side, origin on the feather axis, x aft, y up at the reference pitch.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from geomgen.design.schema import Design
from geomgen.errors import Fault
from geomgen.figures import at_least, mm
from geomgen.frames import applied, blades_to_rotor
from geomgen.materials.screws import SCREWS
from geomgen.model.joint import Bond, touching
from geomgen.model.label import FIGURE_GAP_MM, Arrow, Figures, Label
from geomgen.model.made import Made, attempted, together
from geomgen.model.part import Flat, Part, Pocket
from geomgen.model.role import Assembly
from geomgen.model.spread import point
from geomgen.plane.hull import hull
from geomgen.plane.letters import text_width
from geomgen.plane.path import Circle, Loop
from geomgen.plane.polar import on_circle
from geomgen.plane.region import Region
from geomgen.root.pattern import PitchPattern
from geomgen.root.pitch_bounds import LABEL_RING_MM
from geomgen.root.root import FIXED_CAP, FLOOR_MM, HUB, TURNING_CAP, Root, blind_mm
from geomgen.root.root_face import FLATTEN_MM, Crossing, RootFace
from geomgen.root.seat import cap_to_blade
from geomgen.structure.ribs.ties import RELIEF_MM, Tie

UNDER_HEAD_MM = 0.5  # least material under a countersunk head; common practice
PRACTICE = "common practice"
ROOT_SIDE = "root side"
UP_AND_FORWARD = (Arrow("UP", "up"), Arrow("FWD", "left"))
Holes = list[tuple[str, Loop]]  # each with the key path that asks for it


def caps(root: Root, ties: Sequence[Tie] = ()) -> Made:
    """Turning cap and fixed cap of one blade.

    ties : where wires are tied to ribs; the turning cap stays open round those in the root rib

    At fault where holes of a cap leave too little web, or its screws' heads or the pins' ends don't go in.
    """
    thin = Made(faults=_thin_for_heads(root.design))
    return together(thin, attempted(lambda: _turning_cap(root, ties)), attempted(lambda: _fixed_cap(root)))


def _turning_cap(root: Root, ties: Sequence[Tie]) -> Made:
    design, face, pattern = root.design, root.face, root.pattern
    screw, centres, deep = SCREWS[design.pitch.fixing.screw], root.fixing(), blind_mm(design)
    holes: Holes = [
        (face.spar_path, Circle((0.0, 0.0), (face.spar_outside_mm + face.spar_fit_mm) / 2)),
        *(("pitch.fixing", Circle((x, y), screw.clearance() / 2)) for x, y in centres),
        *((crossing.path, Circle(crossing.at, crossing.diameter_mm / 2)) for crossing in face.channels),
    ]
    ways = {crossing.path: _way(face, crossing, ties) for crossing in face.channels}
    pins: Holes = [("pitch.pin", Circle((x, y), pattern.hole_mm / 2)) for x, y in (*pattern.turning(), *_stop(pattern))]
    heads = tuple(Circle((x, y), screw.head / 2) for x, y in centres)
    through = [ways.get(path, loop) for path, loop in holes] + [loop for _, loop in pins if not deep]
    figures = _figures(pattern, fixed=False)
    outer = hull([*_grown([*through, *(loop for _, loop in pins), *heads], pattern.web_mm), *_for_figures(figures)])
    shape = Flat(
        Region(outer, tuple(through)),
        design.pitch.turning_cap.thickness,
        tuple(head.as_path() for head in heads),
        face=ROOT_SIDE,
        label=Label((("TURNS", *UP_AND_FORWARD),), figures=figures),
        pockets=tuple(Pocket(loop, deep) for _, loop in pins) if deep else (),
    )
    countersunk = (
        f"countersink the marked holes ({len(centres)}) on the drawn face to {screw.countersink()}",
        *((f"the pins' holes are blind, {mm(deep)} deep from the drawn face: the pins end in them",) if deep else ()),
    )
    place = cap_to_blade(root.turning_mid_mm)
    part = Part(
        name="turning cap",
        role=TURNING_CAP.role,
        stock=design.pitch.turning_cap.stock,
        path=TURNING_CAP.path,
        shape=shape,
        assembly=Assembly.BLADE,
        count=1,
        spread=point(applied(place, shape.centroid())),
        places=(place,),
        r_mm=root.turning_mid_mm,
        notes=countersunk,
        facts=_facts(pattern),
    )
    screwed = applied(cap_to_blade(face.r_mm), np.column_stack((centres, np.zeros(len(centres)))))
    joint = touching(TURNING_CAP, face.rib, Bond.SCREWED, "pitch.fixing", screwed)
    return Made((part,), (joint,), (*_shallow(design), *_webs([*holes, *pins], outer, web_mm=pattern.web_mm)))


def _way(face: RootFace, crossing: Crossing, ties: Sequence[Tie]) -> Loop:
    """The hole of a channel, wide enough to tie its wires to the root rib in it."""
    hole = Circle(crossing.at, crossing.diameter_mm / 2)
    tied = [tie.hole for tie in ties if tie.channel == crossing.path and tie.rib == face.rib]
    centres = face.to_cap([tie.center for tie in tied]).tolist() if tied else []
    return hull([hole, *(Circle((x, y), tie.radius + RELIEF_MM) for (x, y), tie in zip(centres, tied, strict=True))])


def _fixed_cap(root: Root) -> Made:
    design, seat, pattern, blades = root.design, root.seat, root.pattern, root.design.rotor.blades
    screw = SCREWS[design.pitch.fixing.screw]
    holes: Holes = [
        (root.face.spar_path, Circle((0.0, 0.0), seat.central_mm / 2)),
        *(("pitch.fixing", Circle(xy, screw.clearance() / 2)) for xy in seat.screws),
        *((slot.path, slot.outline()) for slot in seat.slots),
        *_for_pins(pattern),
        *(("pitch.pin", stop.slot(pattern.hole_mm)) for stop in (pattern.stop,) if stop),
    ]
    heads = [Circle(xy, screw.head / 2) for xy in seat.screws]
    around = _grown([*(loop for _, loop in holes), *heads], pattern.web_mm)
    figures = _figures(pattern, fixed=True)
    outer = hull([*around, *_for_figures(figures)])
    label = Label((("FIXED", *UP_AND_FORWARD),), figures=figures)
    shape = Flat(
        Region(outer, tuple(loop for _, loop in holes)), design.pitch.fixed_cap.thickness, face=ROOT_SIDE, label=label
    )
    arms = blades_to_rotor(blades, coning_deg=design.rotor.coning)
    places = tuple(arm @ cap_to_blade(root.fixed_mid_mm) for arm in arms)
    part = Part(
        name="fixed cap",
        role=FIXED_CAP.role,
        stock=design.pitch.fixed_cap.stock,
        path=FIXED_CAP.path,
        shape=shape,
        assembly=Assembly.HUB,
        count=blades,
        spread=np.array([[1.0 / blades, *applied(place, shape.centroid())] for place in places]),
        places=places,
        r_mm=root.fixed_mid_mm,
        notes=(
            f"countersink the {design.pitch.fixing.count} screw holes on the other face, towards the blade, to "
            f"{screw.countersink()}",
            *pattern.notes,
        ),
        facts=_facts(pattern),
    )
    screws = [applied(arm @ cap_to_blade(root.seat_mm), (*xy, 0.0)) for arm in arms for xy in seat.screws]
    joint = touching(FIXED_CAP, HUB, Bond.SCREWED, "pitch.fixing", screws)
    return Made((part,), (joint,), _webs(holes, outer, web_mm=pattern.web_mm))


def _grown(loops: Sequence[Loop], by_mm: float) -> list[Circle]:
    """Circles that leave so much round each loop; an arc slot as a row of them."""
    grown = [Circle(loop.center, loop.radius + by_mm) for loop in loops if isinstance(loop, Circle)]
    for slot in (loop for loop in loops if not isinstance(loop, Circle)):
        grown += [Circle((float(x), float(y)), by_mm + FLATTEN_MM) for x, y in slot.flattened(FLATTEN_MM)]
    return grown


def _for_pins(pattern: PitchPattern) -> Holes:
    """The fixed cap's holes for the pins, or its windows for wedges that have them."""
    if pattern.wedge is not None:
        return [("pitch.wedge", window) for window in pattern.wedge.windows()]
    return [("pitch.pin", Circle((x, y), pattern.hole_mm / 2)) for x, y in pattern.fixed()]


def _stop(pattern: PitchPattern) -> list[tuple[float, float]]:
    """Where the stop pin stands in the turning cap [mm]; nothing where there is none."""
    return [pattern.stop.place()] if pattern.stop else []


def _for_figures(figures: Figures | None) -> list[Circle]:
    """Room for the figures: beside each hole, and a figure's breadth beyond the last on either side."""
    if figures is None:
        return []
    half = figures.band_mm / 2
    radius, beyond = figures.rim_mm + half, float(np.degrees(half / figures.rim_mm))
    angles = [angle for one in figures.angles_deg for angle in (min(one) - beyond, *one, max(one) + beyond)]
    return [Circle((x, y), half) for x, y in on_circle(np.full(len(angles), radius), np.array(angles)).tolist()]


def _figures(pattern: PitchPattern, *, fixed: bool) -> Figures | None:
    """What is written outside the holes of a cap: beside each of them the pitch, or the letters of its settings; the
    turning cap's beyond the fixed cap's rim, where they can be read. None where a turning cap has but the pins' holes,
    and where the figures stand on wedges.
    """
    plain = pattern.kind == "plain"
    if pattern.kind == "wedge" or (plain and not fixed):
        return None
    holes = pattern.fixed_holes if fixed else pattern.turning_holes
    sets = tuple(tuple(dict.fromkeys(pair[q][fixed] for pair in pattern.pairs)) for q in range(len(pattern.pairs[0])))
    angles = tuple(tuple(holes[hole][1] for hole in one) for one in sets)
    if plain:
        return Figures(pattern.settings_deg, angles, rim_mm=pattern.rim_mm, band_mm=LABEL_RING_MM)
    rim, band = _bands(pattern)[fixed]
    words = tuple(tuple(pattern.written(q, hole, fixed=fixed) for hole in one) for q, one in enumerate(sets))
    return Figures(pattern.settings_deg, angles, rim_mm=rim, band_mm=band, words=words)


def _bands(pattern: PitchPattern) -> tuple[tuple[float, float], tuple[float, float]]:
    """Inner radius and width of the band of letters of the turning cap, and of the fixed one inside it [mm].

    They share two rings by what is widest in each, so that letters of both are of one height, and as large as can be.
    """
    turning, fixed = (
        max(
            text_width(pattern.written(q, pair[q][cap], fixed=bool(cap)), 1.0)
            for pair in pattern.pairs
            for q in range(len(pair))
        )
        for cap in (0, 1)
    )
    inner = pattern.rim_mm - FIGURE_GAP_MM  # the web keeps letters off the holes already
    height = (2.0 * LABEL_RING_MM - 3.0 * FIGURE_GAP_MM) / (turning + fixed)
    wide = 2.0 * FIGURE_GAP_MM + fixed * height
    return (inner + wide, 2.0 * FIGURE_GAP_MM + turning * height), (inner, wide)


def _thin_for_heads(design: Design) -> tuple[Fault, ...]:
    """A cap must take its countersunk heads whole: the caps turn on each other a fraction of a mm apart."""
    name, tables = design.pitch.fixing.screw, ("turning_cap", "fixed_cap")
    least = SCREWS[name].head_height + UNDER_HEAD_MM
    head = mm(SCREWS[name].head_height, significant=3)
    wrong = f"the {name} screws' countersunk heads are {head} high and must lie flush in it"
    thick = {f"pitch.{table}.thickness": getattr(design.pitch, table).thickness for table in tables}
    allowed = f"at least {at_least(least, 2)}"
    return tuple(Fault(path, mm(thin), wrong, allowed) for path, thin in thick.items() if thin < least - 1e-9)


def _shallow(design: Design) -> tuple[Fault, ...]:
    """A blind hole takes as much of a pin as the pin is thick, and has a floor."""
    thick, least = design.pitch.turning_cap.thickness, design.pitch.pin.diameter + FLOOR_MM
    if not blind_mm(design) or thick >= least - 1e-9:
        return ()
    wrong = f"the pins end in it: as deep as they are thick, with {mm(FLOOR_MM)} of floor ({PRACTICE})"
    return (Fault("pitch.turning_cap.thickness", mm(thick), wrong, f"at least {at_least(least)}"),)


def _webs(holes: Holes, outer: Loop, *, web_mm: float) -> tuple[Fault, ...]:
    """Holes of a cap that come nearer to one another, or to its edge, than the web."""
    shapes = np.array([shapely.Polygon(loop.flattened(FLATTEN_MM)) for _, loop in holes])
    i, j = np.triu_indices(len(holes), 1)
    gaps = shapely.distance(shapes[i], shapes[j])
    faults = []
    for k in np.flatnonzero(gaps < web_mm - 4 * FLATTEN_MM):
        one, other = holes[i[k]][0], holes[j[k]][0]
        wrong = f"in a pitch cap its hole comes within {mm(gaps[k], 1)} of that of {one}; the web is {mm(web_mm)}"
        faults.append(Fault(other, "", wrong, remedy="move it, make it smaller, or ask for less in pitch.pin.web"))
    edge = shapely.Polygon(outer.flattened(FLATTEN_MM)).exterior
    for k in np.flatnonzero(shapely.distance(shapes, edge) < web_mm - 4 * FLATTEN_MM):
        wrong = f"its hole comes nearer to a pitch cap's edge than the web of {mm(web_mm)}"
        faults.append(Fault(holes[k][0], "", wrong, remedy="move it towards the feather axis, or make it smaller"))
    return tuple(dict.fromkeys(faults))


def _facts(pattern: PitchPattern) -> dict[str, float]:
    return {"index_circle_mm": pattern.circle_mm, "index_hole_mm": pattern.hole_mm, "play_deg": pattern.play_deg}

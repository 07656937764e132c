"""The two pitch caps of a blade: one turns with the root rib, one stands on the hub, and pins lock them together."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.frames import applied, blade_to_rotor
from geomgen.marking.lettering import Arrow, letter
from geomgen.materials.screws import SCREWS
from geomgen.model.part import Flat, Part, Text
from geomgen.model.role import Assembly, Role
from geomgen.model.sheet_fit import too_large
from geomgen.model.spread import point
from geomgen.plane.letters import text_width
from geomgen.plane.path import Circle, Loop
from geomgen.plane.region import Region
from geomgen.root.pitch_bounds import LABEL_RING_MM
from geomgen.root.pitch_pattern import PitchPattern
from geomgen.root.root_face import FLATTEN_MM, RootFace, fixing_holes, on_circle
from geomgen.root.seat import Seat, cap_to_blade, seat_mm

FloatArray = NDArray[np.float64]

MIRROR = np.diag((-1.0, 1.0, 1.0, 1.0))
LETTERS_MM = (4.5, 4.0, 3.5, 3.0, 2.5, 2.0)  # heights tried for the engraved pitch, largest first
READABLE_MM = 3.0  # figures this high run round the rim; smaller ones would be turned to stand along the radius
UNDER_HEAD_MM = 0.5  # least material under a countersunk head; common practice
LETTER_GAP_MM = 0.8  # between neighbouring figures, and from the rim
ROOT_SIDE = "root side"


def caps(design: Design, face: RootFace, seat: Seat, pattern: PitchPattern) -> tuple[Part, Part]:
    """Turning cap and fixed cap of one blade, in the design's own hand.

    Both are drawn in the caps' frame (root face seen from the root side, origin on the feather axis, x aft, y up at
    the reference pitch; x forward in a clockwise craft). Places and spreads are those of the anticlockwise twin.
    raises : MakeError where holes of a cap leave too little web, or its screws' heads don't go in
    """
    if faults := _thin_for_heads(design):
        raise MakeError(faults)
    turning, fixed = _turning(design, face, pattern), _fixed(design, face, seat, pattern)
    return _turning_part(design, face, pattern, *turning), _fixed_part(design, face, pattern, *fixed)


def turning_mid_mm(design: Design, face: RootFace) -> float:
    """r of the turning cap's mid-plane [mm]."""
    return face.r_mm - design.pitch.turning_cap.thickness / 2


def fixed_mid_mm(design: Design, face: RootFace) -> float:
    """r of the fixed cap's mid-plane [mm]."""
    return seat_mm(design, face) + design.pitch.fixed_cap.thickness / 2


def _turning(design: Design, face: RootFace, pattern: PitchPattern) -> tuple[Flat, tuple[str, ...]]:
    screw = SCREWS[design.pitch.fixing.screw]
    fixing = face.to_cap([hole.center for hole in fixing_holes(design, face)])
    spar = face.spar_outside_mm + face.spar_fit_mm
    holes: list[tuple[str, Loop]] = [(face.spar_path, Circle((0.0, 0.0), spar / 2))]
    holes += [("pitch.fixing", Circle((x, y), screw.clearance() / 2)) for x, y in fixing]
    holes += [(crossing.path, Circle(crossing.at, crossing.diameter_mm / 2)) for crossing in face.channels]
    holes += [("pitch.pin", Circle((x, y), pattern.hole_mm / 2)) for x, y in pattern.turning()]
    heads = tuple(Circle((x, y), screw.head / 2).as_path() for x, y in fixing)
    region = Region(Circle((0.0, 0.0), pattern.turning_rim_mm), tuple(hole for _, hole in holes))
    _webs(holes, region.outer, pattern.web_mm)
    if _clockwise(design):
        region, heads = region.mirrored_x(), tuple(head.mirrored_x() for head in heads)
    return _lettered(design, Flat(region, design.pitch.turning_cap.thickness, heads, face=ROOT_SIDE), "TURNS")


def _fixed(design: Design, face: RootFace, seat: Seat, pattern: PitchPattern) -> tuple[Flat, tuple[str, ...]]:
    screw = SCREWS[design.pitch.fixing.screw]
    holes: list[tuple[str, Loop]] = [(face.spar_path, Circle((0.0, 0.0), seat.central_mm / 2))]
    holes += [("pitch.fixing", Circle(xy, screw.clearance() / 2)) for xy in seat.screws]
    holes += [(slot.path, slot.outline()) for slot in seat.slots]
    holes += [("pitch.pin", Circle((x, y), pattern.hole_mm / 2)) for x, y in pattern.fixed().reshape(-1, 2)]
    region = Region(Circle((0.0, 0.0), pattern.fixed_rim_mm), tuple(hole for _, hole in holes))
    _webs(holes, region.outer, pattern.web_mm)
    if _clockwise(design):
        region = region.mirrored_x()
    flat = Flat(region, design.pitch.fixed_cap.thickness, texts=_labels(design, pattern), face=ROOT_SIDE)
    return _lettered(design, flat, "FIXED")


def _clockwise(design: Design) -> bool:
    return design.rotor.turn == "clockwise"


def _labels(design: Design, pattern: PitchPattern) -> tuple[Text, ...]:
    """The pitch beside each hole, outside the ring; the sign for degrees once a set, where it meets no neighbour."""
    middle = pattern.turning_rim_mm + LABEL_RING_MM / 2
    angles = pattern.fixed_deg()
    angles = 180.0 - angles if _clockwise(design) else angles
    figures = [f"{pitch:g}" for pitch in pattern.settings_deg]
    apart = min(np.diff(pattern.settings_deg), default=180.0)
    room = 2 * pattern.turning_rim_mm * np.sin(np.radians(min(apart, 180.0)) / 2) - LETTER_GAP_MM
    deep = LABEL_RING_MM - 2 * LETTER_GAP_MM
    round_about = [h for h in LETTERS_MM if h <= deep and max(text_width(f, h) for f in figures) <= room]
    outward = [h for h in LETTERS_MM if h <= room and max(text_width(f, h) for f in figures) <= deep]
    outward = outward if max(round_about, default=0.0) < READABLE_MM else []
    height = max(round_about + outward, default=LETTERS_MM[-1])
    lean = -90.0 if height in round_about else 0.0
    texts = []
    for k in range(angles.shape[1]):
        ways = np.array([_upright(angle + lean) for angle in angles[:, k]])
        places = on_circle(np.full(len(ways), middle), angles[:, k])
        along = on_circle(np.ones(len(ways)), ways)
        last = int(np.argmax(np.einsum("ij,ij->i", places - places.mean(axis=0), along))) if lean else len(ways) - 1
        sign = (text_width(figures[last] + "°", height) - text_width(figures[last], height)) / 2
        places[last] += sign * along[last]
        words = [figure + "°" if i == last else figure for i, figure in enumerate(figures)]
        for word, (x, y), way in zip(words, places, ways, strict=True):
            texts.append(Text(word, (float(x), float(y)), height, float(way)))
    return tuple(texts)


def _upright(deg: float) -> float:
    """A base line's direction, or its opposite, whichever is read with the head up [deg]."""
    turned = float(deg + 90.0) % 360.0 - 90.0
    return turned - 180.0 if turned > 90.0 + 1e-6 else turned


def _lettered(design: Design, flat: Flat, word: str) -> tuple[Flat, tuple[str, ...]]:
    """The flat with its name and two arrows, and notes on what found no room."""
    forward = Arrow("FWD", "right" if _clockwise(design) else "left")
    flat, notes = letter(flat, [word], [Arrow("UP", "up"), forward])
    return flat, tuple(notes)


def _thin_for_heads(design: Design) -> list[Fault]:
    """A cap must take its countersunk heads whole: the caps turn on each other a fraction of a mm apart."""
    name, caps = design.pitch.fixing.screw, ("turning_cap", "fixed_cap")
    least = SCREWS[name].head_height + UNDER_HEAD_MM
    wrong = f"the {name} screws' countersunk heads are {SCREWS[name].head_height:g} mm high and must lie flush in it"
    return [
        Fault(f"pitch.{cap}.thickness", f"{getattr(design.pitch, cap).thickness:g} mm", wrong, f"at least {least:g} mm")
        for cap in caps
        if getattr(design.pitch, cap).thickness < least
    ]


def _webs(holes: list[tuple[str, Loop]], outer: Loop, web_mm: float) -> None:
    """Refuse a cap whose holes come nearer to one another, or to its edge, than the web."""
    shapes = np.array([shapely.Polygon(loop.flattened(FLATTEN_MM)) for _, loop in holes])
    i, j = np.triu_indices(len(holes), 1)
    gaps = shapely.distance(shapes[i], shapes[j])
    faults = []
    for k in np.flatnonzero(gaps < web_mm - 4 * FLATTEN_MM):
        one, other = holes[i[k]][0], holes[j[k]][0]
        wrong = f"in a pitch cap its hole comes within {gaps[k]:.1f} mm of that of {one}; the web is {web_mm:g} mm"
        faults.append(Fault(other, "", wrong, remedy="move it, make it smaller, or ask for less in pitch.pin.web"))
    edge = shapely.Polygon(outer.flattened(FLATTEN_MM)).exterior
    for k in np.flatnonzero(shapely.distance(shapes, edge) < web_mm - 4 * FLATTEN_MM):
        wrong = f"its hole comes nearer to a pitch cap's edge than the web of {web_mm:g} mm"
        faults.append(Fault(holes[k][0], "", wrong, remedy="move it towards the feather axis, or make it smaller"))
    if faults:
        raise MakeError(dict.fromkeys(faults))


def _turning_part(design: Design, face: RootFace, pattern: PitchPattern, flat: Flat, notes: tuple[str, ...]) -> Part:
    place = _placed(design, cap_to_blade(turning_mid_mm(design, face)))
    fixing = design.pitch.fixing
    return Part(
        name="turning cap",
        role=Role.TURNING_CAP,
        stock=design.pitch.turning_cap.stock,
        path="pitch.turning_cap",
        shape=flat,
        assembly=Assembly.BLADE,
        count=1,
        spread=point(applied(place, (*flat.region.centroid(), 0.0))),
        places=(place,),
        r_mm=turning_mid_mm(design, face),
        notes=(
            f"countersink the marked holes ({fixing.count}) on the drawn face to {SCREWS[fixing.screw].head:g} mm",
            *notes,
            *too_large(design, design.pitch.turning_cap.stock, flat.region),
        ),
        facts=_facts(pattern),
    )


def _fixed_part(design: Design, face: RootFace, pattern: PitchPattern, flat: Flat, notes: tuple[str, ...]) -> Part:
    blades = design.rotor.blades
    here = _placed(design, cap_to_blade(fixed_mid_mm(design, face)))
    places = tuple(blade_to_rotor(k + 1, blades, 0.0, design.rotor.coning) @ here for k in range(blades))
    centre = (*flat.region.centroid(), 0.0)
    head = SCREWS[design.pitch.fixing.screw].head
    holes = f"the {design.pitch.fixing.count} screw holes"
    countersink = f"countersink {holes} on the other face, towards the blade, to {head:g} mm"
    return Part(
        name="fixed cap",
        role=Role.FIXED_CAP,
        stock=design.pitch.fixed_cap.stock,
        path="pitch.fixed_cap",
        shape=flat,
        assembly=Assembly.HUB,
        count=blades,
        spread=np.array([[1.0 / blades, *applied(place, centre)] for place in places]),
        places=places,
        r_mm=fixed_mid_mm(design, face),
        notes=(countersink, *pattern.notes, *notes, *too_large(design, design.pitch.fixed_cap.stock, flat.region)),
        facts=_facts(pattern),
    )


def _placed(design: Design, place: FloatArray) -> FloatArray:
    """The place of a flat in the design's own hand, in the frame of the anticlockwise twin."""
    return place @ MIRROR if _clockwise(design) else place


def _facts(pattern: PitchPattern) -> dict[str, float]:
    return {"index_circle_mm": pattern.circle_mm, "index_hole_mm": pattern.hole_mm, "play_deg": pattern.play_deg}

"""The two pitch caps of a blade: one turns with the root rib, one stands on the hub, and pins lock them together."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.frames import applied, blade_to_rotor
from geomgen.parts.fasteners import SCREWS
from geomgen.parts.part import Flat, Part, Text
from geomgen.parts.pitch_pattern import LABEL_RING_MM, PitchPattern
from geomgen.parts.root_face import FLATTEN_MM, RootFace, fixing_holes, on_circle
from geomgen.parts.seat import Seat, cap_to_blade, seat_mm
from geomgen.parts.spread import point
from geomgen.plane.letters import text_width
from geomgen.plane.path import Circle, Loop
from geomgen.plane.region import Region

FloatArray = NDArray[np.float64]

MIRROR = np.diag((-1.0, 1.0, 1.0, 1.0))
LETTERS_MM = (4.5, 4.0, 3.5, 3.0, 2.5, 2.0)  # heights tried for the engraved pitch, largest first
LETTER_GAP_MM = 0.8  # between neighbouring figures, and from the rim
ROOT_SIDE = "root side"


def caps(design: Design, face: RootFace, seat: Seat, pattern: PitchPattern) -> tuple[Part, Part]:
    """Turning cap and fixed cap of one blade, in the design's own hand.

    Both are drawn in the caps' frame (root face seen from the root side, origin on the feather axis, x aft, y up at
    the reference pitch; x forward in a clockwise craft). Places and spreads are those of the anticlockwise twin.
    raises : MakeError where holes of a cap leave too little web
    """
    turning, fixed = _turning(design, face, pattern), _fixed(design, face, seat, pattern)
    return _turning_part(design, face, pattern, turning), _fixed_part(design, face, pattern, fixed)


def turning_mid_mm(design: Design, face: RootFace) -> float:
    """r of the turning cap's mid-plane [mm]."""
    return face.r_mm - design.pitch.turning_cap.thickness / 2


def fixed_mid_mm(design: Design, face: RootFace) -> float:
    """r of the fixed cap's mid-plane [mm]."""
    return seat_mm(design, face) + design.pitch.fixed_cap.thickness / 2


def hand(design: Design, flat: Flat) -> Flat:
    """A flat of the anticlockwise twin in the design's own hand: mirrored where it is clockwise, letters upright."""
    if design.rotor.turn == "anticlockwise":
        return flat
    return replace(
        flat,
        region=flat.region.mirrored_x(),
        marks=tuple(mark.mirrored_x() for mark in flat.marks),
        texts=tuple(replace(text, at=(-text.at[0], text.at[1]), turn_deg=-text.turn_deg) for text in flat.texts),
        reference=tuple(path.mirrored_x() for path in flat.reference),
        corners=tuple((name, (-x, y)) for name, (x, y) in flat.corners),
    )


def _turning(design: Design, face: RootFace, pattern: PitchPattern) -> Flat:
    screw = SCREWS[design.pitch.fixing.screw]
    fixing = face.to_cap([hole.center for hole in fixing_holes(design, face)])
    holes: list[tuple[str, Loop]] = [(face.spar_path, Circle((0.0, 0.0), (face.spar_outside_mm + face.spar_fit_mm) / 2))]
    holes += [("pitch.fixing", Circle((x, y), screw.clearance() / 2)) for x, y in fixing]
    holes += [(crossing.path, Circle(crossing.at, crossing.diameter_mm / 2)) for crossing in face.channels]
    holes += [("pitch.pin", Circle((x, y), pattern.hole_mm / 2)) for x, y in pattern.turning()]
    heads = tuple(Circle((x, y), screw.head / 2).as_path() for x, y in fixing)
    region = Region(Circle((0.0, 0.0), pattern.turning_rim_mm), tuple(hole for _, hole in holes))
    _webs(holes, region.outer, pattern.web_mm)
    texts = _words(region, heads, ("UP", "TURNS"), pattern)
    flat = Flat(region, design.pitch.turning_cap.thickness, marks=heads, texts=texts, face=ROOT_SIDE)
    return hand(design, flat)


def _fixed(design: Design, face: RootFace, seat: Seat, pattern: PitchPattern) -> Flat:
    screw = SCREWS[design.pitch.fixing.screw]
    holes: list[tuple[str, Loop]] = [(face.spar_path, Circle((0.0, 0.0), seat.central_mm / 2))]
    holes += [("pitch.fixing", Circle(xy, screw.clearance() / 2)) for xy in seat.screws]
    holes += [(slot.path, slot.outline()) for slot in seat.slots]
    holes += [("pitch.pin", Circle((x, y), pattern.hole_mm / 2)) for x, y in pattern.fixed().reshape(-1, 2)]
    region = Region(Circle((0.0, 0.0), pattern.fixed_rim_mm), tuple(hole for _, hole in holes))
    _webs(holes, region.outer, pattern.web_mm)
    texts = _labels(pattern) + _words(region, (), ("UP", "FIXED"), pattern)
    return hand(design, Flat(region, design.pitch.fixed_cap.thickness, texts=texts, face=ROOT_SIDE))


def _labels(pattern: PitchPattern) -> tuple[Text, ...]:
    """The pitch beside each hole, outside the ring; the sign for degrees once a set, at its highest pitch."""
    middle = pattern.turning_rim_mm + LABEL_RING_MM / 2
    words = [f"{pitch:g}" for pitch in pattern.settings_deg]
    words[-1] += "°"
    angles = pattern.fixed_deg()
    apart = min(np.diff(pattern.settings_deg), default=180.0)
    room = 2 * (middle - LABEL_RING_MM / 2) * np.sin(np.radians(min(apart, 180.0)) / 2) - LETTER_GAP_MM
    deep = LABEL_RING_MM - 2 * LETTER_GAP_MM
    along = next((h for h in LETTERS_MM if h <= deep and max(text_width(w, h) for w in words) <= room), None)
    height = along or next((h for h in LETTERS_MM if h <= room and max(text_width(w, h) for w in words) <= deep), LETTERS_MM[-1])
    texts = []
    for i, j in np.ndindex(*angles.shape):
        x, y = on_circle(middle, angles[i, j])
        upright = float(angles[i, j] - (90.0 if along else 0.0) + 90.0) % 360.0 - 90.0
        turn = upright - 180.0 if upright > 90.0 + 1e-6 else upright
        texts.append(Text(words[i], (float(x), float(y)), height, turn))
    return tuple(texts)


def _words(region: Region, heads: tuple[Loop, ...], words: tuple[str, ...], pattern: PitchPattern) -> tuple[Text, ...]:
    """Words in the highest free places, largest letters first; left out where none has room."""
    keep_off = [shapely.Polygon(head.flattened(FLATTEN_MM)) for head in heads]
    rim = pattern.circle_mm - pattern.hole_mm / 2
    free = shapely.difference(region.to_shapely(FLATTEN_MM), shapely.union_all(keep_off)).intersection(shapely.Point(0, 0).buffer(rim))
    free = free.buffer(-LETTER_GAP_MM)
    grid = np.arange(-rim, rim, 1.0)
    y, x = (a.ravel() for a in np.meshgrid(grid[::-1], grid, indexing="ij"))
    order = np.lexsort((np.abs(x), -y))
    x, y = x[order], y[order]
    texts: list[Text] = []
    for word in words:
        for height in LETTERS_MM:
            half = text_width(word, height) / 2
            fits = shapely.contains(free, shapely.box(x - half, y - height / 2, x + half, y + height / 2))
            if fits.any():
                k = int(np.argmax(fits))
                texts.append(Text(word, (float(x[k]), float(y[k])), height))
                free = free.difference(shapely.box(x[k] - half, y[k] - height / 2, x[k] + half, y[k] + height / 2).buffer(LETTER_GAP_MM))
                break
    return tuple(texts)


def _webs(holes: list[tuple[str, Loop]], outer: Loop, web_mm: float) -> None:
    """Refuse a cap whose holes come nearer to one another, or to its edge, than the web."""
    shapes = np.array([shapely.Polygon(loop.flattened(FLATTEN_MM)) for _, loop in holes])
    i, j = np.triu_indices(len(holes), 1)
    gaps = shapely.distance(shapes[i], shapes[j])
    faults = []
    for k in np.flatnonzero(gaps < web_mm - 4 * FLATTEN_MM):
        one, other = holes[i[k]][0], holes[j[k]][0]
        wrong = f"in a pitch cap its hole comes within {gaps[k]:.1f} mm of one for {one}; {web_mm:g} mm of web are asked for"
        faults.append(Fault(other, "", wrong, remedy="move it, make it smaller, or ask for less in pitch.pin.web"))
    edge = shapely.Polygon(outer.flattened(FLATTEN_MM)).exterior
    for k in np.flatnonzero(shapely.distance(shapes, edge) < web_mm - 4 * FLATTEN_MM):
        faults.append(Fault(holes[k][0], "", f"its hole comes nearer to a pitch cap's edge than the web of {web_mm:g} mm"))
    if faults:
        raise MakeError(dict.fromkeys(faults))


def _turning_part(design: Design, face: RootFace, pattern: PitchPattern, flat: Flat) -> Part:
    place = _placed(design, cap_to_blade(turning_mid_mm(design, face)))
    fixing = design.pitch.fixing
    return Part(
        name="turning cap",
        what="turning cap",
        stock=design.pitch.turning_cap.stock,
        path="pitch.turning_cap",
        shape=flat,
        on="blade",
        count=1,
        spread=point(applied(place, (*flat.region.centroid(), 0.0))),
        places=(place,),
        r_mm=turning_mid_mm(design, face),
        notes=(f"countersink the {fixing.count} marked holes on the drawn face to {SCREWS[fixing.screw].head:g} mm",),
        facts=_facts(pattern),
    )


def _fixed_part(design: Design, face: RootFace, pattern: PitchPattern, flat: Flat) -> Part:
    blades = design.rotor.blades
    here = _placed(design, cap_to_blade(fixed_mid_mm(design, face)))
    places = tuple(blade_to_rotor(k + 1, blades, 0.0, design.rotor.coning) @ here for k in range(blades))
    centre = (*flat.region.centroid(), 0.0)
    head = SCREWS[design.pitch.fixing.screw].head
    countersink = f"countersink the {design.pitch.fixing.count} screw holes on the other face, towards the blade, to {head:g} mm"
    return Part(
        name="fixed cap",
        what="fixed cap",
        stock=design.pitch.fixed_cap.stock,
        path="pitch.fixed_cap",
        shape=flat,
        on="hub",
        count=blades,
        spread=np.array([[1.0 / blades, *applied(place, centre)] for place in places]),
        places=places,
        r_mm=fixed_mid_mm(design, face),
        notes=(countersink, *pattern.notes),
        facts=_facts(pattern),
    )


def _placed(design: Design, place: FloatArray) -> FloatArray:
    """The place of a flat in the design's own hand, in the frame of the anticlockwise twin."""
    return place if design.rotor.turn == "anticlockwise" else place @ MIRROR


def _facts(pattern: PitchPattern) -> dict[str, float]:
    return {"index_circle_mm": pattern.circle_mm, "index_hole_mm": pattern.hole_mm, "play_deg": pattern.play_deg}

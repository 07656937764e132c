"""Cap strips: strips of sheet on the ribs' edges, from where the sheet round the nose ends to the ribs' own ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.curve import Curve
from geomgen.blade.under_skin import moved
from geomgen.design.schema import HALVES, CapStrips, Design, Half
from geomgen.figures import mm
from geomgen.model.joint import Bond, Joint, over
from geomgen.model.label import Label
from geomgen.model.layout import Layout, rib_key
from geomgen.model.made import NOTHING, Made, together
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import of_sides, point
from geomgen.plane.arcs import rectangle
from geomgen.plane.region import Region
from geomgen.section import hermite
from geomgen.structure.ribs.blank import Blank

PATH = "blade.construction.caps"
LEAST_MM = 1.0  # a strip shorter than this is left off


@dataclass(frozen=True, eq=False)
class _Line:
    """The middle of one strip in its station's frame: where it begins and ends (2,), centroid (2,), length [mm]; how it
    lies round the centroid, mean of place times place (2, 2) [mm2]."""

    start: FloatArray
    end: FloatArray
    centroid: FloatArray
    length_mm: float
    second: FloatArray


def cap_strips(layout: Layout, caps: CapStrips, ribs: Sequence[Blank]) -> Made:
    """An upper and a lower strip for every rib of a blade that is sheeted as far as a share of the chord.

    A strip's length is that of its own middle as it lies on the rib, from the sheet's edge to the rib's end: it is cut
    square there. The strips of the outermost ribs are moved inwards so that they don't stand beyond the blade's ends.
    """
    if not ribs:
        return NOTHING
    ends = {half: _lines(ribs, half, layout.design.sheet(caps.stock).thickness) for half in HALVES}
    made = []
    for k, rib in enumerate(ribs):
        notes = _crowded(ribs, k, caps.width)
        for half, lines in ends.items():
            line = lines[k]
            if line is not None and line.length_mm >= LEAST_MM:
                part = _part(layout.design, caps, rib, half=half, line=line, notes=notes)
                contact = over(line.length_mm * rib.place.thickness_mm, part.spread)
                lies = rib.station.turned(line.second)[None]
                glued = Joint(part.key, rib_key(rib.place), Bond.GLUED, PATH, contact, second=lies)
                made.append(Made((part,), (glued,)))
    return together(*made)


def _lines(ribs: Sequence[Blank], half: Half, thickness_mm: float) -> list[_Line | None]:
    stations = [rib.station for rib in ribs]
    surfaces, chords = [getattr(s.section, half) for s in stations], np.array([s.chord_mm for s in stations])
    sign = 1.0 if half == "upper" else -1.0
    bare = moved(surfaces, chords, np.zeros(len(ribs)))
    middle = moved(surfaces, chords, sign * np.array([rib.cover.behind_mm - thickness_mm / 2 for rib in ribs]))
    steps = np.array([rib.cover.step or 0.0 for rib in ribs]) * chords
    stretch, share = hermite.crossings(bare.xy, bare.tangent, steps[:, None])
    starts = (stretch + share)[:, 0]
    stops, _, _ = middle.at(np.array([rib.outline.tail_mm for rib in ribs]))
    found: list[_Line | None] = []
    for k, (start, stop) in enumerate(zip(starts.tolist(), stops.tolist(), strict=True)):
        if stop <= start:
            found.append(None)
            continue
        curve = Curve(middle.xy[k], middle.tangent[k]).between(start, stop)
        step = hermite.steps(curve.xy, curve.tangent)
        centroid = step @ (curve.xy[1:] + curve.xy[:-1]) / (2.0 * step.sum())
        ends = curve.xy[:-1] - centroid, curve.xy[1:] - centroid
        second = sum(np.einsum("k,ki,kj->ij", step, xy, xy) for xy in (*ends, ends[0] + ends[1])) / (6.0 * step.sum())
        found.append(_Line(curve.xy[0], curve.xy[-1], centroid, float(step.sum()), second))
    return found


def _part(design: Design, caps: CapStrips, rib: Blank, *, half: Half, line: _Line, notes: Sequence[str]) -> Part:
    place = rib.place
    flat = Flat(
        region=Region(rectangle((line.length_mm / 2, 0.0), line.length_mm, caps.width)),
        thickness_mm=design.sheet(caps.stock).thickness,
        face="outside",
        grain=0.0 if design.sheet(caps.stock).grain else None,
        label=Label(((f"{place.name} {half.upper()}",),)),
    )
    r = min(max(place.r_mm, design.rotor.root + caps.width / 2), design.frame_end - caps.width / 2)
    aside = abs(r - place.r_mm)
    moved_in = [f"moved {mm(aside, 1)} along the blade to end flush with it"] if aside > 1e-6 else []
    centre = rib.station.to_blade(line.centroid[None])[0]
    return Part(
        name=f"cap strip {place.name} {half}",
        role=Role.CAP_STRIP,
        stock=caps.stock,
        path=PATH,
        shape=flat,
        assembly=Assembly.BLADE,
        count=1,
        spread=point((r, *centre[1:])),
        places=(rib.station.matrix() @ _frame(line, half, place.r_mm - r),),
        notes=(*moved_in, *notes),
        facts={"length_mm": line.length_mm},
        mark=(place.number, half),
        second=rib.station.turned(line.second) + of_sides(np.diag([caps.width, 0.0, 0.0])),
    )


def _frame(line: _Line, half: Half, inward_mm: float) -> FloatArray:
    """4x4, a strip's frame (x aft along it, z outwards, its middle straightened) to its station's."""
    x = np.array([*(line.end - line.start), 0.0])
    x /= np.linalg.norm(x)
    z = (1.0 if half == "upper" else -1.0) * np.array([-x[1], x[0], 0.0])
    frame = np.eye(4)
    frame[:3, :3] = np.column_stack([x, np.cross(z, x), z])
    frame[:3, 3] = *line.start, inward_mm
    return frame


def _crowded(ribs: Sequence[Blank], k: int, width_mm: float) -> list[str]:
    """A note where the next rib outwards stands nearer than a strip is wide."""
    if k + 1 == len(ribs):
        return []
    gap = ribs[k + 1].place.r_mm - ribs[k].place.r_mm
    if gap >= width_mm:
        return []
    return [f"lies {mm(width_mm - gap, 1)} into that of rib {ribs[k + 1].place.name}: trim one of them"]

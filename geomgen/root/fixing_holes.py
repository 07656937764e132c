"""The screw holes that join turning cap and root rib."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import shapely

from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.figures import mm
from geomgen.materials.screws import SCREWS
from geomgen.plane.clearance import clearance
from geomgen.plane.path import Circle
from geomgen.plane.polar import on_circle
from geomgen.root.root_face import RootFace

ROUGHLY_MM = 0.01  # chords stand in for the rib's edge as near as this
PHASE_DEG, STEP_MM = 5.0, 0.25  # how finely places for the screws are tried


def fixing_holes(design: Design, face: RootFace) -> tuple[Circle, ...]:
    """Screw holes that join turning cap and root rib, evenly on the largest circle that keeps the web.

    returns : circles in the section's own frame [mm], ready to go into the root rib
    raises  : MakeError where no circle about the feather axis has room between the spar and the rib's edge
    """
    fixing = design.pitch.fixing
    web = design.blade.construction.web
    found = _evenly(face, size=fixing.screw, count=fixing.count, web=web, cap_web=design.pitch.pin.web)
    if isinstance(found, float):
        wood = found + SCREWS[fixing.screw].clearance() / 2 + web
        raise MakeError(_no_room(design, face, circle_mm=found, wood_mm=wood))
    return found


@lru_cache(maxsize=8)  # ribs, caps and screws all ask for them
def _evenly(face: RootFace, *, size: str, count: int, web: float, cap_web: float) -> tuple[Circle, ...] | float:
    """The holes; or the least circle that had no room [mm]. web, cap_web : of wood, and of cap round the heads [mm]."""
    screw = SCREWS[size]
    hole = screw.clearance() / 2
    apart = cap_web + screw.head / 2  # in the cap, where the heads lie
    spar = (face.spar_outside_mm + face.spar_fit_mm) / 2
    least = max(spar + web + hole, spar + apart, _spread(count, 2 * apart))
    radii = np.arange(least, 3.0 * least, STEP_MM)
    phases = np.arange(0.0, 360.0 / count, PHASE_DEG)
    angles = phases[:, None, None] + 360.0 / count * np.arange(count)
    centres = on_circle(np.broadcast_to(radii[None, :, None], (len(phases), len(radii), count)), angles)
    solid = face.region.to_shapely(ROUGHLY_MM)
    shapely.prepare(solid)
    points = shapely.points(centres + face.axis_mm)
    room = np.where(shapely.contains(solid, points), shapely.distance(solid.boundary, points), 0.0).min(axis=2)
    fits = np.logical_and.accumulate(room >= hole + web + ROUGHLY_MM, axis=1)  # no jump over a neck
    if not fits[:, 0].any():
        return float(least)
    reach = fits.sum(axis=1)
    best = np.flatnonzero(reach == reach.max())
    phase = int(best[np.argmax(room[best, reach.max() - 1])])
    chosen = centres[phase, reach.max() - 1] + face.axis_mm
    return tuple(Circle((float(x), float(y)), hole) for x, y in chosen)


def _spread(count: int, apart_mm: float) -> float:
    """Least circle on which `count` places lie `apart_mm` apart [mm]."""
    return apart_mm / (2.0 * np.sin(np.pi / count)) if count > 1 else 0.0


def _no_room(design: Design, face: RootFace, *, circle_mm: float, wood_mm: float) -> Fault:
    inside = float(clearance(face.region.outer, face.axis_mm)[0])
    largest = f"the largest circle inside the root rib has {mm(inside, 1)}" if inside > 0 else "it lies outside the rib"
    wrong = (
        f"{design.pitch.fixing.count} screws beside the spar need a circle of {mm(circle_mm, 1)} radius about the "
        f"feather axis, and wood to {mm(wood_mm, 1)}; {largest}, and channels and spars may take of that"
    )
    remedy = "smaller or fewer screws, a thicker root section, a thinner skin there, channels and spars further off"
    return Fault("pitch.fixing.screw", design.pitch.fixing.screw, wrong, remedy=remedy)

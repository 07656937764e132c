"""The blade's root face, as far as caps and hub need to know it, and the screw holes that go into it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray

from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.materials.screws import SCREWS
from geomgen.plane.clearance import clearance
from geomgen.plane.path import Circle
from geomgen.plane.region import Region

FloatArray = NDArray[np.float64]

FLATTEN_MM, ROUGHLY_MM = 0.002, 0.01  # chords stand in for arcs as near as this where shapes are searched
PHASE_DEG, STEP_MM = 5.0, 0.25  # how finely places for the screws are tried


@dataclass(frozen=True)
class Crossing:
    """Where a channel for wires crosses the root face.

    path        : key path of its table, "blade.channel.power"
    at          : (2,) its middle in the caps' frame at the reference pitch [mm]
    diameter_mm : of the channel's holes [mm]
    """

    path: str
    at: tuple[float, float]
    diameter_mm: float


@dataclass(frozen=True, eq=False)
class RootFace:
    """The inboard face of the root rib, of the anticlockwise twin.

    The caps' frame: the root face seen from the root side, origin on the feather axis, x aft, y up at the
    reference pitch.

    r_mm             : of that face, from the rotor axis along the feather axis [mm]
    region           : the root rib without fixing holes, in the section's own frame [mm]
    axis_mm          : (2,) the feather axis in that frame [mm]
    angle_deg        : the section's angle against the reference pitch, leading edge up [deg]
    thickness_mm     : of the root rib [mm]
    skin_mm          : thickness of the skin round it [mm]
    channels         : the channels that cross the face
    spar_path        : key path of the main spar
    spar_outside_mm  : its diameter [mm]
    spar_fit_mm      : how much wider its holes are [mm]
    spar_from_mm     : r of its inner end [mm]
    """

    r_mm: float
    region: Region
    axis_mm: tuple[float, float]
    angle_deg: float
    thickness_mm: float
    skin_mm: float
    channels: tuple[Crossing, ...]
    spar_path: str
    spar_outside_mm: float
    spar_fit_mm: float
    spar_from_mm: float

    def to_cap(self, points: ArrayLike) -> FloatArray:
        """(n, 2) points of the section's own frame to the caps' frame [mm]."""
        moved = np.atleast_2d(np.asarray(points, dtype=np.float64)) - self.axis_mm
        turned = moved @ rotation(-self.angle_deg).T  # seen with the nose at the left, leading edge up is clockwise
        return np.asarray(turned)

    def outline(self) -> shapely.Polygon:
        """The root rib's outer edge in the caps' frame [mm]."""
        return shapely.Polygon(self.to_cap(self.region.outer.flattened(FLATTEN_MM)))


def rotation(deg: float) -> FloatArray:
    """(2, 2) turn, anticlockwise positive [deg]."""
    c, s = np.cos(np.radians(deg)), np.sin(np.radians(deg))
    return np.array([[c, -s], [s, c]])


def on_circle(radius_mm: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
    """(..., 2) points at radii and angles [mm], [deg]."""
    angle = np.radians(np.asarray(angle_deg, dtype=np.float64))
    points = np.asarray(radius_mm, dtype=np.float64)[..., None] * np.stack([np.cos(angle), np.sin(angle)], axis=-1)
    return np.asarray(points)


def fixing_holes(design: Design, face: RootFace) -> tuple[Circle, ...]:
    """Screw holes that join turning cap and root rib, evenly on the largest circle that keeps the web.

    returns : circles in the section's own frame [mm], ready to go into the root rib
    raises  : MakeError where no circle about the feather axis has room between the spar and the rib's edge
    """
    fixing = design.pitch.fixing
    found = _evenly(face, fixing.screw, fixing.count, design.blade.construction.web, design.pitch.pin.web)
    if isinstance(found, float):
        screw = SCREWS[fixing.screw]
        raise MakeError(_no_room(design, face, found, screw.clearance() / 2, design.blade.construction.web))
    return found


@lru_cache(maxsize=8)  # ribs, caps and screws all ask for them
def _evenly(face: RootFace, name: str, count: int, web: float, cap_web: float) -> tuple[Circle, ...] | float:
    """The holes; or the least circle that had no room [mm]. web, cap_web : of wood, and of cap round the heads [mm]."""
    screw = SCREWS[name]
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


def _no_room(design: Design, face: RootFace, least: float, hole: float, web: float) -> Fault:
    inside = float(clearance(face.region.outer, face.axis_mm)[0])
    largest = f"the largest circle inside the root rib has {inside:.1f} mm" if inside > 0 else "it lies outside the rib"
    wrong = (
        f"{design.pitch.fixing.count} screws beside the spar need a circle of {least:.1f} mm radius about the feather "
        f"axis, and wood to {least + hole + web:.1f} mm; {largest}, "
        "and channels and spars may take of that"
    )
    remedy = "smaller or fewer screws, a thicker root section, a thinner skin there, channels and spars further off"
    return Fault("pitch.fixing.screw", design.pitch.fixing.screw, wrong, remedy=remedy)

"""The blade's root face, as far as caps and hub need to know it, drawn from the root rib."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.blade.route import Route
from geomgen.design.schema import Design, LengthStock
from geomgen.model.joint import Key
from geomgen.model.layout import Layout, rib_key
from geomgen.model.role import Role
from geomgen.plane.polar import rotation
from geomgen.plane.region import Region
from geomgen.structure.ribs.blank import Blank
from geomgen.structure.ribs.ties import RELIEF_MM

FLATTEN_MM = 0.002  # chords stand in for arcs as near as this where shapes are searched


@dataclass(frozen=True)
class Crossing:
    """Where a channel for wires crosses the root face.

    path        : key path of its table, "blade.channel.power"
    at          : (2,) its middle in the caps' frame at the reference pitch [mm]
    diameter_mm : of the channel's holes [mm]
    tied_mm     : how far from its middle the turning cap may be open, where its wires are tied [mm]
    """

    path: str
    at: tuple[float, float]
    diameter_mm: float
    tied_mm: float = 0.0


@dataclass(frozen=True, eq=False)
class RootFace:
    """The inboard face of the root rib, of the anticlockwise twin.

    The caps' frame: the root face seen from the root side, origin on the feather axis, x aft, y up at the
    reference pitch.

    r_mm             : of that face, from the rotor axis along the feather axis [mm]
    rib              : the root rib
    region           : that rib without fixing holes, in the section's own frame [mm]
    axis_mm          : (2,) the feather axis in that frame [mm]
    angle_deg        : the section's angle against the reference pitch, leading edge up [deg]
    thickness_mm     : of the root rib with its doublers [mm]
    skin_mm          : thickness of the skin round it [mm]
    channels         : the channels that cross the face
    spar_path        : key path of the main spar
    spar_outside_mm  : its diameter [mm]
    spar_fit_mm      : how much wider its holes are [mm]
    spar_from_mm     : r of its inner end [mm]
    """

    r_mm: float
    rib: Key
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

    @property
    def spar(self) -> Key:
        """The main spar."""
        return Key(Role.SPAR, self.spar_path)

    def to_cap(self, points: ArrayLike) -> FloatArray:
        """(n, 2) points of the section's own frame to the caps' frame [mm]."""
        moved = np.atleast_2d(np.asarray(points, dtype=np.float64)) - self.axis_mm
        turned = moved @ rotation(-self.angle_deg).T  # seen with the nose at the left, leading edge up is clockwise
        return np.asarray(turned)

    def outline(self) -> shapely.Polygon:
        """The root rib's outer edge in the caps' frame [mm]."""
        return shapely.Polygon(self.to_cap(self.region.outer.flattened(FLATTEN_MM)))


def root_face(design: Design, layout: Layout, rib: Blank) -> RootFace:
    """The inboard face of a blade's root rib.

    rib : as it is before its screw holes are known
    """
    name, place = design.main_spar, rib.place
    spar, stock = design.blade.spar[name], design.stock[design.blade.spar[name].stock]
    assert isinstance(stock, LengthStock) and stock.outside is not None  # the rules see to a round one
    return RootFace(
        r_mm=design.rotor.root,
        rib=rib_key(place),
        region=rib.region,
        axis_mm=rib.station.axis_mm,
        angle_deg=rib.station.angle_deg,
        thickness_mm=layout.through_mm(place),
        skin_mm=rib.skin_mm,
        channels=tuple(
            _crossing(design, channel, route)
            for channel, route in layout.channels.items()
            if route.passes(design.rotor.root)
        ),
        spar_path=f"blade.spar.{name}",
        spar_outside_mm=stock.outside,
        spar_fit_mm=spar.fit,
        spar_from_mm=design.r(spar.from_),
    )


def _crossing(design: Design, channel: str, route: Route) -> Crossing:
    table, at = design.blade.channel[channel], _in_cap_frame(route, design.rotor.root)
    tied = design.blade.construction.web + table.tie + RELIEF_MM if table.tie > 0.0 else 0.0
    return Crossing(route.path, at, table.diameter, table.diameter / 2 + tied)


def _in_cap_frame(route: Route, r_mm: float) -> tuple[float, float]:
    """Where a route crosses the root face, x aft and y up of the feather axis at the reference pitch [mm]."""
    _, forward, up = route.at(r_mm)
    return -float(forward), float(up)

"""How far a blade's pitch may be off, cause by cause, and what would shrink each.

Each cause has a limit either way and lies evenly anywhere within it; the causes are independent. At worst the limits
add up. The root of the sum of their squares is sqrt 3 times the standard deviation of the whole: about two blades in
three stand within 0.58 of it, nine in ten within all of it. Of the pins' play and the holes' scatter, which aren't
even, it counts sqrt 3 times their own standard deviations (`pin_spread`). Two blades differ by up to twice the
worst, and by sqrt 2 times the root.

source : tolerance stacking, worst case and root of squares; common practice
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.design.schema import Design, VolumeStock
from geomgen.materials.screws import SCREWS
from geomgen.plane.path import Circle
from geomgen.root.pattern import PitchPattern
from geomgen.root.pin_spread import PinSpread, pin_spread
from geomgen.root.root_face import RootFace
from geomgen.root.wedge_pattern import made_of, room_mm
from geomgen.structure.ribs.blank import Blank

CUT_MM, PRINTED_MM = 0.1, 0.2  # how far holes in a cap stand off their places; common practice of laser and printer


@dataclass(frozen=True)
class Cause:
    """One thing that turns a blade off its pitch.

    what       : in a few words
    path       : key path of what it is worked out from
    limit_deg  : at most, either way [deg]
    spread_deg : what the root of squares counts of it [deg]; the limit, where all within it is as likely
    remedy     : what would shrink it
    """

    what: str
    path: str
    limit_deg: float
    spread_deg: float
    remedy: str


@dataclass(frozen=True)
class PitchError:
    """How far a blade may be off its pitch at the pitch to fly at.

    causes : what the root of squares counts most of first
    eased  : share of blades whose pins don't go in until holes are eased [-]
    """

    causes: tuple[Cause, ...]
    eased: float

    @property
    def worst_deg(self) -> float:
        """Of one blade, every cause at its limit the same way [deg]."""
        return sum(cause.limit_deg for cause in self.causes)

    @property
    def likely_deg(self) -> float:
        """Of one blade, root of the sum of squares [deg]."""
        return math.hypot(*(cause.spread_deg for cause in self.causes))

    @property
    def apart_worst_deg(self) -> float:
        """Between two blades, at worst [deg]."""
        return 2.0 * self.worst_deg

    @property
    def apart_likely_deg(self) -> float:
        """Between two blades, root of the sum of squares [deg]."""
        return math.sqrt(2.0) * self.likely_deg


def pitch_error(
    design: Design,
    *,
    face: RootFace,
    fixing: Sequence[Circle],
    pattern: PitchPattern,
    ribs: Sequence[Blank],
) -> PitchError:
    """How far the pitch of a design's blades may be off, and why.

    fixing : holes of the turning cap's screws in the root rib
    ribs   : of one blade
    """
    holes = [pattern.turning_holes[turns] for turns, _ in pattern.pairs[pattern.setting(design.pitch.set)]]
    loose, fit = _loose_mm(design, pattern), design.pitch.pin.fit
    scattered = [hole_scatter_mm(design, stock) for stock in _holding(design, pattern)]
    pins = pin_spread([radius for radius, _ in holes], fit_mm=fit, scatter_mm=scattered, loose_mm=loose)
    scatter, causes = design.pitch.scatter, [*_of_pins(pins, fit_mm=fit, loose_mm=loose), _screws(design, face, fixing)]
    if len(holes) == 1:
        causes.append(_lone_pin(design, circle_mm=holes[0][0]))
    causes += [
        _even(
            "root rib glued askew",
            "pitch.scatter.rib",
            scatter.rib,
            "glue it with its gauge on; measure yours, and write pitch.scatter.rib",
        ),
        _spar(design, face, ribs),
        _even(
            "twist that jig and gauges leave",
            "pitch.scatter.washout",
            scatter.washout,
            "keep the blade in its jig until skin and glue are hard; measure yours, and write pitch.scatter.washout",
        ),
    ]
    return PitchError(tuple(sorted(causes, key=lambda cause: -cause.spread_deg)), pins.eased)


def _loose_mm(design: Design, pattern: PitchPattern) -> float:
    """How far wedges can be moved in their windows at the pitch to fly at, either way [mm]; 0 where there are none."""
    wedge = pattern.wedge
    return room_mm(wedge.fit_mm, design.pitch.set - wedge.middle_deg) if wedge else 0.0


def _holding(design: Design, pattern: PitchPattern) -> tuple[str, ...]:
    """Stocks whose scatter stands between blade and hub: of either cap, of wedges and of their windows."""
    caps = design.pitch.turning_cap.stock, design.pitch.fixed_cap.stock
    return (*caps, made_of(design)[0]) if pattern.wedge else caps


def hole_scatter_mm(design: Design, stock: str) -> float:
    """How far holes in a stock stand off their places [mm]: the maker's own figure, or that of how it is made."""
    own = design.pitch.scatter.holes
    return own if own is not None else PRINTED_MM if isinstance(design.stock[stock], VolumeStock) else CUT_MM


def _even(what: str, path: str, limit_deg: float, remedy: str) -> Cause:
    return Cause(what, path, limit_deg, limit_deg, remedy)


def _of_pins(pins: PinSpread, *, fit_mm: float, loose_mm: float) -> list[Cause]:
    """What pins leave. Their play is shared out between their own fit and that of wedges, limits as they add up, and
    what is counted so that its squares do."""
    closer = "holes reamed for the pins, and a closer pitch.pin.fit; a larger circle of holes"
    what, together = "holes of the caps out of place", "drill both caps' holes through one template"
    if loose_mm > 0.0:
        what, together = "holes of caps and wedges out of place", "wedges filed until their pitch is right by the gauge"
    snug = "wedges filed to their windows one by one, and a closer pitch.wedge.fit"
    named = [("play of the pins in their holes", "pitch.pin.fit", closer, fit_mm)]
    named += [("play of wedges in their windows", "pitch.wedge.fit", snug, loose_mm)] if loose_mm > 0.0 else []
    limit, counted = (pins.play_limit_deg, pins.play_spread_deg)
    whole, squares = max(fit_mm + loose_mm, 1e-9), max(math.hypot(fit_mm, loose_mm), 1e-9)
    return [
        *(Cause(what, path, limit * own / whole, counted * own / squares, remedy) for what, path, remedy, own in named),
        Cause(
            what,
            "pitch.scatter.holes",
            pins.holes_limit_deg,
            pins.holes_spread_deg,
            f"{together}; measure yours, and write pitch.scatter.holes",
        ),
    ]


def _screws(design: Design, face: RootFace, fixing: Sequence[Circle]) -> Cause:
    """The heads, countersunk, lie in the middle of the cap's holes: only the root rib's leave the screws play."""
    screw = SCREWS[design.pitch.fixing.screw]
    circle = float(np.mean(np.hypot(*face.to_cap([hole.center for hole in fixing]).T)))
    play = math.degrees((screw.clearance() - screw.diameter) / 2 / circle)
    remedy = "set the blade in its gauge while the screws are drawn tight, then drill and pin the cap, or glue it"
    return _even("turning cap's screws in the root rib", "pitch.fixing.screw", play, remedy)


def _lone_pin(design: Design, *, circle_mm: float) -> Cause:
    """One pin stops the blade on one side only: it turns about the pin where its spar shifts across in the socket."""
    play = math.degrees(design.hub.socket.fit / 2 / circle_mm)
    return _even("main spar in the hub's socket, about one pin", "hub.socket.fit", play, "a second pin opposite")


def _spar(design: Design, face: RootFace, ribs: Sequence[Blank]) -> Cause:
    """The rib next to where pitch is meant, up or down on the spar by half the fit while its tail rests where it
    should; what the root rib does is counted as glued askew."""
    meant = design.r(design.pitch.zero_at)
    rib = min(ribs, key=lambda rib: abs(rib.place.r_mm - meant))
    behind = rib.outline.tail_mm - rib.station.axis_mm[0]
    play = math.degrees(face.spar_fit_mm / 2 / behind)
    remedy = "glue the spar in with every rib down on its feet, and all to the same side of their holes"
    return _even("ribs up or down on the main spar", f"{face.spar_path}.fit", play, remedy)

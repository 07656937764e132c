"""What is drawn on paper of one part: its shape, what is said of it, and which way it lies on the blade."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.figures import mm
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.plane.path import Bounds

FORWARD, UP, TIP = "forward", "up", "to the tip"
_AXES = ((FORWARD, 1), (UP, 2), (TIP, 0))  # words, and the axes of the blade frame that they name
_IN_PLANE = 0.8  # least share of a direction that lies in the part's plane, to be shown on it
_SNAP_DEG = 20.0  # nearer to the part's own axis than this, it is shown along it: pitch and washout are left out


@dataclass(frozen=True)
class Direction:
    """An arrow: its word, and where it points on the part (unit vector)."""

    word: str
    way: tuple[float, float]


@dataclass(frozen=True)
class Template:
    """One part on paper.

    name   : as people call it
    flat   : its shape, in the craft's own hand and lettered
    copies : how many are cut along it
    words  : what it is cut from, and on which face the paper lies; figures in it are marked, see `geomgen.figures`
    notes  : what to know of it
    ways   : which way it lies on the blade; none where that isn't one way all over it
    """

    name: str
    flat: Flat
    copies: int
    words: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    ways: tuple[Direction, ...] = ()

    @property
    def bounds(self) -> Bounds:
        """Of all that is drawn of it: outline, marks, lines to look at [mm]."""
        flat = self.flat
        drawn = (flat.region.outer, *flat.marks, *flat.reference)
        corners = np.array([each.bounds() for each in drawn])
        (x0, y0), (x1, y1) = corners[:, :2].min(axis=0), corners[:, 2:].max(axis=0)
        return float(x0), float(y0), float(x1), float(y1)


def template(part: Part, copies: int, *, clockwise: bool) -> Template:
    """A part as it is drawn on paper.

    part      : flat, as it is to be cut: in the craft's own hand, lettered
    copies    : how many of it the whole craft needs
    clockwise : the craft's hand, for those parts that have no place of their own in space
    raises    : TypeError for a part that isn't flat
    """
    if not isinstance(part.shape, Flat):
        raise TypeError(f"{part.name} isn't flat; only flat parts are cut along paper")
    flat = part.shape
    words = [f"{part.stock}, {mm(flat.thickness_mm)} thick"]
    if flat.face:
        words.append(f"paper on the {flat.face.removeprefix('the ')}")
    if flat.folds:
        words.append("dashed lines are folded, not cut")
    return Template(part.name, flat, copies, tuple(words), part.notes, directions(part, clockwise=clockwise))


def directions(part: Part, *, clockwise: bool) -> tuple[Direction, ...]:
    """Which way a flat part lies on the blade, as seen on its drawn face."""
    face = part.shape.face if isinstance(part.shape, Flat) else ""
    turned = -1.0 if clockwise else 1.0
    match part.role:
        case Role.RIB | Role.DOUBLER | Role.TURNING_CAP | Role.FIXED_CAP | Role.WEDGE | Role.WEB:
            return _placed(part, FORWARD, UP, TIP)
        case Role.TIP | Role.CAP_STRIP | Role.JIG_BOARD:
            return _placed(part, FORWARD, TIP)
        case Role.SPAR:  # one that is folded shows a different side on each of its panels
            return _placed(part, TIP) if face == "inside" else _placed(part, FORWARD, UP, TIP)
        case Role.GAUGE:  # some stand on their heads: the blade lies in them on its upper side
            return _placed(part, FORWARD)
        case Role.SKIN | Role.SHEETING | Role.FOLDED_SKIN | Role.FILM:  # laid flat, x out along the blade
            ahead = {"upper": (0.0, 1.0), "lower": (0.0, -1.0)}  # one half only: a whole one's nose is in its middle
            forward = tuple(Direction(FORWARD, ahead[each]) for each in map(str, part.mark) if each in ahead)
            return *forward, Direction(TIP, (-turned if face == "inside" else turned, 0.0))
        case Role.WIRE_TEMPLATE:  # a station's frame, x from nose to tail
            return Direction(FORWARD, (turned if face == "tip side" else -turned, 0.0)), Direction(UP, (0.0, 1.0))
        case Role.CORE | Role.NOSE_STRIP | Role.TAIL_STRIP | Role.SLEEVE | Role.WIRE | Role.TIE | Role.GLUE:
            return ()
        case Role.COLLAR | Role.PIN | Role.CLIP | Role.SCREW | Role.FITTING | Role.HUB | Role.COUPON:
            return ()


def _placed(part: Part, *words: str) -> tuple[Direction, ...]:
    """The blade's axes as they lie in a part's plane, by its first place."""
    if not part.places:
        return ()
    found = []
    for word, axis in _AXES:
        x, y = (float(part.places[0][axis, k]) for k in (0, 1))
        long = float(np.hypot(x, y))
        if word in words and long >= _IN_PLANE:
            found.append(Direction(word, _snapped(x / long, y / long)))
    return tuple(found)


def _snapped(x: float, y: float) -> tuple[float, float]:
    near = float(np.cos(np.radians(_SNAP_DEG)))
    if max(abs(x), abs(y)) < near:
        return x, y
    return (float(np.sign(x)), 0.0) if abs(x) > abs(y) else (0.0, float(np.sign(y)))

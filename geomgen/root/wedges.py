"""The wedges of a wedge pattern as parts: those of the pitch to fly at in their windows, all others on the bench."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import VolumeStock
from geomgen.errors import Fault
from geomgen.figures import at_least, at_most, mm
from geomgen.frames import applied, blades_to_rotor
from geomgen.model.joint import Bond, Joint, Key, touching
from geomgen.model.made import Made
from geomgen.model.part import Flat, Part, Text
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point
from geomgen.plane.path import Circle
from geomgen.plane.region import Region
from geomgen.root.pitch_caps import ROOT_SIDE
from geomgen.root.root import FIXED_CAP, FLOOR_MM, GRIP_MM, TURNING_CAP, Root
from geomgen.root.seat import cap_to_blade
from geomgen.root.wedge_pattern import LETTERS_MM, Wedge, figure, made_of

PULL_MM = 4.0  # of a pin's grip, at least, that a thick wedge leaves to pull by; common practice
HUB_CLEAR_MM = 1.0  # between a wedge that stands out behind the fixed cap and the hub's cup


def wedge_key(pitch_deg: float) -> Key:
    """The wedge of a pitch."""
    return Key(Role.WEDGE, "pitch.wedge", (f"{pitch_deg:g}",))


def wedges(root: Root) -> Made:
    """The wedges of the pitch to fly at, one behind each pin, and what they touch; none where no window is.

    At fault where wedges are too thin or too thick.
    """
    pattern = root.pattern
    if pattern.wedge is None:
        return Made()
    pitch = pattern.settings_deg[pattern.setting(root.design.pitch.set)]
    part = _wedge(root, pattern.wedge, pitch, Assembly.HUB)
    joints = (_in_window(root, part, pitch), _against_cap(root, pattern.wedge, part.key))
    return Made((part,), joints, (*_thin(root), *_thick(root)))


def spare_wedges(root: Root) -> Made:
    """The wedges of all other pitches."""
    wedge, pattern = root.pattern.wedge, root.pattern
    if wedge is None:
        return Made()
    flown = pattern.setting(root.design.pitch.set)
    others = [pitch for k, pitch in enumerate(pattern.settings_deg) if k != flown]
    return Made(tuple(_wedge(root, wedge, pitch, Assembly.BENCH) for pitch in others))


def _wedge(root: Root, wedge: Wedge, pitch: float, assembly: Assembly) -> Part:
    design, sets = root.design, root.design.rotor.blades
    stock, thick = made_of(design)
    text = Text(figure(pitch), wedge.figure_at, LETTERS_MM)
    hole = Circle(wedge.hole(pitch), wedge.hole_mm / 2)
    shape = Flat(Region(wedge.outline(), (hole,)), thick, texts=(text,), face=ROOT_SIDE)
    places = _places(root, wedge, thick) if assembly is Assembly.HUB else ()
    spread = np.array([[1.0 / len(places), *applied(place, shape.centroid())] for place in places])
    fit = mm(wedge.fit_mm, significant=3)
    return Part(
        name=f"wedge {pitch:g} deg",
        role=Role.WEDGE,
        stock=stock,
        path="pitch.wedge",
        shape=shape,
        assembly=assembly,
        count=sets * len(wedge.stand_deg),
        spread=spread if places else point((0.0, 0.0, 0.0)),
        places=places,
        r_mm=_mid_mm(root, thick) if places else None,
        notes=(f"its window in the fixed cap is {fit} longer and wider; the clipped corner lies outwards",),
        mark=wedge_key(pitch).mark,
    )


def _mid_mm(root: Root, thick: float) -> float:
    """r of a wedge's mid-plane, its outer face flush with the fixed cap's [mm]."""
    return root.seat_mm + root.design.pitch.fixed_cap.thickness - thick / 2


def _places(root: Root, wedge: Wedge, thick: float) -> tuple[FloatArray, ...]:
    """(4, 4) of each wedge from its own frame to the rotor's."""
    cap, rotor = cap_to_blade(_mid_mm(root, thick)), root.design.rotor
    arms = blades_to_rotor(rotor.blades, coning_deg=rotor.coning)
    return tuple(arm @ cap @ _flat_on(wedge.place(stand)) for arm in arms for stand in wedge.stand_deg)


def _flat_on(turn: FloatArray) -> FloatArray:
    """(4, 4) in space of a (3, 3) move in the plane."""
    move = np.eye(4)
    move[:2, :2], move[:2, 3] = turn[:2, :2], turn[:2, 2]
    return move


def _in_window(root: Root, part: Part, pitch: float) -> Joint:
    """The window holds it across, not along."""
    middles = [applied(place, part.shape.centroid()) for place in part.places if isinstance(part.shape, Flat)]
    return touching(part.key, FIXED_CAP, Bond.PINNED, "pitch.wedge", middles)


def _against_cap(root: Root, wedge: Wedge, key: Key) -> Joint:
    """Thrown outwards, it lies against the turning cap."""
    r = root.seat_mm + root.design.pitch.fixed_cap.thickness
    holes = root.pattern.pins(root.design.pitch.set)[0]
    at = applied(cap_to_blade(r), np.column_stack((holes, np.zeros(len(holes)))))
    return touching(key, TURNING_CAP, Bond.BEARING, "pitch.wedge", at)


def _thin(root: Root) -> tuple[Fault, ...]:
    """A printed wedge has a floor below its figure, and no layer without a line."""
    design, (stock, thick) = root.design, made_of(root.design)
    least = max(design.printer.line, FLOOR_MM)
    if not isinstance(design.stock[stock], VolumeStock) or thick >= least - 1e-9:
        return ()
    wrong = (
        f"a printed wedge wants a line of {mm(design.printer.line)} at least, and {mm(FLOOR_MM)} for its figure to be "
        "sunk into (common practice)"
    )
    return (Fault("pitch.wedge.thickness", mm(thick), wrong, f"at least {at_least(least)}"),)


def _thick(root: Root) -> tuple[Fault, ...]:
    """What stands out behind the fixed cap leaves the pins' ends, and meets no hub."""
    design, (_, thick) = root.design, made_of(root.design)
    room = root.seat_mm - design.hub.bay.radius - design.hub.wall - HUB_CLEAR_MM
    most = design.pitch.fixed_cap.thickness + min(room, GRIP_MM - PULL_MM)
    if thick <= most + 1e-9:
        return ()
    wrong = (
        "it meets the hub behind the fixed cap"
        if room < GRIP_MM - PULL_MM
        else f"of the {mm(GRIP_MM)} of pin behind the fixed cap it leaves too little to pull by"
    )
    return (Fault("pitch.wedge.thickness", mm(thick), wrong, f"at most {at_most(most)}"),)

"""A design and a root face whose every figure is chosen here, so that caps can be judged by hand."""

from __future__ import annotations

from typing import Any

import numpy as np

from geomgen.design.library import demo
from geomgen.design.schema import Design
from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.plane.arcs import ellipse
from geomgen.plane.path import Circle
from geomgen.plane.region import Region
from geomgen.root.root_face import Crossing, RootFace
from geomgen.tolerances import STANDARD

SET = {
    "rotor.blades": 2,
    "rotor.root": 130.0,
    "rotor.coning": 2.0,
    "pitch.set": 8.0,
    "pitch.range": (2.0, 14.0),
    "pitch.step": 6.0,
    "pitch.index_circle": None,
    "pitch.pattern": "plain",
    "pitch.rim": None,
    "pitch.wire_clearance": 1.0,
    "pitch.pin.diameter": 3.0,
    "pitch.pin.fit": 0.2,
    "pitch.pin.web": 1.6,
    "pitch.pin.count": 2,
    "pitch.fixing.screw": "M3",
    "pitch.fixing.count": 4,
    "pitch.turning_cap.thickness": 4.0,
    "pitch.fixed_cap.thickness": 4.0,
    "hub.wall": 3.0,
    "hub.floor": 5.0,
    "hub.bore": 8.0,
    "hub.bay.radius": 45.0,
    "hub.bay.height": 32.0,
    "hub.socket.fit": 0.3,
    "hub.collar.outside": 20.0,
    "hub.collar.length": 8.0,
    "hub.collar.mass": 7.0,
    "hub.bolt": "M4",
    "hub.bolts": 4,
    "hub.bolt_circle": 26.0,
    "hub.clearance": "medium",
    "printer.bed": (256.0, 256.0),
}


def changed(design: Design, **changes: Any) -> Design:
    """The design with values laid over it; keys with __ for the dots of a key path."""
    for path, value in changes.items():
        design = _set(design, path.replace("__", ".").split("."), value)
    return design


def _set(table: Any, keys: list[str], value: Any) -> Any:
    if len(keys) > 1:
        value = _set(getattr(table, keys[0]), keys[1:], value)
    return table.model_copy(update={keys[0]: value})


def design_of(**changes: Any) -> Design:
    """The demo with every figure that counts here set, and some changed."""
    return changed(demo().design, **SET, **changes)


def root_face(
    angle_deg: float = 4.0, at: tuple[tuple[float, float], ...] = ((20.0, -0.5),), diameter: float = 9.0, **more: Any
) -> RootFace:
    """A root rib that is an ellipse 190 x 30 mm, nose at x = 0, the feather axis 52 mm aft of it.

    at : where channels cross the face, in the caps' frame
    """
    axis = (52.0, 1.5)
    turn = np.radians(angle_deg)
    back = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])  # caps' frame to the section's
    channels = tuple(Crossing(f"blade.channel.c{i}", xy, diameter) for i, xy in enumerate(at))
    holes = [Circle(tuple(back @ c.at + axis), c.diameter_mm / 2) for c in channels]
    figures: dict[str, Any] = {
        "r_mm": 130.0,
        "rib": Key(Role.RIB, "blade.ribs.all", (1,)),
        "region": Region(ellipse((95.0, 0.0), 95.0, 15.0, 0.0, STANDARD), (Circle(axis, 5.05), *holes)),
        "axis_mm": axis,
        "angle_deg": angle_deg,
        "thickness_mm": 2.0,
        "skin_mm": 2.0,
        "channels": channels,
        "spar_path": "blade.spar.main",
        "spar_outside_mm": 10.0,
        "spar_fit_mm": 0.1,
        "spar_from_mm": 30.0,
    }
    return RootFace(**(figures | more))

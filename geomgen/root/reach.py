"""How far down a blade and its caps reach beside the hub."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from geomgen.blade.blade import Blade
from geomgen.design.schema import Design
from geomgen.frames import applied, blade_to_rotor
from geomgen.model.joint import Key
from geomgen.model.made import Made
from geomgen.model.part import Flat, Part
from geomgen.root.root import FIXED_CAP
from geomgen.root.root_face import FLATTEN_MM


def below_mm(design: Design, caps: Made, *, axis_height_mm: float) -> Mapping[Key, float]:
    """How far each cap reaches below the hub's underside, at the pitch at which it reaches deepest [mm]; above it where
    that is less than 0.

    axis_height_mm : of the arms' axes above the underside [mm]
    """
    return {part.key: -axis_height_mm - _lowest_mm(design, part) for part in caps}


def _lowest_mm(design: Design, cap: Part) -> float:
    """Least z in the rotor frame, where the arms' axes meet at 0 [mm]."""
    assert isinstance(cap.shape, Flat)
    rim, half = cap.shape.region.outer.flattened(FLATTEN_MM), cap.shape.thickness_mm / 2
    corners = np.vstack([np.column_stack((rim, np.full(len(rim), z))) for z in (-half, half)])
    if cap.key == FIXED_CAP:
        return float(min(applied(place, corners)[:, 2].min() for place in cap.places))
    low, high = design.pitch.range
    pitches = np.linspace(low, high, max(2, int(high - low) + 1))
    turned = (blade_to_rotor(1, 1, float(pitch), design.rotor.coning) @ cap.places[0] for pitch in pitches)
    return float(min(applied(matrix, corners)[:, 2].min() for matrix in turned))


def blade_below_mm(design: Design, blade: Blade, *, axis_height_mm: float) -> float:
    """How far a blade at rest, at the pitch to fly at, reaches below the hub's underside [mm]; above it where less than
    0. What is bought for it is left out."""
    turned = blade_to_rotor(1, 1, design.pitch.set, design.rotor.coning)
    lowest = []
    for station in blade.stations([design.rotor.root, *(design.r(entry.at) for entry in design.blade.along)]):
        rim = station.chord_mm * np.vstack((station.section.upper.xy, station.section.lower.xy))
        lowest.append(applied(turned, station.to_blade(rim))[:, 2].min())
    return float(-axis_height_mm - min(lowest))

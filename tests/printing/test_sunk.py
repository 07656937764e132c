"""Caps weigh what is printed less what is countersunk: by the volume of the file to print, read by another library."""

from __future__ import annotations

import io
from collections.abc import Callable
from math import pi

import pytest
import trimesh

from geomgen.craft import Craft
from geomgen.model.part import Flat
from geomgen.model.role import Role
from geomgen.printing.stl import stl_bytes

# M3: clearance 3.4 mm (ISO 273, medium), head 5.5 mm at 90 deg, so 1.05 mm deep: frustum less cylinder [mm3]
M3 = pi / 12 * 1.05 * (5.5**2 + 5.5 * 3.4 + 3.4**2) - pi / 4 * 1.05 * 3.4**2
CAPS = Role.TURNING_CAP, Role.FIXED_CAP


def weighed(craft: Craft, role: Role) -> tuple[float, float]:
    """Volume that is weighed, and what there would be of it with nothing sunk into it [mm3]."""
    (cap,) = (each for each in craft.measured if each.part.role is role)
    assert isinstance(cap.part.shape, Flat)
    return cap.amounts["mm3"], cap.part.shape.region.area() * cap.part.shape.thickness_mm


@pytest.mark.parametrize("role", CAPS)
@pytest.mark.parametrize("turn", ["anticlockwise", "clockwise"])
def test_a_printed_cap_weighs_what_its_file_holds(role: Role, turn: str, craft_of: Callable[..., Craft]) -> None:
    craft = craft_of("lantern", ('turn   = "anticlockwise"', f'turn   = "{turn}"'))
    (part,) = craft.finished_of(role)
    mesh = trimesh.load(io.BytesIO(stl_bytes(craft.meshes[part.key])), file_type="stl")
    assert isinstance(mesh, trimesh.Trimesh)
    volume, whole = weighed(craft, role)
    assert volume == pytest.approx(mesh.volume - 4 * M3, rel=6e-4)  # chords stand in for the mesh's round edges
    assert volume < (1 - 1e-3) * whole  # what the outline and the holes alone would say


def test_a_cap_that_is_cut_is_countersunk_only(kite_day: Craft) -> None:
    """Its letters are no deeper than a laser draws."""
    volume, whole = weighed(kite_day, Role.TURNING_CAP)
    assert volume == pytest.approx(whole - 3 * M3, rel=1e-9)
    (cap,) = (each for each in kite_day.measured if each.part.role is Role.TURNING_CAP)
    assert cap.amounts["mm2"] * cap.part.shape.thickness_mm == pytest.approx(volume)  # type: ignore[union-attr]

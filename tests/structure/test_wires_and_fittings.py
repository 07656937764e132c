"""What wires and fittings lie against, in every example."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.frames import applied
from geomgen.model.groups import is_cover
from geomgen.model.joint import Bond
from geomgen.model.layout import rib_key
from geomgen.model.role import Role
from geomgen.structure.fitting import fittings, stuck_on
from geomgen.structure.ribs.mount import mounts
from geomgen.structure.wire import wires


@pytest.fixture(params=["starter", "lantern", "kite_day"])
def craft(request, craft_of) -> Craft:
    return craft_of(request.param)


def test_wires_lie_in_the_ribs_they_pass(craft: Craft) -> None:
    made = wires(craft.layout, craft.ties).read()
    assert {joint.a for joint in made.joints} == {part.key for part in made.parts}
    ties = {part.path: part for part in made.parts if part.role is Role.TIE}
    for part in made.parts:
        if part.role is Role.TIE:
            continue
        (channel,) = [c for c, table in craft.design.blade.channel.items() if part.path[5:] in table.passes.wires]
        end = craft.layout.channels[channel].end[0]
        passed = {rib_key(rib) for rib in craft.rib_places if rib.r_mm <= end + 1e-6}
        assert {joint.b for joint in made.joints if joint.a == part.key} == passed
        tie = ties[f"blade.channel.{channel}"]  # in the root rib, and in the last rib that the channel passes
        tied = {joint.b for joint in made.joints if joint.a == tie.key}
        assert tied == {rib_key(min(craft.rib_places, key=lambda rib: rib.r_mm)), max(passed, key=lambda key: key.mark)}
        clamped = {joint.b for joint in made.joints if joint.a == part.key and joint.bond is Bond.CLAMPED}
        assert clamped == tied and tie.count == 2


def test_every_fitting_lies_against_something_once(craft: Craft) -> None:
    made = fittings(craft.design, craft.layout, floor_z_mm=-10.0).read()
    stuck = stuck_on(craft.layout, craft.covering).joints
    joints = [
        *made.joints,
        *(joint for joint in mounts(craft.layout, craft.blanks).joints if joint.a.role == Role.FITTING),
        *stuck,
    ]
    assert sorted(joint.a.path for joint in joints) == sorted(f"fitting.{name}" for name in craft.design.fitting)
    for joint in made.joints:
        on_hub = craft.design.fitting[joint.a.path.removeprefix("fitting.")].on == "hub"
        assert joint.bond == Bond.BEARING and joint.b.role == Role.HUB and on_hub
    for joint in stuck:
        assert craft.design.fitting[joint.a.path.removeprefix("fitting.")].stuck
        assert joint.bond == Bond.SEALED and is_cover(joint.b.role)


def test_what_is_on_the_hub_lies_on_its_floor(craft: Craft) -> None:
    """In the hub's own frame, from its underside up: as thick as the floor is, and as high as the design says."""
    parts = {part.path: part for part in craft.flying}
    to_hub = np.linalg.inv(parts["hub"].places[0])
    on_hub = {name: fitting for name, fitting in craft.design.fitting.items() if fitting.on == "hub"}
    assert on_hub
    for name, fitting in on_hub.items():
        above = fitting.height if isinstance(fitting.height, float) else 0.0
        up = applied(to_hub, parts[f"fitting.{name}"].spread[:, 1:])[:, 2]
        assert up == pytest.approx(craft.design.hub.floor + above)

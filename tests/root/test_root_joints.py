"""What holds what at the root: every part has a chain to the hub or to the root rib, and the spar by its collar."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from root_faces import design_of, root_face

from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.made import Made, together
from geomgen.model.role import Role
from geomgen.root.hub import hub_part, hub_spec
from geomgen.root.pitch_caps import caps
from geomgen.root.pitch_pattern import pitch_pattern
from geomgen.root.root import HUB, Root
from geomgen.root.seat import seat
from geomgen.root.small_parts import small_parts

SPAR = Key(Role.SPAR, "blade.spar.main")


@pytest.fixture(scope="module")
def root() -> Root:
    design, face = design_of(), root_face()
    there = seat(design, face)
    return Root(design, face, there, pitch_pattern(design, face, seat=there))


@pytest.fixture(scope="module")
def made(root: Root) -> Made:
    hub = hub_spec(root.design, root.face, seat=root.seat)
    return together(caps(root), small_parts(root, hub), hub_part(root, hub)).read()


def between(made: Made, a: Role, b: Role) -> Joint:
    (found,) = [joint for joint in made.joints if (joint.a.role, joint.b.role) == (a, b)]
    return found


def test_keys_are_unique(made: Made) -> None:
    keys = [part.key for part in made.parts]
    assert len(set(keys)) == len(keys) == 8


def test_everything_hangs_on_the_hub_or_the_root_rib(root: Root, made: Made) -> None:
    held, more = {HUB, root.face.rib}, True
    while more:
        more = {joint.a for joint in made.joints if joint.bond.holds_pull and joint.b in held} - held
        held |= more
    assert {part.key for part in made.parts} | {SPAR} <= held


def test_blade_is_held_by_its_collar_alone(made: Made) -> None:
    """The spar turns in the hub, and pins don't hold along themselves."""
    assert between(made, Role.SPAR, Role.COLLAR).bond == Bond.GLUED
    assert between(made, Role.COLLAR, Role.HUB).bond == Bond.BEARING
    pulling = [joint for joint in made.joints if joint.bond.holds_pull and joint.b == HUB]
    assert {joint.a.role for joint in pulling} == {Role.COLLAR, Role.FIXED_CAP, Role.SCREW}


def test_joints_lie_where_parts_meet(root: Root, made: Made) -> None:
    """The turning cap on the root face at r 130, pins to 1 mm from there; fixed caps on the seat at 130 - 8.3."""
    assert between(made, Role.TURNING_CAP, Role.RIB).contact[:, 1] == pytest.approx(130.0)
    assert between(made, Role.PIN, Role.TURNING_CAP).contact[:, 1] == pytest.approx(129.0)
    assert between(made, Role.PIN, Role.FIXED_CAP).contact[:, 1] == pytest.approx(123.7)
    fixed = between(made, Role.FIXED_CAP, Role.HUB).contact
    assert len(fixed) == 4 * 2 and fixed[:, 0] == pytest.approx(0.0)
    axis = np.array([np.cos(np.radians(2.0)), 0.0, np.sin(np.radians(2.0))])  # of the first arm
    assert fixed[:4, 1:] @ axis == pytest.approx(121.7)


def test_faults_of_both_caps_at_once(root: Root) -> None:
    """Heads that don't go in, and webs that are too thin, told together."""
    design = design_of(pitch__turning_cap__thickness=1.0, pitch__fixed_cap__thickness=1.0)
    close = replace(root, design=design, pattern=replace(root.pattern, web_mm=9.0))
    paths = {fault.path for fault in caps(close).faults}
    assert {"pitch.turning_cap.thickness", "pitch.fixed_cap.thickness", "pitch.pin"} <= paths

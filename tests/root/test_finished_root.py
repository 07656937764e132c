"""The finished root: pins that can't leave outwards, a collar that is fixed, caps that clear the hub's underside.

Volumes and places are judged on meshes read by trimesh, joints by the chain from the spar to the hub.
"""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from root_faces import design_of, root_face

from geomgen.cache import Cache
from geomgen.design.schema import Clamped, Clip, Design, Glued, Pinned
from geomgen.errors import MakeError
from geomgen.figures import spelled
from geomgen.frames import applied, blade_to_rotor
from geomgen.marking.finish import finished
from geomgen.model.joint import Bond
from geomgen.model.made import Made, together
from geomgen.model.part import Bought, Flat, Length, Part
from geomgen.model.role import Role
from geomgen.printing.solid import mesh_of, properties
from geomgen.root.hub import hub_part, hub_spec
from geomgen.root.pitch_caps import caps
from geomgen.root.pitch_pattern import pitch_pattern
from geomgen.root.reach import below_mm, blade_below_mm
from geomgen.root.root import HUB, Root
from geomgen.root.seat import seat
from geomgen.root.small_parts import small_parts
from geomgen.strength.load_path import chain, hanging
from geomgen.tolerances import STANDARD


def root_of(design: Design) -> Root:
    face = root_face()
    there = seat(design, face)
    return Root(design, face, there, pitch_pattern(design, face, seat=there))


def made(design: Design) -> Made:
    root = root_of(design)
    spec = hub_spec(design, root.face, seat=root.seat)
    return together(caps(root), small_parts(root, spec), hub_part(root, spec)).read()


def of(made: Made, role: Role, path: str = "") -> Part:
    (found,) = [part for part in made if part.role is role and part.path.startswith(path)]
    return found


def mesh(part: Part) -> trimesh.Trimesh:
    (as_cut,) = finished((part,), clockwise=False, units=None, cache=Cache())
    found = mesh_of(as_cut.shape, None, STANDARD, part.name)
    return trimesh.Trimesh(found.vertices, found.faces, process=False)


def test_a_pin_ends_in_the_turning_cap() -> None:
    """On the printed mesh: along each pin there is air for 3 mm from the drawn face, then 1 mm of plastic."""
    parts = made(design_of())
    cap, pin = of(parts, Role.TURNING_CAP), of(parts, Role.PIN, "pitch")
    solid = mesh(cap)
    to_cap = np.linalg.inv(cap.places[0])
    for x, y, _ in applied(to_cap, pin.spread[:, 1:]):
        inside = solid.contains([(x, y, z) for z in (1.9, 0.0, -0.9, -1.1, -1.9)])
        assert inside.tolist() == [False, False, False, True, True]
    assert isinstance(pin.shape, Length) and pin.r_mm is not None
    assert pin.r_mm + pin.shape.length_mm / 2 == pytest.approx(129.0)


def test_blind_holes_are_weighed_as_they_are_printed() -> None:
    """Closed form against the mesh's volume and centre, by trimesh, without letters and marks."""
    cap = of(made(design_of()), Role.TURNING_CAP)
    assert isinstance(cap.shape, Flat)
    bare = Flat(cap.shape.region, cap.shape.thickness_mm, pockets=cap.shape.pockets)
    found = mesh_of(bare, None, STANDARD, "cap")
    solid = trimesh.Trimesh(found.vertices, found.faces)
    assert solid.is_watertight
    assert cap.shape.volume_mm3 == pytest.approx(solid.volume, rel=2e-4)
    assert cap.shape.centroid() == pytest.approx(solid.center_mass, abs=5e-3)
    assert properties(bare).inertia == pytest.approx(solid.moment_inertia, rel=1e-3, abs=1.0)


def test_a_clip_ends_the_pin_where_holes_go_through() -> None:
    design = design_of(pitch__pin__clip=Clip(outside="6 mm", mass="0.2 g"))
    parts = made(design)
    cap, clip = of(parts, Role.TURNING_CAP), of(parts, Role.CLIP)
    assert isinstance(cap.shape, Flat) and not cap.shape.pockets
    assert clip.count == 2 and clip.spread[:, 1] == pytest.approx(121.7)  # behind the fixed cap, at 130 - 8.3
    held = hanging(parts.joints)
    pin = of(parts, Role.PIN, "pitch")
    assert [key.role for key in chain(pin.key, held)] == [Role.CLIP, Role.FIXED_CAP, Role.HUB]


def test_a_wide_clip_pushes_the_pins_outwards() -> None:
    """Wires 25.5 mm from the axis, 3 mm of wall, 0.5 mm clear, and half of 50 mm: 54.0; slim ones stand at 45.9 mm."""
    slim, wide = (root_of(design_of(pitch__pin__clip=Clip(outside=f"{out} mm", mass="0.2 g"))) for out in (3.4, 50.0))
    assert slim.pattern.circle_mm == 45.9  # 4.8 mm of hole and web, 6 deg apart: 2.4 / sin 3 deg
    assert wide.pattern.circle_mm == pytest.approx(wide.seat.slots[0].outer_mm + 3.5 + 25.0, abs=0.1)


def test_a_shallow_cap_is_a_fault() -> None:
    """3 mm of pin and 1 mm of floor: 4 mm; 3.9 is told, and what is told passes."""
    with pytest.raises(MakeError) as caught:
        made(design_of(pitch__turning_cap__thickness=3.9))
    (fault,) = caught.value.faults
    assert fault.path == "pitch.turning_cap.thickness" and spelled(fault.allowed) == "at least 4 mm"


FIXINGS = [
    (Glued(kind="glued", length="8 mm", glue="epoxy"), [Role.COLLAR, Role.HUB], Bond.GLUED),
    (
        Pinned(kind="pinned", diameter="2 mm", stock="steel_rod_2"),
        [Role.PIN, Role.COLLAR, Role.HUB],
        Bond.PINNED_ACROSS,
    ),
    (Clamped(kind="clamped", screw="M3", count=2), [Role.COLLAR, Role.HUB], Bond.CLAMPED),
    (None, [Role.COLLAR, Role.HUB], Bond.CLAMPED),
]


@pytest.mark.parametrize(("fixing", "way", "bond"), FIXINGS, ids=["glued", "pinned", "clamped", "left out"])
def test_the_spar_hangs_on_its_collar_by_what_fixes_it(fixing, way, bond) -> None:
    parts = made(design_of(hub__collar__fixing=fixing))
    spar = root_face().spar
    assert [key.role for key in chain(spar, hanging(parts.joints))] == way
    (joint,) = [one for one in parts.joints if one.a == spar and one.b.role in way and one.b != HUB]
    assert joint.bond is bond
    if bond is Bond.GLUED:  # pi x 10 mm x 8 mm
        assert joint.area_mm2 == pytest.approx(251.33, abs=0.01)


def test_a_cross_pin_is_as_long_as_the_collar_is_wide() -> None:
    pin = of(made(design_of(hub__collar__fixing=FIXINGS[1][0])), Role.PIN, "hub")
    assert isinstance(pin.shape, Length) and pin.shape.length_mm == 20.0
    screws = of(made(design_of(hub__collar__fixing=FIXINGS[2][0])), Role.SCREW, "hub.collar")
    assert screws.count == 2 and screws.name.endswith("M3 x 10")  # half of 20 mm, as sold


def test_bolts_to_the_mast_by_hand() -> None:
    """M4 through 5 mm of floor, 4 mm of flange, a nut of 3.2 mm and 1 mm: 14 mm as sold. A hexagon 7 mm across has
    42.4 mm2; head 2.8 mm high, nut less its thread's hole, shank of 3.6 mm: 118.8 + 99.5 + 142.5 mm3 of steel."""
    bolts = of(made(design_of()), Role.SCREW, "hub.bolt")
    assert bolts.name.endswith("M4 x 14") and bolts.count == 4
    assert isinstance(bolts.shape, Bought) and bolts.shape.mass_g[1] == pytest.approx(360.8 * 7.85e-3, rel=1e-3)
    middle = bolts.spread[:, 0] @ bolts.spread[:, 1:]
    assert np.hypot(*bolts.spread[:, 1:3].T) == pytest.approx(26.0) and middle[:2] == pytest.approx(
        [0.0, 0.0], abs=1e-9
    )
    # the axes stand 19.42 mm above the underside: heads lie on the floor, 5 mm above that, shanks go down 14 mm
    assert bolts.spread[:, 3] == pytest.approx(5.0 - 19.416 - 14.0 / 2, abs=1e-3)


@pytest.mark.parametrize("pitch", [2.0, 8.0])
def test_how_far_a_blade_at_rest_reaches_below_the_underside(craft_of, pitch: float) -> None:
    """An even 0015 of 180 mm, untwisted, axis at 45 mm, from r 120 on: its lower side by the published thickness (NACA
    Report 460), turned by the pitch and coned up by 2 deg, so that its root hangs lowest; axes 20 mm up."""
    even = 'chord = 180, twist = "0 deg", section = "naca 0015"'
    craft = craft_of(
        "starter",
        ('chord = 180, twist = "4 deg", section = "naca 4415"', even),
        ('chord = 150, twist = "0 deg", section = "naca 4415"', even),
        ('set     = "8 deg"', f'set     = "{pitch:g} deg"'),
    )
    x = np.linspace(0.0, 1.0, 100_001)
    y = 5 * 0.15 * (0.29690 * np.sqrt(x) - 0.12600 * x - 0.35160 * x**2 + 0.28430 * x**3 - 0.10150 * x**4)
    p, coned = np.radians(pitch), np.radians(2.0)
    lowest = ((45.0 - 180.0 * x) * np.sin(p) - 180.0 * y * np.cos(p)).min()
    by_hand = -20.0 - (120.0 * np.sin(coned) + lowest * np.cos(coned))
    assert blade_below_mm(craft.design, craft.blade, axis_height_mm=20.0) == pytest.approx(by_hand, abs=0.02)


@pytest.mark.parametrize("pins", [2, 3])
@pytest.mark.parametrize(("turn", "coning"), [("anticlockwise", 2.0), ("clockwise", 2.0), ("anticlockwise", -3.0)])
def test_how_far_caps_reach_below_the_underside(pins: int, turn: str, coning: float) -> None:
    """The meshes of both caps, put up at each pitch, against the hub's underside, which the axes stand above: coned up
    it is a cap's inner face that reaches down farther, coned down its outer one."""
    design = design_of(pitch__pin__count=pins, rotor__turn=turn, rotor__coning=coning)
    root = root_of(design)
    spec = hub_spec(design, root.face, seat=root.seat)
    both = caps(root).read()
    found = below_mm(design, both, axis_height_mm=spec.axis_height)
    for part in both:
        assert isinstance(part.shape, Flat)
        points = mesh(part).vertices
        turned = [blade_to_rotor(1, 2, pitch, coning) for pitch in np.linspace(2.0, 14.0, 49)]
        ways = part.places if part.role is Role.FIXED_CAP else [matrix @ part.places[0] for matrix in turned]
        lowest = min(applied(way, points)[:, 2].min() for way in ways)
        assert found[part.key] == pytest.approx(-spec.axis_height - lowest, abs=0.02)
    assert (max(found.values()) > 0.0) == (pins == 3)  # two stand fore and aft

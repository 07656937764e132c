"""What doesn't fit in a hub is told by the key to change, and what is said to do does."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
import shapely
from root_faces import design_of, root_face

from geomgen.errors import MakeError
from geomgen.figures import spelled
from geomgen.frames import applied
from geomgen.model.part import Part
from geomgen.root.hub import hub_part, hub_spec
from geomgen.root.hub_fit import axis_heights
from geomgen.root.hub_size import hub_corners
from geomgen.root.hub_spec import Duct, HubSpec
from geomgen.root.pitch_pattern import pitch_pattern
from geomgen.root.root import Root
from geomgen.root.seat import seat
from geomgen.root.small_parts import small_parts


def spec_of(face=None, **changes) -> HubSpec:
    design, face = design_of(**changes), face or root_face()
    return hub_spec(design, face, seat=seat(design, face))


def root_of(design) -> Root:
    face = root_face()
    there = seat(design, face)
    return Root(design, face, there, pitch_pattern(design, face, seat=there))


def hub_of(design) -> tuple[Part, HubSpec]:
    root = root_of(design)
    spec = hub_spec(design, root.face, seat=root.seat)
    (part,) = hub_part(root, spec).read().parts
    return part, spec


def faults_of(face=None, **changes):
    with pytest.raises(MakeError) as caught:
        spec_of(face, **changes)
    return {fault.path: fault for fault in spelled(caught.value.faults)}


def stated(text: str) -> float:
    return float(re.search(r"at (?:least|most) (\d+(?:\.\d+)?)", text).group(1))


def test_figures_that_follow_from_the_design() -> None:
    spec = spec_of()
    assert spec.socket == pytest.approx(10.3)
    assert spec.seat == pytest.approx(130 - 4 - 0.3 - 4)
    assert spec.bolt == 4.5
    # the collar's flat face just clears the bay's curved wall, tilted by the coning
    assert spec.collar_seat == pytest.approx((45 + 10.5 * np.sin(np.radians(2))) / np.cos(np.radians(2)))
    # round each M3, with a pilot hole of 2.4 mm and a head of 5.5, 3 mm of wall in the hub and 1.6 mm of web in the cap
    assert spec.flange / 2 == pytest.approx(np.hypot(*spec.pilots[0]) + max(1.2 + 3.0, 2.75 + 1.6))


@pytest.mark.parametrize("coning", [-3.0, 2.0, 5.0])
def test_arms_leave_the_bay_half_way_up(coning: float) -> None:
    """The middle of the spot face, 45 mm out and more along the coned axis, half way between floor and rim."""
    spec = spec_of(rotor__coning=coning)
    assert spec.axis_height + spec.collar_seat * np.sin(np.radians(coning)) == pytest.approx(5.0 + 32.0 / 2)


@pytest.mark.parametrize("coning", [-8.0, 0.0, 8.0])
def test_cuts_along_an_arm_begin_inside_the_bay(coning: float) -> None:
    """20 mm wide and 24 high, coned: its foremost corners are 1 mm inside the bay's wall of 45 mm radius."""
    s, b = replace(spec_of(), coning=coning).opening(10.0, 12.0), np.radians(coning)
    out = s * np.cos(b) - np.array([-12.0, 12.0]) * np.sin(b)  # of its lower and upper edge, from the rotor axis
    assert out.max() == pytest.approx(np.sqrt(45.0**2 - 10.0**2) - 1.0)


@pytest.mark.parametrize("coning", [-5.0, 5.0])
def test_a_wide_flange_just_stands_on_the_bed(coning: float) -> None:
    """At the least height of the axes no corner of the hub lies below the underside; a tenth lower, a flange's does."""
    wide = replace(spec_of(), flange=90.0, coning=coning)
    low, _ = axis_heights(wide, 8.0)
    for lower in (0.0, 0.1):
        corners = hub_corners(replace(wide, axis_height=low - lower))
        assert corners[:, 2].min() == pytest.approx(-lower, abs=1e-9)


@pytest.mark.parametrize(("start", "end"), [(60.0, 120.0), (-10.0, 100.0), (170.0, 280.0), (100.0, 130.0)])
def test_how_far_a_duct_reaches(start: float, end: float) -> None:
    """Its middle line as chords, grown by shapely: an arc may bulge beyond both its ends."""
    angle = np.radians(np.linspace(start, end, 2001))
    line = shapely.LineString(25.0 * np.column_stack((np.cos(angle), np.sin(angle))))
    assert Duct(25.0, 6.0, start, end).reach(1.5) == pytest.approx(line.buffer(4.5, quad_segs=200).bounds, abs=1e-3)


def test_bolts_stand_between_the_arms() -> None:
    for blades, bolts in ((2, 4), (3, 4), (3, 6), (4, 4)):
        spec = spec_of(rotor__blades=blades, hub__bolts=bolts, hub__bay__radius=60.0, rotor__root=150.0)
        azimuth = np.degrees(np.arctan2(*np.array(spec.bolts).T[::-1]))
        arms = 360.0 / blades * np.arange(blades)
        gap = np.abs((azimuth[:, None] - arms + 180) % 360 - 180).min()
        assert gap == pytest.approx(180.0 / np.lcm(blades, bolts))  # the best that can be done
        assert np.hypot(*np.array(spec.bolts).T) == pytest.approx(26.0)


def test_too_low_a_bay() -> None:
    fault = faults_of(hub__bay__height=20.0)["hub.bay.height"]
    least = stated(fault.allowed)
    spec = spec_of(hub__bay__height=least)
    assert spec.axis_height - 10.5 > spec.floor - 2 and least < 30
    assert "hub.bay.height" in faults_of(hub__bay__height=least - 1.5)


def test_spar_that_ends_before_the_collar() -> None:
    """Nothing would hold the blade: the collar sits behind the socket, 8 mm long."""
    fault = faults_of(root_face(spar_from_mm=40.0))["blade.spar.main.from"]
    most = stated(fault.allowed)
    assert most == pytest.approx(45.4 - 8.0, abs=0.11) and "hold" in fault.wrong
    spec_of(root_face(spar_from_mm=most))


def test_collar_that_would_slip_through() -> None:
    fault = faults_of(hub__collar__outside=11.0)["hub.collar.outside"]
    assert stated(fault.allowed) == pytest.approx(12.3)


@pytest.mark.parametrize(
    ("path", "changes"),
    [
        ("rotor.root", {}),
        ("hub.wall", {"hub__wall": 0.6}),
        ("hub.floor", {"hub__floor": 0.5}),
        ("hub.bolt_circle", {"hub__bolt_circle": 7.0}),
        ("hub.bolt_circle", {"hub__bolt_circle": 43.0}),
        ("hub.bay.radius", {"hub__bay__radius": 24.0, "hub__bolt_circle": 12.0}),
        ("hub.bay.radius", {"rotor__blades": 8}),
    ],
)
def test_what_is_too_small_is_named(path: str, changes) -> None:
    face = root_face(r_mm=75.0) if path == "rotor.root" else root_face()
    fault = faults_of(face, **changes)[path]
    assert fault.wrong and (fault.allowed or fault.remedy)


def test_where_bolts_go_is_told() -> None:
    """M4: hole 4.5 mm, washer 9; beside a bore of 8 and 3 mm of wall, within a bay of 45 mm radius."""
    for circle in (7.0, 43.0):
        assert faults_of(hub__bolt_circle=circle)["hub.bolt_circle"].allowed == "from 9.3 mm to 40.5 mm"
    assert spec_of(hub__bolt_circle=9.3) and spec_of(hub__bolt_circle=40.5)


def test_channels_too_near_the_spar_or_one_another() -> None:
    assert "blade.channel.c0.chord" in faults_of(root_face(at=((11.0, 0.0),)))
    assert "blade.channel.c1.chord" in faults_of(root_face(at=((22.0, 0.0), (24.0, 9.0)), diameter=7.0))


def test_several_faults_at_once() -> None:
    found = faults_of(hub__wall=0.6, hub__bolt_circle=43.0, hub__bay__height=15.0)
    assert {"hub.wall", "hub.bolt_circle", "hub.bay.height"} <= set(found)


@pytest.mark.parametrize(
    ("bed", "word"), [((256.0, 256.0), None), ((215.0, 215.0), "turned by"), ((150.0, 150.0), "not go")]
)
def test_a_small_bed_is_noted(bed, word) -> None:
    part, _ = hub_of(design_of(printer__bed=bed))
    notes = " ".join(part.notes)
    assert (word in notes) if word else ("bed" not in notes)


def test_hub_part_and_its_place() -> None:
    design = design_of(rotor__turn="clockwise")
    part, spec = hub_of(design)
    assert part.assembly == "hub" and part.count == 1
    centre = applied(part.places[0], [1.0, 2.0, spec.axis_height + 3.0])
    assert centre == pytest.approx([1.0, -2.0, 3.0])  # in the twin's frame, from the height of the arms' axes


def test_small_parts() -> None:
    root = root_of(design_of())
    pattern, spec = root.pattern, hub_spec(root.design, root.face, seat=root.seat)
    made = small_parts(root, spec).read().parts
    parts = {part.role if part.role != "screw" else part.name: part for part in made}
    for part in parts.values():
        assert part.spread[:, 0].sum() == pytest.approx(1.0)
    collar = parts["collar"]
    # epoxy over 12 mm of a 10 mm tube, at the 166 g/m2 (111 to 221) that its maker's films come to
    coat = [np.pi * 10 * 12 * each * 1e-6 for each in (111, 166, 221)]
    assert collar.shape.mass_g == pytest.approx([7.0 + grams for grams in coat]) and collar.assembly == "blade"
    assert collar.spread[0, 1:] == pytest.approx([spec.collar_seat - 4.0, 0.0, 0.0])
    pin = parts["pin"]
    assert pin.count == 2 and pin.shape.length_mm == pytest.approx(12.0 + 4 + 0.3 + 3)  # 1 mm of floor is left
    assert np.hypot(*pin.spread[:, 2:].T) == pytest.approx(pattern.circle_mm)
    turning, fixed = (next(p for name, p in parts.items() if name.startswith(which)) for which in ("turning", "fixed"))
    # M3 through 4 mm of cap, 2 mm of rib, a 2.4 mm nut and 1 mm beyond; M3 through 4 mm of cap and 2 to 3 d of plastic
    assert turning.name.endswith("M3 x 10") and turning.count == 4 and turning.assembly == "blade"
    assert fixed.name.endswith("M3 x 12") and fixed.count == 8 and fixed.assembly == "hub"
    assert fixed.spread[:, 0] @ fixed.spread[:, 1:3] == pytest.approx([0.0, 0.0], abs=1e-9)
    # both heads flush in their caps' faces, at 130 - 4 mm and at 121.7 + 4 mm along the arm, coned by 2 deg
    axis = np.array([np.cos(np.radians(2.0)), 0.0, np.sin(np.radians(2.0))])
    assert turning.spread[:, 1] == pytest.approx(126.0 + 10.0 / 2)
    assert fixed.spread[:4, 1:] @ axis == pytest.approx(125.7 - 12.0 / 2)

"""Caps judged from their made outlines, taken through the frames of blade and rotor as a maker would put them up."""

from __future__ import annotations

import numpy as np
import pytest
from root_faces import design_of, root_face

from geomgen.cache import Cache
from geomgen.figures import spelled
from geomgen.frames import applied, blade_to_rotor, hub_to_rotor
from geomgen.marking.finish import finished
from geomgen.model.part import Flat, Part
from geomgen.plane.path import Circle, Path
from geomgen.root.pitch_caps import caps
from geomgen.root.pitch_pattern import pitch_pattern
from geomgen.root.root import Root
from geomgen.root.root_face import RootFace
from geomgen.root.seat import seat

CASES = [
    ("anticlockwise", 2, 2),
    ("clockwise", 2, 2),
    ("anticlockwise", 3, 1),
    ("clockwise", 3, 3),
]


@pytest.fixture(params=CASES, ids=lambda case: f"{case[0]}, {case[1]} blades, {case[2]} pins")
def made(request):
    turn, blades, pins = request.param
    design = design_of(rotor__turn=turn, rotor__blades=blades, pitch__pin__count=pins)
    root = root_of(design)
    return design, root.face, root.pattern, *made_caps(root)


def root_of(design) -> Root:
    face = root_face()
    there = seat(design, face)
    return Root(design, face, there, pitch_pattern(design, face, seat=there))


def made_caps(root: Root) -> list[Part]:
    """Both caps as they are cut."""
    clockwise = root.design.rotor.turn == "clockwise"
    return list(finished(caps(root).read().parts, clockwise=clockwise, units=None, cache=Cache()))


def flat(part: Part) -> Flat:
    assert isinstance(part.shape, Flat)
    return part.shape


def circles(part: Part, radius: float) -> np.ndarray:
    """(n, 2) middles of a cap's holes of one size, through or blind."""
    loops = [*flat(part).region.holes, *(pocket.loop for pocket in flat(part).pockets)]
    holes = [h for h in loops if isinstance(h, Circle) and abs(h.radius - radius) < 1e-9]
    return np.array([hole.center for hole in holes])


def in_rotor(part: Part, matrix: np.ndarray, xy: np.ndarray, z: float = 0.0) -> np.ndarray:
    return applied(matrix, np.column_stack((xy, np.full(len(xy), z))))


def turning_matrix(design, part: Part, blade: int, pitch: float) -> np.ndarray:
    rotor = design.rotor
    up = blade_to_rotor(blade + 1, rotor.blades, pitch, rotor.coning, rotor.turn == "clockwise")
    return up @ part.places[0]


def fixed_matrix(design, part: Part, blade: int) -> np.ndarray:
    return hub_to_rotor(design.rotor.turn == "clockwise") @ part.places[blade]


def off_axis(design, turning: Part, fixed: Part, blade: int, pitch: float) -> np.ndarray:
    """(turning holes, fixed holes) distance between the holes' axes [mm]."""
    mt, mf = turning_matrix(design, turning, blade, pitch), fixed_matrix(design, fixed, blade)
    one, other = in_rotor(turning, mt, circles(turning, 1.6)), in_rotor(fixed, mf, circles(fixed, 1.6))
    along = mf[:3, 2]
    assert abs(mt[:3, 2] @ along - 1) < 1e-12  # the caps lie flat on one another
    apart = one[:, None] - other[None]
    apart -= (apart @ along)[..., None] * along
    return np.linalg.norm(apart, axis=-1)


def test_pins_are_coaxial_at_every_pitch_and_blade(made) -> None:
    design, _, _, turning, fixed = made
    assert len(circles(turning, 1.6)) == design.pitch.pin.count
    assert len(circles(fixed, 1.6)) == 3 * design.pitch.pin.count
    for blade in range(design.rotor.blades):
        for pitch in (2.0, 8.0, 14.0):
            assert off_axis(design, turning, fixed, blade, pitch).min(axis=1).max() < 0.01


def test_no_other_pitch_pins_up(made) -> None:
    """All round, by turning the made cap in steps finer than the pins' play."""
    design, _, pattern, turning, fixed = made
    for pitch in np.arange(-180.0, 180.0, 0.1):
        all_in = off_axis(design, turning, fixed, 0, pitch).min(axis=1).max() <= design.pitch.pin.fit
        assert not all_in or min(abs(pitch - wanted) for wanted in (2.0, 8.0, 14.0)) < pattern.play_deg + 1e-6


def test_leading_edge_goes_up_with_the_pitch(made) -> None:
    """Blade 1 lies along +X with its leading edge towards +Y; the clockwise twin's towards -Y."""
    design, face, _, turning, _ = made
    clockwise = design.rotor.turn == "clockwise"
    nose = np.array([[40.0 if clockwise else -40.0, 0.0]])  # forward is drawn at the left, in the twin at the right
    places = [in_rotor(turning, turning_matrix(design, turning, 0, pitch), nose)[0] for pitch in (0.0, 10.0)]
    assert (places[0][1] < 0) == clockwise
    assert places[1][2] - places[0][2] == pytest.approx(40 * np.sin(np.radians(10)) * np.cos(np.radians(2)), rel=1e-3)
    assert places[0][0] == pytest.approx((face.r_mm - 2) * np.cos(np.radians(2)), rel=1e-9)


def test_engraved_pitch_is_that_of_its_hole(made) -> None:
    """By frames: turn the blade to a pitch, see which holes of the fixed cap come under the pins, read the letters."""
    design, _, _, turning, fixed = made
    labels = [text for text in flat(fixed).texts if text.text.strip("°").replace(".", "").isdigit()]
    holes = circles(fixed, 1.6)
    assert len(labels) == len(holes)
    for pitch in (2.0, 8.0, 14.0):
        for hole in off_axis(design, turning, fixed, 0, pitch).argmin(axis=1):
            nearest = min(labels, key=lambda text: np.hypot(*(np.array(text.at) - holes[hole])))
            assert nearest.text.strip("°") == f"{pitch:g}"
    assert sum("°" in text.text for text in labels) == design.pitch.pin.count  # once a set


def test_caps_are_put_up_as_drawn_never_turned_inside_out(made) -> None:
    """A proper motion takes each drawing to its place, seen from the root side, so letters read as drawn."""
    design, _, _, turning, fixed = made
    for matrix in (turning_matrix(design, turning, 0, 8.0), fixed_matrix(design, fixed, 0)):
        assert np.linalg.det(matrix[:3, :3]) == pytest.approx(1.0)
        towards_axis = -matrix[:3, 3] @ matrix[:3, 2]
        assert towards_axis > 0.9 * np.linalg.norm(matrix[:3, 3])
        assert matrix[2, 1] > 0.98  # up is up, but for pitch and coning


def test_labels_stand_apart_beyond_the_turning_cap(made) -> None:
    import shapely

    from geomgen.marking.lettering import written

    _, _, pattern, _, fixed = made
    labels = [text for text in flat(fixed).texts if text.text.strip("°").isdigit()]
    boxes = []
    for text in labels:
        points = np.vstack([path.flattened(0.01) for path in written(text)])
        r = np.hypot(*points.T)
        assert pattern.rim_mm < r.min() and r.max() < pattern.rim_mm + 6.0
        outline = shapely.Polygon(flat(fixed).region.outer.flattened(1e-4))
        assert (
            outline.contains(shapely.MultiPoint(points)) and outline.exterior.distance(shapely.Point(points[0])) > 0.3
        )
        assert -90.0 <= text.turn_deg <= 90.01  # read with the head up
        boxes.append(points)
    for i, one in enumerate(boxes):
        for other in boxes[:i]:
            assert np.hypot(*(one[:, None] - other[None]).T).min() > 0.7


def test_wires_pass_at_every_pitch(made) -> None:
    """The turning cap's wire hole, grown by the clearance asked for, stays inside the fixed cap's slot."""
    import shapely

    design, _, _, turning, fixed = made
    (wire,) = circles(turning, 4.5)
    (slot,) = [hole for hole in flat(fixed).region.holes if isinstance(hole, Path)]
    way = shapely.Polygon(slot.flattened(1e-4))
    back = np.linalg.inv(fixed_matrix(design, fixed, 0))
    for pitch in np.linspace(2.0, 14.0, 25):
        x, y, _ = applied(back @ turning_matrix(design, turning, 0, pitch), np.array([*wire, 0.0]))
        assert shapely.Point(x, y).distance(way.exterior) >= 4.5 + 1.0 - 1e-3
        assert way.contains(shapely.Point(x, y))
    for beyond in (1.0, 15.0):  # and is no longer than it needs to be
        x, y, _ = applied(back @ turning_matrix(design, turning, 0, beyond), np.array([*wire, 0.0]))
        assert shapely.Point(x, y).distance(way.exterior) < 4.5 + 1.0 - 0.05


def test_screw_holes_of_cap_and_root_rib_line_up(made) -> None:
    from geomgen.blade.station import Station
    from geomgen.root.fixing_holes import fixing_holes

    design, face, _, turning, _ = made
    station = Station(131.0, 190.0, face.angle_deg, None, face.axis_mm)  # type: ignore[arg-type]
    rib = fixing_holes(design, face)
    on_blade = station.to_blade(np.array([hole.center for hole in rib]))
    # the turning cap's place maps its own drawing to the blade frame of the anticlockwise twin
    cap = in_rotor(turning, turning.places[0], circles(turning, rib[0].radius))
    apart = np.linalg.norm(on_blade[:, None, 1:] - cap[None, :, 1:], axis=-1)
    assert len(cap) == 4 and apart.min(axis=1).max() < 1e-9


def test_every_web_is_kept(made) -> None:
    """Distances by shapely on chords within 0.0001 mm of the made outlines; also round heads of 5.5 mm, to the rim."""
    import shapely

    *_, turning, fixed = made
    for part in (turning, fixed):
        loops = [*flat(part).region.loops(), *(pocket.loop for pocket in flat(part).pockets)]
        outer, *holes = (shapely.LinearRing(loop.flattened(1e-4)) for loop in loops)
        heads = shapely.points(circles(part, 1.7))
        assert len(heads) == 4 and shapely.distance(heads, outer).min() > 2.75 + 1.6 - 1e-3
        one, other = np.triu_indices(len(holes), 1)
        rings = np.array(holes)
        assert shapely.distance(rings[one], rings[other]).min() > 1.6 - 1e-3
        assert shapely.distance(rings, outer).min() > 1.6 - 1e-3


def test_screws_lie_inside_the_section_and_pins_fore_and_aft(made) -> None:
    """Screws by the ellipse's own equation; the first pin level with the axis at the middle of the range, 8 deg."""
    design, face, pattern, turning, _ = made
    sign = -1.0 if design.rotor.turn == "clockwise" else 1.0
    turn = np.radians(face.angle_deg)

    def share(xy: np.ndarray) -> np.ndarray:
        x, y = sign * xy[:, 0], xy[:, 1]
        u = x * np.cos(turn) - y * np.sin(turn) + face.axis_mm[0] - 95.0
        v = x * np.sin(turn) + y * np.cos(turn) + face.axis_mm[1]
        return (u / 95.0) ** 2 + (v / 15.0) ** 2

    assert share(circles(turning, 1.7)).max() < 1.0
    pins = in_rotor(turning, turning_matrix(design, turning, 0, 8.0), circles(turning, 1.6))
    up = pins[:, 2] - 128.0 * np.sin(np.radians(2.0))
    assert (
        np.abs(up).min() < 1e-9
        and np.abs(up).max() < np.sin(np.radians(61.0 if len(up) == 3 else 2.0)) * pattern.circle_mm
    )


def test_spreads_sit_at_the_centroids(made) -> None:
    design, _, _, turning, fixed = made
    shape, sign = flat(turning), -1.0 if design.rotor.turn == "clockwise" else 1.0
    whole, holes = shape.region.area() * 4.0, circles(turning, 1.6)
    out = np.pi * 1.6**2 * 3.0  # each blind hole, 3 mm deep from the root side: its middle lies 0.5 mm towards that
    volume = whole - out * len(holes)
    cx, cy = (whole * np.array(shape.region.centroid()) - out * holes.sum(axis=0)) / volume
    r = 128.0 + out * len(holes) * 0.5 / volume
    assert turning.spread == pytest.approx(np.array([[1.0, r, -sign * cx, cy]]))
    assert len(fixed.spread) == fixed.count == design.rotor.blades
    assert fixed.spread[:, 0].sum() == pytest.approx(1.0)
    arm = np.array([np.cos(np.radians(2.0)), 0.0, np.sin(np.radians(2.0))])
    assert fixed.spread[0, 1:] @ arm == pytest.approx(130.0 - 4.0 - 0.3 - 2.0, abs=1e-9)
    assert fixed.spread[:, 1:3].mean(axis=0) == pytest.approx([0.0, 0.0], abs=1e-9)


def test_twins_are_mirror_images() -> None:
    parts = {}
    for turn in ("anticlockwise", "clockwise"):
        parts[turn] = made_caps(root_of(design_of(rotor__turn=turn)))
    for one, other in zip(parts["anticlockwise"], parts["clockwise"], strict=True):
        assert flat(one).region.area() == pytest.approx(flat(other).region.area(), rel=1e-12)
        mirrored = flat(one).region.mirrored_x()
        for loop, twin in zip(mirrored.loops(), flat(other).region.loops(), strict=True):
            assert loop.flattened(0.01) == pytest.approx(twin.flattened(0.01))
        assert {t.text.strip("°") for t in flat(one).texts} == {t.text.strip("°") for t in flat(other).texts}


def test_a_face_is_needed_with_room_for_the_screws() -> None:
    from geomgen.errors import MakeError
    from geomgen.root.fixing_holes import fixing_holes

    thin = root_face(spar_outside_mm=18.0)
    with pytest.raises(MakeError) as caught:
        fixing_holes(design_of(), thin)
    (fault,) = spelled(caught.value.faults)
    assert fault.path == "pitch.fixing.screw" and "largest circle" in fault.wrong
    stated = float(fault.wrong.split("root rib has ")[1].split()[0])
    assert isinstance(thin, RootFace) and stated == pytest.approx(largest_inside(thin), abs=0.06)


def largest_inside(face: RootFace) -> float:
    """Distance of the axis from the ellipse, by trying its points."""
    t = np.linspace(0, 2 * np.pi, 200_001)
    return float(np.hypot(95 + 95 * np.cos(t) - face.axis_mm[0], 15 * np.sin(t) - face.axis_mm[1]).min())

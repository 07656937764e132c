"""Wedge patterns by what is cut: outlines read back from DXF by ezdxf, put into their windows edge by edge; by shapely
and linear programming which way round they go in, and how far they play; by hand where their circle must lie.
"""

from __future__ import annotations

import io
import math
from functools import cache

import ezdxf
import numpy as np
import pytest
import shapely
from fine_pitch import OTHER_HAND
from root_faces import design_of, root_face
from shapely.affinity import affine_transform, rotate, translate

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.cutting.dxf import part_dxf
from geomgen.design.schema import Wedge as WedgeTable
from geomgen.errors import MakeError
from geomgen.figures import spelled
from geomgen.marking.finish import finished
from geomgen.marking.lettering import written
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.root.pitch_caps import caps
from geomgen.root.pitch_pattern import pitch_pattern
from geomgen.root.root import Root
from geomgen.root.seat import seat
from geomgen.root.wedge_pattern import room_mm
from geomgen.root.wedges import spare_wedges, wedges

FACE, WEB = root_face(), 1.6
COLOURS = {"inside": "red", "outside": "blue", "mark": "green", "reference": "grey"}
GRID = [  # range, step, pins, diameter, fit of wedges
    (2.0, 14.0, 1.0, 2, 3.0, 0.1), (2.0, 14.0, 1.0, 2, 2.0, 0.3), (0.0, 4.0, 0.5, 1, 4.0, 0.1),
    (-4.0, 20.0, 6.0, 2, 3.0, 1.0), (-10.0, 14.0, 2.0, 3, 4.0, 0.05), (5.0, 5.0, 1.0, 2, 3.0, 0.1),
    (1.0, 13.0, 0.75, 3, 2.0, 0.1), (-12.5, -2.5, 2.5, 4, 3.0, 0.2), (2.0, 14.0, 6.0, 1, 2.0, 0.0),
]  # fmt: skip
IN_WEDGES = {
    "lantern": (('step    = "6 deg"', 'step = "1 deg"\nrim = 60\npattern = "wedge"'),),
    "starter": (('step    = "6 deg"', 'step = "2 deg"\nrim = 60\npattern = "wedge"'),),
    "kite_day": (
        ('step    = "8 deg"', 'step = "2 deg"\nrim = "60 mm"\npattern = "wedge"'), ("index_circle = 2\n", ""),
    ),
}  # fmt: skip
Ask = tuple[float, float, float, int, float, float]


def root_of(**changes) -> Root:
    design = design_of(pitch__pattern="wedge", **changes)
    there = seat(design, FACE)
    return Root(design, FACE, there, pitch_pattern(design, FACE, seat=there))


@cache
def asked(ask: Ask, turn: str = "anticlockwise") -> tuple[Root, tuple[Part, ...]]:
    low, high, step, pins, diameter, fit = ask
    root = root_of(
        pitch__range=(low, high), pitch__step=step, pitch__set=low, pitch__pin__count=pins, rotor__turn=turn,
        pitch__pin__diameter=diameter, pitch__wedge=WedgeTable(fit=f"{fit} mm"), pitch__rim=80.0,
        pitch__turning_cap__thickness=6.0,
    )  # fmt: skip
    parts = (*caps(root).read(), *wedges(root).read(), *spare_wedges(root))
    return root, finished(parts, clockwise=turn == "clockwise", units=None, cache=Cache())


class Read:
    """A cutting file: its outline, its inner loops of lines, its circles as (x, y, radius) [mm]."""

    def __init__(self, part: Part) -> None:
        model = ezdxf.read(io.StringIO(part_dxf(part, COLOURS, 2, "mm").decode())).modelspace()
        loops = [e for e in model.query("LWPOLYLINE") if e.closed and e.dxf.layer.endswith("cut")]
        rings = {e.dxf.layer: [] for e in loops}
        for loop in loops:
            rings[loop.dxf.layer].append(np.array(loop.get_points("xyb")))
        self.outer = rings["outside cut"][0][:, :2]
        self.inner = [ring[:, :2] for ring in rings.get("inside cut", []) if not ring[:, 2].any()]
        self.circles = np.array([(*tuple(e.dxf.center)[:2], e.dxf.radius) for e in model.query("CIRCLE")])

    def holes(self, diameter: float) -> np.ndarray:
        """(n, 2) middles of the circles of one size."""
        return self.circles[np.abs(2 * self.circles[:, 2] - diameter) < 1e-4, :2]


def own_axes(ring: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Middle and (2, 2) axes of a five-cornered outline: its longest edge lies along its first axis, anticlockwise."""
    ring = ring if shapely.LinearRing(ring).is_ccw else ring[::-1]
    edges = np.roll(ring, -1, axis=0) - ring
    along = edges[np.hypot(*edges.T).argmax()]
    axes = np.array([along, (-along[1], along[0])]) / np.hypot(*along)
    spans = ring @ axes.T
    return (spans.min(axis=0) + spans.max(axis=0)) / 2 @ axes, axes


def put_in(wedge: Read, window: np.ndarray, at: np.ndarray) -> np.ndarray:
    """Points of a wedge where they lie once it is in the middle of a window."""
    (middle, axes), (there, ways) = own_axes(wedge.outer), own_axes(window)
    return (at - middle) @ axes.T @ ways + there


def names(parts: tuple[Part, ...]) -> dict[float, Part]:
    """Wedges by the pitch that is written on them."""
    found = {}
    for part in parts:
        if part.role is Role.WEDGE:
            assert isinstance(part.shape, Flat)
            (text,) = part.shape.texts
            found[float(text.text.strip("°"))] = part
    return found


def off_deg(parts: tuple[Part, ...], *, hole: float, up: float) -> tuple[float, int]:
    """How far any wedge's hole, in any window, is from a turning hole turned to the pitch written on it [deg]; and how
    many were tried. up : turns the leading edge up: 1 where the nose is drawn at the right"""
    turning, fixed = (Read(next(part for part in parts if part.role is role)) for role in CAPS)
    worst, tried = 0.0, 0
    for pitch, part in names(parts).items():
        wedge = Read(part)
        for window in fixed.inner:
            (at,) = put_in(wedge, window, wedge.holes(hole))
            angles = np.degrees(np.arctan2(*turning.holes(hole).T[::-1])) + up * pitch
            off = (np.degrees(np.arctan2(at[1], at[0])) - angles + 180.0) % 360.0 - 180.0
            radii = np.hypot(*turning.holes(hole).T)
            assert np.abs(radii - np.hypot(*at)).max() < 1e-3
            worst, tried = max(worst, np.abs(off).min()), tried + 1
    return worst, tried


CAPS = Role.TURNING_CAP, Role.FIXED_CAP


@pytest.mark.parametrize("turn", ["anticlockwise", "clockwise"])
@pytest.mark.parametrize("ask", GRID)
def test_a_wedge_holds_the_pitch_that_is_written_on_it(ask: Ask, turn: str) -> None:
    low, high, step, pins, diameter, _ = ask
    _, parts = asked(ask, turn)
    settings = np.arange(low, high + step / 2, step)
    assert sorted(names(parts)) == pytest.approx(settings)
    worst, tried = off_deg(parts, hole=diameter + 0.2, up=1.0 if turn == "clockwise" else -1.0)
    assert worst < 0.02 and tried == pins * len(settings)


@pytest.mark.parametrize("ask", GRID)
def test_every_web_is_kept_and_letters_have_their_room(ask: Ask) -> None:
    root, parts = asked(ask)
    fixed, heads = Read(next(part for part in parts if part.role is Role.FIXED_CAP)), []
    windows = [shapely.Polygon(ring) for ring in fixed.inner]
    outline = next(part for part in parts if part.role is Role.FIXED_CAP).shape
    assert isinstance(outline, Flat) and len(windows) == ask[3]
    rim = shapely.LinearRing(outline.region.outer.flattened(1e-4))
    others = [shapely.Polygon(loop.flattened(1e-4)) for loop in outline.region.holes]
    others = [other for other in others if not any(other.equals_exact(window, 1e-3) for window in windows)]
    heads = [shapely.Point(x, y).buffer(2.75, quad_segs=64) for x, y in fixed.holes(3.4)]
    assert len(heads) == 4  # M3 in 3.4 mm, heads of 5.5 mm
    for k, window in enumerate(windows):
        assert min(window.distance(other) for other in (rim, *others, *heads, *windows[:k])) > WEB - 2e-3
    for part in names(parts).values():
        wedge = Read(part)
        (at,) = wedge.holes(ask[4] + 0.2)
        hole = shapely.Point(at).buffer(ask[4] / 2 + 0.1, quad_segs=64)
        assert hole.distance(shapely.LinearRing(wedge.outer)) > WEB - 1e-3
        letters = shapely.union_all([shapely.LineString(p.flattened(0.01)) for p in written(part.shape.texts[0])])
        assert shapely.Polygon(wedge.outer).buffer(-0.9).contains(letters) and letters.distance(hole) > 0.9
    assert np.hypot(*np.array(rim.coords).T).max() == pytest.approx(root.pattern.rim_mm, abs=0.01) and others


def room(piece: shapely.Polygon, window: shapely.Polygon) -> shapely.Geometry:
    """By how much a piece can be shifted inside a window; empty where it doesn't go in. Both are convex."""
    corners = np.array(piece.exterior.coords)[:-1]
    return shapely.intersection_all([translate(window, -x, -y) for x, y in corners])


@pytest.mark.parametrize("ask", [ask for ask in GRID if ask[5] > 0.0])
def test_a_wedge_goes_in_one_way_only(ask: Ask) -> None:
    """Not turned by a quarter or half a turn, nor turned over, all of these turned by up to 4 deg besides."""
    _, parts = asked(ask)
    fixed = Read(next(part for part in parts if part.role is Role.FIXED_CAP))
    wedge = Read(next(iter(names(parts).values())))
    window, piece = shapely.Polygon(fixed.inner[0]), shapely.Polygon(put_in(wedge, fixed.inner[0], wedge.outer))
    right = room(piece, window)
    assert 0.8 * ask[5] ** 2 < right.area <= ask[5] ** 2 + 1e-9
    x, y = window.centroid.coords[0]
    over = affine_transform(translate(piece, -x, -y), [-1, 0, 0, 1, x, y])
    for shape, first in ((piece, 90.0), (over, 0.0)):
        turns = [base + more for base in np.arange(first, 360.0, 90.0) for more in np.arange(-4.0, 4.01, 0.1)]
        lean = np.degrees(np.arctan2(*own_axes(fixed.inner[0])[1][0][::-1]))
        turns = [turn + (2 * lean if shape is over else 0.0) for turn in turns]
        assert all(room(rotate(shape, turn, origin=(x, y)), window).is_empty for turn in turns)


@pytest.mark.parametrize("ask", [GRID[0], GRID[3], GRID[4]])
def test_play_of_a_wedge_in_its_window(ask: Ask) -> None:
    """Shifted as far as it goes in at every turn that it takes; how far its hole comes along the index circle."""
    root, parts = asked(ask)
    fixed, (pitch, part) = Read(next(p for p in parts if p.role is Role.FIXED_CAP)), max(names(parts).items())
    wedge, window = Read(part), shapely.Polygon(fixed.inner[0])
    piece = shapely.Polygon(put_in(wedge, fixed.inner[0], wedge.outer))
    (hole,) = put_in(wedge, fixed.inner[0], wedge.holes(ask[4] + 0.2))
    along = np.array((-hole[1], hole[0])) / np.hypot(*hole)
    moved = []
    for turn in np.linspace(-6.0, 6.0, 241):
        free = room(rotate(piece, turn, origin=(0, 0)), window)
        if not free.is_empty:
            turned = np.array(rotate(shapely.Point(hole), turn, origin=(0, 0)).coords[0])
            moved += ((shapely.get_coordinates(free) + turned - hole) @ along).tolist()
    limit = room_mm(ask[5], pitch - root.pattern.wedge.middle_deg)
    assert np.abs(moved).max() <= limit + 2e-3 and np.abs(moved).max() > 0.93 * limit
    play = math.degrees((root.design.pitch.pin.fit + limit) / root.pattern.circle_mm)
    assert root.pattern.play_deg == pytest.approx(play, rel=1e-3)


def test_the_least_circle_by_hand() -> None:
    """Wires reach 25.5 mm from the axis, beyond them 3 mm of wall, 0.5 mm clear, 0.05 of fit, 1.6 of web and half of
    3.2 mm; the outermost holes lie 6 deg from the middle, cos 6 deg nearer: 32.25 / 0.99452 = 32.43."""
    slot = math.hypot(20.0, 0.5) + 4.5 + 1.0
    assert root_of(pitch__step=1.0).pattern.circle_mm == math.ceil((slot + 6.75) / math.cos(math.radians(6)) * 10) / 10
    assert root_of(pitch__step=1.0).pattern.rim_mm < root_of(pitch__step=1.0, pitch__range=(-8.0, 24.0)).pattern.rim_mm


@pytest.mark.parametrize("pins", [1, 2, 3])
def test_no_other_pitch_pins_up_with_one_set_in_place(pins: int) -> None:
    """A scan of the whole turn in hundredths of a degree, pins and wedges as loose as they are."""
    root = root_of(pitch__step=1.0, pitch__pin__count=pins, pitch__pin__fit=0.4, pitch__rim=80.0)
    pattern, tries = root.pattern, np.radians(np.arange(-18000, 18000) / 100.0)
    turning = np.array([r * np.exp(1j * np.radians(a)) for r, a in pattern.turning_holes])
    for pitch, pairs in zip(pattern.settings_deg, pattern.pairs, strict=True):
        radius, angle = np.array([pattern.fixed_holes[hole] for _, hole in pairs]).T
        fixed = radius * np.exp(1j * np.radians(angle))
        off = np.abs(turning[None, :, None] * np.exp(-1j * tries)[:, None, None] - fixed[None, None])
        goes = np.degrees(tries[(off.min(axis=2) <= 0.4 + 0.06).all(axis=1)])
        assert len(goes) and np.abs(goes - pitch).max() <= pattern.play_deg + 0.01


def test_what_can_not_be_done_names_the_least_that_would_do() -> None:
    with pytest.raises(MakeError) as caught:
        root_of(pitch__step=1.0, pitch__rim=30.0)
    (fault,) = spelled(caught.value.faults)
    least = float(fault.allowed.split("at least ")[1].split(" mm")[0])
    assert fault.path == "pitch.rim" and root_of(pitch__step=1.0, pitch__rim=least).pattern.rim_mm <= least
    with pytest.raises(MakeError):
        root_of(pitch__step=1.0, pitch__rim=least - 0.2)
    with pytest.raises(MakeError) as caught:
        root_of(pitch__pin__count=12, pitch__range=(-16.0, 20.0))
    assert [fault.path for fault in caught.value.faults] == ["pitch.pin.count"]
    with pytest.raises(MakeError) as caught:
        root_of(pitch__step=0.1)
    (fault,) = spelled(caught.value.faults)
    step = float(fault.remedy.split("a step of ")[1].split(" deg")[0])
    assert fault.path == "pitch.step" and root_of(pitch__step=step, pitch__set=2.0).pattern.play_deg <= step < 0.6


@pytest.mark.parametrize(("thick", "stock", "says"), [
    (0.3, None, "at least 1 mm"), (0.99, None, "at least 1 mm"), (1.0, None, ""), (12.0, None, ""),
    (12.1, None, "at most 12 mm"), (None, "ply_3", ""),
])  # fmt: skip
def test_thickness(thick: float | None, stock: str | None, says: str) -> None:
    """A printed wedge has 1 mm; of the 12 mm that a pin stands out behind 4 mm of cap, 4 stay to pull by."""
    table = WedgeTable(thickness=None if thick is None else f"{thick} mm", stock=stock)
    made = wedges(root_of(pitch__wedge=table))
    assert [spelled(fault.allowed) for fault in made.faults] == ([says] if says else [])
    assert isinstance(made[0].shape, Flat) and made[0].shape.thickness_mm == (thick or 3.0)


@pytest.mark.parametrize("other", [False, True], ids=["as it is", "other hand"])
@pytest.mark.parametrize("name", IN_WEDGES)
def test_examples_within_60_mm(name: str, other: bool, craft_of) -> None:
    craft: Craft = craft_of(name, *IN_WEDGES[name], *((OTHER_HAND[name],) if other else ()))
    assert craft.faults == () and craft.pattern.kind == "wedge"
    for part in craft.finished_of(*CAPS):
        assert isinstance(part.shape, Flat) and np.hypot(*part.shape.region.outer.flattened(0.01).T).max() <= 60.0
    up = 1.0 if craft.design.rotor.turn == "clockwise" else -1.0
    worst, tried = off_deg(craft.finished, hole=craft.pattern.hole_mm, up=up)
    assert worst < 0.02 and tried == craft.design.pitch.pin.count * len(craft.pattern.settings_deg)

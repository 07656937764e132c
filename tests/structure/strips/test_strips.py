"""Strips along nose and tail, and cap strips, against the published equations, closed forms and shapely.

Equations: NACA Report 460 (thickness, mean line of the four-digit family, thickness laid off normal to the mean line).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import shapely
from known_options import single

from geomgen.craft import Craft
from geomgen.errors import MakeError
from geomgen.figures import spelled
from geomgen.marking.finish import in_hand
from geomgen.model.part import Flat, Part, Shaped
from geomgen.model.role import Role
from geomgen.structure.constructions import construction

CraftOf = Callable[..., Craft]

STOCKS = """
[stock.nose_bar]
kind = "length"
of = "balsa"
width = 10
height = 20
length = 1000
[stock.tail_bar]
kind = "length"
of = "balsa"
width = 25
height = 12
length = 1000
[stock.balsa_1]
kind = "sheet"
of = "balsa"
thickness = 1
size = [1000, 100]
grain = "long"
[stock.covering]
kind = "sheet"
of = "polyester covering film"
thickness = 0.05

[stock.foam_sheet_2]"""
SHEETED = """kind = "sheeted"
stock = "balsa_1"
to = 0.35
caps = { stock = "balsa_1", width = 8 }
nose = { stock = "nose_bar", width = 8 }
tail = { stock = "tail_bar", width = 20 }"""
WHOLE = SHEETED.replace('to = 0.35\ncaps = { stock = "balsa_1", width = 8 }\n', "")
COVERED = """kind = "covered"
stock = "covering"
nose = { stock = "nose_bar", width = 8 }
tail = { stock = "tail_bar", width = 20 }"""
EVEN = (
    ('chord = 180, twist = "4 deg", section = "naca 4415"', 'chord = 150, twist = "0 deg", section = "naca 0015"'),
    ('chord = 150, twist = "0 deg", section = "naca 4415"', 'chord = 150, twist = "0 deg", section = "naca 0015"'),
)


def built(craft_of: CraftOf, construction: str, *edits: tuple[str, str]) -> Craft:
    return craft_of(
        "starter",
        ('kind       = "ribbed"', construction),
        ('[blade.skin.all]\nstock = "foam_sheet_2"\n', ""),
        ("[stock.foam_sheet_2]", STOCKS),
        *edits,
    )


def strips(craft: Craft) -> tuple[Part, Part]:
    nose, tail = (*of_role(craft, Role.NOSE_STRIP), *of_role(craft, Role.TAIL_STRIP))
    return nose, tail


def of_role(craft: Craft, role: Role) -> list[Part]:
    """Parts of a role, of a blade whose ribs have no screws yet."""
    made = construction(craft.design).made(craft.layout, craft.bare_ribs).read()
    return [part for part in made.parts if part.role is role]


def surface(t: float, chord: float, up: float, camber: bool = True, count: int = 40_000) -> np.ndarray:
    """One surface of a 44xx section, or of a 00xx one, nose to tail."""
    m, p = (0.04, 0.4) if camber else (0.0, 0.4)
    x = np.linspace(0.0, 1.0, count) ** 2
    yt = 5 * t * (0.29690 * np.sqrt(x) - 0.12600 * x - 0.35160 * x**2 + 0.28430 * x**3 - 0.10150 * x**4)
    yc = np.where(x < p, m / p**2 * (2 * p * x - x**2), m / (1 - p) ** 2 * (1 - 2 * p + 2 * p * x - x**2))
    a = np.arctan(np.where(x < p, 2 * m / p**2 * (p - x), 2 * m / (1 - p) ** 2 * (p - x)))
    return chord * np.column_stack([x - up * yt * np.sin(a), yc + up * yt * np.cos(a)])


def polygon(t: float, chord: float) -> shapely.Polygon:
    return shapely.Polygon(np.vstack([surface(t, chord, 1.0)[::-1], surface(t, chord, -1.0)[1:]]))


def test_volume_in_closed_form(craft_of: CraftOf) -> None:
    """Twice the integral of the published thickness, term by term, times the even blade's length."""
    craft = built(craft_of, SHEETED, *EVEN)
    nose, tail = strips(craft)
    terms = ((0.29690, 1.5), (-0.12600, 2.0), (-0.35160, 3.0), (0.28430, 4.0), (-0.10150, 5.0))

    def ahead(x: float) -> float:
        return 150.0**2 * 10 * 0.15 * sum(c / n * (x / 150.0) ** n for c, n in terms)

    for part, area in ((nose, ahead(8.0)), (tail, ahead(150.0) - ahead(130.0))):
        assert isinstance(part.shape, Shaped)
        assert part.shape.length_mm == pytest.approx(580.0, abs=1e-6)
        assert part.shape.volume_mm3 == pytest.approx(580.0 * area, rel=1e-4)
        assert part.role == part.name and not any("turns" in note for note in spelled(part.notes))


def test_volume_and_moments_of_a_tapered_twisted_blade(craft_of: CraftOf) -> None:
    """Polygons of the equation, cut by shapely, summed by Simpson's rule; the starter's 4415 from 180 to 150 mm."""
    craft = built(craft_of, SHEETED)
    radii, weights = np.linspace(120.0, 700.0, 21), np.tile((2.0, 4.0), 11)[:21]
    weights[[0, -1]] = 1.0
    weights *= 29.0 / 3.0
    for part, name in zip(strips(craft), ("nose", "tail"), strict=True):
        sums = np.zeros(4)
        for r, weight in zip(radii, weights, strict=True):
            chord = 180.0 - 30.0 * (r - 120.0) / 580.0
            box = (-5, -99, 8.0, 99) if name == "nose" else (chord - 20.0, -99, chord + 5, 99)
            cut = polygon(0.15, chord).intersection(shapely.box(*box))
            y = craft.blade.station(r).to_blade(np.array(cut.centroid.coords))[0, 1]
            sums += weight * cut.area * np.array([1.0, r, y, r * y])
        assert isinstance(part.shape, Shaped)
        assert part.shape.volume_mm3 == pytest.approx(sums[0], rel=2e-4)
        share, x, y, _ = part.spread.T
        assert share.sum() == pytest.approx(1.0)
        assert share @ x == pytest.approx(sums[1] / sums[0], abs=0.01)
        assert share @ y == pytest.approx(sums[2] / sums[0], abs=0.01)
        assert share @ (x * y) == pytest.approx(sums[3] / sums[0], abs=5.0)
        assert any("turns by 4.0 deg" in note for note in spelled(part.notes))


def test_height_of_the_blank_is_the_sections_own(craft_of: CraftOf) -> None:
    nose, tail = strips(built(craft_of, SHEETED))
    for part, box in ((nose, (-5, -99, 8.0, 99)), (tail, (160.0, -99, 190.0, 99))):
        _, low, _, high = polygon(0.15, 180.0).intersection(shapely.box(*box)).bounds
        assert part.facts["height_root_mm"] == pytest.approx(high - low, abs=0.01)
        assert any(f"x {high - low + 1.0:.1f} mm or more" in note for note in spelled(part.notes))


def test_film_over_a_strip_makes_it_smaller(craft_of: CraftOf) -> None:
    volumes = []
    for kind in (SHEETED, COVERED):
        part = strips(built(craft_of, kind, *EVEN))[0]
        assert isinstance(part.shape, Shaped)
        volumes.append(part.shape.volume_mm3)
    ring = np.vstack([surface(0.15, 150.0, 1.0, camber=False)[::-1], surface(0.15, 150.0, -1.0, camber=False)[1:]])
    inside = shapely.Polygon(ring).buffer(-0.05, quad_segs=32).intersection(shapely.box(-5, -99, 8.0, 99))
    assert volumes[1] == pytest.approx(580.0 * inside.area, rel=2e-4)
    assert volumes[1] < volumes[0]


@pytest.mark.parametrize(
    ("old", "new", "name", "what"),
    [
        ("height = 20", "height = 12", "nose", "height"),
        ("width = 10", "width = 7", "nose", "width"),
        ("height = 12", "height = 7", "tail", "height"),
        ("height = 12\nlength = 1000", "height = 12\nlength = 500", "tail", "length"),
    ],
)
def test_a_blank_too_small(craft_of: CraftOf, old: str, new: str, name: str, what: str) -> None:
    """Limits from the equation's polygon, cut by shapely; the length is nearly that of a straight line."""
    craft = built(craft_of, SHEETED, (old, new))
    with pytest.raises(MakeError) as caught:
        strips(craft)
    (fault,) = spelled(caught.value.faults)
    cuts = []
    for chord in (180.0, 150.0):
        box = (-5, -99, 8.0, 99) if name == "nose" else (chord - 20.0, -99, chord + 5, 99)
        cuts.append(polygon(0.15, chord).intersection(shapely.box(*box)))
    ends = [
        craft.blade.station(r).to_blade(np.array(cut.centroid.coords))[0]
        for r, cut in zip((120.0, 700.0), cuts, strict=True)
    ]
    x0, low, x1, high = cuts[0].bounds
    need = {"height": high - low + 1.0, "width": x1 - x0 - 0.2, "length": float(np.linalg.norm(ends[1] - ends[0]))}
    assert fault.path == f"blade.construction.{name}.stock" and fault.value == f"{name}_bar"
    assert fault.allowed.startswith(f"a {what} of at least") and f"{name} strip" in fault.wrong and fault.remedy
    assert need[what] - 0.01 < float(fault.allowed.split()[-2]) < need[what] + 0.11  # rounded up, so that it does


def test_ribs_too_thin_at_the_tail_don_t_hold_a_strip(craft_of: CraftOf) -> None:
    """Under film alone it is a fault; the limit is the place where the equation's depth is least_tail."""
    craft = built(craft_of, COVERED, *EVEN, ("width = 20", "width = 6"))
    with pytest.raises(MakeError) as caught:
        strips(craft)
    (fault,) = spelled(caught.value.faults)
    points = surface(0.15, 150.0, 1.0, camber=False)
    behind = 150.0 - points[np.flatnonzero(points[:, 1] - 0.05 >= 1.25)[-1], 0]
    assert fault.path == "blade.construction.tail.width" and fault.value == "6 mm"
    assert abs(float(fault.allowed.split()[2]) - behind) < 0.15
    whole = built(craft_of, WHOLE, *EVEN, ("width = 20", "width = 6"))
    tail = strips(whole)[1]
    assert any("sheets alone hold it" in note for note in tail.notes)


def test_cap_strips_are_as_long_as_their_middles(craft_of: CraftOf) -> None:
    """From the sheet's edge at 35 % to the tail strip, half a strip inside the equation's surface."""
    craft = built(craft_of, SHEETED)
    made = craft.bare_ribs
    parts = of_role(craft, Role.CAP_STRIP)
    assert [part.name for part in parts[:2]] == [
        f"cap strip {made[0].place.name} {half}" for half in ("upper", "lower")
    ]
    assert len(parts) == 2 * len(made)
    for k in (0, 4, len(made) - 1):
        blank, chord = made[k], made[k].station.chord_mm
        for part, up in zip(parts[2 * k : 2 * k + 2], (1.0, -1.0), strict=True):
            points = surface(0.15, chord, up)
            way = np.gradient(points, np.linspace(0.0, 1.0, len(points)), axis=0)
            way /= np.hypot(*way.T)[:, None]
            middle = points + 0.5 * up * np.column_stack([way[:, 1], -way[:, 0]])
            on = (points[:, 0] >= 0.35 * chord) & (middle[:, 0] <= chord - 20.0) & (np.arange(len(points)) > 4000)
            line = shapely.LineString(middle[on])
            assert part.facts["length_mm"] == pytest.approx(line.length, abs=0.02)
            assert isinstance(part.shape, Flat)
            x0, y0, x1, y1 = part.shape.region.bounds()
            assert (x1 - x0, y1 - y0) == pytest.approx((line.length, 8.0), abs=0.02)
            assert part.shape.grain == 0.0 and part.shape.thickness_mm == 1.0
            centre = blank.station.to_blade(np.array(line.centroid.coords))[0]
            assert part.spread[0, 2:] == pytest.approx(centre[1:], abs=0.01)
            frame = part.places[0]
            assert frame[:3, :3].T @ frame[:3, :3] == pytest.approx(np.eye(3), abs=1e-12)
            assert np.linalg.det(frame[:3, :3]) == pytest.approx(1.0)
            start = blank.station.to_blade(middle[on][:1])[0]
            assert frame[1:3, 3] == pytest.approx(start[1:], abs=0.02)
            assert up * frame[2, 2] > 0.9 and frame[1, 0] < -0.9


def test_cap_strips_don_t_stand_beyond_the_blade(craft_of: CraftOf) -> None:
    craft = built(craft_of, SHEETED)
    parts = of_role(craft, Role.CAP_STRIP)
    r = [float(part.spread[0, 1]) for part in parts]
    assert min(r) == pytest.approx(124.0) and max(r) == pytest.approx(696.0)
    assert "moved 3.0 mm" in spelled(parts[0].notes[0])  # the 2 mm rib at 120 mm stands at 121
    near = built(craft_of, SHEETED, single("starter"), ("every = 30", "every = 6"))
    assert any("trim one" in note for note in of_role(near, Role.CAP_STRIP)[2].notes)


def test_a_clockwise_cap_strip_is_mirrored(craft_of: CraftOf) -> None:
    craft = built(craft_of, SHEETED, ('turn   = "anticlockwise"', 'turn   = "clockwise"'))
    part = in_hand(of_role(craft, Role.CAP_STRIP)[0], clockwise=True)
    assert isinstance(part.shape, Flat)
    x0, _, x1, _ = part.shape.region.bounds()
    assert x1 == pytest.approx(0.0, abs=1e-9) and x0 < -50
    assert np.linalg.det(part.places[0][:3, :3]) == pytest.approx(-1.0)


def test_no_strips_where_none_are_asked_for(craft_of: CraftOf) -> None:
    plain = craft_of("starter")
    for role in (Role.NOSE_STRIP, Role.TAIL_STRIP, Role.CAP_STRIP):
        assert of_role(plain, role) == []
    assert of_role(built(craft_of, WHOLE), Role.CAP_STRIP) == []


BARE = '[stock.bar]\nkind = "length"\nof = "balsa"\nwidth = 20\nheight = 40\nlength = 1000\n'


def test_a_nose_strip_runs_past_ribs_without_a_skin_too(craft_of: Callable[..., Craft]) -> None:
    """Panels on part of the blade: the strip is there all along, so bare ribs begin behind it as well."""
    craft = craft_of(
        "starter",
        ('kind       = "ribbed"', 'kind = "ribbed"\npattern = "panels"\nstrip = { stock = "bar", width = 8 }'),
        ('[blade.skin.all]\nstock = "foam_sheet_2"', '[blade.skin.all]\nstock = "foam_sheet_2"\nto = 360'),
        ("[stock.foam_sheet_2]", BARE + "[stock.foam_sheet_2]"),
    )
    bare = [blank for blank in craft.bare_ribs if blank.cover.ahead_mm == 0.0]
    assert bare and all(blank.outline.nose_mm == pytest.approx(8.0, abs=1e-6) for blank in bare)

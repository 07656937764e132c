"""Film panels against the published equation's arc lengths, closed forms of a plain blade, and shapely.

Equation: NACA Report 460 (thickness of the four-digit family).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import shapely

from geomgen.craft import Craft
from geomgen.marking.finish import finished
from geomgen.mass.statement import weigh
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role

CraftOf = Callable[..., Craft]

STOCKS = """
[stock.covering]
kind = "sheet"
of = "polyester covering film"
thickness = 0.05
areal = "60 g/m2"
size = [2000, 600]

[stock.foam_sheet_2]"""
COVERED = 'kind = "covered"\nstock = "covering"\noverlap = 12\nscallop = 7'
ALONG = 'chord = 180, twist = "4 deg", section = "naca 4415"', 'chord = 150, twist = "0 deg", section = "naca 4415"'


def built(craft_of: CraftOf, *edits: tuple[str, str], construction: str = COVERED) -> Craft:
    return craft_of(
        "starter",
        ('kind       = "ribbed"', construction),
        ('[blade.skin.all]\nstock = "foam_sheet_2"\n', ""),
        ("[stock.foam_sheet_2]", STOCKS),
        *edits,
    )


def even(craft_of: CraftOf, *edits: tuple[str, str], root: float = 150.0) -> Craft:
    """0015 all along, untwisted, 150 mm at the tip."""
    plain = 'chord = {}, twist = "0 deg", section = "naca 0015"'
    return built(craft_of, (ALONG[0], plain.format(root)), (ALONG[1], plain.format(150)), *edits)


def panels(craft: Craft) -> tuple[Part, Part]:
    clockwise = craft.design.rotor.turn == "clockwise"
    film = [part for part in craft.outcome(Craft.covering).value if part.role == "film"]
    upper, lower = finished(film, clockwise=clockwise, units=None, cache=craft.cache)
    return upper, lower


def flat(part: Part) -> Flat:
    assert isinstance(part.shape, Flat)
    return part.shape


def surface(chord: float) -> np.ndarray:
    """The upper surface of a 0015, nose to tail."""
    x = np.linspace(0.0, 1.0, 40_000) ** 2
    yt = 0.75 * (0.29690 * np.sqrt(x) - 0.12600 * x - 0.35160 * x**2 + 0.28430 * x**3 - 0.10150 * x**4)
    return chord * np.column_stack([x, yt])


def girth(chord: float) -> float:
    """Its arc length, half the film's thickness further in: less by that times a quarter turn and the tail's slope."""
    points = surface(chord)
    slope = np.arctan2(*(points[-2] - points[-1])[::-1])
    return float(np.hypot(*np.diff(points, axis=0).T).sum()) - 0.025 * (np.pi / 2 + np.pi - slope)


def test_an_even_blades_panels_are_rectangles(craft_of: CraftOf) -> None:
    """Arc length and laps of 12 mm at nose and tail, 7 mm more at the tail; 580 mm and a lap at both ends."""
    wide, long = girth(150.0) + 2 * 12.0 + 7.0, 580.0 + 2 * 12.0
    for part in panels(even(craft_of)):
        x0, y0, x1, y1 = flat(part).region.bounds()
        assert (x1 - x0, y1 - y0) == pytest.approx((long, wide), abs=0.02)
        assert flat(part).region.area() == pytest.approx(wide * long, rel=2e-4)
        assert part.role == "film" and flat(part).face == "outside" and part.assembly == "blade"


def test_a_tapered_panel_is_as_wide_as_its_stations(craft_of: CraftOf) -> None:
    """Straight taper of one section is a cone: ends are as long as the arcs, and the area lies between them."""
    craft = even(craft_of, root=210.0)
    for part in panels(craft):
        lines = [mark for mark in flat(part).marks if mark.bounds()[2] - mark.bounds()[0] < 50]
        lengths = [line.length() for line in lines if line.length() > 100]
        assert (max(lengths), min(lengths)) == pytest.approx((girth(210.0), girth(150.0)), abs=0.05)
        mean = (girth(210.0) + girth(150.0)) / 2
        slant = np.hypot(580.0, 15.0)  # the surface's own middle leans at the most so much
        low = (mean + 31.0) * 604.0
        assert low * 0.999 < flat(part).region.area() < (mean + 31.0) * (slant + 24.0) * 1.002


def test_every_rib_is_marked_and_named(craft_of: CraftOf) -> None:
    craft = built(craft_of)
    for part in panels(craft):
        names = {text.text for text in flat(part).texts}
        assert {rib.name for rib in craft.rib_places} <= names and f"film {part.name.split()[1]}" in names
        upright = [m for m in flat(part).marks if m.bounds()[3] - m.bounds()[1] > 100]
        assert len(upright) == len(craft.rib_places) + 2  # root and tip
        inside = flat(part).region.to_shapely(0.01)
        assert inside.is_valid
        assert all(inside.contains(shapely.LineString(mark.flattened(0.01))) for mark in flat(part).marks)


def test_laps_lie_all_round_the_panel(craft_of: CraftOf) -> None:
    """What is marked as root, tip, nose and tail is a lap away from the edge, and the tail a scallop more."""
    craft = built(craft_of)
    for part, nose_up in zip(panels(craft), (True, False), strict=True):
        ring = shapely.LinearRing(flat(part).region.outer.flattened(0.01))
        along = [m.flattened(0.01) for m in flat(part).marks if m.bounds()[2] - m.bounds()[0] > 300]
        high, low = sorted(along, key=lambda xy: -xy[:, 1].mean())
        for line, lap in ((high, 12.0 if nose_up else 19.0), (low, 19.0 if nose_up else 12.0)):
            middle = shapely.LineString(line).interpolate(0.5, normalized=True)
            assert shapely.distance(ring, middle) == pytest.approx(lap, abs=0.06)


def test_mass_and_where_it_sits(craft_of: CraftOf) -> None:
    """By hand: panel and laps of an even blade, each at its own place, 60 g/m2."""
    craft = even(craft_of)
    upper, _ = panels(craft)
    points, width = surface(150.0), girth(150.0)
    middle = shapely.LineString(points).centroid.coords[0]
    aft = craft.blade.axis_chord * 150.0
    rows = np.array(
        [
            [width * 580.0, middle[0]],
            [12.0 * 580.0, 0.0],
            [19.0 * 580.0, 150.0],
            [2 * 12.0 * (width + 31.0), (width * middle[0] + 19.0 * 150.0) / (width + 31.0)],
        ]
    )
    share = rows[:, 0] / rows[:, 0].sum()
    assert upper.spread[:, 0].sum() == pytest.approx(1.0)
    assert upper.spread[:, 0] @ upper.spread[:, 1] == pytest.approx(410.0, abs=0.05)
    assert upper.spread[:, 0] @ upper.spread[:, 2] == pytest.approx(aft - share @ rows[:, 1], abs=0.05)
    (line,) = weigh([upper], craft.design, {}).lines
    assert line.one_g[1] == pytest.approx(60e-6 * rows[:, 0].sum(), rel=3e-4)


def test_notes_say_knife_laps_and_size(craft_of: CraftOf) -> None:
    craft = built(craft_of, ("size = [2000, 600]", "size = [600, 200]"))
    upper, lower = craft.finished_of(Role.FILM)
    text = " ".join(upper.notes)
    assert "knife, never the laser" in text and "12 mm more on every side" in text and "7 mm more behind" in text
    assert "onto the lower panel" in text and "onto the upper panel" in " ".join(lower.notes)
    assert "too large for the film covering as sold, 600 x 200 mm" in text
    assert "bed" not in text


def test_a_clockwise_panel_is_mirrored_letters_upright(craft_of: CraftOf) -> None:
    one = panels(built(craft_of))[0]
    other = panels(built(craft_of, ('turn   = "anticlockwise"', 'turn   = "clockwise"')))[0]
    a, b = flat(one).region.to_shapely(0.01), flat(other).region.to_shapely(0.01)
    assert shapely.affinity.scale(a, -1, 1, origin=(0, 0)).symmetric_difference(b).area < 1e-6
    assert all(text.turn_deg == 0 for text in flat(other).texts)


def test_film_over_sheet_and_core_but_not_without(craft_of: CraftOf) -> None:
    sheeted = 'kind = "sheeted"\nstock = "balsa_3"\nto = 0.3\ncover = "covering"'
    craft = built(craft_of, construction=sheeted)
    assert [part.path for part in panels(craft)] == ["blade.construction.cover"] * 2
    assert panels(craft)[0].facts["scallop_mm"] == 0.0
    bare = built(craft_of, construction='kind = "sheeted"\nstock = "balsa_3"')
    assert not any(part.role == "film" for part in bare.outcome(Craft.covering).value)


def test_where_wires_come_out_is_marked_on_that_side_only(craft_of: CraftOf) -> None:
    """The demo's open frame: 48 mm by 9 mm on the lower side, from the fan's r 768 mm inwards; slit later, not cut."""
    craft = craft_of("lantern", option="film")
    panels = {part.name: part for part in craft.covering if part.role == "film"}

    def slots(part: Part) -> list[float]:
        assert isinstance(part.shape, Flat) and not part.shape.region.holes
        long = [mark.bounds()[2] - mark.bounds()[0] for mark in part.shape.marks if mark.closed]
        return [round(size, 3) for size in long]

    assert slots(panels["film upper"]) == [] and slots(panels["film lower"]) == [48.0]
    assert any("slit it" in note for note in panels["film lower"].notes)
    assert not any("slit it" in note for note in panels["film upper"].notes)

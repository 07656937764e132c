"""A blade of foam under film, as a new user writes it: the starter, another construction, two more stocks.

The section is worked out from NACA Report 460 (from memory: camber and thickness of the four-digit family) and the
foam's volume from its area; twist doesn't change what a cut square to the span takes.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
import shapely

from geomgen.craft import Craft
from geomgen.figures import spelled
from geomgen.model.part import Flat, Part, Shaped
from geomgen.plane.path import Circle

EDITS = (
    ('kind       = "ribbed"', 'kind = "core"\nstock = "blue_foam"\ncover = "film"\ntemplate = "ply_2"'),
    ('[blade.skin.all]\nstock = "foam_sheet_2"\n', ""),
    ("every = 60\n", "every = 300\n"),
    (
        "[stock.print_petg]",
        '[stock.blue_foam]\nkind = "volume"\nof = "extruded polystyrene"\n'
        '[stock.film]\nkind = "sheet"\nof = "polyester film, laminating"\nthickness = 0.03\n[stock.print_petg]',
    ),
)
RIBS = ((121, 2), (150, 2), (180, 2), (440, 3), (672, 2), (698.5, 3))  # middle and thickness [mm]
FILM_MM, SPAR_MM, CHANNEL_MM, MELT_MM = 0.03, 8.1, 9.0, 1.0
DENSITY = 28, 33, 40  # kg/m3, extruded polystyrene, the catalogue's words on where from


def section() -> np.ndarray:
    """(n, 2) NACA 4415 of unit chord, from the upper tail round the nose, as Report 460 has it, its tail left open."""
    x = 0.5 * (1 - np.cos(np.linspace(0, np.pi, 2001)))
    half = 0.75 * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    ahead = x < 0.4
    camber = np.where(ahead, 0.04 / 0.16 * (0.8 * x - x**2), 0.04 / 0.36 * (0.2 + 0.8 * x - x**2))
    lean = np.arctan(np.where(ahead, 0.04 / 0.16 * (0.8 - 2 * x), 0.04 / 0.36 * (0.8 - 2 * x)))
    off = half[:, None] * np.column_stack([-np.sin(lean), np.cos(lean)])
    middle = np.column_stack([x, camber])
    return np.vstack([(middle + off)[::-1], (middle - off)[1:]])


def chord_mm(r_mm: float) -> float:
    return 180 - 30 * (r_mm - 120) / 580


def foam_mm3(start: float, end: float) -> float:
    """Volume between two radii: Simpson's rule is exact for an area that goes with the square of the chord."""

    def area(r: float) -> float:
        under = shapely.Polygon(chord_mm(r) * section()).buffer(-FILM_MM, join_style="mitre")
        taken = CHANNEL_MM**2 * (r < 672) + SPAR_MM**2  # the tube goes to the tip
        return float(under.area - np.pi / 4 * taken)

    parts = [start, *(stop for stop in (672,) if start < stop < end), end]
    return sum((b - a) / 6 * (area(a + 1e-9) + 4 * area((a + b) / 2) + area(b - 1e-9)) for a, b in pairwise(parts))


@pytest.fixture(scope="module")
def foam(craft_of: Callable[..., Craft]) -> Craft:
    craft = craft_of("starter", *EDITS)
    craft.check()
    return craft


def of(craft: Craft, what: str) -> list[Part]:
    return [part for part in (*craft.covering, *craft.bench_parts) if part.role == what]


def test_ribs_stand_where_the_foam_is_parted(foam: Craft) -> None:
    found = [figure for place in foam.rib_places for figure in (place.r_mm, place.thickness_mm)]
    assert found == pytest.approx([figure for rib in RIBS for figure in rib])


def test_mass_is_volume_times_the_stock_s_density(foam: Craft) -> None:
    """Piece by piece, 0.1 %; low, typical and high as the foam is sold."""
    ends = [(low + wide / 2, high - thick / 2) for (low, wide), (high, thick) in pairwise(RIBS)]
    pieces, lines = of(foam, "core"), {line.name: line for line in foam.mass.lines}
    assert [part.name for part in pieces] == [f"core {k}" for k in range(1, 6)]
    for part, (start, end) in zip(pieces, ends, strict=True):
        assert isinstance(part.shape, Shaped)
        volume = foam_mm3(start, end)
        assert part.shape.volume_mm3 == pytest.approx(volume, rel=1e-3)
        assert lines[part.name].one_g == pytest.approx([volume * 1e-6 * kg for kg in DENSITY], rel=1e-3)


def test_both_templates_fit_the_block_they_are_pinned_to(foam: Craft) -> None:
    """Laid on one another by their pins, level: the same distance apart, and all of the core within the block."""
    plates = {part.name: part for part in of(foam, "wire template")}
    for core in of(foam, "core"):
        block = next(note for note in spelled(core.notes) if note.startswith("from a block of "))
        wide, high = (float(size) for size in re.findall(r"[\d.]+", block)[1:3])
        level = next(note for note in spelled(core.notes) if "level lines" in note)
        up, apart = (float(figure) for figure in re.findall(r"lie ([\d.]+) mm.*pins ([\d.]+) mm", level)[0])
        boxes = []
        for end, hand in (("root", 1.0), ("tip", -1.0)):
            plate = plates[f"wire template {core.name} {end}"]
            edge, pins = outline(plate, hand)
            turn = np.deg2rad(plate.facts["angle_deg"])  # leading edge up: the tail, at +x, goes down
            level_frame = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
            edge, pins = edge @ level_frame.T, pins @ level_frame.T
            assert pins[1] - pins[0] == pytest.approx([apart, 0.0], abs=0.06)
            boxes.append(np.array([edge.min(axis=0), edge.max(axis=0)]) - pins[0])
        low, most = np.min([b[0] for b in boxes], axis=0), np.max([b[1] for b in boxes], axis=0)
        assert most[0] - low[0] < wide < most[0] - low[0] + 30
        assert -up < low[1] and most[1] < high - up, (up, low, most, high)


def outline(plate: Part, hand: float) -> tuple[np.ndarray, np.ndarray]:
    """(n, 2) edge of a template without its tabs and (2, 2) its pins, front first, nose to the left [mm]."""
    assert isinstance(plate.shape, Flat)
    whole = plate.shape.region.to_shapely(0.01)
    across = shapely.box(-MELT_MM / 2, -100, plate.facts["chord_mm"] + MELT_MM / 2, 100)
    own = shapely.affinity.scale(whole, hand, 1.0, origin=(0, 0)).intersection(across)
    pins = [hole.center for hole in plate.shape.region.holes if isinstance(hole, Circle)]
    return shapely.get_coordinates(own), np.array(sorted((hand * x, y) for x, y in pins))


def test_foam_film_and_templates_are_in_the_order_of_work(foam: Craft) -> None:
    """Ribs go on the spar before the foam closes round it, film comes last; there are no gauges to speak of."""
    words = [step.does for step in foam.order]
    at = {
        key: next(k for k, text in enumerate(words) if key in text)
        for key in ("templates", "Thread", "Set the foam", "Cover")
    }
    assert list(at.values()) == sorted(at.values())
    assert not any("gauge" in text for text in words)
    taken = {key for step in foam.order for key in step.keys}
    assert {part.key for part in (*foam.covering, *foam.bench_parts)} <= taken


def test_many_pieces_are_said_to_be_many(foam: Craft, craft_of: Callable[..., Craft]) -> None:
    ends = [edit for edit in EDITS if "every" not in edit[0]]
    few = craft_of(
        "starter",
        *ends,
        ("every = 30\n", "every = 600\n"),
        ("to    = 180", "to    = 130"),
        ("from  = 180", "from  = 640"),
    )
    assert len(of(few, "core")) <= 4 and not any(
        "two templates each" in note for part in of(few, "core") for note in part.notes
    )
    assert any("6 ribs part the foam into 5 pieces" in note for note in of(foam, "core")[0].notes)

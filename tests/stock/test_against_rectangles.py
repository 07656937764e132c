"""Sheets as they are laid against a plain packer of rectangles (rectpack, as it is published), turning on, same run.

It is given boxes made wider by the gap on a sheet made wider by the gap and less its edge, the same parts together, and
the best of its ways and orders counts. Where grain forbids a quarter turn it has none, as we have none; and it needn't
mind where a sheet is cut across for the laser's bed, as we do. No clock decides what either of them lays.

Area is that of whole sheets, and of the one that is used least the length that is used. As it came out, in sheets and
in 1000 mm2, beside what the outlines fill:

| set | ours | rectangles | bound by area |
|---|---|---|---|
| lantern base | 5, 974 | 6, 1041 | 4, 698 |
| lantern foam_on_ply | 5, 954 | 6, 1058 | 4, 698 |
| lantern balsa | 12, 1676 | 12, 1685 | 8, 1014 |
| lantern film | 8, 1317 | 9, 1448 | 6, 844 |
| lantern foam_board | 4, 811 | 5, 904 | 4, 639 |
| kite_day | 18, 1579 | 21, 1944 | 14, 1049 |
| 60 ribs | 3, 262 | 3, 293 | 2, 146 |
| 200 ribs | 10, 912 | 11, 1038 | 6, 518 |
| 200 other ribs | 9, 863 | 10, 967 | 6, 483 |
| all | 74, 9348 | 83, 10379 | 54, 6089 |
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import pytest
import rectpack
import shapely
from rib_sets import rib_design, ribs, section
from shapely import affinity

from geomgen.craft import Craft
from geomgen.design.library import demo
from geomgen.design.schema import Design
from geomgen.model.part import Flat, Part
from geomgen.stock.laying import lay
from geomgen.stock.pieces import cuts_of
from geomgen.stock.sheets import Layout, Sheet

WAYS = (
    rectpack.MaxRectsBssf, rectpack.MaxRectsBlsf, rectpack.MaxRectsBl, rectpack.SkylineMwf, rectpack.SkylineMwfl,
    rectpack.GuillotineBssfMaxas,
)  # fmt: skip
ORDERS = (rectpack.SORT_AREA, rectpack.SORT_SSIDE, rectpack.SORT_LSIDE, rectpack.SORT_PERI)
UNIT = 1e-3  # rectpack reckons in whole numbers [mm]
RIBS = {"60 ribs": (60, 1), "200 ribs": (200, 1), "200 other ribs": (200, 2)}  # how many, and seed
SETS = (*(f"lantern {option or 'base'}" for option in ("", *demo().options)), "kite_day", *RIBS)
SAVED = 0.08

Boxes = Sequence[tuple[float, float]]


@dataclass(frozen=True)
class Cost:
    """sheets, and the area that they take [mm2]."""

    sheets: int
    area: float

    def __add__(self, other: Cost) -> Cost:
        return Cost(self.sheets + other.sheets, self.area + other.area)


@dataclass(frozen=True)
class Raced:
    """One set as we lay it, as rectangles are laid, and the bound by area."""

    ours: Cost
    theirs: Cost
    bound: Cost

    def words(self, name: str) -> str:
        cells = (f"{cost.sheets}, {cost.area / 1e3:.0f}" for cost in (self.ours, self.theirs, self.bound))
        return f"| {name} | {' | '.join(cells)} |"


def cost(used: Sequence[float], size: tuple[float, float]) -> Cost:
    """Of sheets by the length that is used of each."""
    return Cost(len(used), ((len(used) - 1) * size[0] + min(used)) * size[1])


def rectangles(boxes: Boxes, turning: bool, size: tuple[float, float], gap: float, edge: float) -> Cost:
    """The best that rectpack lays."""
    long, wide = (math.ceil((side - 2 * edge + gap) / UNIT) for side in size)
    sized = [tuple(math.ceil((side + gap) / UNIT - 1e-6) for side in box) for box in boxes]
    found = []
    for way, order, upright in itertools.product(WAYS, ORDERS, (False, True)):
        step = -1 if upright else 1
        packer = rectpack.newPacker(pack_algo=way, sort_algo=order, rotation=turning, bin_algo=rectpack.PackingBin.BFF)
        packer.add_bin(*(long, wide)[::step], count=len(boxes))
        for box in sized:
            packer.add_rect(*box[::step])
        packer.pack()
        ends = [max(r.y + r.height if upright else r.x + r.width for r in one) for one in packer]
        if sum(map(len, packer)) == len(boxes):
            found.append(cost([end * UNIT - gap + 2 * edge for end in ends], size))
    return min(found, key=lambda each: (each.sheets, each.area))


def raced(parts: Sequence[Part], design: Design, layout: Layout) -> Raced:
    """All groups of a layout, each stock and use by itself."""
    flats = {(cut.part.key, cut.piece): cut.flat for part in parts for cut in cuts_of(part)}
    groups: dict[tuple[str, str], list[Sheet]] = defaultdict(list)
    for sheet in layout.sheets:
        groups[sheet.stock, sheet.apart].append(sheet)
    ours, theirs, bound = Cost(0, 0.0), Cost(0, 0.0), Cost(0, 0.0)
    for (stock, _), sheets in groups.items():
        size, gap, edge = sheets[0].size, sheets[0].gap_mm, sheets[0].edge_mm
        grain, boxes, turning, area, used = design.sheet(stock).grain, list[tuple[float, float]](), False, 0.0, []
        for sheet in sheets:
            ends = []
            for laid in sheet.laid:
                flat = flats[laid.key, laid.piece]
                shape = shapely.Polygon(flat.region.outer.flattened(0.005))
                turning |= free(flat, grain)
                x0, y0, x1, y1 = turned(shape, 0.0 if free(flat, grain) else along(flat, grain)).bounds
                boxes.append((x1 - x0, y1 - y0))
                ends.append(turned(shape, laid.turn_deg).bounds[2] + laid.at[0])
                area += shape.area
            used.append(max(ends) + edge)
        ours, theirs = ours + cost(used, size), theirs + rectangles(boxes, turning, size, gap, edge)
        bound += Cost(math.ceil(area / ((size[0] - 2 * edge) * (size[1] - 2 * edge))), area)
    return Raced(ours, theirs, bound)


def free(flat: Flat, grain: str | None) -> bool:
    """Whether grain lets a part be turned by a quarter."""
    return flat.grain is None or grain is None


def along(flat: Flat, grain: str | None) -> float:
    """By what a part is turned so that its grain lies as the sheet's [deg]."""
    return (90.0 if grain == "across" else 0.0) - (flat.grain or 0.0)


def turned(shape: shapely.Polygon, angle: float) -> shapely.Polygon:
    return affinity.rotate(shape, angle, origin=(0.0, 0.0))


@pytest.fixture(scope="module")
def races(craft_of) -> dict[str, Raced]:  # type: ignore[no-untyped-def]
    """All nine."""

    def run(name: str) -> Raced:
        if name in RIBS:
            parts, design = ribs(*RIBS[name]), rib_design()
            return raced(parts, design, lay(parts, design))
        example, _, option = name.partition(" ")
        craft: Craft = craft_of(example, option=None if option in ("", "base") else option)
        return raced(craft.on_sheets, craft.design, craft.laid)

    return {name: run(name) for name in SETS}


def table(races: dict[str, Raced]) -> str:
    return "\n".join(["", *(race.words(name) for name, race in races.items()), all_of(races).words("all")])


def all_of(races: dict[str, Raced]) -> Raced:
    zero = Cost(0, 0.0)
    sums = (sum((getattr(race, of) for race in races.values()), zero) for of in ("ours", "theirs", "bound"))
    return Raced(*sums)


def test_there_are_nine(races: dict[str, Raced]) -> None:
    assert len(races) == 9


def test_never_more_sheets(races: dict[str, Raced]) -> None:
    assert all(race.ours.sheets <= race.theirs.sheets for race in races.values()), table(races)


@pytest.mark.parametrize("name", ["200 ribs", "200 other ribs"])
def test_fewer_sheets_for_200_ribs(races: dict[str, Raced], name: str) -> None:
    assert races[name].ours.sheets < races[name].theirs.sheets, table(races)


def test_less_area_over_all(races: dict[str, Raced]) -> None:
    whole = all_of(races)
    assert whole.ours.area <= (1.0 - SAVED) * whole.theirs.area, table(races)


def test_nothing_beats_the_bound_by_area(races: dict[str, Raced]) -> None:
    for race in races.values():
        assert min(race.ours.area, race.theirs.area) > race.bound.area, table(races)
        assert min(race.ours.sheets, race.theirs.sheets) >= race.bound.sheets, table(races)


def test_rectangles_are_laid_as_well_as_by_hand() -> None:
    """Four of 28.5 x 18.5 with 3 mm between fill 60 x 40; 0.1 mm more, and it takes four; five with a turn."""
    box, size = (28.5, 18.5), (64.0, 44.0)
    assert rectangles([box] * 4, False, size, 3.0, 2.0) == Cost(1, 64.0 * 44.0)
    assert rectangles([(28.6, 18.6)] * 4, False, size, 3.0, 2.0).sheets == 4
    assert rectangles([(50.0, 10.0)] * 2, True, (14.0, 107.0), 3.0, 2.0) == Cost(1, 14.0 * 107.0)


def test_the_ribs_are_sections_of_their_thickness_and_chord() -> None:
    """Twice the half-thickness, integrated in closed form: 0.685 t c2 without camber, which adds next to nothing."""
    whole = 10.0 * (0.2969 / 1.5 - 0.1260 / 2 - 0.3516 / 3 + 0.2843 / 4 - 0.1015 / 5)
    for m in (0.0, 0.04):
        shape = shapely.Polygon(section(m, 0.4, 0.12, 200.0))
        assert shape.is_valid and shape.area == pytest.approx(whole * 0.12 * 200.0**2, rel=4e-3)
    for part in ribs(60, 1):
        assert isinstance(part.shape, Flat)
        x0, y0, x1, y1 = part.shape.region.bounds()
        assert 90.0 < x1 - x0 < 231.0 and 0.09 * 90.0 < y1 - y0 < 0.2 * 230.0

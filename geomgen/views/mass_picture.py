"""What one blade weighs and where it sits, as a picture: a bar for each group of parts, and the blade from above with
every part as a disc whose area is its mass.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from geomgen.figures import g, mm
from geomgen.mass.band import Triple
from geomgen.mass.lines import Line
from geomgen.mass.statement import MassStatement
from geomgen.model.groups import Group, group
from geomgen.model.role import Assembly
from geomgen.plane.path import from_points
from geomgen.views.drawing import Drawing, Drawn, Point, Quarters, Ring, Shape, Words, rectangle
from geomgen.views.drawing import Line as Stroke
from geomgen.views.plan_inputs import PlanInputs

WIDE, EDGE, NAMES, FIGURES = 132.0, 4.0, 42.0, 34.0  # widths [mm]: of the picture, its edge, beside the bars
ROW, HALF = 7.4, 2.5  # height of a bar's row, half of a bar's [mm]
SIZE, SMALL = 4.0, 3.5  # of letters
GREATEST = 5.0  # radius of the heaviest disc [mm]
STYLES = {one: one.name.lower() for one in Group}


@dataclass(frozen=True)
class _Page:
    """How the blade lies on the picture: mm of it to mm of the picture, and where its axis lies."""

    plan: PlanInputs
    scale: float
    axis: float

    def at(self, point: Point) -> Point:
        """A place on the blade, x out and y forward [mm]."""
        x, y = self.plan.seen(point)
        return EDGE + self.scale * x, self.axis + self.scale * y


def mass_picture(statement: MassStatement, plan: PlanInputs) -> Drawing:
    """One blade's mass by groups with low and high, and where it sits, the centre of gravity marked.

    plan : the blade from above
    """
    lines = [line for line in statement.lines if line.assembly is Assembly.BLADE]
    sums = by_group(lines)
    foot = -ROW * len(sums)
    scale = (WIDE - 2.0 * EDGE) / plan.radius_mm
    top = foot - 14.0 - max(scale * float(plan.outline[:, 1].max()), GREATEST)
    page = _Page(plan, scale, top)
    bottom = top + min(scale * float(plan.outline[:, 1].min()), -GREATEST) - 8.0
    items = (
        *_bars(sums),
        Words("where it sits, seen from above; a disc's area is its part's mass", (EDGE, foot - 8.0), SMALL, "faint"),
        *_blade(page),
        *_discs(lines, page),
        *_centre(statement, page, bottom),
    )
    blade = statement.blade.mass_g
    about = (
        f"One blade weighs {g(blade.typical)}, typical, {g((blade.low, blade.high), words=' to ')}; "
        f"{_centre_words(statement)}"
    )
    box = (0.0, bottom - 11.0, WIDE, 12.0)
    return Drawing(box, f"{plan.title}: mass of one blade, and where it sits", about, items, 720.0, unit=plan.units)


def by_group(lines: Sequence[Line]) -> dict[Group, Triple]:
    """(low, typical, high) mass of each group that there is [g]."""
    sums = {}
    for one in Group:
        mine = [line.set_g for line in lines if group(line.role) is one]
        if mine:
            low, typical, high = (sum(grams[end] for grams in mine) for end in range(3))
            sums[one] = (low, typical, high)
    return sums


def _bars(sums: dict[Group, Triple]) -> Iterator[Drawn]:
    """A bar for each group, its typical mass beside it, low to high as a line."""
    yield Words("one blade, typical; line: low to high", (EDGE, 4.0), SMALL, "faint")
    most = max(triple[2] for triple in sums.values())
    scale = (WIDE - 2.0 * EDGE - NAMES - FIGURES) / most
    for k, (one, (low, typical, high)) in enumerate(sums.items()):
        y, left = -ROW * (k + 0.5), EDGE + NAMES
        yield Words(one, (left - 2.0, y - 0.35 * SIZE), SIZE, "ink", "end")
        yield rectangle(left, y - HALF, left + scale * typical, y + HALF, f"{STYLES[one]}-fill paper", 0.2)
        yield Stroke([(left + scale * low, y), (left + scale * high, y)], "paper", 1.1)
        yield Stroke([(left + scale * low, y), (left + scale * high, y)], "ink", 0.5)
        yield Words(g(typical), (left + scale * high + 2.0, y - 0.35 * SIZE), SIZE)


def _blade(page: _Page) -> Iterator[Drawn]:
    points = [(EDGE + page.scale * x, page.axis + page.scale * y) for x, y in page.plan.outline.tolist()]
    yield Shape((from_points(points, closed=True),), "wood-fill ink", 0.25)
    ends = (EDGE, page.axis), (EDGE + page.scale * page.plan.radius_mm, page.axis)
    yield Stroke(ends, "faint", 0.2, (3.0, 1.0, 0.6, 1.0))
    yield Stroke([(EDGE, page.axis - 3.0), (EDGE, page.axis + 3.0)], "ink", 0.3)


def _discs(lines: Sequence[Line], page: _Page) -> Iterator[Drawn]:
    """The heaviest first, so that none hides another."""
    heaviest = max(line.set_g[1] for line in lines)
    for line in sorted(lines, key=lambda line: -line.set_g[1]):
        radius = GREATEST * math.sqrt(line.set_g[1] / heaviest)
        yield Ring(page.at(line.place_mm[:2]), radius, f"{STYLES[group(line.role)]}-fill paper", 0.25)


def _centre(statement: MassStatement, page: _Page, y: float) -> Iterator[Drawn]:
    """The usual mark on the blade, and again with what it means."""
    blade = statement.blade
    at = page.at((blade.cg_radius_mm.typical, blade.cg_chordwise_mm.typical))
    for point in (at, (EDGE + 2.0, y)):
        yield Ring(point, 2.0, "ink paper-fill", 0.4)
        yield Quarters(point, 2.0, "ink-fill")
    first, _, second = _centre_words(statement).partition(", ")
    yield Words(first, (EDGE + 6.0, y - 0.35 * SIZE), SIZE)
    yield Words(second, (EDGE + 6.0, y - 0.35 * SIZE - 5.6), SIZE)


def _centre_words(statement: MassStatement) -> str:
    blade = statement.blade
    forward = blade.cg_chordwise_mm.typical
    way = "forward" if forward >= 0.0 else "behind"
    return (
        f"centre of gravity {mm(blade.cg_radius_mm.typical, 1)} out from the rotor axis, "
        f"{mm(abs(forward), 1)} {way}{' of' * (way == 'forward')} the feather axis"
    )

"""The plan view: one blade from above with everything in it, and the whole rotor beside it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import chain

import numpy as np

from geomgen.figures import bare, mm
from geomgen.plane.path import from_points
from geomgen.units import LENGTH
from geomgen.views.drawing import Drawing, Drawn, Line, Point, Quarters, Ring, Shape, Words
from geomgen.views.plan_inputs import PlanInputs, RouteLine
from geomgen.views.plan_names import LETTER, Row, row_of


def plan_view(plan: PlanInputs) -> Drawing:
    """The plan view, seen from above, blade 1 to the right."""
    size = plan.radius_mm / 60.0
    outline = plan.outline
    top, bottom = float(outline[:, 1].max()), float(outline[:, 1].min())
    top, bottom = max(top, plan.hub_mm), min(bottom, -plan.hub_mm)
    above, below = _rib_names(plan, size)
    names, names_top = _fitting_names(plan, size, top + 2.4 * size + above.height)
    foot = bottom - 2.7 * size - below.height
    inset = 0.14 * plan.radius_mm
    inset_at = (plan.radius_mm - inset, foot - inset)
    items = chain(
        _blade(plan, size),
        _ribs(plan, size),
        above.drawn(_rib_ends(plan, max), top + 0.9 * size, 1, "ink", 0.04 * size),
        below.drawn(_rib_ends(plan, min), bottom - 1.3 * size, -1, "faint", 0.04 * size),
        [Words(f"r [{plan.units}]", (-plan.hub_mm, bottom - 2.0 * size), 0.85 * size, "faint")],
        chain.from_iterable(_route(plan, k, size) for k in range(len(plan.routes))),
        _axis(plan, size),
        _edges(plan, size),
        names,
        _centre_of_gravity(plan, size, foot - 2.0 * size),
        _whole_rotor(plan, inset_at, inset, size),
        _title(plan, size, names_top + 3.0 * size),
        _scale(plan, size, foot - 2.0 * inset),
    )
    low = foot - 2.0 * inset - 2.0 * size
    box = (-plan.hub_mm - 3.0 * size, low, plan.radius_mm + 9.0 * size, names_top + 6.5 * size)
    return Drawing(box, f"{plan.title}: plan view", _sentence(plan), tuple(items), width=1200.0, unit=plan.units)


def _sentence(plan: PlanInputs) -> str:
    return rotor_words(plan.radius_mm, blades=plan.blades, turn=plan.turn)


def rotor_words(radius_mm: float, *, blades: int, turn: str) -> str:
    """Blades, size and turn in a few words."""
    return f"{blades} blade{'s' if blades != 1 else ''}, {mm(2.0 * radius_mm)} across, turns {turn} seen from above"


def _short(r_mm: float, unit: str) -> str:
    return bare("mm", r_mm, 1, unit).rstrip("0").rstrip(".")


def _blade(plan: PlanInputs, size: float) -> Iterator[Drawn]:
    yield Shape((from_points(plan.outline, closed=True),), "wood-fill ink", 0.12 * size)
    yield Ring((0.0, 0.0), plan.hub_mm, "wood-fill ink", 0.12 * size)


def _ribs(plan: PlanInputs, size: float) -> Iterator[Drawn]:
    for rib in plan.ribs:
        yield Line([plan.seen(rib.nose), plan.seen(rib.tail)], "faint", 0.1 * size)


def _rib_names(plan: PlanInputs, size: float) -> tuple[Row, Row]:
    """Every rib's name above the blade, clear of the fittings' lines, and its r below."""
    places = [rib.r_mm for rib in plan.ribs]
    names, figures = [rib.name for rib in plan.ribs], [_short(r, plan.units) for r in places]
    small, right = 0.85 * size, plan.radius_mm + 6.0 * size
    fittings = [spot.at[0] for spot in plan.fittings]
    left = LETTER * small * len(f"r [{plan.units}]") + size - plan.hub_mm
    return (
        row_of(names, places, small, (-plan.hub_mm, right), fittings),
        row_of(figures, places, small, (left, right)),
    )


def _rib_ends(plan: PlanInputs, which: Callable[..., Point]) -> list[Point]:
    """Of each rib, which of its ends stands higher or lower on the page."""
    return [which(plan.seen(rib.nose), plan.seen(rib.tail), key=lambda end: end[1]) for rib in plan.ribs]


def _route(plan: PlanInputs, k: int, size: float) -> Iterator[Drawn]:
    """A spar or channel at its true width, its name beside it where there is more room, each at another share of r."""
    route = plan.routes[k]
    start, end = np.array(plan.seen(route.start)), np.array(plan.seen(route.end))
    turn = math.atan2(end[1] - start[1], end[0] - start[0])
    side = 0.5 * route.width_mm * np.array((-math.sin(turn), math.cos(turn)))
    for edge in (side, -side):
        yield Line([start + edge, end + edge], route.kind, 0.1 * size)
    x, y = start + (0.3 + 0.18 * (k % 3)) * (end - start)
    small = 0.85 * size
    away = 0.5 * route.width_mm + 0.3 * size
    y += away if _more_room_above(plan, route, x, y) else -away - 0.75 * small
    yield Words(route.name, (float(x), float(y)), small, f"{route.kind} halo", "start", math.degrees(turn))


def _more_room_above(plan: PlanInputs, route: RouteLine, x: float, y: float) -> bool:
    """Whether the next thing above a route at x is farther off than the next below."""
    lines = [(plan.leading, 0.0), (plan.trailing, 0.0)]
    lines += [(np.array((other.start, other.end)), 0.5 * other.width_mm) for other in plan.routes if other is not route]
    there = [
        (plan.hand * float(np.interp(x, points[:, 0], points[:, 1])) - y, half)
        for points, half in lines
        if points[0, 0] <= x <= points[-1, 0]
    ]
    above, below = ([sign * d - half for d, half in there if sign * d > 0.0] for sign in (1.0, -1.0))
    return min(above, default=math.inf) >= min(below, default=math.inf)


def _axis(plan: PlanInputs, size: float) -> Iterator[Drawn]:
    end = plan.radius_mm + 0.8 * size
    dashes = (1.6 * size, 0.4 * size, 0.2 * size, 0.4 * size)
    yield Line([(-plan.hub_mm - 1.5 * size, 0.0), (end, 0.0)], "ink", 0.05 * size, dashes)
    yield Line([(0.0, -0.6 * plan.hub_mm), (0.0, 0.6 * plan.hub_mm)], "ink", 0.05 * size, dashes)


def _edges(plan: PlanInputs, size: float) -> Iterator[Drawn]:
    """Names at the tip, kept apart where the tip is narrow."""
    small, x = 0.85 * size, plan.radius_mm + 1.0 * size
    yield Words("feather axis", (x, -0.3 * small), small, "faint")
    for name, points in (("leading edge", plan.leading), ("trailing edge", plan.trailing)):
        y = plan.hand * float(points[-1, 1])
        y = math.copysign(max(abs(y), 1.5 * small), y)
        yield Words(name, (x, y - 0.3 * small), small, "faint")


def _fitting_names(plan: PlanInputs, size: float, lowest: float) -> tuple[list[Drawn], float]:
    """Fittings with their names in as few rows above the blade as they need; and the top of the highest row."""
    drawn: list[Drawn] = []
    row_ends = [-math.inf]
    for spot in sorted(plan.fittings, key=lambda spot: spot.at):
        x, y = plan.seen(spot.at)
        half = 0.5 * LETTER * size * (len(spot.name) + 2)
        row = next((k for k, end in enumerate(row_ends) if x - half >= end), len(row_ends))
        row_ends[row:] = [x + half, *row_ends[row + 1 :]]
        height = lowest + 1.4 * size * row
        drawn += [
            Line([(x, y), (x, height - 0.3 * size)], "fitting", 0.06 * size),
            Ring((x, y), 0.35 * size, "fitting paper-fill", 0.12 * size),
            Words(spot.name, (x, height), size, "fitting", "middle"),
        ]
    return drawn, lowest + 1.4 * size * (len(row_ends) - 1 if plan.fittings else -1)


def _centre_of_gravity(plan: PlanInputs, size: float, foot: float) -> Iterator[Drawn]:
    """The usual mark, and what it means, below the blade."""
    if plan.cg is None:
        return
    r = 0.6 * size
    words = f"centre of gravity of one blade, r {mm(plan.cg[0], 1)}"
    for x, y in (plan.seen(plan.cg), (r - plan.hub_mm, foot)):
        yield Ring((x, y), r, "ink paper-fill", 0.1 * size)
        yield Quarters((x, y), r, "ink-fill")
    yield Words(words, (1.5 * size - plan.hub_mm, foot - 0.3 * size), 0.85 * size)


def _whole_rotor(plan: PlanInputs, at: Point, radius: float, size: float) -> Iterator[Drawn]:
    scale = radius / plan.radius_mm
    yield Ring(at, radius, "faint", 0.06 * size, (0.5 * size, 0.5 * size))
    for k in range(plan.blades):
        a = 2.0 * math.pi * k / plan.blades
        turned = plan.outline @ np.array(((math.cos(a), math.sin(a)), (-math.sin(a), math.cos(a))))
        yield Shape((from_points(turned * scale + at, closed=True),), "wood-fill ink", 0.08 * size)
    yield Ring(at, plan.hub_mm * scale, "wood-fill ink", 0.08 * size)
    sweep = np.radians(np.linspace(40.0, 75.0, 15)) * plan.hand
    arc = np.array(at) + 0.8 * radius * np.column_stack((np.cos(sweep), np.sin(sweep)))
    ahead = arc[-1] - arc[-2]
    ahead = ahead / np.hypot(*ahead)
    across = np.array((-ahead[1], ahead[0]))
    barbs = [arc[-1] - 0.7 * size * ahead + side * 0.45 * size * across for side in (1.0, -1.0)]
    yield Line(arc, "ink", 0.1 * size)
    yield Line([barbs[0], arc[-1], barbs[1]], "ink", 0.1 * size)
    for k, part in enumerate(_sentence(plan).split(", ")):
        yield Words(part, (at[0] - radius - size, at[1] + (1.2 - 1.4 * k) * size), size, "ink", "end")


def _title(plan: PlanInputs, size: float, y: float) -> Iterator[Drawn]:
    yield Words(plan.title, (-plan.hub_mm, y + 0.6 * size), 1.7 * size)


def _scale(plan: PlanInputs, size: float, y: float) -> Iterator[Drawn]:
    """A bar of a round length in the design's own unit, near an eighth of the radius."""
    unit_mm = LENGTH.units[plan.units]
    about = plan.radius_mm / 8.0 / unit_mm
    ten = 10.0 ** math.floor(math.log10(about))
    units = min((m * ten for m in (1.0, 2.0, 5.0, 10.0)), key=lambda value: abs(value - about))
    x0, x1 = -plan.hub_mm, -plan.hub_mm + units * unit_mm
    yield Line([(x0, y + 0.4 * size), (x0, y), (x1, y), (x1, y + 0.4 * size)], "ink", 0.1 * size)
    yield Words(f"{units:g} {plan.units}", (0.5 * (x0 + x1), y + 0.6 * size), 0.85 * size, "ink", "middle")

"""The sizes of the hub: seen from above, and cut along its first arm."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from geomgen.plane.path import Path
from geomgen.printing.hub_looks import HubLooks
from geomgen.root.hub_size import hub_diameter, hub_extents
from geomgen.root.hub_spec import HubSpec
from geomgen.views.dimensions import around, between, bounds_of, centre_circle, centre_line, told
from geomgen.views.drawing import Drawing, Drawn, Point, Ring, Shape, Words
from geomgen.views.hub_picture import EDGE_MM, OUTLINE_MM, WIDTH_PX
from geomgen.views.plan_names import LETTER

AXIS = (0.0, 0.0)
ROW = 2.2  # from one row of words to the next, in sizes of the letters


def hub_sizes(spec: HubSpec, looks: HubLooks, unit: str, title: str) -> Drawing:
    """Diameter over all, height, cup, bay, bore, bolts, socket, height of the arms' axes."""
    reach, high = hub_diameter(spec) / 2, hub_extents(spec)[2]
    size = reach / 22.0
    foot = -reach - 8.0 * size - high
    above = Shape(looks.above.outline, "wood-fill ink", OUTLINE_MM), Shape(looks.above.edges, "ink", EDGE_MM)
    cut = Shape(tuple(loop.moved(0.0, foot) for loop in looks.cut), "wood-fill ink", OUTLINE_MM)
    corners = np.concatenate([loop.xy for loop in cut.loops if isinstance(loop, Path)])
    left, right = float(corners[:, 0].min()), float(corners[corners[:, 1].argmax(), 0])
    items = (
        *(*above, *_from_above(spec, reach, unit, size)),
        *(cut, *_heights(spec, (left, foot), (right, foot + high), unit, size), *_arm(spec, foot, unit, size)),
    )
    x0, y0, x1, y1 = bounds_of(items)
    box = (x0 - 2 * size, y0 - 2 * size, x1 + 2 * size, y1 + 2 * size)
    return Drawing(box, title, "the hub from above and cut along an arm, with its sizes", items, WIDTH_PX)


def _from_above(spec: HubSpec, reach: float, unit: str, size: float) -> Iterator[Drawn]:
    """The circle it turns in, cup, bay, bolts, bore."""
    over_all = f"{told(2 * reach, unit, 'Ø ')} over all"
    yield Ring(AXIS, reach, "faint", 0.05 * size, (size, 0.6 * size))
    yield from between((-reach, 0.0), (reach, 0.0), (0.0, -reach - 2.5 * size), over_all, size)
    yield Words("from above", (-reach, reach - size), size, "faint")
    bolts = np.array(spec.bolts) * (1.0, -1.0 if spec.clockwise else 1.0)
    circle, bolt = float(np.hypot(*bolts[0])), bolts[np.argmax(bolts.sum(axis=1))]
    yield centre_circle(AXIS, circle, size)
    circles: list[tuple[str, Point, float]] = [
        ("cup", AXIS, spec.bay_radius + spec.wall),
        ("bay", AXIS, spec.bay_radius),
        ("bolt circle", AXIS, circle),
        (f"{len(bolts)} bolt holes", (float(bolt[0]), float(bolt[1])), spec.bolt / 2),
        ("bore", AXIS, spec.bore / 2),
    ]
    for k, (name, middle, radius) in enumerate(circles):
        at = (reach + 2.0 * size, reach - (1.0 + ROW * k) * size)
        yield from around(middle, radius, at, f"{name} {told(2 * radius, unit, 'Ø ')}", size)


def _heights(spec: HubSpec, low: Point, top: Point, unit: str, size: float) -> Iterator[Drawn]:
    """Of the whole and of the arms' axes, beside the section's lower left corner and up to its highest one."""
    left, foot = low
    axis, whole = f"axis {told(spec.axis_height, unit)}", f"height {told(top[1] - foot, unit)}"
    yield centre_line([(0.0, foot - 1.5 * size), (0.0, top[1] + 1.5 * size)], size)
    near = left - 2.0 * size
    yield from between((0.0, foot), (0.0, foot + spec.axis_height), (near, foot), axis, size, 90.0)
    far = near - (LETTER * len(axis) + 2.5) * size
    yield from between(low, top, (far, foot), whole, size, 90.0)
    yield Words("cut along an arm", (left, foot - 2.6 * size), size, "faint")


def _arm(spec: HubSpec, foot: float, unit: str, size: float) -> Iterator[Drawn]:
    """Its axis, and the socket at its end; foot : of the section [mm]."""
    rise = np.radians(spec.coning)

    def place(out: float, up: float) -> Point:
        x, y = out * np.cos(rise) - up * np.sin(rise), out * np.sin(rise) + up * np.cos(rise)
        return float(x), float(foot + spec.axis_height + y)

    yield centre_line([place(0.0, 0.0), place(spec.seat + 2.0 * size, 0.0)], size)
    low, high = (place(spec.seat, sign * spec.socket / 2) for sign in (-1.0, 1.0))
    words = f"socket {told(spec.socket, unit, 'Ø ')}"
    yield from between(low, high, place(spec.seat + 3.5 * size, 0.0), words, size, 90.0 + spec.coning)

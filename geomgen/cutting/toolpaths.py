"""What lies where in a cutting file: parts as loops and paths by operation, in the order they are to be cut."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from geomgen.figures import is_imperial, mm, spelled
from geomgen.marking.lettering import written
from geomgen.model.part import Flat, Part
from geomgen.plane.letters import strokes, text_width
from geomgen.plane.path import Bounds, Loop, from_points

RULE_MM, RULE_IN_MM = 100.0, 4 * 25.4  # length of the line to check a cut against; of a design in inches
CAPTION_MM = 4.0  # height of letters that only explain
GAP_MM = 10.0  # between parts, and between a part and what explains it


@dataclass(frozen=True)
class Drawing:
    """Loops and paths to be written, in order.

    items  : (operation, loop or path), the operations as in `colours.LAYERS` [mm]
    bounds : least x, least y, greatest x, greatest y of it all [mm]
    """

    items: tuple[tuple[str, Loop], ...] = field(default=())
    bounds: Bounds = (0.0, 0.0, 0.0, 0.0)

    def moved(self, dx: float, dy: float) -> Drawing:
        """Shifted by dx, dy [mm]."""
        x0, y0, x1, y1 = self.bounds
        moved = tuple((operation, item.moved(dx, dy)) for operation, item in self.items)
        return Drawing(moved, (x0 + dx, y0 + dy, x1 + dx, y1 + dy))


def together(drawings: Iterable[Drawing]) -> Drawing:
    """Several drawings as one, in order."""
    all_of_them = list(drawings)
    corners = np.array([drawing.bounds for drawing in all_of_them])
    low, high = corners[:, :2].min(axis=0), corners[:, 2:].max(axis=0)
    items = tuple(item for drawing in all_of_them for item in drawing.items)
    return Drawing(items, (float(low[0]), float(low[1]), float(high[0]), float(high[1])))


def draw_part(part: Part) -> Drawing:
    """One flat part: marks, then inside cuts, then the outside cut, then what is only to look at.

    raises : TypeError for a part that isn't flat
    """
    flat = flat_of(part)
    items = (
        *(("mark", path) for path in flat.marks),
        *(("mark", path) for text in flat.texts for path in written(text)),
        *(("inside", hole) for hole in flat.region.holes),
        ("outside", flat.region.outer),
        *(("reference", pocket.loop) for pocket in flat.pockets),
        *(("reference", path) for path in flat.reference),
    )
    return Drawing(items, flat.region.bounds())


def caption(lines: Sequence[str], left: float, top: float) -> Drawing:
    """Lines of letters that only explain, below one another; left and top [mm] of the first."""
    pitch = 1.6 * CAPTION_MM
    bottoms = [top - CAPTION_MM - k * pitch for k in range(len(lines))]
    items = tuple(
        ("reference", path.moved(left, bottom))
        for line, bottom in zip(lines, bottoms, strict=True)
        for path in strokes(line, CAPTION_MM)
    )
    width = max(text_width(line, CAPTION_MM) for line in lines)
    return Drawing(items, (left, bottoms[-1], left + width, top))


def rule(left: float, y: float, unit: str = "mm") -> Drawing:
    """A line of exactly 100 mm, or 4 in, with its ticks and its label, above it; left end and height [mm]."""
    long = RULE_IN_MM if is_imperial(unit) else RULE_MM
    right, tick = left + long, 0.5 * CAPTION_MM
    label = caption([spelled(mm(long), unit)], left + 2.0, y + 1.5 * CAPTION_MM)
    line = from_points([(left, y), (right, y)], closed=False)
    ticks = [from_points([(x, y - tick), (x, y + tick)], closed=False) for x in (left, right)]
    lines = Drawing(tuple(("reference", path) for path in (line, *ticks)), (left, y - tick, right, y + tick))
    return together((lines, label))


def flat_of(part: Part) -> Flat:
    """The part's shape, which is flat."""
    if not isinstance(part.shape, Flat):
        raise TypeError(f"{part.name} isn't flat; only flat parts are cut")
    return part.shape


def stated(part: Part, blades: int, unit: str = "mm") -> list[str]:
    """What is said beside a part: name, how many the whole craft needs, stock and thickness."""
    thick = spelled(mm(flat_of(part).thickness_mm), unit)
    return [part.name, f"{copies(part, blades)} of {part.stock}, {thick}"]


def copies(part: Part, blades: int) -> int:
    """How many of a part the whole craft needs."""
    return part.count * (blades if part.assembly == "blade" else 1)


def in_rows(sizes: Sequence[tuple[float, float]], width: float, gap: float) -> list[tuple[float, float]]:
    """Where to put boxes so that they stand in rows from left to right, and rows run down from y = 0.

    sizes   : (width, height) of each [mm]
    width   : of a row [mm]; a wider box gets a row of its own
    gap     : between boxes and between rows [mm]
    returns : left and bottom of each [mm]; boxes in one row share the bottom
    """
    rows: list[list[int]] = []
    filled = 0.0
    for k, (wide, _) in enumerate(sizes):
        if not rows or filled + gap + wide > width:
            rows.append([])
            filled = -gap
        rows[-1].append(k)
        filled += gap + wide
    places = [(0.0, 0.0)] * len(sizes)
    bottom = gap
    for row in rows:
        bottom -= gap + max(sizes[k][1] for k in row)
        left = 0.0
        for k in row:
            places[k] = (left, bottom)
            left += sizes[k][0] + gap
    return places

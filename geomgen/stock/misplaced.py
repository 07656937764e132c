"""Places in an earlier layout that somebody moved to where they can't be cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from shapely import Polygon

from geomgen.design.schema import Design
from geomgen.errors import Fault
from geomgen.figures import mm
from geomgen.model.joint import Key
from geomgen.model.part import Part
from geomgen.stock.laying import lying, shape_of
from geomgen.stock.layout_file import LAYOUT
from geomgen.stock.nearness import ALLOWED_MM, near_pairs
from geomgen.stock.pieces import cuts_of
from geomgen.stock.sheets import Laid, Layout, Sheet

REMEDY = "move them apart, or start over with --lay-anew"


def misplaced(layout: Layout, before: Layout | None, parts: Sequence[Part], design: Design) -> Iterator[Fault]:
    """Faults of sheets that are kept from an earlier layout and aren't cut yet.

    layout : as it is now; before: as it was
    parts  : as they are cut
    """
    old = set() if before is None else {sheet.name for sheet in before.sheets}
    kept = [sheet for sheet in layout.sheets if sheet.name in old and sheet.name not in design.laser.done]
    if not kept:
        return
    there = {(laid.key, laid.piece) for sheet in kept for laid in sheet.laid}
    cuts = {(cut.part.key, cut.piece): cut for part in parts for cut in cuts_of(part)}
    whole = {which: shape_of(cuts[which].flat, in_holes=True) for which in there}
    names = {part.key: part.name for part in parts}
    for sheet in kept:
        yield from _faults(sheet, whole, names)


def _faults(sheet: Sheet, whole: Mapping[tuple[Key, int], Polygon], names: Mapping[Key, str]) -> Iterator[Fault]:
    where = f"{LAYOUT}, sheet {sheet.name}"
    shapes = [lying(whole[laid.key, laid.piece], laid) for laid in sheet.laid]
    told = [_called(laid, names) for laid in sheet.laid]
    for a, b in near_pairs(shapes, sheet.gap_mm):
        apart = shapes[a].distance(shapes[b])
        lie = f"lie {mm(apart, 2)} apart" if apart > 0.0 else "lie on one another"
        yield Fault("", where, f"{told[a]} and {told[b]} {lie}, {mm(sheet.gap_mm)} needed", remedy=REMEDY)
    least = sheet.edge_mm - ALLOWED_MM
    for name, shape in zip(told, shapes, strict=True):
        x0, y0, x1, y1 = shape.bounds
        aside = min(x0, y0, sheet.size[0] - x1, sheet.size[1] - y1)
        if aside < least:
            far = f"{mm(aside, 2)} from its edge" if aside >= 0.0 else f"over its edge by {mm(-aside, 2)}"
            needed = f", {mm(sheet.edge_mm)} needed" if sheet.edge_mm else ""
            yield Fault("", where, f"{name} lies {far}{needed}", remedy="move it, or start over with --lay-anew")
        for x in sheet.across:
            if x0 - least < x < x1 + least:
                wrong = f"{name} lies on the line at {mm(x, 1)} that the sheet is cut across along"
                yield Fault("", where, wrong, remedy="move it, or start over with --lay-anew")


def _called(laid: Laid, names: Mapping[Key, str]) -> str:
    return f"{names[laid.key]}, copy {laid.copy}" + (f", piece {laid.piece + 1}" if laid.piece else "")

"""A cutting file of one sheet: what lies on it, in the order it is cut, the kerf taken off, with bridges."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from geomgen.cutting.dxf import write_dxf
from geomgen.cutting.kerf import kerf_taken_off, sharp_inside
from geomgen.cutting.order import Piece, in_order
from geomgen.cutting.tabs import tabbed
from geomgen.cutting.toolpaths import GAP_MM, Drawing, caption, rule, together
from geomgen.figures import mm, spelled
from geomgen.marking.lettering import written
from geomgen.model.joint import Key
from geomgen.model.part import Flat
from geomgen.plane.arcs import rectangle
from geomgen.plane.path import Loop, from_points, turning
from geomgen.stock.sheets import Laid, Sheet

Flats = Mapping[tuple[Key, int], Flat]  # by part, and piece of it


@dataclass(frozen=True)
class Cutting:
    """How sheets of a stock are cut.

    kerf_mm   : width that the beam takes away; None where it isn't known: all is drawn to size [mm]
    bridge_mm : width of the bridges that hold each part in its sheet; None for none [mm]
    bridges   : of a small part; see `tabs`
    """

    kerf_mm: float | None = None
    bridge_mm: float | None = None
    bridges: int = 2


def sheet_dxf(
    sheet: Sheet,
    flats: Flats,
    colours: Mapping[str, str],
    cutting: Cutting,
    *,
    unit: str = "mm",
    more: Sequence[str] = (),
) -> bytes:
    """A cutting file of one sheet, its corner at (0, 0), with its edge, its name and what was done to it below.

    flats   : of all that lies on it, as it is to be when it is cut, in its own frame, letters and all
    colours : "inside", "outside", "mark", "reference" -> colour name
    unit    : the design's own unit of length, for what is written
    more    : what else is to be said, one line each; figures in it may be marked
    returns : DXF R2000 in millimetres
    raises  : ValueError on a kerf below 0, or a loop that crosses itself
    """
    return write_dxf(sheet_drawing(sheet, flats, cutting, unit=unit, more=more), colours)


def sheet_drawing(
    sheet: Sheet, flats: Flats, cutting: Cutting, *, unit: str = "mm", more: Sequence[str] = ()
) -> Drawing:
    """The same as loops and paths by operation, for any medium."""
    long, wide = sheet.size
    cut, missed = _cut(sheet, flats, cutting)
    edge = rectangle((0.5 * long, 0.5 * wide), long, wide)
    words = [*_about(sheet), *_done(sheet, flats, cutting, missed), *more]
    beside = caption([spelled(line, unit) for line in words], 0.0, -GAP_MM)
    line = rule(0.0, beside.bounds[1] - 2.0 * GAP_MM, unit)
    across = [("reference", from_points([(x, 0.0), (x, wide)], closed=False)) for x in sheet.across]
    drawn = Drawing((*in_order(cut), ("reference", edge), *across), (0.0, 0.0, long, wide))
    return together((drawn, beside, line))


def _cut(sheet: Sheet, flats: Flats, cutting: Cutting) -> tuple[list[Piece], int]:
    """Each copy as it is cut where it lies; and how many places stay uncut, as the beam is too wide."""
    own: dict[tuple[Key, int], tuple[Piece, int]] = {}
    pieces, missed = [], 0
    for laid in sheet.laid:
        which = laid.key, laid.piece
        if which not in own:
            own[which] = _piece(flats[which], cutting)
        piece, uncut = own[which]
        pieces.append(_lying(piece, laid))
        missed += uncut
    return pieces, missed


def _piece(flat: Flat, cutting: Cutting) -> tuple[Piece, int]:
    """A part in its own frame, as it is cut; and in how many places it isn't."""
    kerf = cutting.kerf_mm or 0.0
    beam = kerf_taken_off(flat.region, kerf)
    outside: tuple[Loop, ...] = (beam.region.outer,)
    if cutting.bridge_mm is not None:
        outside = tabbed(beam.region.outer, cutting.bridge_mm, cutting.bridges, kerf)
    marks = (*flat.marks, *(path for text in flat.texts for path in written(text)))
    return Piece(flat.region, marks, beam.region.holes, outside), len(beam.missed)


def _lying(piece: Piece, laid: Laid) -> Piece:
    matrix = turning(laid.turn_deg)
    matrix[:2, 2] += laid.at
    groups = (piece.marks, piece.inside, piece.outside)
    marks, inside, outside = (tuple(loop.transformed(matrix) for loop in group) for group in groups)
    return Piece(piece.region.transformed(matrix), marks, inside, outside)


def _about(sheet: Sheet) -> list[str]:
    lines = [sheet.name, f"{mm(sheet.size, words=' x ')}{', an off-cut' if sheet.offcut else ''}"]
    if sheet.across:
        lines.append(f"longer than the laser's bed: cut it across first, at {mm(sheet.across, 0, ', ')} from the left")
    return lines


def _done(sheet: Sheet, flats: Flats, cutting: Cutting, missed: int) -> list[str]:
    """What was done to what is drawn, and what the beam can't do."""
    kerf = cutting.kerf_mm
    if kerf is None:
        lines = ["drawn to size, no kerf taken off"]
    else:
        lines = [f"a kerf of {mm(kerf, 2)} is taken off: the middle of the beam runs on the lines"]
    if cutting.bridge_mm is not None:
        lines.append(f"gaps in outside cuts leave bridges of {mm(cutting.bridge_mm, 1)}")
    if kerf:
        sharp = sum(len(sharp_inside(flats[laid.key, laid.piece].region, 0.5 * kerf)) for laid in sheet.laid)
        if sharp:
            lines.append(f"inside corners that keep a radius of {mm(0.5 * kerf, 2)}, as the beam is round: {sharp}")
    if missed:
        lines.append(f"places that stay uncut, as they are narrower than the beam: {missed}")
    return lines

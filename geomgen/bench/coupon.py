"""Coupons: of each printed stock a plate with holes about pin and main spar, each a little wider than the last.

Printed before caps and hub, it shows how much wider a hole is to be drawn, on this printer and in this stock, for pin
or spar to slide: the figure below that hole is typed back.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from geomgen.design.schema import Design, LengthStock
from geomgen.figures import is_imperial, mm
from geomgen.model.made import Made
from geomgen.model.part import Flat, Part, Text
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point
from geomgen.plane.arcs import rounded
from geomgen.plane.letters import DESCENT, text_width
from geomgen.plane.path import Circle
from geomgen.plane.region import Region
from geomgen.root.wedge_pattern import made_of
from geomgen.units import LENGTH

# A print's hole comes out 0.1 to 0.3 mm small, common practice: so many holes, from none wider, have that inside.
HOLES = 11
STEP_MM, STEP_IN = 0.05, 0.002
WIDER = 2  # holes beyond what the design has now, at least
LETTERS_MM = 3.5  # height of a capital: at 3.0 a dot just touches its i, once both are grooves
CLEAR_MM = 1.2  # from letters to a hole, and to one another
BELOW_MM = 3.0  # below a line's figures, which so belong to the holes above them
MARGIN_MM = 2.0  # to the plate's edge, and the radius of its corners
LEAST_MM = 2.0  # thickness, which letters leave a floor of
USUAL_BED_MM = 180.0  # side of a small printer's bed, common practice: taken where the design names none

Held = tuple[tuple[str, str, float], ...]  # what the pins go through, its stock and its thickness [mm]
Hole = tuple[str, float]  # what is written below it; its diameter [mm]


@dataclass(frozen=True)
class Row:
    """What is tried in one row of holes.

    path     : key path that the figure is typed back to
    goes_in  : what goes through, in words
    round_mm : its diameter [mm]
    fit_mm   : how much wider its hole is drawn now [mm]
    """

    path: str
    goes_in: str
    round_mm: float
    fit_mm: float

    def holes(self, units: str) -> tuple[Hole, ...]:
        """The row, narrowest first: figures in mm or inches, and just as much wider."""
        unit, step, digits = ("in", STEP_IN, 3) if is_imperial(units) else ("mm", STEP_MM, 2)
        by_mm = LENGTH.units[unit]
        first = max(0, math.ceil(self.fit_mm / (step * by_mm) - 1e-9) + WIDER + 1 - HOLES)
        fits = [step * k for k in range(first, first + HOLES)]
        return tuple((f"{fit:.{digits}f}", self.round_mm + fit * by_mm) for fit in fits)

    def note(self, units: str) -> str:
        """What the row shows."""
        wider = [diameter - self.round_mm for _, diameter in self.holes(units)]
        return (
            f"{self.path}: holes {mm((wider[0], wider[-1]), words=' to ')} wider than the {self.goes_in} of "
            f"{mm(self.round_mm)}; the design has {mm(self.fit_mm)}"
        )


def coupons(design: Design, *, wedges: bool = False) -> Made:
    """A coupon of each printed stock that pins or spars go through.

    wedges : whether the pins go through wedges, in place of the fixed cap
    """
    caps = design.pitch.turning_cap, design.pitch.fixed_cap
    turning, fixed = (("a cap", cap.stock, cap.thickness) for cap in caps)
    held = (turning, ("a wedge", *made_of(design)) if wedges else fixed)
    return Made(tuple(_coupon(design, stock, rows, held) for stock, rows in _tried(design, held).items()))


def _tried(design: Design, held: Held) -> dict[str, list[Row]]:
    """What is to be tried in each printed stock: pins first."""
    pitch, hub, name = design.pitch, design.hub, design.main_spar
    spar = design.stock[design.blade.spar[name].stock]
    assert isinstance(spar, LengthStock) and spar.outside is not None  # the rules see to a round one
    pin = Row("pitch.pin.fit", "pin", pitch.pin.diameter, pitch.pin.fit)
    socket = Row("hub.socket.fit", "main spar", spar.outside, hub.socket.fit)
    pinned = dict.fromkeys(stock for _, stock, _ in held)
    found: dict[str, list[Row]] = {stock: [pin] for stock in pinned if design.stock[stock].kind == "volume"}
    found.setdefault(hub.stock, []).append(socket)
    return found


def _coupon(design: Design, stock: str, rows: Sequence[Row], held: Held) -> Part:
    bed, units = design.printer.bed, design.units or "mm"
    thick = max((thickness for _, name, thickness in held if name == stock), default=LEAST_MM)
    region, texts = _plate(rows, design.pitch.pin.web, max(bed or (USUAL_BED_MM,)), units)
    return Part(
        name=f"coupon {stock}",
        role=Role.COUPON,
        stock=stock,
        path=f"stock.{stock}",
        shape=Flat(region, max(thick, LEAST_MM), texts=texts),
        assembly=Assembly.BENCH,
        count=1,
        spread=point((0.0, 0.0, 0.0)),
        notes=(*_notes(design, rows, held), *_bed(region, bed)),
    )


def _notes(design: Design, rows: Sequence[Row], held: Held) -> Iterator[str]:
    units = design.units or "mm"
    yield "print it before caps and hub, lying, at their settings"
    yield from (row.note(units) for row in rows)
    if any(row.path == "hub.socket.fit" for row in rows):
        yield "the hub's sockets lie as it is printed: for them, print it once more standing on a long edge"
    for what, stock in dict.fromkeys(each[:2] for each in held if design.stock[each[1]].kind != "volume"):
        yield f"{what} is cut from {stock}: its pins are tried in that sheet itself, cut with the laser's kerf"


def _bed(region: Region, bed: tuple[float, float] | None) -> Iterator[str]:
    """Where it is too large for the printer, however its rows are broken."""
    x0, y0, x1, y1 = region.bounds()
    size = sorted((x1 - x0, y1 - y0))
    if bed and any(side > room for side, room in zip(size, sorted(bed), strict=True)):
        yield f"{mm(size[::-1], 0, ' x ')}: it does not go on the printer's bed of {mm(bed, words=' x ')}"


def _plate(rows: Sequence[Row], web: float, longest: float, units: str) -> tuple[Region, tuple[Text, ...]]:
    """Row below row, each headed by its key path, in as many lines as it takes; a figure below each hole.

    web     : least material between holes, and to the edge [mm]
    longest : length that the plate may have [mm]
    """
    margin, pad = max(web, MARGIN_MM), max(CLEAR_MM, web - LETTERS_MM)
    holes, texts, foot, ends = list[Circle](), list[Text](), -margin, list[float]()
    unit = "in" if is_imperial(units) else "mm"
    for row in rows:
        heading, tried = f"{row.path}, {unit}", row.holes(units)
        widest, long = tried[-1][1], text_width(heading, LETTERS_MM)
        apart = max(widest + web, max(text_width(figure, LETTERS_MM) for figure, _ in tried) + 2 * CLEAR_MM)
        texts.append(Text(heading, (margin + long / 2, foot - LETTERS_MM / 2), LETTERS_MM))
        ends.append(margin + long)
        foot -= LETTERS_MM * (1.0 + DESCENT) + pad
        for line in _lines(tried, math.floor((longest - 2 * margin) / apart)):
            middle, below = foot - widest / 2, foot - widest - pad - LETTERS_MM / 2
            places = [margin + apart * (k + 0.5) for k in range(len(line))]
            holes += [Circle((x, middle), diameter / 2) for x, (_, diameter) in zip(places, line, strict=True)]
            texts += [Text(figure, (x, below), LETTERS_MM) for x, (figure, _) in zip(places, line, strict=True)]
            ends.append(places[-1] + apart / 2)
            foot = below - LETTERS_MM / 2 - BELOW_MM
    wide, high = max(ends) + margin, margin - BELOW_MM - foot
    edge = rounded((wide / 2, -high / 2), wide, high, MARGIN_MM)
    return Region(edge, tuple(holes)), tuple(texts)


def _lines(holes: Sequence[Hole], most: int) -> Iterator[Sequence[Hole]]:
    """A row in lines of about one length, none of more holes than may be."""
    lines = math.ceil(len(holes) / max(most, 1))
    each = math.ceil(len(holes) / lines)
    yield from (holes[k : k + each] for k in range(0, len(holes), each))

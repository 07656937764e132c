"""A small plate to cut first from a sheet that a beam cuts: it shows the kerf, or the fit, by trying what goes through.

Slots at its upper edge take the sheet itself, holes take the round things that go through it, each a little wider than
the last. While the kerf isn't known they are drawn to size with none taken off: the first that lets its thing in tells
the kerf. Once it is known it is taken off, and the first that does tells the fit; one narrower than the thing says that
the kerf is wider than was thought. A row of strips beside them, measured as a stack, tells the kerf without any fit.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from geomgen.cutting.dxf import write_dxf
from geomgen.cutting.fit_tries import STEP_IN, TRIES, Round, Row, Try, different, least_mm, tried
from geomgen.cutting.kerf import kerf_taken_off
from geomgen.cutting.order import Piece, in_order
from geomgen.cutting.toolpaths import GAP_MM, Drawing, caption, rule, together
from geomgen.figures import is_imperial, mm, spelled
from geomgen.marking.lettering import written
from geomgen.model.part import Flat, Text
from geomgen.plane.arcs import rectangle
from geomgen.plane.letters import text_width
from geomgen.plane.path import Circle, Path, from_points
from geomgen.plane.region import Region
from geomgen.units import LENGTH

LEAST_WEB_MM = 2.5  # of material between cuts, however wide they come out
STRIPS = 10
STRIP_MM, STRIP_IN = 5.0, 0.2  # between the cuts on both sides of a strip
STRIP_LONG_MM = 15.0
DEEP_MM = 10.0  # of a slot
WIDE_MM, WIDE_IN = 100.0, 4.0  # length of the plate, unless its slots need more
EDGE_MM = 3.0  # least material to the plate's edge
LETTERS_MM = 3.0  # height of a capital
CLEAR_MM = 1.2  # from letters to a cut
BELOW_MM = 2.0  # below a line of letters, which so belong to the holes above them


@dataclass(frozen=True, eq=False)
class FitCoupon:
    """The plate, and what it tells.

    stock    : name of the sheet's [stock.*] table
    flat     : the plate without its strips, as it is to be when it is cut; letters and all
    strips   : paths that cut the strips out of it, the lines between them first; never moved for a kerf
    stack_mm : so thick would the stack of strips be if the beam took nothing away [mm]
    kerf_mm  : that is taken off; None where all is drawn to size [mm]
    rows     : the sheet itself first
    """

    stock: str
    flat: Flat
    strips: tuple[Path, ...]
    stack_mm: float
    kerf_mm: float | None
    rows: tuple[Row, ...]

    def words(self) -> tuple[str, ...]:
        """What is said beside it, a line each; figures are marked."""
        return tuple(_words(self))


def fit_coupon(
    stock: str, thickness_mm: float, through: Sequence[Round], *, kerf_mm: float | None = None, unit: str = "mm"
) -> FitCoupon:
    """The plate for one sheet stock.

    stock        : name of its [stock.*] table
    thickness_mm : of the sheet, as it is stated [mm]
    through      : round things that go through it; of like things the first is tried
    kerf_mm      : of this stock, as far as it is known [mm]
    unit         : the design's own unit of length: steps are 0.05 mm, or 0.002 in
    raises       : ValueError where something is thinner than the narrowest slot, or on a kerf below 0
    """
    if kerf_mm is not None and not kerf_mm >= 0.0:
        raise ValueError(f"a kerf is 0 mm or more, not {kerf_mm}")
    sheet = Round("a strip of the sheet itself", thickness_mm)
    rows = tuple(tried(stock, each, kerf_mm, unit) for each in (sheet, *different(through)))
    if not all(row.tries for row in rows):
        raise ValueError(f"what goes through a fit coupon must be {least_mm(kerf_mm):g} mm thick, or more")
    names = [spelled(mm(row.size_mm), unit) for row in rows]
    left = EDGE_MM + max(text_width(name, LETTERS_MM) for name in names) + 2 * CLEAR_MM
    apart = _apart(rows[0])
    wide = max(
        left + len(rows[0].tries) * apart + EDGE_MM, WIDE_IN * LENGTH.units["in"] if is_imperial(unit) else WIDE_MM
    )
    slots = [(left + apart * (k + 0.5), each.width_mm) for k, each in enumerate(rows[0].tries)]
    texts = [_name(names[0], -0.5 * DEEP_MM), *_letters(rows[0].tries, [x for x, _ in slots], -DEEP_MM)]
    holes, foot = list[Circle](), -DEEP_MM - CLEAR_MM - LETTERS_MM - BELOW_MM
    for row, name in zip(rows[1:], names[1:], strict=True):
        found, words, foot = _round_row(row, name, left, wide, foot)
        holes += found
        texts += words
    strips = [path.moved(EDGE_MM, foot) for path in _strips(unit)]
    _, bottom, right, _ = strips[-1].bounds()
    texts += _said((stock, *_figures(thickness_mm, kerf_mm, unit)), right + EDGE_MM, wide - EDGE_MM, foot)
    high = EDGE_MM - bottom
    region = Region(_plate(wide, high, slots), tuple(hole.moved(0.0, high) for hole in holes))
    raised = tuple(replace(text, at=(text.at[0], text.at[1] + high)) for text in texts)
    flat = Flat(region, thickness_mm, texts=raised)
    cut = tuple(path.moved(0.0, high) for path in strips)
    return FitCoupon(stock, flat, cut, STRIPS * _strip_mm(unit), kerf_mm, rows)


def fit_coupon_dxf(coupon: FitCoupon, colours: Mapping[str, str], unit: str = "mm") -> bytes:
    """Its cutting file, the kerf taken off where it is known, with what it tells written below.

    colours : "inside", "outside", "mark", "reference" -> colour name
    unit    : the design's own unit of length, for what is written
    returns : DXF R2000 in millimetres
    """
    return write_dxf(fit_coupon_drawing(coupon, unit), colours)


def fit_coupon_drawing(coupon: FitCoupon, unit: str = "mm") -> Drawing:
    """The same as loops and paths by operation: marks, strips, inside cuts, the outside cut."""
    flat = coupon.flat
    beam = kerf_taken_off(flat.region, coupon.kerf_mm or 0.0).region
    marks = tuple(path for text in flat.texts for path in written(text))
    ordered = in_order([Piece(flat.region, marks, beam.holes, (beam.outer,))])
    items = (
        *(cut for cut in ordered if cut[0] == "mark"),
        *(("inside", path) for path in coupon.strips),
        *(cut for cut in ordered if cut[0] != "mark"),
    )
    beside = caption([spelled(line, unit) for line in coupon.words()], 0.0, -GAP_MM)
    line = rule(0.0, beside.bounds[1] - 2.0 * GAP_MM, unit)
    return together((Drawing(items, beam.bounds()), beside, line))


# Where it is drawn: x from the plate's left end, y down from its upper edge, below 0


def _apart(row: Row) -> float:
    """From the middle of one slot or hole to the next."""
    web = LEAST_WEB_MM + TRIES * STEP_IN * LENGTH.units["in"]  # as much as an unknown kerf may take of it
    letter = max(text_width(each.letter, LETTERS_MM) for each in row.tries)
    return max(row.tries[-1].width_mm + web, letter + 2 * CLEAR_MM)


def _round_row(row: Row, name: str, left: float, wide: float, top: float) -> tuple[list[Circle], list[Text], float]:
    """Holes in as many lines as they take below a height, their letters, and where the next row begins."""
    holes, texts = list[Circle](), list[Text]()
    apart, widest = _apart(row), row.tries[-1].width_mm
    most = max(1, math.floor((wide - left - EDGE_MM) / apart))
    count = len(row.tries)
    each = math.ceil(count / math.ceil(count / most))
    for first in range(0, count, each):
        line = row.tries[first : first + each]
        places = [left + apart * (k + 0.5) for k in range(len(line))]
        middle = top - 0.5 * widest
        holes += [Circle((x, middle), 0.5 * one.width_mm) for x, one in zip(places, line, strict=True)]
        texts += [_name(name, middle), *_letters(line, places, top - widest)]
        top -= widest + CLEAR_MM + LETTERS_MM + BELOW_MM
    return holes, texts, top


def _letters(tries: Sequence[Try], places: Sequence[float], top: float) -> list[Text]:
    """Letters below slots or holes that end at a height."""
    y = top - CLEAR_MM - 0.5 * LETTERS_MM
    return [Text(each.letter, (x, y), LETTERS_MM) for each, x in zip(tries, places, strict=True)]


def _name(name: str, y: float) -> Text:
    """A row's size, left of it."""
    return Text(name, (EDGE_MM + 0.5 * text_width(name, LETTERS_MM), y), LETTERS_MM)


def _strip_mm(unit: str) -> float:
    return STRIP_IN * LENGTH.units["in"] if is_imperial(unit) else STRIP_MM


def _strips(unit: str) -> list[Path]:
    """The lines between strips, then the rectangle round them all, with its upper left corner at (0, 0)."""
    one = _strip_mm(unit)
    ends = [0.0, -STRIP_LONG_MM]
    lines = [from_points([(one * k, ends[k % 2]), (one * k, ends[1 - k % 2])], closed=False) for k in range(1, STRIPS)]
    return [*lines, rectangle((0.5 * STRIPS * one, -0.5 * STRIP_LONG_MM), STRIPS * one, STRIP_LONG_MM)]


def _plate(wide: float, high: float, slots: Sequence[tuple[float, float]]) -> Path:
    """The outline, anticlockwise from (0, 0), open slots at its upper edge at places and of widths."""
    notched = [
        corner
        for x, width in reversed(slots)
        for corner in (
            (x + 0.5 * width, high), (x + 0.5 * width, high - DEEP_MM),
            (x - 0.5 * width, high - DEEP_MM), (x - 0.5 * width, high),
        )
    ]  # fmt: skip
    return from_points([(0.0, 0.0), (wide, 0.0), (wide, high), *notched, (0.0, high)], closed=True)


def _figures(thickness_mm: float, kerf_mm: float | None, unit: str) -> tuple[str, str]:
    kerf = "no kerf taken off" if kerf_mm is None else f"kerf {mm(kerf_mm, 2)}"
    return spelled(mm(thickness_mm), unit), spelled(kerf, unit)


def _said(lines: Sequence[str], left: float, right: float, top: float) -> list[Text]:
    """Lines that stand between two places below a height; what is longer is left off."""
    texts = []
    for line in lines:
        long = text_width(line, LETTERS_MM)
        if left + long <= right:
            texts.append(Text(line, (left + 0.5 * long, top - 0.5 * LETTERS_MM), LETTERS_MM))
            top -= LETTERS_MM + BELOW_MM
    return texts


# What is said beside it


def _words(coupon: FitCoupon) -> Iterator[str]:
    yield f"fit coupon of {coupon.stock}, {mm(coupon.flat.thickness_mm)}"
    for row in coupon.rows:
        yield f"{mm(row.size_mm)}: {row.goes_in}{', ' * bool(row.path)}{row.path}"
    if coupon.kerf_mm is None:
        yield "drawn to size, no kerf taken off; from A on, the first that lets its thing in tells the kerf:"
    else:
        yield f"a kerf of {mm(coupon.kerf_mm, 2)} is taken off, but not between the strips"
        yield "from A on, the first that lets its thing in tells its fit, or a wider kerf:"
    lines = {each.letter: each.line for row in coupon.rows for each in row.tries}  # a letter's is the same in each row
    for letter in sorted(lines):
        yield f"  {letter}  {lines[letter]}"
    yield "slots hold where the sheet is as thick as is said: measure it"
    yield f"the {STRIPS} strips pressed together: kerf = ({mm(coupon.stack_mm)} - their stack) / {STRIPS}"

"""The blank form of a weigh-in: a row for everything that can be laid on a scale, nothing filled in."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence

from geomgen.design.schema import Design
from geomgen.figures import mm, spelled, unit_name
from geomgen.mass.weigh_in.reading import FORWARD, OUT, ROOT, STEP, TIP, WHOLE, Kind
from geomgen.mass.weigh_in.sense import Shop
from geomgen.mass.weigh_in.table import DESIGN, RULER, SCALE, heading
from geomgen.model.part import Part
from geomgen.model.role import Assembly, Role

Cells = tuple[str | int, ...]


def blank(design: Design, there: Shop) -> str:
    """The form as text, its lines ending in a newline.

    there : what of the craft it may name
    """
    unit = design.units or "mm"
    head = heading(unit)
    out = io.StringIO()
    for line in spelled(_remarks(there, head), unit):
        out.write(f"# {line}\n")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(head)
    writer.writerows([*row, *[""] * (len(head) - len(row))] for row in _rows(design, there))
    return out.getvalue()


def _remarks(there: Shop, head: Sequence[str]) -> list[str]:
    grams, place = unit_name("g"), "inches" if "[in]" in head[5] else "mm"
    ribs = [part for part in there.parts.values() if part.role == Role.RIB and part.r_mm is not None]
    first = f"; {ribs[0].name} stands at {mm(ribs[0].r_mm or 0.0, 1)}" if ribs else ""
    return [
        "As built: write what the scale says into the column mass, leave empty what you didn't weigh, save it as CSV,",
        "and name the file in the design.",
        f"One row is one weighing, all its pieces at once. Masses are in {grams}, numbers alone, as 12.5.",
        "The row design says which design it belongs to. step: the least that the scale, or the ruler, tells apart;",
        "left empty, one of the last digit that you write.",
        "sheet, length: bare, before anything is cut from it; of lengths, write how many under pieces. Sheets are",
        "numbered as the boxes of their parts would be packed.",
        "part: of that blade alone. blade: one with all that is fixed to it. hub: all that is on it. craft: everything",
        "but the payload.",
        f"{ROOT}, {TIP}: the blade lies level on two scales: what each says, and where it carries, under place.",
        f"{OUT}: where along the blade it balances on an edge. {FORWARD}: the same across it, + before the",
        "feather axis, - behind.",
        f"A place is in {place} from the rotor's axis, along the blade{first}.",
    ]


def _rows(design: Design, there: Shop) -> Iterator[Cells]:
    yield DESIGN, design.title
    yield SCALE, STEP
    yield RULER, STEP
    yield from ((Kind.SHEET, name, "", 1) for name in there.sheets)
    yield from ((Kind.LENGTH, name, "", 1) for name in there.lengths)
    mine = [part for part in there.parts.values() if part.assembly == Assembly.BLADE and _can_lie_alone(part)]
    for number in range(1, there.blades + 1):
        yield from ((Kind.PART, part.name, number, part.count) for part in mine)
    rest = [part for part in there.parts.values() if part.assembly == Assembly.HUB and _can_lie_alone(part)]
    yield from ((Kind.PART, part.name, "", part.count) for part in rest)
    for number in range(1, there.blades + 1):
        yield from ((Kind.BLADE, which, number) for which in (WHOLE, ROOT, TIP, OUT, FORWARD))
    yield Kind.HUB, WHOLE
    yield Kind.CRAFT, WHOLE


def _can_lie_alone(part: Part) -> bool:
    """Whether it can lie on a scale by itself."""
    return part.role != Role.GLUE

"""What a weigh-in says: computed beside weighed, what doesn't fit, each blade, stocks, and what stayed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from geomgen.figures import figure, percent, unit_of
from geomgen.mass.statement import MassStatement
from geomgen.mass.weigh_in.as_built import FIT, AsBuilt, BuiltPart, BuiltStock, Check, Standing
from geomgen.views.page import Item, Row, Section, Table, as_columns
from geomgen.views.quantity import Length, Mass, Number, Single, Span

_MOST_NAMED = 40


def weighed_in_sections(statement: MassStatement, built: AsBuilt | None) -> tuple[Section, ...]:
    """All of it; nothing of a craft that wasn't weighed in."""
    if built is None:
        return ()
    return (_checks(built), _blades(statement), _stocks(built), _left(built))


def weighed_in_data(statement: MassStatement, built: AsBuilt | None) -> dict[str, Any]:
    """{"weighed_in": {...}} with the readings, blades, stocks and parts; {} of a craft that wasn't weighed in."""
    if built is None:
        return {}
    return {
        "weighed_in": {
            "file": built.file,
            "readings": [_check_data(each) for each in built.checks],
            "blades": [asdict(each) for each in statement.each_blade],
            "stocks": [_stock_data(each) for each in built.stocks],
            "parts": [_part_data(each) for each in built.parts],
        }
    }


def _checks(built: AsBuilt) -> Section:
    rows = tuple(_check(each) for each in built.checks)
    columns = as_columns("", "", "computed", "weighed", "more by", "nine of ten within", "")
    table = Table(columns, rows, left=2)
    items = tuple(Item("warning", words) for each in built.checks for words in _misfits(each))
    words = (
        f"computed: by the figures before anything was weighed. What lies more than {FIT:g} standard deviations off "
        "doesn't fit. What was weighed by itself counts as weighed all the same."
    )
    return f"As weighed in, {built.file}", table, *items, words


def _misfits(check: Check) -> Iterator[str]:
    """What it doesn't fit: its figures, the other readings."""
    name = f"{check.name} (line {check.line})"
    if not check.as_computed:
        yield f"{name} is {_off(check.off)} what its figures say: they don't hold for what you have."
    if not check.agrees:
        yield f"{name} is {_off(check.against)} what the other readings make of it: weigh it and them again."


def _off(deviations: float) -> str:
    return f"{abs(deviations):.0f} standard deviations {'above' if deviations > 0.0 else 'below'}"


def _check(check: Check) -> Row:
    show = _mass if check.unit == "g" else _length
    more = check.weighed - check.computed
    values = (show(check.computed), show(check.weighed), show(more), show(check.within))
    return check.name, unit_of(check.unit), *values, "" if check.fits else "doesn't fit"


def _mass(value: float) -> Single:
    return Mass(value, 2)


def _length(value: float) -> Single:
    return Length(value)


def _blades(statement: MassStatement) -> Section:
    rows: list[Row] = []
    for number, blade in enumerate(statement.each_blade, start=1):
        mass, out = blade.mass_g, blade.cg_radius_mm
        spans = (
            Span(Mass(mass.likely_low, 2), Mass(mass.likely_high, 2)),
            Span(Length(out.likely_low), Length(out.likely_high)),
        )
        place = (Length(out.typical), spans[1], Length(blade.cg_chordwise_mm.typical))
        rows.append((f"blade {number}", Mass(mass.typical, 2), spans[0], *place))
    columns = as_columns("", "mass, g", "likely", "out, mm", "likely", "forward, mm")
    return "Each blade by itself", Table(columns, tuple(rows))


def _stocks(built: AsBuilt) -> Section:
    rows = tuple(_stock(each) for each in built.stocks if each.standing != Standing.STAYS)
    columns = as_columns("stock, or table", "figure before", "as weighed in", "times", "nine of ten within")
    return "What stocks weigh", Table(columns, rows, left=3)


def _stock(stock: BuiltStock) -> Row:
    before, after = (_figure(stock, times) for times in (1.0, stock.times))
    return stock.name, before, after, Number(stock.times, 3), Number(stock.half, 3)


def _figure(stock: BuiltStock, times: float) -> str:
    value = stock.figure.typical * times
    return percent(value, 1) if stock.figure.unit == "-" else figure(stock.figure.unit, value, significant=4)


def _left(built: AsBuilt) -> Section:
    """What the readings fix by themselves, what follows, what stays."""
    return "What that leaves", *_items(built)


def _items(built: AsBuilt) -> Iterator[Item]:
    ways = {
        Standing.WEIGHED: "Fixed by the readings alone",
        Standing.FITTED: "Shared out from sums that they are in, or following their stock, by how sure each figure was",
        Standing.STAYS: "No reading bears on these, which stay as catalogued",
    }
    blades = max((each.blade or 0 for each in built.parts), default=0)
    for standing, words in ways.items():
        parts = _named([each for each in built.parts if each.standing == standing], blades)
        stocks = ", ".join(each.name for each in built.stocks if each.standing == standing)
        if parts:
            yield Item("note", f"{words}: {parts}." + (f" Stocks and tables: {stocks}." if stocks else ""))


def _named(parts: Sequence[BuiltPart], blades: int) -> str:
    """Names, each once, with the blades where it isn't so in all of them."""
    found: dict[str, list[int]] = {}
    for each in parts:
        found.setdefault(each.name, []).extend([] if each.blade is None else [each.blade])
    words = [
        name if len(some) in (0, blades) else f"{name} (blade {', '.join(map(str, some))})"
        for name, some in found.items()
    ]
    more = len(words) - _MOST_NAMED
    return ", ".join(words[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def _check_data(check: Check) -> dict[str, Any]:
    unit = check.unit
    return {
        "line": check.line,
        "what": check.name,
        f"computed_{unit}": check.computed,
        f"weighed_{unit}": check.weighed,
        f"within_{unit}": check.within,
        "off_deviations": check.off,
        "against_others_deviations": check.against,
        "fits": check.fits,
    }


def _stock_data(stock: BuiltStock) -> dict[str, Any]:
    return {
        "name": stock.name,
        "figure_before": stock.figure.typical,
        "figure": stock.figure.typical * stock.times,
        "figure_unit": stock.figure.unit,
        "times": stock.times,
        "within": stock.half,
        "standing": stock.standing,
    }


def _part_data(part: BuiltPart) -> dict[str, Any]:
    return {
        "name": part.name,
        "blade": part.blade,
        "computed_g": part.computed[1],
        "mass_g": part.band[1],
        "low_g": part.band[0],
        "high_g": part.band[2],
        "standing": part.standing,
    }

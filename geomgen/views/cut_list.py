"""The cut list and the bill: what is cut from each sheet, what it all costs, and what is still to be bought."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen.cost.bill import Due, total
from geomgen.cost.cut_list import SheetLine
from geomgen.craft import Craft
from geomgen.figures import figure, g, mm
from geomgen.model.joint import Key
from geomgen.stock.pieces import piece_name
from geomgen.views.page import Cell, Item, Page, Record, Row, Section, Sheet, Table, as_columns
from geomgen.views.quantity import Amount, Length, Number

HOLDS = {"flies": "", "doublers": "doublers", "bench": "to build by"}
COLUMNS = (
    "sheet", "stock", "cut_by", "holds", "done", "offcut", "length_mm", "width_mm", "pieces", "used_share", "used_mm",
    "cut_mm", "minutes", "parts",
)  # fmt: skip


def cut_list_page(craft: Craft) -> Page:
    """Both, to print and take to the shop."""
    return Page((*sheet_sections(craft), *bill_sections(craft)), craft.design.units or "mm")


def sheet_sections(craft: Craft) -> list[Section]:
    """A line for each sheet, and what lies on it."""
    lines = craft.cut_list
    if not lines:
        return []
    timed = any(line.minutes is not None for line in lines)
    head = ("sheet", "cut by", "", "size", "parts", "used", "length used, mm", "cuts", *(("min",) if timed else ()))
    sums = _row_of_sums(lines, timed=timed)
    table = Table(as_columns(*head), (*(_row(line, timed=timed) for line in lines), sums), left=4, foot=1)
    words = "Cuts: outlines and holes, without marks."
    words += " Minutes: those cuts at your speed, without marks and ways between." if timed else ""
    if timed and any(line.untimed for line in lines):
        words += " Sheets whose speed isn't stated have none, and count none in the sum."
    contents: Section = ("What lies on each", *_contents(lines, craft.names))
    return [("Sheets to cut", table, words), contents, *changed_since(craft)]


def bill_sections(craft: Craft) -> list[Section]:
    """What it takes, what of it is at hand, what is to be bought, and for how much."""
    return [due_section(craft.bill, craft.design.money.of if craft.design.money else "")]


def due_section(lines: Sequence[Due], money: str) -> Section:
    """The same as one table."""
    priced = any(line.price is not None for line in lines)
    of = f", {money}" if money else ""
    prices = (f"one{of}", f"all{of}", f"still{of}") if priced else ()
    head = ("what", "material", "it takes", "at hand", "to buy", *prices)
    rows = [_due(line, priced=priced) for line in lines]
    if priced:
        (all_of_it, without), (missing, _) = total(lines, to_buy=False), total(lines, to_buy=True)
        note = f"without {without} that have no price" if without else ""
        rows.append(("all", note, "", "", "", "", money_cell(all_of_it), money_cell(missing)))
    words = (
        "What flies and what stays on the bench, joints and spares counted in; wire, glue and screws stand elsewhere."
    )
    words += (
        " A price is of one sheet, length or piece, or of a kilogram; still: of what is to be bought." if priced else ""
    )
    return "What it takes, and what it costs", Table(as_columns(*head), tuple(rows), left=2, foot=int(priced)), words


def cut_sheet(craft: Craft) -> Sheet:
    """The cut list as records."""
    return Sheet(COLUMNS, tuple(_record(line, craft.names) for line in craft.cut_list), digits=6)


def sheets_data(craft: Craft) -> list[Record]:
    """The same as plain data; None where a figure isn't known."""
    return [{key: None if value == "" else value for key, value in row.items()} for row in cut_sheet(craft).rows]


def money_cell(value: float | None) -> Cell:
    """A sum of money."""
    return "" if value is None else Number(value, 2)


def _row(line: SheetLine, *, timed: bool) -> Row:
    sheet = line.sheet
    state = [HOLDS.get(sheet.apart, sheet.apart), "off-cut" if sheet.offcut else "", "cut already" if line.done else ""]
    size = mm(sheet.size, words=" x ")
    used = f"{100 * line.used_share:.0f} %"
    times = (Number(line.minutes, 1) if line.minutes is not None else "",) if timed else ()
    return (
        sheet.name, str(line.cut_by), ", ".join(filter(None, state)), size, line.pieces, used, Length(line.used_mm, 0),
        Amount(line.cut_mm, "mm", bought=True), *times,
    )  # fmt: skip


def _row_of_sums(lines: Sequence[SheetLine], *, timed: bool) -> Row:
    pieces, cut_mm = sum(line.pieces for line in lines), sum(line.cut_mm for line in lines)
    area = sum(line.sheet.size[0] * line.sheet.size[1] for line in lines)
    used = f"{100 * sum(line.in_parts_mm2 for line in lines) / area:.0f} %"
    minutes = sum(line.minutes or 0.0 for line in lines)
    return (
        "all",
        "",
        "",
        "",
        pieces,
        used,
        "",
        Amount(cut_mm, "mm", bought=True),
        *((Number(minutes, 1),) if timed else ()),
    )


def _contents(lines: Sequence[SheetLine], names: dict[Key, str]) -> list[Item]:
    return [Item("note", f"{line.sheet.name}: {_listed(line, names)}") for line in lines]


def _listed(line: SheetLine, names: dict[Key, str]) -> str:
    called = [(piece_name(names[key], piece, of), count) for key, piece, of, count in line.parts]
    return ", ".join(name if count == 1 else f"{count} {name}" for name, count in called)


def changed_since(craft: Craft) -> list[Section]:
    """Parts that are cut already and have changed since."""
    changed = [(sheet, craft.names[key], copy) for sheet, key, copy in craft.sheets.anew]
    if not changed:
        return []
    items = [
        Item("warning", f"{name}, copy {copy}, was cut from {sheet} and has changed since: it is laid anew")
        for sheet, name, copy in changed
    ]
    return [("Cut already, and changed since", *items)]


def _due(line: Due, *, priced: bool) -> Row:
    has = counted(line.at_hand, line.unit) if line.at_hand else ""
    off = f" and {line.offcuts} off-cut{'s' * (line.offcuts != 1)}" if line.offcuts else ""
    row: Row = (line.name, line.of, counted(line.takes, line.unit) + off, has, counted(line.to_buy, line.unit))
    return (*row, *(money_cell(each) for each in (line.price, line.costs, line.still_costs))) if priced else row


def counted(number: float, unit: str) -> str:
    """How many, or how much."""
    match unit:
        case "kg":
            return g(number * 1e3, 0)
        case "m2":
            return figure("m2", number * 1e6, 2)
        case "m":
            return figure("m", number * 1e3, 1)
    return f"{number:.0f} {unit}{'s' * (number != 1)}"


def _record(line: SheetLine, names: dict[Key, str]) -> Record:
    sheet = line.sheet
    return {
        "sheet": sheet.name, "stock": sheet.stock, "cut_by": str(line.cut_by), "holds": sheet.apart,
        "done": "yes" if line.done else "no", "offcut": "yes" if sheet.offcut else "no", "length_mm": sheet.size[0],
        "width_mm": sheet.size[1], "pieces": line.pieces, "used_share": line.used_share, "used_mm": line.used_mm,
        "cut_mm": line.cut_mm, "minutes": "" if line.minutes is None else line.minutes, "parts": _listed(line, names),
    }  # fmt: skip

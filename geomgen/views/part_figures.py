"""Every different part for the page: a picture with its note and its files, or a row that says why there is none."""

from __future__ import annotations

from geomgen.craft import Craft
from geomgen.design.schema import SheetStock
from geomgen.figures import mm
from geomgen.model.part import Area, Bought, Flat, Length, Part, Shaped, Solid
from geomgen.model.role import Assembly, Role
from geomgen.printing.stages import PRINTED
from geomgen.stock.copies import times
from geomgen.stock.tool import tool, verdict
from geomgen.views.cautions import CUTTING, PRINTING, cautions
from geomgen.views.file_names import all_file, cutting_file, file_name, picture_file, place_of, printing_file
from geomgen.views.flat_part import part_heading
from geomgen.views.page import Cell, Chapter, Figure, Item, Link, Row, Section, Table, as_columns
from geomgen.views.quantity import Amount
from geomgen.views.shopping import as_sold

WIDE = (Role.SKIN, Role.SHEETING, Role.FOLDED_SKIN, Role.FILM, Role.JIG_BOARD)


def cutting(craft: Craft) -> Chapter | None:
    """What is cut, by the sheet it is cut from: what flies, then the aids to build by."""
    printed = {part.key for part in _to_print(craft)}
    parts = [part for part in craft.flat_parts if part.key not in printed]
    if not parts:
        return None
    sheets = dict.fromkeys((_to_build_by(part), part.stock) for part in parts)
    sections: list[Section] = [
        (
            f"From {stock}{_sheet(stock, craft)}{', to build by' * bench}",
            *(_flat(part, craft) for part in parts if (_to_build_by(part), part.stock) == (bench, stock)),
        )
        for bench, stock in sorted(sheets, key=lambda sheet: sheet[0])
    ]
    stocks = [craft.design.stock[stock] for _, stock in sheets]
    by = [(cut_by, verdict(stock)) for stock in stocks if (cut_by := tool(stock)) is not None]
    files = [all_file(*each) for each in dict.fromkeys(by)]
    lead = Item(
        "note",
        f"Each different part once; all of one tool side by side: {', '.join(files)}. Nothing that laser shops refuse, "
        "or that isn't known, lies in cut/laser. These are drawn to size in millimetres, no kerf taken off; inside "
        "cuts come first. Sheets with every copy laid on them stand above.",
        links=tuple(Link(file, file) for file in files),
    )
    warned = () if craft.cut_list else (cautions((CUTTING,)),)  # they stand with the sheets
    return Chapter("Parts to cut", "cutting", (*warned, (lead,), *sections))


def _to_build_by(part: Part) -> bool:
    """Whether it is an aid; wedges of other pitches lie on the bench, too, but are none."""
    return part.assembly is Assembly.BENCH and part.role is not Role.WEDGE


def _sheet(name: str, craft: Craft) -> str:
    stock = craft.design.stock[name]
    return f": {stock.of}, {as_sold(stock)}" if isinstance(stock, SheetStock) else ""


def _to_print(craft: Craft) -> list[Part]:
    """What has a file to print and isn't of sheet."""
    return [part for part in craft.printed_parts if not isinstance(craft.design.stock[part.stock], SheetStock)]


def printing(craft: Craft) -> Chapter:
    """What is printed: what is tried first, the hub as a picture with what goes to it, its sizes, and each cap that is
    of no sheet.
    """
    parts = sorted(_to_print(craft), key=lambda part: (part.role is not Role.COUPON, isinstance(part.shape, Flat)))
    figures = tuple(figure for part in parts for figure in _printed(part, craft))
    return Chapter("Parts to print", "printing", (cautions((PRINTING,)), figures))


def _printed(part: Part, craft: Craft) -> list[Figure]:
    file, sizes = printing_file(part), "pictures/hub_sizes.svg"
    if isinstance(part.shape, Flat):
        return [_flat(part, craft)]
    words = f"{_counted(part, craft)}, {part.stock}, drawn apart with its caps, spars, collars and pins. File: {file}"
    over_all = mm([part.facts[key] for key in ("along_x_mm", "along_y_mm", "height_mm")], 1, " x ")
    size = f"{over_all} over all. By itself: {sizes}"
    return [
        Figure("hub", part.name, words, part.notes, (Link(file, file),), place_of(part.name), wide=True),
        Figure("hub_sizes", "sizes of the hub", size, links=(Link(sizes, sizes),), wide=True),
    ]


def _flat(part: Part, craft: Craft) -> Figure:
    """A part that is cut; a cap has a file to print besides, whatever it is made of; a printed one has no other."""
    cut_by, solid, picture = tool(craft.design.stock[part.stock]), printing_file(part), picture_file(part)
    files = ([cutting_file(part, cut_by)] if cut_by is not None else []) + [solid] * (part.role in PRINTED)
    links = (*(Link(file, file) for file in files), Link("full-size picture", picture))
    words = f"{_counted(part, craft)}, {part_heading(part)}. "
    words += f"Files: {', '.join(link.words for link in links)}"
    return Figure(file_name(part), part.name, words, part.notes, links, place_of(part.name), wide=part.role in WIDE)


def _counted(part: Part, craft: Craft) -> str:
    whole = times(part, craft.design)
    if _to_build_by(part):
        return f"{whole} to build by"
    return f"{whole} in all" if part.assembly is not Assembly.BENCH else f"{whole} for another pitch"


def other_parts(craft: Craft) -> Chapter | None:
    """What has no picture, with the reason, in a table."""
    drawn = {part.key for part in (*craft.flat_parts, *craft.printed_parts)}
    parts = [part for part in craft.finished if part.key not in drawn]
    if not parts:
        return None
    rows = tuple(_row(part, craft) for part in parts)
    columns = as_columns("part", "of", "why no picture", "in all", "each")
    notes, names = tuple("; ".join(part.notes) for part in parts), tuple(place_of(part.name) for part in parts)
    table = Table(columns, rows, left=3, behind=notes, names=names)
    return Chapter("Lengths, glue, bought things", "others", ((table,),))


def _row(part: Part, craft: Craft) -> Row:
    each, why = _measure(part)
    return part.name, part.stock, why, times(part, craft.design), each


def _measure(part: Part) -> tuple[Cell, str]:
    """How much one is, and why it isn't drawn."""
    match part.shape:
        case Length(length_mm=long):
            return mm(long, 1), "cut to length"
        case Shaped(length_mm=long):
            return mm(long, 1), "shaped from its stock"
        case Area(area_mm2=area):
            return Amount(area, "mm2"), "glue, by area" if part.role is Role.GLUE else "laid on and trimmed"
        case Bought():
            return "", "bought"
        case Flat() | Solid():
            return "", "its picture stands above"

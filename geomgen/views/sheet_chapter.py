"""The chapter of the page on sheets: what is cut from each, what to cut first, paper to cut along, what it costs."""

from __future__ import annotations

from collections.abc import Iterator

from geomgen.craft import Craft
from geomgen.figures import mm
from geomgen.stock.tool import Tool, tool
from geomgen.views.cautions import CUTTING, KNIFE, cautions
from geomgen.views.cut_list import bill_sections, sheet_sections
from geomgen.views.file_names import coupon_file, paper_file, sheet_file, sheet_picture_name
from geomgen.views.page import Chapter, Figure, Item, Link, Section


def sheets(craft: Craft) -> Chapter | None:
    """What lies on each sheet; nothing where the size of none is stated."""
    if not craft.cut_list:
        return None
    tools = {line.cut_by for line in craft.cut_list}
    warned = [CUTTING] * (Tool.LASER in tools) + [KNIFE] * (Tool.KNIFE in tools or Tool.SAW in tools)
    files = "cut_list.txt", "cut_list.csv"
    lead = Item("note", f"The same to print and to sort: {', '.join(files)}", links=tuple(Link(f, f) for f in files))
    table, contents, *changed = sheet_sections(craft)
    return Chapter(
        "Sheets to cut",
        "sheets",
        (
            cautions(tuple(warned)),
            (lead,),
            *changed,
            table,
            *_first(craft),
            *_paper(craft),
            ("As they are laid", *_figures(craft)),
            contents,
            *bill_sections(craft),
        ),
    )


def _figures(craft: Craft) -> Iterator[Figure]:
    for line in craft.cut_list:
        file, laser = sheet_file(line.sheet, line.cut_by), craft.design.laser
        kerf = laser.kerf.get(line.sheet.stock)
        said = f"a kerf of {mm(kerf, 2)} is taken off" if kerf and line.cut_by is Tool.LASER else "no kerf taken off"
        words = f"cut by {line.cut_by}, {mm(line.sheet.size, words=' x ')}, {said}. File: {file}"
        if line.sheet.across:
            words += f". Longer than the laser's bed: cut it across first, at {mm(line.sheet.across, 0, ', ')}"
        name = sheet_picture_name(line.sheet)
        yield Figure(name, line.sheet.name, words, links=(Link(file, file),), wide=True)


def _first(craft: Craft) -> Iterator[Section]:
    """Fit coupons."""
    items = []
    for coupon in craft.fit_coupons:
        file = coupon_file(coupon.stock)
        known = "its kerf is taken off: it tells the fit" if coupon.kerf_mm else "its kerf isn't known: it tells that"
        items.append(Item("note", f"{coupon.stock}: {known}. File: {file}", links=(Link(file, file),)))
    if items:
        lead = "A piece of each sheet, cut before the parts. The letter of the first slot or hole that lets its thing "
        lead += "in stands beside a line to type into the design, in the file itself."
        yield ("Cut first, to find kerf and fit by", lead, *items)


def _paper(craft: Craft) -> Iterator[Section]:
    """Files at full size."""
    stocks = dict.fromkeys(part.stock for part in craft.flat_parts)
    tools = {tool(craft.design.stock.get(stock)) for stock in stocks}
    files = [paper_file(each) for each in (Tool.KNIFE, Tool.SAW) if each in tools]
    if files:
        words = f"Parts that are cut by hand, to print at 100 %, join and cut along: {', '.join(files)}"
        links = tuple(Link(file, file) for file in files)
        yield ("On paper at full size", Item("note", words, links=links))

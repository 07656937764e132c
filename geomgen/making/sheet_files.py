"""Files of sheets: what is cut from each, fit coupons, the layout that the next run keeps, templates, the cut list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

from geomgen.craft import Craft
from geomgen.cutting.fit_coupon import fit_coupon_dxf
from geomgen.cutting.sheet_dxf import Cutting, sheet_dxf
from geomgen.figures import is_imperial
from geomgen.making.output import Output, kept
from geomgen.model.joint import Key
from geomgen.model.part import Flat, Part
from geomgen.paper import sizes
from geomgen.paper.pdf import paper_pdf
from geomgen.paper.template import template
from geomgen.render.data import csv_text
from geomgen.render.svg import inline, svg
from geomgen.render.text import page_text
from geomgen.stock.copies import cut_copies
from geomgen.stock.layout_file import LAYOUT, layout_text
from geomgen.stock.pieces import cuts_of, lettered, piece_name
from geomgen.stock.sheets import Sheet
from geomgen.stock.tool import Tool, to_ask, tool
from geomgen.views.cautions import CUTTING, KNIFE
from geomgen.views.cut_list import cut_list_page, cut_sheet
from geomgen.views.file_names import coupon_file, paper_file, sheet_file, sheet_picture_file, sheet_picture_name
from geomgen.views.sheet_picture import sheet_picture

Flats = Mapping[tuple[Key, int], Flat]


def add_sheets(craft: Craft, made: Output, cut_already: Mapping[str, bytes]) -> dict[str, str]:
    """A cutting file and a picture of every sheet, and the layout.

    cut_already : files of sheets in the folder: those of sheets that are cut stay as they are, whatever would cut them
                  now
    returns     : pictures by name, as they stand in the page
    """
    design, pictures = craft.design, dict[str, str]()
    cut_already = {**{name.rpartition("/")[2]: data for name, data in cut_already.items()}, **cut_already}
    flats = {(cut.part.key, cut.piece): cut.flat for part in craft.finished for cut in lettered(cuts_of(part))}
    for line in craft.cut_list:
        sheet, file = line.sheet, sheet_file(line.sheet, line.cut_by)
        drawn = _sheet(craft, sheet, line.cut_by, flats)
        was = cut_already.get(file, cut_already.get(file.rpartition("/")[2])) if line.done else None
        data = drawn["dxf"] if was is None else was
        kerf = design.laser.kerf.get(sheet.stock) if line.cut_by is Tool.LASER else None
        words = f"{sheet.name}: {line.pieces} parts as they are laid on the sheet" + ", cut already" * line.done
        about = {"unit": "mm", "chordal_error_mm": craft.tol.chordal_mm, "kerf_applied_mm": kerf or 0.0}
        name = f"sheet {sheet.name}"
        made.add(file, data, part=name, holds=words, **about)
        made.add(sheet_picture_file(sheet), drawn["svg"], part=name, holds=f"picture of {name}")
        pictures[sheet_picture_name(sheet)] = drawn["page"].decode()
    made.add(
        LAYOUT, layout_text(craft.sheets, craft.names), holds="what lies where on each sheet, read by the next run"
    )
    return pictures


def add_coupons(craft: Craft, made: Output) -> None:
    """A fit coupon for each sheet that a laser cuts."""
    design, unit = craft.design, craft.design.units or "mm"
    colours = design.laser.colour.model_dump()
    for coupon in craft.fit_coupons:
        data = fit_coupon_dxf(coupon, colours, unit)
        words = f"slots and holes in steps, to cut first from {coupon.stock}: they tell its kerf, then the fit"
        about = {"unit": "mm", "kerf_applied_mm": coupon.kerf_mm or 0.0}
        made.add(coupon_file(coupon.stock), data, part=f"fit coupon of {coupon.stock}", holds=words, **about)


def add_paper(craft: Craft, made: Output, *, all_of_it: bool) -> None:
    """Templates at full size, a file for each tool: of what a knife or a saw cuts; of the laser's parts where asked."""
    design = craft.design
    for cut_by in Tool:
        parts = [part for part in craft.flat_parts if tool(design.stock.get(part.stock)) is cut_by]
        if parts and (all_of_it or cut_by is not Tool.LASER):
            words = f"parts that are cut by {cut_by} at full size, to print unscaled and cut along"
            made.add(paper_file(cut_by), _paper(craft, cut_by, parts), holds=words)


def add_cut_list(craft: Craft, made: Output) -> None:
    """The cut list and the bill, to read and to sort."""
    unit = craft.design.units or "mm"
    made.add("cut_list.txt", page_text(cut_list_page(craft)) + "\n", holds="sheets to cut, what they cost, to read")
    made.add("cut_list.csv", csv_text(cut_sheet(craft), unit), holds="the sheets, one a row")


def _sheet(craft: Craft, sheet: Sheet, cut_by: Tool, flats: Flats) -> dict[str, bytes]:
    """Its cutting file, and its picture by itself and for the page, drawn once and kept by content."""
    design, unit = craft.design, craft.design.units or "mm"
    colours, asked = design.laser.colour.model_dump(), to_ask(design.stock[sheet.stock])
    tabs = design.laser.tabs
    lasered = cut_by is Tool.LASER
    cutting = Cutting(
        design.laser.kerf.get(sheet.stock) if lasered else None,
        tabs.width if lasered and tabs is not None else None,
        tabs.least if tabs is not None else 0,
    )
    more = [asked] if lasered and asked else []
    mine = {
        (laid.key, laid.piece): flats[laid.key, laid.piece] for laid in sheet.laid if (laid.key, laid.piece) in flats
    }
    there = _there(sheet, mine)
    pieces = Counter(key for key, _ in flats)
    called = {(key, piece): piece_name(craft.names[key], piece, pieces[key]) for key, piece in mine}

    def draw() -> dict[str, bytes]:
        title = f"sheet {sheet.name}"
        picture = sheet_picture(there, mine, title, unit)
        small = sheet_picture(there, mine, title, unit, called)
        return {
            "dxf": sheet_dxf(there, mine, colours, cutting, unit=unit, more=more),
            "svg": svg(picture).encode(),
            "page": inline(small, sheet_picture_name(sheet)).encode(),
        }

    content = ("sheet", there, [*mine.values()], [*called.values()], colours, cutting, more, unit)
    return kept(craft.cache, content, draw)


def _there(sheet: Sheet, flats: Flats) -> Sheet:
    """A sheet less what is no longer a part of the craft: of one that is cut already."""
    laid = tuple(each for each in sheet.laid if (each.key, each.piece) in flats)
    return sheet if len(laid) == len(sheet.laid) else replace(sheet, laid=laid)


def _paper(craft: Craft, cut_by: Tool, parts: list[Part]) -> bytes:
    design, unit = craft.design, craft.design.units or "mm"
    paper = design.paper
    clockwise = design.rotor.turn == "clockwise"
    page = sizes.PAPERS[(paper.size or ("Letter" if is_imperial(unit) else "A4")).lower()]
    if paper.size == "roll" and paper.width is not None:
        page = sizes.roll(paper.width)
    templates = [template(part, cut_copies(part, design), clockwise=clockwise) for part in parts]
    cautions = [KNIFE, CUTTING] if cut_by is Tool.LASER else [KNIFE]

    def draw() -> dict[str, bytes]:
        data = paper_pdf(templates, page, paper.overlap, title=design.title, unit=unit, cautions=cautions)
        return {"pdf": data}

    return kept(craft.cache, ("paper", templates, page, paper.overlap, design.title, unit, cautions), draw)["pdf"]

"""What the files of a part are called, beside the page that leads to them; and where it is found on that page."""

from __future__ import annotations

import re

from geomgen.model.part import Part
from geomgen.stock.sheets import Sheet
from geomgen.stock.tool import Tool

CARD = "pitch_card.svg"  # where holes of the caps carry letters for pitches


def file_name(part: Part) -> str:
    """A part's name as a file name."""
    return part.name.replace(" ", "_")


def cutting_file(part: Part, cut_by: Tool) -> str:
    """Of a flat part, in the folder of what cuts it."""
    return f"cut/{cut_by}/{file_name(part)}.dxf"


def all_file(cut_by: Tool, verdict: str) -> str:
    """Of all flat parts that one tool cuts and of which laser shops say the same, "yes", "ask" or "no"."""
    usual = "yes" if cut_by is Tool.LASER else "no"
    return f"cut/{cut_by}/all{'' if verdict == usual else f'_{verdict}'}.dxf"


def sheet_file(sheet: Sheet, cut_by: Tool) -> str:
    """Of one sheet with all that lies on it."""
    return f"cut/{cut_by}/sheets/{sheet_picture_name(sheet)}.dxf"


def sheet_picture_name(sheet: Sheet) -> str:
    """Of its picture on the page."""
    return _plain(sheet.name)


def sheet_picture_file(sheet: Sheet) -> str:
    """Of its picture by itself."""
    return f"pictures/sheets/{sheet_picture_name(sheet)}.svg"


def coupon_file(stock: str) -> str:
    """Of what is cut first from a sheet, to measure by."""
    return f"cut/laser/fit/{_plain(stock)}.dxf"


def paper_file(cut_by: Tool) -> str:
    """Of templates at full size."""
    return f"paper/{cut_by}.pdf"


def printing_file(part: Part) -> str:
    """Of a printed part."""
    return f"print/{file_name(part)}.stl"


def picture_file(part: Part) -> str:
    """Of a flat part, at full size."""
    return f"pictures/{file_name(part)}.svg"


def place_of(name: str) -> str:
    """What a part of this name is called on the page."""
    return "part-" + _plain(name)


def _plain(name: str) -> str:
    return re.sub(r"[^\w.-]", "_", name)

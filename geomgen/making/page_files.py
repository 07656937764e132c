"""What `geomgen compare`, `geomgen hover` and `geomgen loads` write: a page in every medium."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from geomgen.craft import Craft
from geomgen.making.output import Output
from geomgen.render.data import csv_text, json_text
from geomgen.render.svg import svg
from geomgen.render.text import page_text
from geomgen.study.comparison import Comparison
from geomgen.views.compare import compare_page
from geomgen.views.compare_data import compare_data, compare_sheet
from geomgen.views.compare_picture import compare_picture
from geomgen.views.hover_picture import hover_picture
from geomgen.views.loads_csv import loads_list
from geomgen.views.loads_picture import loads_picture
from geomgen.views.page import Page


def compare_files(comparison: Comparison) -> Output:
    """Every file of a comparison."""
    made = Output()
    made.add("compare.txt", page_text(compare_page(comparison)) + "\n", holds="options side by side, to read")
    made.add("compare.csv", csv_text(compare_sheet(comparison), comparison.units), holds="the same, one figure a row")
    plain = json_text(compare_data(comparison), comparison.units) + "\n"
    made.add("compare.json", plain, holds="the same, keys that stay, units in their names")
    picture = svg(compare_picture(comparison))
    made.add("compare.svg", picture, holds="picture: mass, rotor speed, centre of gravity")
    return made


def hover_files(craft: Craft, page: Page, data: Mapping[str, Any]) -> Output:
    """Every file of hover: as it is shown, and its picture where anything lifts."""
    made, unit = Output(), craft.design.units or "mm"
    made.add("hover.txt", page_text(page) + "\n", holds="does it lift, to read")
    made.add("hover.json", json_text(dict(data), unit) + "\n", holds="the same, keys that stay, units in their names")
    picture = hover_picture(craft.hover, craft.design.title, unit) if craft.hover is not None else None
    if picture is not None:
        made.add("hover.svg", svg(picture), holds="picture: lift and power against rpm, and along the blade")
    return made


def loads_files(craft: Craft, page: Page, data: Mapping[str, Any]) -> Output:
    """Every file of loads: as they are shown, along r as a table, and as a picture, where they could be worked out."""
    made, unit = Output(), craft.design.units or "mm"
    made.add("loads.txt", page_text(page) + "\n", holds="will it hold: the weakest places, to read")
    made.add("loads.json", json_text(dict(data), unit) + "\n", holds="the same, keys that stay, units in their names")
    if craft.held is not None:
        made.add("loads.csv", csv_text(loads_list(craft.held), unit), holds="loads along r in every case")
        picture = svg(loads_picture(craft.held, craft.design.title, unit))
        made.add("loads.svg", picture, holds="picture: pull and bending along r, and how a blade swings")
    return made

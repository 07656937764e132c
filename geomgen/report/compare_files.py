"""The files of a comparison: text, CSV, JSON and the picture."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from geomgen.render.data import csv_text, json_text
from geomgen.render.text import page_text
from geomgen.report.compare_picture import compare_picture
from geomgen.study.comparison import Comparison
from geomgen.views.compare import compare_page
from geomgen.views.compare_data import compare_data, compare_sheet


def compare_files(comparison: Comparison) -> tuple[dict[str, bytes], dict[str, Mapping[str, Any]]]:
    """Every file's bytes, and what the manifest says of each."""
    texts = {
        "compare.txt": (page_text(compare_page(comparison)) + "\n", "options side by side, to read"),
        "compare.csv": (csv_text(compare_sheet(comparison)), "the same, one figure a row"),
        "compare.json": (json_text(compare_data(comparison)) + "\n", "the same, keys that stay, units in their names"),
        "compare.svg": (compare_picture(comparison), "picture: mass, rotor speed, centre of gravity"),
    }
    files = {name: text.encode() for name, (text, _) in texts.items()}
    return files, {name: {"holds": holds} for name, (_, holds) in texts.items()}

"""Plain data as CSV and as JSON, commas and dots whatever the country."""

from __future__ import annotations

import csv
import io
import json
from typing import Any

from geomgen.figures import spelled
from geomgen.views.page import Sheet


def csv_text(sheet: Sheet, unit: str = "mm") -> str:
    """Text of a CSV file: keys in the head, a row each; nothing where a row has no value under a key.

    unit : the design's own unit of length, whose system sentences are spelled in; figures stay in their keys' units
    """
    text = io.StringIO()
    writer = csv.DictWriter(text, sheet.keys, restval="", lineterminator="\n")
    writer.writeheader()
    for row in spelled(sheet.rows, unit):
        writer.writerow({key: _plain(value, sheet.digits) for key, value in row.items()})
    return text.getvalue()


def json_text(data: dict[str, Any], unit: str = "mm") -> str:
    """Text of a JSON file without a newline at the end; figures to their last digit; unit as in `csv_text`."""
    return json.dumps(spelled(data, unit), indent=1, ensure_ascii=False, allow_nan=False)


def _plain(value: str | float, digits: int) -> str:
    """Words as they stand; of a figure no trailing zeros, never "-0"."""
    if isinstance(value, str):
        return value
    return f"{round(value, digits) + 0.0:.{digits}f}".rstrip("0").rstrip(".")

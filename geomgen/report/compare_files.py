"""The files of a comparison: text, CSV, JSON and the picture."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from geomgen.report.compare_csv import compare_csv
from geomgen.report.compare_dict import compare_dict
from geomgen.report.compare_picture import compare_picture
from geomgen.report.compare_text import compare_text
from geomgen.study.comparison import Comparison


def compare_files(comparison: Comparison) -> tuple[dict[str, bytes], dict[str, Mapping[str, Any]]]:
    """Every file's bytes, and what the manifest says of each."""
    plain = json.dumps(compare_dict(comparison), indent=1, ensure_ascii=False, allow_nan=False)
    texts = {
        "compare.txt": (compare_text(comparison) + "\n", "options side by side, to read"),
        "compare.csv": (compare_csv(comparison), "the same, one figure a row"),
        "compare.json": (plain + "\n", "the same, keys that stay, units in their names"),
        "compare.svg": (compare_picture(comparison), "picture: mass, rotor speed, centre of gravity"),
    }
    files = {name: text.encode() for name, (text, _) in texts.items()}
    return files, {name: {"holds": holds} for name, (_, holds) in texts.items()}

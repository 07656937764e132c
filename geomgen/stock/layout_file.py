"""layout.json: what lies on which sheet, so that the next run leaves it there; and read back, whoever wrote it."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Any

from geomgen.errors import DesignError, Fault
from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.stock.sheets import APART, Laid, Layout, Sheet

LAYOUT = "layout.json"
SCHEMA = 1
MOST_TOLD = 120  # letters of what is wrong with a file
REMEDY = "mend it, or start over with --lay-anew"


def layout_text(layout: Layout, names: Mapping[Key, str]) -> str:
    """The file: places with every digit that they have, so that what is read back is the same to the bit.

    names : of the parts, for people
    """
    sheets = [
        {
            "sheet": sheet.name,
            "stock": sheet.stock,
            "number": sheet.number,
            "size_mm": list(sheet.size),
            "holds": sheet.apart,
            "offcut": sheet.offcut,
            "gap_mm": sheet.gap_mm,
            "edge_mm": sheet.edge_mm,
            "across_mm": list(sheet.across),
            "laid": [_row(laid, names) for laid in sheet.laid],
        }
        for sheet in layout.sheets
    ]
    return json.dumps({"schema": SCHEMA, "sheets": sheets}, indent=1) + "\n"


def read_layout(text: str, file: str, *, remedy: str = REMEDY) -> Layout:
    """A layout of an earlier run.

    text   : of the file
    file   : its name, for the fault
    remedy : of the fault
    raises : DesignError for what isn't one
    """
    try:
        whole = json.loads(text)
        if whole["schema"] != SCHEMA:
            raise ValueError(f"schema {whole['schema']}")
        sheets = tuple(_sheet(each) for each in whole["sheets"])
    except (ValueError, LookupError, TypeError, AttributeError, OverflowError, RecursionError) as error:
        wrong = f"is no layout that can be read ({type(error).__name__}: {str(error)[:MOST_TOLD]})"
        raise DesignError(Fault("", file, wrong, remedy=remedy)) from None
    names = [sheet.name for sheet in sheets]
    if twice := next((name for name in names if names.count(name) > 1), None):
        raise DesignError(Fault("", file, f'has two sheets "{twice}"', remedy=remedy))
    return Layout(sheets)


def _row(laid: Laid, names: Mapping[Key, str]) -> dict[str, Any]:
    key = laid.key
    return {
        "part": names.get(key, str(key.role)),
        "copy": laid.copy,
        "piece": laid.piece,
        "x_mm": laid.at[0],
        "y_mm": laid.at[1],
        "turn_deg": laid.turn_deg,
        "key": [str(key.role), key.path, list(key.mark)],
        "outline": laid.outline,
        "edges": laid.edges,
    }


def _sheet(row: Mapping[str, Any]) -> Sheet:
    return Sheet(
        stock=_word(row["stock"]),
        number=_whole(row["number"], 1),
        size=_size(row["size_mm"]),
        apart=_one_of(APART, row["holds"]),
        offcut=_one_of((True, False), row["offcut"]),
        gap_mm=_number(row["gap_mm"]),
        edge_mm=_number(row["edge_mm"]),
        laid=tuple(_laid(each) for each in row["laid"]),
        across=tuple(_number(x) for x in row["across_mm"]),
    )


def _laid(row: Mapping[str, Any]) -> Laid:
    role, path, mark = row["key"]
    key = Key(Role(role), _word(path), tuple(each if type(each) is int else _word(each) for each in mark))
    at = _number(row["x_mm"]), _number(row["y_mm"])
    piece, outline, edges = _whole(row["piece"], 0), _word(row["outline"]), _word(row["edges"])
    return Laid(key, _whole(row["copy"], 1), at, _number(row["turn_deg"]), piece, outline, edges)


def _word(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError(f"{value!r} is no word")
    return value


def _one_of(allowed: tuple[Any, ...], value: Any) -> Any:
    if not any(value == each and type(value) is type(each) for each in allowed):
        raise ValueError(f"{value!r} is none of {', '.join(map(repr, allowed))}")
    return value


def _whole(value: Any, least: int) -> int:
    if type(value) is not int or value < least:
        raise TypeError(f"{value!r} is no whole number from {least} on")
    return value


def _size(value: Any) -> tuple[float, float]:
    long, wide = value
    if _number(long) <= 0.0 or _number(wide) <= 0.0:
        raise ValueError(f"{value!r} is no size of a sheet")
    return float(long), float(wide)


def _number(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise TypeError(f"{value!r} is no number")
    return float(value)

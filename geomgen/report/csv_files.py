"""Texts of mass.csv and parts.csv: one row each part, units in the heads, commas and dots whatever the country."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from geomgen.mass.as_dict import MEASURE_KEYS
from geomgen.mass.statement import MassStatement
from geomgen.mass.sums import Line
from geomgen.model.part import Area, Flat, Length, Part, Shaped

MASS_HEAD = (
    "part", "kind", "on", "path", "stock", "count", "area_mm2", "volume_mm3", "length_mm",
    "figure_low", "figure_typical", "figure_high", "figure_unit", "across", "print_share",
    "mass_one_low_g", "mass_one_typical_g", "mass_one_high_g", "mass_low_g", "mass_typical_g", "mass_high_g",
    "radius_mm", "chordwise_mm", "vertical_mm", "source",
)  # fmt: skip
PARTS_HEAD = (
    "part", "kind", "on", "path", "stock", "count_in_one", "count_in_craft",
    "radius_mm", "width_mm", "height_mm", "thickness_mm", "length_mm", "area_mm2", "face", "notes",
)  # fmt: skip


def mass_csv(statement: MassStatement) -> str:
    """Text of mass.csv: a row for each line of the statement, then the sums of one blade, the hub and the craft.

    `across` is the thickness [mm] or section [mm2] that a density is multiplied by; counts and masses of a part on the
    blade are those of one blade; places are in the blade frame (hub: rotor frame of the anticlockwise twin; craft:
    rotor frame). A part that could not be weighed has a row without masses.
    """
    blade, craft = statement.blade, statement.craft
    hub = [sum(line.set_g[end] for line in statement.lines if line.assembly == "hub") for end in range(3)]
    rows = [_mass_row(line) for line in statement.lines]
    rows += [{"part": name, "source": "not weighed"} for name in statement.unweighed]
    rows.append(
        {"part": "one blade", "kind": "sum", "on": "blade", "count": f"{craft.blades}"}
        | _masses((blade.mass_g.low, blade.mass_g.typical, blade.mass_g.high))
        | _place((blade.cg_radius_mm.typical, blade.cg_chordwise_mm.typical, blade.cg_vertical_mm.typical))
    )
    rows.append({"part": "on the hub", "kind": "sum", "on": "hub", "count": "1"} | _masses(hub))
    rows.append(
        {"part": "whole craft", "kind": "sum", "count": "1"}
        | _masses((craft.mass_g.low, craft.mass_g.typical, craft.mass_g.high))
        | _place((craft.cg_x_mm.typical, craft.cg_y_mm.typical, craft.cg_z_mm.typical))
    )
    return _written(MASS_HEAD, rows)


def parts_csv(parts: Sequence[Part], blades: int) -> str:
    """Text of parts.csv: what to cut, print, buy and how many.

    parts  : every different part of one blade and of the hub
    blades : blades of the craft [-]
    """
    return _written(PARTS_HEAD, [_part_row(part, blades) for part in parts])


def _mass_row(line: Line) -> dict[str, str]:
    figure, per = line.figure.figure, line.figure.per
    row = {
        "part": line.name,
        "kind": line.role,
        "on": line.assembly,
        "path": line.path,
        "stock": line.stock,
        "count": f"{line.count}",
        "figure_low": _number(figure.low),
        "figure_typical": _number(figure.typical),
        "figure_high": _number(figure.high),
        "figure_unit": figure.unit,
        "source": figure.source,
    }
    if per != "piece":
        row[MEASURE_KEYS[per]] = _number(line.amount)
    if figure.unit == "kg/m3" and per in ("mm2", "mm"):
        row["across"] = _number(line.figure.across)
    if line.share != 1.0:
        row["print_share"] = _number(line.share)
    return row | _masses(line.one_g, "mass_one") | _masses(line.set_g) | _place(line.place_mm)


def _part_row(part: Part, blades: int) -> dict[str, str]:
    sets = blades if part.assembly == "blade" else 1
    row = {
        "part": part.name,
        "kind": part.role,
        "on": part.assembly,
        "path": part.path,
        "stock": part.stock,
        "count_in_one": f"{part.count}",
        "count_in_craft": f"{part.count * sets}",
        "radius_mm": "" if part.r_mm is None else _number(part.r_mm),
        "notes": "; ".join(part.notes),
    }
    match part.shape:
        case Flat(region=region, thickness_mm=thickness, face=face):
            left, bottom, right, top = region.bounds()
            sizes = {"width_mm": right - left, "height_mm": top - bottom, "thickness_mm": thickness}
            sizes["area_mm2"] = region.area()
            row["face"] = face
        case Length(length_mm=length) | Shaped(length_mm=length):
            sizes = {"length_mm": length}
        case Area(area_mm2=area):
            sizes = {"area_mm2": area}
        case _:
            sizes = {}
    return row | {key: _number(value) for key, value in sizes.items()}


def _masses(ends: Sequence[float], name: str = "mass") -> dict[str, str]:
    keys = (f"{name}_low_g", f"{name}_typical_g", f"{name}_high_g")
    return dict(zip(keys, (_number(grams) for grams in ends), strict=True))


def _place(place_mm: Sequence[float]) -> dict[str, str]:
    keys = ("radius_mm", "chordwise_mm", "vertical_mm")
    return dict(zip(keys, (_number(value) for value in place_mm), strict=True))


def _number(value: float) -> str:
    """Four decimals, no trailing zeros, never "-0"."""
    return f"{round(value, 4) + 0.0:.4f}".rstrip("0").rstrip(".")


def _written(head: Sequence[str], rows: Iterable[dict[str, str]]) -> str:
    text = io.StringIO()
    writer = csv.DictWriter(text, head, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()

"""`geomgen compare` as plain data with stable keys, units in their names."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from geomgen.hover.mean_lift import FORMULA, WARNING
from geomgen.mass.band import Triple
from geomgen.stock.need import Need
from geomgen.study.comparison import Column, Comparison
from geomgen.study.difference import Difference, LineChange
from geomgen.study.figures import Figures


def compare_dict(comparison: Comparison) -> dict[str, Any]:
    """{"title", "base", "blades", "options": [...], "differences": [...], "formula", "warning"}.

    Figures that have a band are {"low", "typical", "high"}, sums and centres have "likely_low" and "likely_high"
    besides. Lengths [mm], masses [g]. An option that can't be built has "buildable" false, its faults, and "figures"
    null.
    """
    return {
        "title": comparison.title,
        "base": comparison.base,
        "blades": comparison.blades,
        "options": [_column(column) for column in comparison.columns],
        "differences": [_difference(one, comparison.base) for one in comparison.differences],
        "formula": FORMULA,
        "warning": WARNING,
    }


def _column(column: Column) -> dict[str, Any]:
    return {
        "option": column.name,
        "title": column.title,
        "construction": column.construction,
        "buildable": column.figures is not None,
        "faults": [str(fault) for fault in column.faults],
        "figures": None if column.figures is None else _figures(column.figures),
    }


def _figures(one: Figures) -> dict[str, Any]:
    return {
        "blade_mass_g": asdict(one.blade_g),
        "craft_mass_g": asdict(one.craft_g),
        "lift_mass_g": asdict(one.lift_g),
        "cg_radius_mm": asdict(one.cg_out_mm),
        "cg_chordwise_mm": asdict(one.cg_forward_mm),
        "static_moment_g_mm": asdict(one.static_moment_g_mm),
        "rpm": _ends(one.rpm),
        "tip_speed_m_s": _ends(one.tip_speed_m_s),
        "root_pull_n": _ends(one.root_pull_n),
        "lift_coefficient": one.lift_coefficient,
        "air_density_kg_m3": one.air_density_kg_m3,
        "blade_kinds": [{"kind": kind.role, "mass_g": _ends(kind.mass_g)} for kind in one.kinds],
        "stocks": [_need(need) for need in one.needs],
        "cut_length_mm": one.cut_mm,
        "parts": one.parts,
        "pieces": one.pieces,
        "bench_pieces": one.bench_pieces,
        "glue_mass_g": _ends(one.glue_g),
        "parts_with_notes": one.notes,
    }


def _need(need: Need) -> dict[str, Any]:
    amounts = {"mm2": "area_mm2", "mm": "length_mm", "mm3": "volume_mm3"}
    entry = asdict(need) | dict.fromkeys(amounts.values())
    amount, unit = entry.pop("amount"), entry.pop("unit")
    if unit in amounts:
        entry[amounts[unit]] = amount
    return entry | {"too_large": list(need.too_large)}


def _difference(one: Difference, base: str) -> dict[str, Any]:
    return {
        "option": one.option,
        "base": base,
        "base_g": one.base_g,
        "option_g": one.option_g,
        "difference_g": one.difference_g,
        "kinds": [
            {
                "kind": kind.role,
                "base_g": kind.base_g,
                "option_g": kind.option_g,
                "difference_g": kind.difference_g,
                "lines": [_line(line) for line in kind.lines],
            }
            for kind in one.kinds
        ],
    }


def _line(line: LineChange) -> dict[str, Any]:
    entry = asdict(line) | {"difference_g": line.difference_g}
    return {"name": entry.pop("name"), "what": entry.pop("role"), "on": entry.pop("assembly"), **entry}


def _ends(triple: Triple) -> dict[str, float]:
    return dict(zip(("low", "typical", "high"), triple, strict=True))

"""The mass statement as plain data with stable keys, units in their names."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from geomgen.mass.band import Band, Triple
from geomgen.mass.statement import MassStatement
from geomgen.mass.sums import BladeMass, CraftMass, Line

MEASURE_KEYS = {"mm3": "volume_mm3", "mm2": "area_mm2", "mm": "length_mm", "piece": "pieces"}
ACROSS_KEYS = {"mm2": "thickness_mm", "mm": "section_mm2"}
FIGURE_KEYS = {"kg/m3": "density_kg_m3", "g/m2": "areal_g_m2", "g/m": "linear_g_m", "g": "piece_g"}


def statement_dict(statement: MassStatement) -> dict[str, Any]:
    """The statement for `--json`: {"parts": [...], "blade": {...}, "craft": {...}, "not_weighed": [...]}.

    Figures that have a band are {"low", "typical", "high"}, sums have "likely_low" and "likely_high" besides.
    Lengths [mm], masses [g], places in the blade frame (hub: rotor frame of the anticlockwise twin).
    """
    return {
        "parts": [line_dict(line) for line in statement.lines],
        "blade": _bands(statement.blade),
        "craft": _bands(statement.craft),
        "not_weighed": list(statement.unweighed),
    }


def line_dict(line: Line) -> dict[str, Any]:
    """One line: name, count, stock, its measure and figure under keys that name them, masses, place, source."""
    figure = line.figure.figure
    radius, chordwise, vertical = line.place_mm
    entry: dict[str, Any] = {
        "name": line.name,
        "what": line.role,
        "on": line.assembly,
        "count": line.count,
        "stock": line.stock,
        "path": line.path,
        MEASURE_KEYS[line.figure.per]: line.amount,
        FIGURE_KEYS[figure.unit]: _ends((figure.low, figure.typical, figure.high)),
        "source": figure.source,
    }
    if figure.unit == "kg/m3" and line.figure.per in ACROSS_KEYS:
        entry[ACROSS_KEYS[line.figure.per]] = line.figure.across
    if line.share != 1.0:
        entry["print_share"] = line.share
    return entry | {
        "mass_one_g": _ends(line.one_g),
        "mass_g": _ends(line.set_g),
        "radius_mm": radius,
        "chordwise_mm": chordwise,
        "vertical_mm": vertical,
    }


def _ends(triple: Triple) -> dict[str, float]:
    return dict(zip(("low", "typical", "high"), triple, strict=True))


def _bands(record: BladeMass | CraftMass) -> dict[str, Any]:
    values = {name: getattr(record, name) for name in record.__dataclass_fields__}
    return {name: asdict(value) if isinstance(value, Band) else value for name, value in values.items()}

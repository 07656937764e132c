"""The mass statement with stable keys, units in their names: as plain data, and as a table to sort."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, fields
from typing import Any

from geomgen.craft import Craft
from geomgen.errors import Fault
from geomgen.mass.band import Band, Triple
from geomgen.mass.lines import Line
from geomgen.mass.statement import MassStatement
from geomgen.mass.sums import BladeMass, CraftMass
from geomgen.materials.figure import DESIGN_FILE, Figure
from geomgen.model.role import Assembly
from geomgen.views.balance import balance_data
from geomgen.views.page import Record, Sheet
from geomgen.views.verdict import verdict_data
from geomgen.views.weighed_in import weighed_in_data

MASS_KEYS = (
    "part", "kind", "on", "path", "stock", "count", "area_mm2", "volume_mm3", "length_mm",
    "figure_low", "figure_typical", "figure_high", "figure_unit", "across", "print_share",
    "mass_one_low_g", "mass_one_typical_g", "mass_one_high_g", "mass_low_g", "mass_typical_g", "mass_high_g",
    "radius_mm", "chordwise_mm", "vertical_mm", "source",
)  # fmt: skip
_ENDS = ("low", "typical", "high")
_PLACE = ("radius_mm", "chordwise_mm", "vertical_mm")
_MEASURES = {"mm3": "volume_mm3", "mm2": "area_mm2", "mm": "length_mm", "piece": "pieces"}
_ACROSS = {"mm2": "thickness_mm", "mm": "section_mm2"}
_FIGURES = {"kg/m3": "density_kg_m3", "g/m2": "areal_g_m2", "g/m": "linear_g_m", "g": "piece_g"}


def weigh_data(craft: Craft, option: str | None, warnings: Sequence[Fault] = ()) -> dict[str, Any]:
    """Verdict, warnings, mass statement, mean lift at the low, typical and high mass, load path, inertia, balance."""
    return {
        "title": craft.design.title,
        "option": option,
        **verdict_data(craft.verdict, warnings),
        **statement_data(craft.mass),
        **weighed_in_data(craft.mass, craft.weighed_in),
        "mass_guess_g": craft.design.duty.mass_guess,
        "mean_lift": [asdict(lift) for lift in craft.lifts],
        "load_path": asdict(craft.load_path),
        **balance_data(craft),
    }


def statement_data(statement: MassStatement) -> dict[str, Any]:
    """{"parts": [...], "blade": {...}, "craft": {...}, "not_weighed": [...]}.

    Figures that have a band are {"low", "typical", "high"}, sums have "likely_low" and "likely_high" besides.
    Lengths [mm], masses [g], places in the blade frame (hub: rotor frame of the anticlockwise twin).
    """
    return {
        "parts": [_line(line) for line in statement.lines],
        "blade": _bands(statement.blade),
        "craft": _bands(statement.craft),
        "not_weighed": list(statement.unweighed),
    }


def mass_list(statement: MassStatement) -> Sheet:
    """A row for each line of the statement, then the sums of one blade, the hub and the craft.

    `across` is the thickness [mm] or section [mm2] that a density is multiplied by; counts and masses of a part on the
    blade are those of one blade; places are in the blade frame (hub: rotor frame of the anticlockwise twin; craft:
    rotor frame). A part that could not be weighed has a row without masses.
    """
    blade, craft, hub = statement.blade, statement.craft, Assembly.HUB
    on_hub = [sum(line.set_g[end] for line in statement.lines if line.assembly == hub) for end in range(3)]
    blade_cg = (blade.cg_radius_mm, blade.cg_chordwise_mm, blade.cg_vertical_mm)
    rows: tuple[Record, ...] = (
        *(_row(line) for line in statement.lines),
        *({"part": name, "source": "not weighed"} for name in statement.unweighed),
        _sum("one blade", blade.mass_g, blade_cg) | {"on": "blade", "count": craft.blades},
        _masses(on_hub) | {"part": "on the hub", "kind": "sum", "on": hub, "count": 1},
        _sum("whole craft", craft.mass_g, (craft.cg_x_mm, craft.cg_y_mm, craft.cg_z_mm)),
    )
    return Sheet(MASS_KEYS, rows)


def _line(line: Line) -> dict[str, Any]:
    """One line: name, count, stock, its measure and figure under keys that name them, masses, place, sources."""
    figure, per = line.figure.figure, line.figure.per
    return {
        "name": line.name,
        "what": line.role,
        "on": line.assembly,
        "count": line.count,
        "stock": line.stock,
        "path": line.path,
        _MEASURES[per]: line.amount,
        _FIGURES[figure.unit]: ends((figure.low, figure.typical, figure.high)),
        "source": figure.source,
        **({_ACROSS[per]: line.figure.across} if figure.unit == "kg/m3" and per in _ACROSS else {}),
        **_printed(line.share),
        "mass_one_g": ends(line.one_g),
        "mass_g": ends(line.set_g),
        **dict(zip(_PLACE, line.place_mm, strict=True)),
    }


def _printed(share: Figure | None) -> dict[str, Any]:
    """How much of a print is there: typical, its band, and who says so; nothing of what isn't printed."""
    if share is None:
        return {}
    band = ends((share.low, share.typical, share.high))
    return {"print_share": share.typical, "print_share_band": band, "print_share_source": share.source}


def _row(line: Line) -> Record:
    """The same on one level, whatever figure it is under one key."""
    figure, plain = line.figure.figure, _line(line)
    row: Record = {"part": line.name, "kind": line.role, "figure_unit": figure.unit}
    if (across := plain.get(_ACROSS.get(line.figure.per, ""))) is not None:
        row["across"] = across
    row |= {f"figure_{end}": getattr(figure, end) for end in _ENDS}
    row |= {key: value for key, value in plain.items() if key in MASS_KEYS}
    row["source"] = figure.source + share_words(line.share)
    return row | _masses(line.one_g, "mass_one") | _masses(line.set_g)


def _sum(name: str, mass: Band, place: Sequence[Band]) -> Record:
    row: Record = {"part": name, "kind": "sum", "count": 1}
    row |= {key: band.typical for key, band in zip(_PLACE, place, strict=True)}
    return row | _masses((mass.low, mass.typical, mass.high))


def _masses(grams: Sequence[float], name: str = "mass") -> Record:
    return {f"{name}_{end}_g": value for end, value in zip(_ENDS, grams, strict=True)}


def share_words(share: Figure | None) -> str:
    """How much of a print is there, and who says so; nothing where the design file says one value."""
    if share is None or (share.source == DESIGN_FILE and share.low == share.high):
        return ""
    some = dict.fromkeys(f"{100 * end:.4g}" for end in (share.low, share.typical, share.high))
    return f"; of that, a print is {', '.join(some)} %; {share.source}"


def ends(triple: Triple) -> dict[str, float]:
    """{"low", "typical", "high"}."""
    return dict(zip(_ENDS, triple, strict=True))


def _bands(record: BladeMass | CraftMass) -> dict[str, Any]:
    values = {one.name: getattr(record, one.name) for one in fields(record)}
    return {name: asdict(value) if isinstance(value, Band) else value for name, value in values.items()}

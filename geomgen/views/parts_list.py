"""What to cut, print and buy, and how many."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen.model.part import Area, Flat, Length, Part, Shaped
from geomgen.model.role import Assembly
from geomgen.views.page import Record, Sheet

KEYS = (
    "part", "kind", "on", "path", "stock", "count_in_one", "count_in_craft",
    "radius_mm", "width_mm", "height_mm", "thickness_mm", "length_mm", "area_mm2", "face", "notes",
)  # fmt: skip


def parts_list(parts: Sequence[Part], blades: int) -> Sheet:
    """A row for every different part of one blade, of the hub and of the bench; blades of the craft [-]."""
    return Sheet(KEYS, tuple(_row(part, blades) for part in parts))


def _row(part: Part, blades: int) -> Record:
    row: Record = {
        "part": part.name,
        "kind": part.role,
        "on": part.assembly,
        "path": part.path,
        "stock": part.stock,
        "count_in_one": part.count,
        "count_in_craft": part.count * (blades if part.assembly == Assembly.BLADE else 1),
        "notes": "; ".join(part.notes),
    }
    if part.r_mm is not None:
        row["radius_mm"] = part.r_mm
    match part.shape:
        case Flat(region=region, thickness_mm=thickness, face=face):
            x0, y0, x1, y1 = region.bounds()
            row |= {"width_mm": x1 - x0, "height_mm": y1 - y0, "thickness_mm": thickness}
            row |= {"area_mm2": region.area(), "face": face}
        case Length(length_mm=length) | Shaped(length_mm=length):
            row["length_mm"] = length
        case Area(area_mm2=area):
            row["area_mm2"] = area
    return row

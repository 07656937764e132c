"""A radius as it is engraved on ribs and what belongs to them."""

from __future__ import annotations

from geomgen import units


def radius_text(r_mm: float, unit: str | None) -> str:
    """Whole mm, or two decimals of another unit: "r 380", "r 14.96 in".

    unit : the design's own; None for mm
    """
    if unit in (None, "mm"):
        return f"r {r_mm:.0f}"
    return f"r {units.in_unit(r_mm, units.LENGTH, unit):.{ {'cm': 1, 'in': 2}.get(unit, 3) }f} {unit}"

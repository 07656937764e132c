"""A radius as it is engraved on ribs and what belongs to them."""

from __future__ import annotations

from geomgen import units
from geomgen.design.schema import Design


def radius_text(design: Design, r_mm: float) -> str:
    """Whole mm, or two decimals of another unit of the design: "r 380", "r 14.96 in"."""
    unit = design.units or "mm"
    if unit == "mm":
        return f"r {r_mm:.0f}"
    return f"r {units.in_unit(r_mm, units.LENGTH, unit):.{ {'cm': 1, 'in': 2}.get(unit, 3) }f} {unit}"

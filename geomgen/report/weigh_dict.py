"""`geomgen weigh` as plain data with stable keys, units in their names."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from geomgen.craft import Craft
from geomgen.mass.as_dict import statement_dict


def weigh_dict(craft: Craft, option: str | None) -> dict[str, Any]:
    """Mass statement, mean lift at the low, typical and high mass, and load path of a craft."""
    return {
        "title": craft.design.title,
        "option": option,
        **statement_dict(craft.mass),
        "mass_guess_g": craft.design.duty.mass_guess,
        "mean_lift": [asdict(lift) for lift in craft.lifts],
        "load_path": asdict(craft.load_path),
    }

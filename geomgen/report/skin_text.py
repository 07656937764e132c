"""What `geomgen check` says of skins laid flat, and of the section a folded board really makes."""

from __future__ import annotations

import textwrap
from typing import Any

from geomgen.craft import Craft
from geomgen.model.part import Flat, Part
from geomgen.report.table import length, table

WIDTH = 110


def skin_text(craft: Craft) -> list[str]:
    """A table of the pieces, and one of the folded section; nothing where there are none."""
    unit = craft.design.units or "mm"
    pages = []
    if craft.skins:
        head = ["piece", "sheet", f"length, {unit}", f"round the root, {unit}", f"round the tip, {unit}"]
        head += ["stretch, %", f"bays miss, {unit}", "sheets"]
        rows = [_row(part, unit) for part in craft.skins]
        words = (
            "Skins, laid flat where the sheet neither stretches nor shrinks as it bends (stretch: what can't be laid "
            "flat and is left to the sheet; bays miss: neighbouring bays laid flat on their own)"
        )
        pages.append(f"{textwrap.fill(words, WIDTH)}\n{table(head, rows, left=2)}")
    if craft.fold_differences:
        head = [f"r, {unit}", f"off by, {unit}", "at, % chord", "area, %", "thickness, %", "camber, %"]
        rows = [
            [
                length(r, unit),
                length(found.greatest * float(craft.blade.chord.at(r)), unit),
                f"{100 * found.at:.0f}",
                f"{100 * found.area:+.1f}",
                f"{100 * found.thickness:+.2f}",
                f"{100 * found.camber:+.2f}",
            ]
            for r, found in craft.fold_differences
        ]
        words = (
            "The section a folded board makes, against the one wanted (area of it; thickness and camber in chord): "
            "flats between the score lines, a rolled nose. Masses are of what is folded"
        )
        pages.append(f"{textwrap.fill(words, WIDTH)}\n{table(head, rows, left=0)}")
    return pages


def _row(part: Part, unit: str) -> list[str]:
    facts = part.facts
    assert isinstance(part.shape, Flat)
    x0, _, x1, _ = part.shape.region.bounds()
    sizes = [length(value, unit) for value in (x1 - x0, facts["girth_root_mm"], facts["girth_tip_mm"])]
    most = 100 * max(abs(facts["stretch_least"]), abs(facts["stretch_most"]))
    return [part.name, part.stock, *sizes, f"{most:.3f}", f"{facts['mismatch_mm']:.3f}", f"{facts['sheets']:.0f}"]


def skin_dict(craft: Craft) -> dict[str, Any]:
    """The same as plain data with stable keys, units in their names."""
    return {
        "skins": [{"name": part.name, "stock": part.stock, **part.facts} for part in craft.skins],
        "folded": [
            {
                "radius_mm": r,
                "greatest_of_chord": found.greatest,
                "at_of_chord": found.at,
                "area_share": found.area,
                "thickness_of_chord": found.thickness,
                "camber_of_chord": found.camber,
            }
            for r, found in craft.fold_differences
        ],
    }

"""What `geomgen check` says of a design whose parts can all be drawn."""

from __future__ import annotations

import textwrap
from typing import Any

from geomgen.craft import Craft
from geomgen.report.table import length, table

WIDTH = 110


def check_text(craft: Craft) -> str:
    """The page: ribs, caps, hub, and what to know of them. Text without a newline at the end."""
    design, unit = craft.design, craft.design.units or "mm"
    rotor = design.rotor
    title = (
        f"{design.title}: every flat part can be drawn\n"
        f"{rotor.blades} blades, {rotor.turn} seen from above, radius {length(rotor.radius, unit)} {unit}"
    )
    head = ["rib", "sheet", f"r, {unit}", f"chord, {unit}", "angle, deg", f"skin, {unit}", "ends at", "holes"]
    rows = [
        [
            blank.place.name,
            blank.place.stock,
            length(blank.place.r_mm, unit),
            length(blank.station.chord_mm, unit),
            f"{blank.station.angle_deg:.2f}",
            length(blank.skin_mm, unit),
            f"{100 * blank.outline.tail_mm / blank.station.chord_mm:.0f} %",
            f"{len(part.shape.region.holes)}",  # type: ignore[union-attr]  # a rib is flat
        ]
        for blank, part in zip(craft.blanks, craft.ribs, strict=True)
    ]
    words = f"Ribs of one blade (angle against the chord at {design.pitch.zero_at}; ends at: of the chord)"
    ribs = f"{words}\n{table(head, rows, left=2)}"
    settings = ", ".join(f"{value:g}" for value in craft.pattern.settings_deg)
    pitch = (
        f"Pitch {settings} deg by {design.pitch.pin.count} pins on an index circle of "
        f"{length(craft.pattern.circle_mm, unit)} {unit} radius; "
        f"a pin's fit leaves ±{craft.pattern.play_deg:.2f} deg of play"
    )
    return "\n\n".join([title, ribs, textwrap.fill(pitch, WIDTH), *notes_text(craft)])


def notes_text(craft: Craft) -> list[str]:
    """Notes on parts, parts with the same note together; no item where there are none."""
    told: dict[str, list[str]] = {}
    for part in craft.parts:
        for note in part.notes:
            told.setdefault(note, []).append(part.name)
    if not told:
        return []
    lines = [
        textwrap.fill(f"{_names(names)}: {note}", WIDTH, initial_indent="  ", subsequent_indent="    ")
        for note, names in told.items()
    ]
    return ["To know\n" + "\n".join(lines)]


def _names(names: list[str]) -> str:
    return ", ".join(names) if len(names) <= 4 else f"{names[0]} to {names[-1]} ({len(names)} parts)"


def check_dict(craft: Craft, option: str | None) -> dict[str, Any]:
    """The same as plain data with stable keys, units in their names."""
    return {
        "title": craft.design.title,
        "option": option,
        "ribs": [
            {
                "name": blank.place.name,
                "stock": blank.place.stock,
                "radius_mm": blank.place.r_mm,
                "chord_mm": blank.station.chord_mm,
                "angle_deg": blank.station.angle_deg,
                "skin_mm": blank.skin_mm,
                "tail_mm": blank.outline.tail_mm,
                "area_mm2": part.shape.region.area(),  # type: ignore[union-attr]
                "holes": len(part.shape.region.holes),  # type: ignore[union-attr]
                "notes": list(part.notes),
            }
            for blank, part in zip(craft.blanks, craft.ribs, strict=True)
        ],
        "pitch_settings_deg": [float(value) for value in craft.pattern.settings_deg],
        "index_circle_mm": craft.pattern.circle_mm,
        "play_deg": craft.pattern.play_deg,
        "notes": {part.name: list(part.notes) for part in craft.parts if part.notes},
    }

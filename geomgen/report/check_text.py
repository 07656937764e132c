"""What `geomgen check` says of a design whose parts can all be drawn."""

from __future__ import annotations

import textwrap
from dataclasses import asdict
from typing import Any

from geomgen.craft import Craft
from geomgen.model.part import Flat, Part
from geomgen.report.skin_text import skin_dict, skin_text
from geomgen.report.table import length, table
from geomgen.units import LENGTH, in_unit

WIDTH = 110


def check_text(craft: Craft) -> str:
    """The page: ribs, caps, hub, and what to know of them. Text without a newline at the end."""
    design, unit = craft.design, craft.design.units or "mm"
    rotor = design.rotor
    title = (
        f"{design.title}: every flat part can be drawn\n"
        f"{rotor.blades} blades, {rotor.turn} seen from above, radius {length(rotor.radius, unit)} {unit}"
    )
    settings = ", ".join(f"{value:g}" for value in craft.pattern.settings_deg)
    pitch = (
        f"Pitch {settings} deg by {design.pitch.pin.count} pins on an index circle of "
        f"{length(craft.pattern.circle_mm, unit)} {unit} radius; "
        f"a pin's fit leaves ±{craft.pattern.play_deg:.2f} deg of play"
    )
    return "\n\n".join(
        [
            title,
            _sections(craft, unit),
            _ribs(craft, unit),
            *skin_text(craft),
            textwrap.fill(pitch, WIDTH),
            *notes_text(craft),
        ]
    )


def _sections(craft: Craft, unit: str) -> str:
    head = [
        "section",
        f"r, {unit}",
        "thick, %",
        "there, %",
        "camber, %",
        "there, %",
        f"nose radius, {unit}",
        f"area, {unit}2",
    ]
    rows = []
    for r, section, measured in craft.sections:
        chord = float(craft.blade.chord.at(r))
        shares = (measured.thickness, measured.thickness_x, measured.camber, measured.camber_x)
        area = in_unit(in_unit(measured.area * chord**2, LENGTH, unit), LENGTH, unit)
        radius = length(measured.nose_radius * chord, unit)
        rows.append([section.name, length(r, unit), *(f"{100 * share:.1f}" for share in shares), radius, f"{area:.4g}"])
    words = "Sections, bare; straight in chord, twist and shape between them (there: at this share of the chord)"
    return f"{words}\n{table(head, rows)}"


def _ribs(craft: Craft, unit: str) -> str:
    head = ["rib", "sheet", f"r, {unit}", f"chord, {unit}", "angle, deg", f"skin, {unit}", "ends at", "holes"]
    head.append(f"least web, {unit}")
    rows = [
        [
            blank.place.name,
            blank.place.stock,
            length(blank.place.r_mm, unit),
            length(blank.station.chord_mm, unit),
            f"{blank.station.angle_deg:.2f}",
            length(blank.skin_mm, unit),
            f"{100 * part.facts['tail_share']:.0f} %",
            f"{_holes(part)}",
            length(part.facts["least_web_mm"], unit) if "least_web_mm" in part.facts else "",
        ]
        for blank, part in zip(craft.blanks, craft.ribs, strict=True)
    ]
    words = (
        f"Ribs of one blade (angle against the chord at {craft.design.pitch.zero_at}; ends at: of the chord; "
        "least web: beside the holes of spars, wires and screws)"
    )
    return f"{textwrap.fill(words, WIDTH)}\n{table(head, rows, left=2)}"


def _holes(part: Part) -> int:
    return len(part.shape.region.holes) if isinstance(part.shape, Flat) else 0


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
        "sections": [
            {
                "name": section.name,
                "origin": section.note,
                "radius_mm": r,
                "thickness_of_chord": measured.thickness,
                "thickness_at_of_chord": measured.thickness_x,
                "camber_of_chord": measured.camber,
                "camber_at_of_chord": measured.camber_x,
                "nose_radius_of_chord": measured.nose_radius,
                "perimeter_of_chord": measured.perimeter,
                "area_of_chord2": measured.area,
            }
            for r, section, measured in craft.sections
        ],
        "ribs": [
            {
                "name": blank.place.name,
                "stock": blank.place.stock,
                "radius_mm": blank.place.r_mm,
                "chord_mm": blank.station.chord_mm,
                "angle_deg": blank.station.angle_deg,
                "skin_mm": blank.skin_mm,
                "tail_mm": blank.outline.tail_mm,
                "area_mm2": part.shape.region.area() if isinstance(part.shape, Flat) else 0.0,
                "holes": _holes(part),
                "least_web_mm": part.facts.get("least_web_mm"),
                "notes": list(part.notes),
            }
            for blank, part in zip(craft.blanks, craft.ribs, strict=True)
        ],
        **skin_dict(craft),
        "order_of_work": [asdict(step) for step in craft.order],
        "pitch_settings_deg": [float(value) for value in craft.pattern.settings_deg],
        "index_circle_mm": craft.pattern.circle_mm,
        "play_deg": craft.pattern.play_deg,
        "notes": {part.name: list(part.notes) for part in craft.parts if part.notes},
    }

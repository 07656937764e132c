"""What `geomgen check` says of a design whose parts can all be drawn: as a page, and as plain data."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from geomgen.craft import Craft
from geomgen.design.schema import Design
from geomgen.errors import Fault
from geomgen.figures import mm
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.root.pattern import PitchPattern
from geomgen.root.wedge_pattern import Wedge
from geomgen.views.file_names import CARD
from geomgen.views.make import noted, to_know
from geomgen.views.order_page import step_data
from geomgen.views.page import Page, Row, Section, Table, as_columns
from geomgen.views.pitch_error import pitch_error_data, pitch_lines, pitch_tables
from geomgen.views.quantity import Area, Length, Number
from geomgen.views.verdict import verdict_data, verdict_sections


def check_page(craft: Craft, warnings: Sequence[Fault] = (), *, notes: bool = False) -> Page:
    """Verdict, ribs, skins and pitch; with the notes, what the sections measure and what to know of the parts.

    warnings : those of the craft, each with its file and line
    """
    design, pattern, unit = craft.design, craft.pattern, craft.design.units or "mm"
    rotor = design.rotor
    title = (
        f"{design.title}: every flat part can be drawn\n"
        f"{rotor.blades} blades, {rotor.turn} seen from above, radius {mm(rotor.radius, 1)}"
    )
    verdict = verdict_sections(craft.verdict, warnings, len(noted(craft.finished)))
    more = (*pitch_tables(craft), _sections(craft), *to_know(craft.finished)) if notes else ()
    return Page(
        ((title,), *verdict, pitch_lines(craft), _ribs(craft), *_laid_flat(craft), (_pitch(design, pattern),), *more),
        unit,
    )


def _pitch(design: Design, pattern: PitchPattern) -> str:
    """What pitches can be set, by what, and what else the pins do."""
    settings, inside = (
        ", ".join(f"{value:g}" for value in some) for some in (pattern.settings_deg, pattern.inside_deg)
    )
    fits = "a pin's fit leaves" if pattern.wedge is None else "fits of pins and wedges leave"
    said = [
        f"Pitch {settings} deg by {design.pitch.pin.count} pins on an index circle of {mm(pattern.circle_mm, 1)} "
        "radius",
        f"{fits} ±{pattern.play_deg:.2f} deg of play",
    ]
    if pattern.wedge is not None:
        flown = pattern.marked(design.pitch.set)
        said.append(f"pins go through wedges in the fixed cap, one for each pitch: those marked {flown} to fly at")
    if pattern.kind == "paired" and not pattern.by_hole:
        flown = pattern.marked(design.pitch.set)
        said.append(f"pins go where both caps are marked alike, {flown} for the {design.pitch.set:g} deg to fly at")
    if pattern.lettered:
        said.append(f"{CARD}, which make writes, says which holes take them at each pitch")
    if pattern.inside_deg:
        said.append(f"they also go in at {inside} deg")
    if pattern.stop:
        said.append("a stop pin keeps the blade within the range")
    kinds = {"plain": "Plain holes", "paired": "Paired holes", "wedge": "Wedges"}
    why = f". {kinds[pattern.kind]}, as {pattern.why}" if pattern.why else ""
    return f"{'; '.join(said)}{why}"


def _sections(craft: Craft) -> Section:
    columns = as_columns(
        "section", "r, mm", "thick, %", "there, %", "camber, %", "there, %", "nose radius, mm", "area, mm2"
    )  # fmt: skip
    rows: list[Row] = []
    for r, shape, measured in craft.sections:
        chord = float(craft.blade.chord.at(r))
        shares = (measured.thickness, measured.thickness_x, measured.camber, measured.camber_x)
        nose, area = Length(measured.nose_radius * chord), Area(measured.area * chord**2)
        rows.append((shape.name, Length(r), *(_percent(share, 1) for share in shares), nose, area))
    words = "Sections, bare; straight in chord, twist and shape between them (there: at this share of the chord)"
    return words, Table(columns, tuple(rows))


def _ribs(craft: Craft) -> Section:
    columns = as_columns(
        "rib", "sheet", "r, mm", "chord, mm", "angle, deg", "skin, mm", "ends at", "holes", "least web, mm"
    )  # fmt: skip
    rows = tuple(
        (
            blank.place.name,
            blank.place.stock,
            Length(blank.place.r_mm),
            Length(blank.station.chord_mm),
            Number(blank.station.angle_deg, 2),
            Length(blank.skin_mm),
            f"{100 * part.facts['tail_share']:.0f} %",
            len(_flat(part).region.holes),
            Length(part.facts["least_web_mm"]) if "least_web_mm" in part.facts else "",
        )
        for blank, part in zip(craft.blanks, craft.finished_of(Role.RIB), strict=True)
    )
    zero = craft.design.pitch.zero_at
    place = zero if zero.mm is None else mm(zero.mm)
    words = f"Ribs of one blade (angle: against the chord at {place}; ends at: of the chord)"
    return words, Table(columns, rows, left=2)


def _laid_flat(craft: Craft) -> Iterator[Section]:
    """Pieces of the skin, and the section that a folded board really makes; nothing where there are none."""
    if craft.skins:
        columns = as_columns(
            "piece", "sheet", "length, mm", "round the root, mm", "round the tip, mm", "stretch, %", "bays miss, mm",
            "sheets",
        )  # fmt: skip
        words = "Skins, laid flat (stretch: what is left to the sheet; bays miss: laid flat on their own)"
        yield words, Table(columns, tuple(_skin(part) for part in craft.skins), left=2)
    if craft.fold_differences:
        columns = as_columns("r, mm", "off by, mm", "at, % chord", "area, %", "thickness, %", "camber, %")
        rows = tuple(
            (
                Length(r),
                Length(found.greatest * float(craft.blade.chord.at(r))),
                _percent(found.at, 0),
                _percent(found.area, 1, signed=True),
                _percent(found.thickness, 2, signed=True),
                _percent(found.camber, 2, signed=True),
            )
            for r, found in craft.fold_differences
        )
        words = (
            "The section a folded board makes, against the one wanted (area of it; thickness and camber in chord): "
            "flats between the score lines, a rolled nose. Masses are of what is folded"
        )
        yield words, Table(columns, rows, left=0)


def _skin(part: Part) -> Row:
    facts, (x0, _, x1, _) = part.facts, _flat(part).region.bounds()
    sizes = (Length(x1 - x0), Length(facts["girth_root_mm"]), Length(facts["girth_tip_mm"]))
    most = _percent(max(abs(facts["stretch_least"]), abs(facts["stretch_most"])), 3)
    return part.name, part.stock, *sizes, most, Length(facts["mismatch_mm"], 3), Number(facts["sheets"], 0)


def _percent(share: float, digits: int, signed: bool = False) -> Number:
    return Number(100 * share, digits, signed)


def _flat(part: Part) -> Flat:
    assert isinstance(part.shape, Flat)
    return part.shape


def pattern_data(pattern: PitchPattern) -> dict[str, Any]:
    """Every pitch that can be pinned: which holes take the pins, how they are lettered, and what stops the others."""
    return {
        "kind": pattern.kind,
        "rim_mm": pattern.rim_mm,
        "settings": [
            {
                "pitch_deg": pitch,
                "marked": name,
                "turning_holes": [turning + 1 for turning, _ in pairs],
                "fixed_holes": [fixed + 1 for _, fixed in pairs],
            }
            for pitch, name, pairs in zip(pattern.settings_deg, pattern.names(), pattern.pairs, strict=True)
        ],
        "turning_holes": [{"radius_mm": radius, "angle_deg": angle} for radius, angle in pattern.turning_holes],
        "fixed_holes": [{"radius_mm": radius, "angle_deg": angle} for radius, angle in pattern.fixed_holes],
        "wedge": pattern.wedge and _wedge_data(pattern.wedge),
        "unwanted_in_range_deg": list(pattern.inside_deg),
        "unwanted_stopped_deg": list(pattern.outside_deg),
        "stopped_by": "stop pin" if pattern.stop else None,
    }


def _wedge_data(wedge: Wedge) -> dict[str, Any]:
    """Corners in its own frame: x along the tangent, y outwards, from the index circle at the middle of the range."""
    return {
        "middle_deg": wedge.middle_deg,
        "fit_mm": wedge.fit_mm,
        "corners_mm": wedge.outline().xy.tolist(),
        "windows_at_deg": list(wedge.stand_deg),
    }


def check_data(craft: Craft, option: str | None, warnings: Sequence[Fault] = ()) -> dict[str, Any]:
    """All of it with stable keys, units in their names."""
    ribs = zip(craft.blanks, craft.finished_of(Role.RIB), strict=True)
    return {
        "title": craft.design.title,
        "option": option,
        **verdict_data(craft.verdict, warnings),
        "sections": [
            {
                "name": shape.name,
                "origin": shape.note,
                "radius_mm": r,
                "thickness_of_chord": measured.thickness,
                "thickness_at_of_chord": measured.thickness_x,
                "camber_of_chord": measured.camber,
                "camber_at_of_chord": measured.camber_x,
                "nose_radius_of_chord": measured.nose_radius,
                "perimeter_of_chord": measured.perimeter,
                "area_of_chord2": measured.area,
            }
            for r, shape, measured in craft.sections
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
                "area_mm2": _flat(part).region.area(),
                "holes": len(_flat(part).region.holes),
                "least_web_mm": part.facts.get("least_web_mm"),
                "notes": list(part.notes),
            }
            for blank, part in ribs
        ],
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
        "order_of_work": [step_data(step, craft.names) for step in craft.order],
        "pitch_settings_deg": [float(value) for value in craft.pattern.settings_deg],
        "pitch_pattern": pattern_data(craft.pattern),
        "index_circle_mm": craft.pattern.circle_mm,
        "play_deg": craft.pattern.play_deg,
        **pitch_error_data(craft),
        "notes": {part.name: list(part.notes) for part in craft.finished if part.notes},
    }

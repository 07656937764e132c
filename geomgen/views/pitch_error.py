"""How far a blade's pitch may be off, and which way what is fixed to its ribs points: lines, tables, plain data."""

from __future__ import annotations

from typing import Any

from geomgen.craft import Craft
from geomgen.design.schema import Design
from geomgen.root.fan_tilt import FanTilt
from geomgen.root.pitch_error import Cause
from geomgen.views.page import Item, Section, Table, as_columns
from geomgen.views.quantity import Number


def pitch_lines(craft: Craft) -> Section:
    """What to act on first: how far a blade is off and what would shrink it; which way fans pull."""
    error, first = craft.pitch_error, craft.pitch_error.causes[0]
    share = 100.0 * craft.lift_per_pitch.blade_share_per_deg * error.apart_likely_deg
    off = (
        f"Pitch of a blade: ±{error.likely_deg:.1f} deg (root of squares), ±{error.worst_deg:.1f} at worst; between "
        f"two blades ±{error.apart_likely_deg:.1f} deg, {share:.0f} % of a blade's lift. Largest: {first.what}, "
        f"±{first.limit_deg:.1f} deg: {first.remedy}."
    )
    return off, *(_tilt_line(tilt) for tilt in craft.tilts)


def _tilt_line(tilt: FanTilt) -> str:
    up, pitch = 100.0 * tilt.up(tilt.set_deg), tilt.set_deg
    points = f"Fitting {tilt.name} pulls {abs(up):.0f} % {'upward' if up >= 0.0 else 'downward'} at {pitch:g} deg"
    if tilt.level_at_deg is not None:
        return f"{points}: its mount is turned to pull along the tangent at {tilt.level_at_deg:g} deg."
    if not tilt.mounted:
        return f"{points}; it has no mount to turn."
    return f'{points}; level_at = "{pitch:g} deg" in [fitting.{tilt.name}] would turn its mount.'


def pitch_tables(craft: Craft) -> tuple[Section, ...]:
    """The causes, largest first, and what fixed things do at every pitch."""
    return (_causes(craft), *((_tilts(craft.tilts),) if craft.tilts else ()))


def _causes(craft: Craft) -> Section:
    error, lift = craft.pitch_error, craft.lift_per_pitch
    rows = [
        *((cause.what, _said(craft.design, cause), cause.limit_deg, cause.spread_deg) for cause in error.causes),
        ("one blade", "", error.worst_deg, error.likely_deg),
        ("between two blades", "", error.apart_worst_deg, error.apart_likely_deg),
    ]
    figures = tuple((what, said, Number(worst, 2), Number(likely, 2)) for what, said, worst, likely in rows)
    columns = as_columns("cause", "its figure is", "at most, deg", "counted, deg")
    words = (
        "At most: either way, and all of them at once. Counted: for the root of squares, causes independent, each as "
        "likely anywhere within its limits. A degree of pitch is worth "
        f"{100.0 * lift.share_per_deg:.0f} % of the rotor's lift at the rpm that carries it, and between two blades, "
        "which work in the same air, "
        f"{100.0 * lift.blade_share_per_deg:.0f} % of a blade's: textbook, without losses at tip and root."
    )
    if error.eased >= 0.005:
        words += f" The pins of {100.0 * error.eased:.0f} blades in 100 don't go in until holes are eased."
    remedies = (Item("note", f"{cause.what}: {cause.remedy}") for cause in error.causes)
    return "How far a blade's pitch may be off", Table(columns, figures, left=2, foot=2), words, *remedies


def _said(design: Design, cause: Cause) -> str:
    if cause.path == "pitch.fixing.screw":
        return "as holes are drilled"
    return "your own" if given(design, cause.path) else "a guess"


def given(design: Design, path: str) -> bool:
    """Whether a design file says itself what lies at a key path."""
    value: Any = design
    for step in path.split("."):
        if not isinstance(value, dict) and step not in value.model_fields_set:
            return False
        value = value[step] if isinstance(value, dict) else getattr(value, step)
    return value is not None


def _tilts(tilts: tuple[FanTilt, ...]) -> Section:
    rows = tuple(
        (
            tilt.name,
            tilt.rib,
            Number(pitch, 1),
            Number(tilt.tilt_deg(pitch), 2),
            Number(100.0 * tilt.up(pitch), 1),
            Number(100.0 * tilt.along(pitch), 1),
        )
        for tilt in tilts
        for pitch in tilt.settings_deg
    )
    columns = as_columns(
        "fitting", "rib", "pitch, deg", "points up by, deg", "of its pull up, %", "along the tangent, %"
    )
    return "What is fixed to a rib turns with the blade", Table(columns, rows, left=2)


def pitch_error_data(craft: Craft) -> dict[str, Any]:
    """The same with stable keys, units in their names."""
    error, lift = craft.pitch_error, craft.lift_per_pitch
    return {
        "pitch_error": {
            "root_of_squares_deg": error.likely_deg,
            "worst_deg": error.worst_deg,
            "between_blades_root_of_squares_deg": error.apart_likely_deg,
            "between_blades_worst_deg": error.apart_worst_deg,
            "thrust_coefficient": lift.thrust_coefficient,
            "lift_share_per_deg": lift.share_per_deg,
            "blade_lift_share_per_deg": lift.blade_share_per_deg,
            "blades_eased_share": error.eased,
            "causes": [
                {
                    "cause": cause.what,
                    "key": cause.path,
                    "guess": not given(craft.design, cause.path),
                    "limit_deg": cause.limit_deg,
                    "counted_deg": cause.spread_deg,
                    "remedy": cause.remedy,
                }
                for cause in error.causes
            ],
        },
        "fitting_tilts": [
            {
                "fitting": tilt.name,
                "rib": tilt.rib,
                "section_deg": tilt.angle_deg,
                "level_at_deg": tilt.level_at_deg,
                "mount_turned_deg": tilt.turned_deg,
                "settings": [
                    {
                        "pitch_deg": pitch,
                        "tilt_deg": tilt.tilt_deg(pitch),
                        "up_share": tilt.up(pitch),
                        "tangent_share": tilt.along(pitch),
                    }
                    for pitch in tilt.settings_deg
                ],
            }
            for tilt in craft.tilts
        ],
    }

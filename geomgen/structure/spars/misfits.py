"""What is said of flat things that have no place in the section."""

from __future__ import annotations

from typing import Any

from geomgen.errors import Fault
from geomgen.figures import at_least, at_most, mm
from geomgen.model.layout import Slice
from geomgen.structure.spars.kind import Member


def left_section(member: Member[Any], at: Slice | None, wrong: str, width_mm: float) -> Fault:
    """The fault of a thing that a rib's inside doesn't reach over: how far it reaches, and where the rib does.

    wrong    : what is wrong, and where along the blade
    width_mm : its width along the chord [mm]
    """
    path, remedy = f"{member.path}.chord", "another chord, or end it sooner"
    if at is None:
        return Fault(path, "", f"{wrong}: what covers the blade leaves no rib there", "", remedy)
    low, high = member.x_mm(at.station) - width_mm / 2, member.x_mm(at.station) + width_mm / 2
    allowed = f"between {at_least(at.outline.nose_mm, 1)} and {at_most(at.outline.tail_mm, 1)}, where the rib is"
    return Fault(path, "", f"{wrong}: it would lie {mm((low, high), 1, ' to ')} behind the nose", allowed, remedy)


def astride(member: Member[Any], at: Slice, width_mm: float) -> list[Fault]:
    """The fault of a flat thing that stands across the step where a sheet ends; none where what covers it is even.

    width_mm : its width along the chord [mm]
    """
    station, x = at.station, member.x_mm(at.station)
    over = member.layout.cover(station.r_mm)
    if over.step is None or over.ahead_mm == over.behind_mm:
        return []
    step = over.step * station.chord_mm
    if abs(x - step) >= width_mm / 2:
        return []
    wrong = f"it stands across the step at the sheet's end, {mm(step, 1)} from the nose at r {mm(station.r_mm, 0)}"
    allowed = f"{mm(width_mm / 2, 1)} or more from it, it is at {mm(x, 1)}"
    remedy = "move one of them, or take caps on the ribs as thick as the sheet"
    return [Fault(f"{member.path}.chord", "", wrong, allowed, remedy)]

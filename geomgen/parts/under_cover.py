"""Ribs' outlines under what covers them: one depth all round, or a step where the sheet ends, and strips at the ends."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen.blade.station import Station
from geomgen.parts.cover import Cover
from geomgen.parts.under_skin import Outline, under_skins


def under_covers(
    stations: Sequence[Station], covers: Sequence[Cover], least_tail_mm: float, paths: Sequence[str]
) -> list[Outline | None]:
    """The outline of a rib at each of k stations, or None where what covers it leaves nothing deep enough.

    stations      : the placed sections
    covers        : what lies over each
    least_tail_mm : a rib ends where its depth falls below this [mm]
    paths         : for each, the key path to blame where the outline can't be drawn
    """
    return under_skins(stations, [cover.ahead_mm for cover in covers], least_tail_mm, paths)

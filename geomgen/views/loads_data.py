"""Loads and margins as plain data: stable keys, units in their names."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from geomgen.arrays import FloatArray
from geomgen.balance.chordwise import Chordwise
from geomgen.craft import Craft
from geomgen.errors import Fault
from geomgen.strength.blade_loads import GREATEST, TYPICAL
from geomgen.strength.held import Held, rpm_of
from geomgen.strength.link import Link
from geomgen.strength.margins import Margin
from geomgen.views.loads_csv import RESULTANTS
from geomgen.views.verdict import verdict_data

UNITS = {"MPa": "mpa", "N/mm": "n_per_mm", "N": "n", "N m": "nm"}


def loads_data(craft: Craft, option: str | None = None, warnings: Sequence[Fault] = ()) -> dict[str, Any]:
    """All that the page says, and every link by itself."""
    found = craft.held
    head = {"title": craft.design.title, "option": option, **verdict_data(craft.verdict, warnings)}
    if found is None:
        return head | {"loads": None}
    twisted = None if craft.as_twisted is None else asdict(craft.as_twisted)
    return head | {"loads": held_data(found, craft.balance.chordwise) | {"twisted_in_hover": twisted}}


def held_data(found: Held, chordwise: Chordwise) -> dict[str, Any]:
    """Margins, least first; links without one; loads by case; stiffness; swings."""
    judged, loads = found.judged, found.loads
    return {
        "factor": found.factor,
        "links": [_margin(found, one) for one in judged.margins],
        "not_judged": [_link(link) | {"why": why} for link, why in judged.unknown],
        "carries_nothing": [_link(link) for link in judged.idle],
        "r_mm": loads.r_mm.tolist(),
        "cases": [_case(found, k) for k in range(len(loads.cases))],
        "stiffness": {
            "r_mm": found.stiffness.r_mm.tolist(),
            "ea_n": found.stiffness.ea_n.tolist(),
            "ei_nm2": found.stiffness.ei_nm2.tolist(),
            "gj_nm2": found.stiffness.gj_nm2.tolist(),
            "centre_mm": found.stiffness.centre.tolist(),
        },
        "frequencies": {
            "rpm": found.frequencies.rpm.tolist(),
            "working_rpm": list(found.frequencies.working),
            "modes": [{"name": mode.name, "hz": mode.hz.tolist()} for mode in found.frequencies.modes],
            "crossings": [
                {"mode": each.mode, "per_turn": each.per_turn, "rpm": each.rpm, "near_working_range": each.near}
                for each in found.crossings
            ],
        },
        "divergence_rpm": None if found.divergence_rad_s is None else rpm_of(found.divergence_rad_s),
        "chordwise": {
            "ahead_of_feather_axis_mm": chordwise.weighted.feather_mm,
            "ahead_of_quarter_chord_mm": chordwise.weighted.quarter_mm,
            "nose_weight_to_quarter_chord_g": chordwise.mends.weighted_g,
            "nose_weight_r_mm": chordwise.mends.r_mm,
            "nose_weight_forward_mm": chordwise.mends.forward_mm,
        },
        "rests_on": [*found.words, *found.frequencies.words],
    }


def _link(link: Link) -> dict[str, Any]:
    hangs, on = link.between
    return {
        "name": link.name,
        "fails": str(link.fails),
        "path": link.path,
        "r_mm": link.r_mm,
        "hangs": {"role": str(hangs.role), "path": hangs.path, "mark": list(hangs.mark)},
        "on": {"role": str(on.role), "path": on.path, "mark": list(on.mark)},
        "alone": link.alone,
        "gives_way": link.gives_way,
        "note": link.note,
    }


def _margin(found: Held, one: Margin) -> dict[str, Any]:
    link, unit = one.link, UNITS.get(one.link.unit, one.link.unit)
    ends = "low", "typical", "high"
    case = found.case_of(one)
    return _link(link) | {
        "margin": {"worst": one.worst, "typical": _number(one.typical)},
        "asked_times": one.asked,
        f"stress_{unit}": {"typical": one.stress[TYPICAL], "greatest": one.stress[GREATEST]},
        f"strength_{unit}": {end: getattr(one.strength, end) for end in ends} | {"source": one.strength.source},
        "case": case.name,
        "time_s": case.time_s,
        "rpm": rpm_of(case.rad_s),
        "doubt_by_load": one.by_load,
        "doubt_by_strength": 1.0 - one.by_load,
        "helps": [
            {"path": each.path, "was": each.was, "to": each.to, "margin": one.worst * each.times}
            for each in sorted(link.helps, key=lambda each: -each.times)
        ],
    }


def _case(found: Held, k: int) -> dict[str, Any]:
    loads, case, socket = found.loads, found.loads.cases[k], found.loads.socket

    def both(of: FloatArray) -> dict[str, Any]:
        return {"typical": of[TYPICAL, k].tolist(), "greatest": of[GREATEST, k].tolist()}

    return {
        "case": case.name,
        "time_s": case.time_s,
        "rpm": rpm_of(case.rad_s),
        "gains_rad_s2": case.gains,
        **{key: both(getattr(loads.along, key)) for key in RESULTANTS},
        "twist_deg": both(loads.twist_deg),
        "fan_n": both(loads.fan_n),
        "tip_up_mm": both(loads.droop_mm),
        "hub": {
            "collar_n": both(socket.collar_n),
            "inner_end_forward_up_n": both(socket.inner_n),
            "outer_end_forward_up_n": both(socket.outer_n),
            "pins_nm": both(socket.pins_nm),
        },
    }


def _number(value: float) -> float | None:
    return value if math.isfinite(value) else None

"""Hover as plain data: stable keys, units in their names."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from geomgen.craft import Craft
from geomgen.errors import Fault
from geomgen.hover.doubt import MODEL_POWER, MODEL_THRUST
from geomgen.hover.flight import Flight
from geomgen.hover.hovering import Hovering
from geomgen.hover.power.chain import Beyond, Working
from geomgen.hover.rotor import NoSetting, Setting
from geomgen.views.hover import power_rows
from geomgen.views.verdict import verdict_data


def hover_data(craft: Craft, option: str | None = None, warnings: Sequence[Fault] = ()) -> dict[str, Any]:
    """All that the page says."""
    found = craft.hover
    head = {"title": craft.design.title, "option": option, **verdict_data(craft.verdict, warnings)}
    return head | {"hover": None if found is None else _data(found)}


def _data(found: Hovering) -> dict[str, Any]:
    flown = found.flown.setting
    return {
        "weight_n": found.weight_n,
        "model": {"thrust_share": MODEL_THRUST, "power_shares": list(MODEL_POWER)},
        "lift_left_wanted": found.lift_left,
        "pitches": [
            _pitch(each, each in found.pinned)
            for each in sorted((*found.pinned, *found.others), key=lambda each: each.pitch_deg)
        ],
        "flown_deg": found.flown.pitch_deg,
        "bands": {
            name: {"low": band.low, "typical": band.typical, "high": band.high, "causes": dict(band.causes)}
            for name, band in found.bands.items()
        },
        "power_w": dict(power_rows(found, flown)) if isinstance(flown, Setting) else None,
        "theories": _theories(found),
        "controls": [
            {
                "at": "fan" if each.at_tip else "hub",
                "wire_a": each.wire_a,
                "drop_v": each.drop_v,
                "wires_w": each.working.wires_w,
                "cells_w": each.working.taken_w,
                "warmer_k": each.rise_k,
                "warmer_at_full_throttle_k": each.full_rise_k,
                "stands": each.stands.name.lower(),
            }
            for each in found.controls
        ],
        "ground": [
            {"height_r": each.height, "rpm": list(each.rpm), "air_w": list(each.air_w)} for each in found.ground
        ],
        "coning_deg": found.coning_deg,
        "along": _along(flown) if isinstance(flown, Setting) else None,
        "lacks": list(found.lacks),
        "rests_on": list(found.words),
    }


def _pitch(each: Flight, pinned: bool) -> dict[str, Any]:
    at = each.setting
    plain: dict[str, Any] = {"pitch_deg": each.pitch_deg, "pinned": pinned, "holds": each.holds}
    if isinstance(at, NoSetting):
        return plain | {"why": at.why}
    plain |= {
        "rpm": at.rpm,
        "air_w": at.air_w,
        "induced_w": at.blades.induced_w,
        "profile_w": at.blades.profile_w,
        "housings_w": at.nacelle_w,
        "fan_n": at.fan_n,
        "fans_up_n": at.fans_up_n,
    }
    if isinstance(each.working, Beyond):
        plain["throttle"] = each.working.throttle if each.working.throttle < 1e9 else None
    elif isinstance(each.working, Working):
        plain |= {"throttle": each.working.throttle, "cells_w": each.working.taken_w, "pack_a": each.working.pack_a}
        plain |= {"pack_v": each.working.pack_v, "motor_a": each.working.motor_a}
    if each.lasts is not None:
        plain |= {"minutes": each.lasts.minutes, "ends_by": each.lasts.stop.name.lower()}
    if each.full is not None:
        plain["full_throttle"] = {
            "rpm": each.full.rpm,
            "lift_left": each.full.lift_left,
            "fan_n": each.full.working.thrust_n,
            "past_stall": each.full.stalled,
        }
    return plain


def _theories(found: Hovering) -> dict[str, Any] | None:
    if found.theories is None:
        return None
    each = {
        point.theory: {"thrust_coefficient": point.thrust, "torque_coefficient": point.torque}
        for point in (found.theories.lifting_line, found.theories.annuli)
    }
    return {**each, "apart": found.theories.apart, "more_than_15_percent": found.theories.warn}


def _along(at: Setting) -> dict[str, Any]:
    loads = at.blades.point.loads
    return {
        "r_mm": (at.blades.r_m * 1e3).tolist(),
        "angle_deg": (loads.alpha_rad * 57.29577951308232).tolist(),
        "lift_coefficient": loads.forces.lift.tolist(),
        "drag_coefficient": loads.forces.drag.tolist(),
        "lift_n": at.blades.lift_n.tolist(),
    }

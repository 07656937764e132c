"""The hub's figures with one of them changed, as `root/hub.py` would work them out."""

from __future__ import annotations

from dataclasses import replace

from geomgen.root.hub_spec import HubSpec


def with_wall(spec: HubSpec, wall_mm: float) -> HubSpec:
    """A hub with walls of another thickness; flange and screws stay where they are."""
    boss_end = spec.collar_seat + 2.0 * wall_mm
    return replace(
        spec,
        wall=wall_mm,
        boss=spec.pocket + 2.0 * wall_mm,
        boss_end=boss_end,
        arm=spec.socket + 2.0 * wall_mm,
    )

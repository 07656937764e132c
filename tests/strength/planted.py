"""A design that is strong all over, weaknesses that are planted in it one key at a time, and what ought to be named."""

from __future__ import annotations

import pathlib
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.reader import DesignFile, read_text
from geomgen.design.vary import vary
from geomgen.model.role import Role
from geomgen.strength.link import Fails
from geomgen.strength.margins import Margin

STRONG = pathlib.Path(__file__).with_name("strong.toml")
LEAST = 1.5  # margin that each link of the strong design has at least


@dataclass(frozen=True)
class Planted:
    """One weakness.

    path  : key path that is changed
    to    : its weak value
    fails : how what is weakest then fails
    at    : key path of that link's table
    role  : of the part that hangs there
    """

    path: str
    to: Any
    fails: Fails
    at: str
    role: Role


CLAMP = {"kind": "clamped", "screw": "M5", "count": 2}
WEAK = {
    "thin wall of the hub": Planted("hub.wall", "4.5 mm", Fails.SPLIT, "hub", Role.HUB),
    "thin floor": Planted("hub.floor", "6 mm", Fails.BENT, "hub", Role.HUB),
    "layers across the pull at the arm's root": Planted("hub.layers", "upright", Fails.SPLIT, "hub", Role.HUB),
    "short glue of the collar": Planted(
        "hub.collar.fixing.length", "12 mm", Fails.UNSTUCK, "hub.collar.fixing", Role.SPAR
    ),
    "tube crushed by a clamp": Planted("hub.collar.fixing", CLAMP, Fails.CRUSHED, "hub.collar.fixing", Role.SPAR),
    "loose socket": Planted("hub.socket.fit", "0.3 mm", Fails.CRUSHED, "blade.spar.main", Role.SPAR),
    "pin near an edge": Planted("pitch.pin.web", "1.5 mm", Fails.SHEARED_OUT, "pitch.turning_cap", Role.PIN),
    "balsa at 80 kg/m3": Planted(
        "stock.balsa_4.density", "80 kg/m3", Fails.UNSTUCK, "blade.ribs.rest", Role.RIB
    ),
    "ribs far apart": Planted(
        "blade.ribs.rest.every", "150 mm", Fails.BENT, "blade.construction.stock", Role.SHEETING
    ),
    "thin web between the caps": Planted(
        "stock.balsa_2.thickness", "0.6 mm", Fails.BUCKLED, "blade.spar.caps.web", Role.WEB
    ),
    "thin bars of a truss": Planted(
        "blade.ribs.rest.lighten.web", "1.5 mm", Fails.PULLED_APART, "blade.ribs.rest", Role.RIB
    ),
    "short sleeve": Planted(
        "blade.spar.main.joint.length", "20 mm", Fails.UNSTUCK, "blade.spar.main.joint", Role.SPAR
    ),
    "a tube that its maker tested": Planted(
        "stock.carbon_tube_10.strength", {"compression": "80 MPa"}, Fails.BENT, "blade.spar.main", Role.SPAR
    ),
    "thin wall of the tube": Planted(
        "stock.carbon_tube_10.inside", "9 mm", Fails.CRUSHED, "blade.spar.main", Role.RIB
    ),
    "light film": Planted("stock.film.areal", "6 g/m2", Fails.PULLED_APART, "blade.construction.cover", Role.FILM),
}  # fmt: skip


@lru_cache
def strong() -> DesignFile:
    """The design before anything is planted in it."""
    return read_text(STRONG.read_text(encoding="utf-8"), STRONG.name)


def changed(path: str, to: Any, cache: Cache | None = None) -> Craft:
    """The strong design with one key changed."""
    return Craft(vary(strong(), {path: to}).design, None, cache, exact=False)


def named(margin: Margin) -> tuple[Fails, str, Role]:
    """What a margin's link is, by data: how it fails, where it stands in the file, and what hangs there."""
    return margin.link.fails, margin.link.path, margin.link.between[0].role

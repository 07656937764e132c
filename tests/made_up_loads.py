"""Loads, links and swings that nobody worked out: round figures, for whoever shows them."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.materials.figure import Figure
from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.strength.blade_loads import BladeLoads, Case, Resultants, SocketForces
from geomgen.strength.cross_section import Stiffness
from geomgen.strength.held import Crossing, Frequencies, Held, Mode
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.margins import judged

HUB, COLLAR, SPAR = Key(Role.HUB, "hub"), Key(Role.COLLAR, "hub.collar"), Key(Role.SPAR, "blade.spar.main")
RPM_MAX = 345.0
CASES = (
    Case("at rest", 0.0),
    Case("hovering", 250.0 * math.pi / 30.0, fan_n=0.6),
    Case("at rpm_max", RPM_MAX * math.pi / 30.0),
    Case("on the start", 20.0 * math.pi / 30.0, gains=3.0, fan_n=1.9, time_s=0.5),
    Case("on the start", 180.0 * math.pi / 30.0, gains=2.0, fan_n=1.7, time_s=1.0),
)
SHARE = np.array([0.05, 0.5, 1.0, 0.02, 0.3])  # of the stress at the highest speed, by case


def strength(low: float, typical: float, unit: str = "MPa") -> Figure:
    return Figure(low, typical, 1.3 * typical, unit, "from memory")


def link(name: str, fails: Fails, path: str, stress: float, known: Figure | None, **more: Any) -> Link:
    """A link with so much stress at rpm_max, a quarter more at its worst."""
    rows = np.array([SHARE, 1.25 * SHARE]) * stress
    plain: dict[str, Any] = {"r_mm": None, "between": (HUB, HUB), "unit": known.unit if known else "MPa"}
    return Link(name=name, fails=fails, path=path, stress=rows, strength=known, **(plain | more))


def rib(number: int) -> Link:
    key = Key(Role.RIB, "blade.ribs", (number,))
    known = strength(1.5, 2.4)
    return link(
        f"rib R{number:02} on its spar", Fails.UNSTUCK, "blade.ribs", 0.1 + 0.005 * number, known,
        r_mm=150.0 + 40.0 * number, between=(key, SPAR), helps=(Help("blade.ribs.sheet", "3", "4", 1.33),),
    )  # fmt: skip


def links() -> tuple[Link, ...]:
    """Margins at the factor of 3: collar .84, arm 1.12, wall 2.0, ribs 2.4 to 4 and so on; two without a figure."""
    return (
        link("arm of the hub at its root", Fails.BENT, "hub.wall", 4.0, strength(16.8, 30.0), alone=False,
             helps=(Help("hub.wall", "3", "4", 1.36), Help("hub.layers", "upright", "flat", 1.9)),
             note="layers lie across the pull"),
        link("collar by its glue", Fails.UNSTUCK, "hub.collar.fixing", 0.5, strength(2.1, 4.0), alone=True,
             between=(COLLAR, SPAR), helps=(Help("hub.collar.fixing.length", "8", "12", 1.5),)),
        link("tube wall in its socket", Fails.CRUSHED, "blade.spar.main", 40.0, strength(300.0, 310.0, "N"), r_mm=60.0,
             between=(SPAR, SPAR)),
        link("film over its ribs", Fails.PULLED_APART, "blade.skin.film", 0.05, strength(0.9, 1.5, "N/mm"), r_mm=400.0),
        link("cap screws", Fails.STRIPPED, "pitch.screw", 0.02, strength(0.4, 0.7, "N m")),
        *(rib(k) for k in range(1, 12)),
        link("foam on its tape", Fails.PEELED, "blade.skin.all", 0.1, None, unpublished="unpublished: peel of tape"),
        link("fan on its clip", Fails.SLIPS, "fitting.fan", 0.1, None, unpublished="unpublished: friction of a clip"),
        link("stop pin", Fails.SHEARED, "pitch.pin", 0.0, strength(100.0, 200.0)),
    )  # fmt: skip


def both(per_case: FloatArray, along: FloatArray) -> FloatArray:
    """(2, c, k), a tenth more at the worst."""
    return np.stack([np.outer(per_case, along), 1.1 * np.outer(per_case, along)])


def loads() -> BladeLoads:
    r = np.linspace(20.0, 800.0, 21)
    left = 1.0 - (r - 20.0) / 780.0
    speed = np.array([case.rad_s for case in CASES])
    by_speed = (speed / speed.max()) ** 2
    weight = np.ones(5)
    along = Resultants(
        pull_n=both(105.0 * by_speed, left),
        lag_n=both(-0.9 * by_speed + 0.01, left),
        flap_n=both(6.0 * by_speed - 1.6 * weight, left**2),
        lag_nm=both(-0.4 * by_speed + 0.3 * (np.arange(5) == 3), left**2),
        flap_nm=both(1.9 * by_speed - 0.55 * weight, left**2),
        turn_nm=both(-0.09 * by_speed, left),
    )
    ends = np.stack([np.outer(by_speed, [0.5, 40.0]), 1.1 * np.outer(by_speed, [0.5, 40.0])])
    socket = SocketForces(-ends, 1.2 * ends, both(105.0 * by_speed, np.ones(1))[..., 0], -0.09 * np.ones((2, 5)))
    droop = np.array([[-9.0, 6.0, 14.0, -8.5, 1.0], [-11.0, 7.5, 16.0, -10.0, 1.5]])
    twist = both(-0.8 * by_speed, 1.0 - left)
    none = np.zeros((2, 5, 20))
    fan = np.array([[0.0, 0.6, 0.0, 1.9, 1.7]] * 2)
    return BladeLoads(CASES, r, along, socket, {}, {}, none, none, fan, droop, twist)


def stiffness() -> Stiffness:
    r = np.linspace(20.0, 800.0, 21)
    one = np.ones_like(r)
    ei = np.zeros((21, 2, 2))
    ei[:, 0, 0], ei[:, 1, 1] = 60.0, 34.8
    return Stiffness(r, 3e6 * one, ei, 2.34 * one, np.stack([-3.0 * one, 0.5 * one], axis=1), {SPAR: one})


def frequencies() -> Frequencies:
    rpm = np.linspace(0.0, 400.0, 21)
    turns = rpm / 60.0

    def mode(name: str, rest: float, rise: float) -> Mode:
        return Mode(name, np.sqrt(rest**2 + rise * turns**2))

    modes = mode("flap 1", 5.2, 1.15), mode("lag 1", 9.0, 0.3), mode("flap 2", 31.0, 7.0), mode("twist 1", 60.0, 1.0)
    return Frequencies(rpm, modes, (217.0, 345.0), 2, ("The hub is taken as held.",))


def held(factor: float = 3.0, some: tuple[Link, ...] | None = None, **more: Any) -> Held:
    """All of it."""
    crossings = Crossing("flap 1", 2, 185.0, False), Crossing("lag 1", 2, 281.0, True)
    plain = Held(
        judged(links() if some is None else some, factor), loads(), stiffness(), frequencies(), crossings,
        2.4 * CASES[2].rad_s, ("Nobody worked this out.",),
    )  # fmt: skip
    return replace(plain, **more)

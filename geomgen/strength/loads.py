"""One blade's loads in each case: masses, air and fans on a beam that bends in the hub's socket."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.model.air_loads import AirLoads
from geomgen.model.joint import Key
from geomgen.strength.beam.beam import UP, Beam, Masses, States, in_socket
from geomgen.strength.beam.equilibrium import Acting, Reactions, acting, reactions, resultants, tilt_in_play
from geomgen.strength.beam.statics import Deflected, statics
from geomgen.strength.blade_loads import GREATEST, BladeLoads, Case, Resultants, SocketForces
from geomgen.strength.cross_section import Stiffness
from geomgen.strength.mass_points import MassPoints
from geomgen.strength.places import Places
from geomgen.strength.sections.stress import to_rotor

GRAVITY_M_S2 = 9.80665
PARTS = 6  # in which each of the air's pieces is laid along the blade, lest a bay has the whole of it or none
STIFF_NM2 = 1e6  # of a piece whose modulus isn't known: it hardly bends, and doesn't change what others carry
WORDS = (
    "Loads are those of still air at the pitch to fly at: no gusts, no landing, no blow. The blade bends about the "
    "feather axis, held by the two ends of the socket, and its twist by pins alone. Lift is that of a blade not bent."
)


@dataclass(frozen=True)
class InHub:
    """How a blade is held and set.

    pitch_deg  : the pitch to fly at [deg]
    coning_deg : built in [deg]
    play_mm    : inside of the socket less outside of the spar [mm]
    """

    pitch_deg: float
    coning_deg: float
    play_mm: float


@dataclass(frozen=True, eq=False)
class Solved:
    """One row of a blade's loads: typical, or greatest."""

    acting: Acting
    reactions: Reactions
    deflected: Deflected
    along: Resultants


def beam_of(places: Places, stiffness: Stiffness, pitch_deg: float) -> Beam:
    """The blade as a beam on the feather axis, in the rotor's axes.

    stiffness : at the middles between places; what isn't known is taken as stiff
    """
    turned = to_rotor(pitch_deg)
    ei = turned @ stiffness.ei_nm2 @ turned.T
    known = np.linalg.det(ei) > 0.0
    ei = np.where(known[:, None, None], ei, STIFF_NM2 * np.eye(2))
    gj = np.where(stiffness.gj_nm2 > 0.0, stiffness.gj_nm2, STIFF_NM2)
    x = places.r_mm * 1e-3
    held = in_socket(x, inner_m=places.inner_mm * 1e-3, outer_m=places.outer_mm * 1e-3, twist_m=places.twist_mm * 1e-3)
    return Beam(x, ei, gj, np.zeros((len(x), 2)), held)


def masses_of(points: MassPoints, row: int, pitch_deg: float) -> Masses:
    """A blade's points in the rotor's axes; row: typical or greatest masses."""
    place = points.place * 1e-3
    place[:, 1:] = place[:, 1:] @ to_rotor(pitch_deg).T
    return Masses(points.grams[row] * 1e-3, place)


def states_of(air: AirLoads, cases: Sequence[Case], row: int, coning_rad: float) -> States:
    """What the rotor does and what acts on one blade in each case; row: typical or greatest air."""
    speed = np.array([case.rad_s for case in cases])
    more = air.spread[2] if row == GREATEST else 1.0
    square = (more * speed**2)[:, None]
    places = _laid(air) * 1e-3
    none = np.zeros((len(cases), len(places)))
    up, back, turn = (square * np.repeat(one, PARTS) / PARTS for one in (air.up_n_s2, air.back_n_s2, air.turn_nm_s2))
    forces = np.stack([none, -back, up], axis=-1)
    moments = np.stack([turn, none, none], axis=-1)
    if air.fans is not None:
        pull = fans_n(air, cases, row)
        own = pull[:, None] * air.fans.forward - square * air.fans.drag_n_s2 * np.array([0.0, 1.0, 0.0])
        full = float(air.fans.full_n[0])
        turning = air.fans.spin[1 + row] * np.sqrt(np.maximum(pull, 0.0) / full) if full > 0.0 else 0.0 * pull
        couple = np.stack([turning * speed, 0.0 * speed, 0.0 * speed], axis=-1)
        places = np.vstack([places, air.fans.place * 1e-3])
        forces = np.concatenate([forces, own[:, None]], axis=1)
        moments = np.concatenate([moments, couple[:, None]], axis=1)
    gains = np.array([case.gains for case in cases])
    return States(coning_rad, speed, gains, np.full(len(cases), GRAVITY_M_S2), places, forces, moments)


def _laid(air: AirLoads) -> FloatArray:
    """(n PARTS, 3) where the air acts: each of its pieces evenly along its width, in line with its place [mm]."""
    off = (np.arange(PARTS) + 0.5) / PARTS - 0.5
    r_mm = (air.r_mm[:, None] + air.wide_mm[:, None] * off).ravel()
    return np.column_stack([r_mm, np.repeat(air.quarter_mm, PARTS, axis=0)])


def fans_n(air: AirLoads, cases: Sequence[Case], row: int) -> FloatArray:
    """(c,) pull of one blade's fans [N]; where it keeps a speed it grows with the drag, full throttle's doesn't."""
    more = air.spread[2] if row == GREATEST else 1.0
    return np.array([case.fan_n * (more if case.time_s is None else 1.0) for case in cases])


def blade_loads(
    places: Places,
    stiffness: Stiffness,
    points: MassPoints,
    air: AirLoads,
    cases: Sequence[Case],
    hub: InHub,
) -> BladeLoads:
    """All loads on one blade in each case, by typical and by greatest masses and air.

    stiffness : at the middles between places
    source    : equilibrium of all that lies outboard, on the blade as it is bent; see `beam`
    """
    coning, beam = float(np.radians(hub.coning_deg)), beam_of(places, stiffness, hub.pitch_deg)
    rows = [_solved(beam, masses_of(points, row, hub.pitch_deg), states_of(air, cases, row, coning)) for row in (0, 1)]
    up, back = _air_between(places.r_mm, air, cases)
    socket = SocketForces(
        *(np.stack([getattr(row.reactions, name) for row in rows]) for name in Reactions.__dataclass_fields__)
    )
    arm = (places.outer_mm - places.inner_mm) * 1e-3
    leans = np.stack([tilt_in_play(row.reactions, arm_m=arm, play_m=hub.play_mm * 1e-3) for row in rows])
    tip = np.stack([row.deflected.nodes[:, -1, UP] for row in rows]) * 1e3
    return BladeLoads(
        cases=tuple(cases),
        r_mm=places.r_mm,
        along=Resultants(
            *(np.stack([getattr(row.along, name) for row in rows]) for name in Resultants.__dataclass_fields__)
        ),
        socket=socket,
        pulls_n=_pulls(points, cases, hub),
        centres_mm=_centres(points),
        air_up_n=up,
        air_back_n=back,
        fan_n=np.stack([fans_n(air, cases, row) for row in (0, 1)]),
        droop_mm=tip + leans[..., 1] * (places.r_mm[-1] - places.inner_mm),
        twist_deg=np.degrees(np.stack([row.deflected.nodes[:, :, 4] for row in rows])),
    )


def _solved(beam: Beam, masses: Masses, states: States) -> Solved:
    bent = statics(beam, masses, states)
    loads = acting(masses, bent, states)
    along, about_itself = resultants(beam, loads, bent, beam.x_m)
    kept = Resultants(along.pull_n, along.lag_n, along.flap_n, along.lag_nm, along.flap_nm, about_itself)
    return Solved(loads, reactions(beam, loads), bent, kept)


def _pulls(points: MassPoints, cases: Sequence[Case], hub: InHub) -> dict[Key, FloatArray]:
    """Outward pull of each part, along the feather axis [N]."""
    coning = np.radians(hub.coning_deg)
    up = points.place[:, 1:] @ to_rotor(hub.pitch_deg)[1]
    radius_m = (points.place[:, 0] * np.cos(coning) - up * np.sin(coning)) * 1e-3
    each = points.grams * 1e-3 * radius_m * np.cos(coning)
    sums = np.stack([np.bincount(points.of, row, len(points.keys)) for row in each])
    square = np.array([case.rad_s for case in cases]) ** 2
    return {key: sums[:, k, None] * square for k, key in enumerate(points.keys)}


def _centres(points: MassPoints) -> dict[Key, float]:
    grams = np.bincount(points.of, points.grams[0], len(points.keys))
    moments = np.bincount(points.of, points.grams[0] * points.place[:, 0], len(points.keys))
    some = np.divide(moments, grams, out=np.zeros_like(moments), where=grams > 0.0)
    return dict(zip(points.keys, some.tolist(), strict=True))


def _air_between(r_mm: FloatArray, air: AirLoads, cases: Sequence[Case]) -> tuple[FloatArray, FloatArray]:
    """(2, c, k-1) upward and backward force of the air between neighbouring places [N]; what lies inboard of the first
    or outboard of the last counts with its neighbour."""
    edges = np.concatenate([[-np.inf], r_mm[1:-1], [np.inf]])
    low, high = air.r_mm - air.wide_mm / 2.0, air.r_mm + air.wide_mm / 2.0
    within = np.minimum(high, edges[1:, None]) - np.maximum(low, edges[:-1, None])
    share = np.clip(within, 0.0, None) / air.wide_mm  # (k-1, n)
    square = np.array([case.rad_s for case in cases]) ** 2
    rows = np.stack([square, air.spread[2] * square])[..., None]
    return rows * (share @ air.up_n_s2), rows * (share @ air.back_n_s2)

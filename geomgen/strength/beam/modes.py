"""How a beam swings at many speeds.

The hub is taken as held: a rotor that fans drive turns freely, so that lag of all blades together swings faster than
told here. What a swing does along the blade while it turns (Coriolis) is left out, and so is air.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray, IntArray
from geomgen.strength.beam.beam import FORWARD, FORWARD_SLOPE, FREE, TWIST, UP, UP_SLOPE, Beam, Masses
from geomgen.strength.beam.matrices import elastic, mass, spun

KINDS = {"flap": (UP, UP_SLOPE), "lag": (FORWARD, FORWARD_SLOPE), "twist": (TWIST,)}
BASIS = 12  # swings at rest, and what becomes of them at the highest speed, of which those at speeds between are made
ALIKE = 1e-9  # below it, a swing is made of others


@dataclass(frozen=True, eq=False)
class Modes:
    """Ways in which a beam swings, each followed from speed to speed by its shape; lowest first at the first speed.

    rad_s   : (k,) speed of the rotor [rad/s]
    natural : (k, m) swings, 0 where it doesn't come back by itself [rad/s]
    shares  : (k, m, 3) of its energy of motion in flap, lag and twist; they sum to 1 [-]
    names   : (m,) "flap 1": by where most of its motion is on average, and which of that kind
    """

    rad_s: FloatArray
    natural: FloatArray
    shares: FloatArray
    names: tuple[str, ...]


def modes(beam: Beam, masses: Masses, rad_s: FloatArray, *, coning_rad: float = 0.0, count: int = 6) -> Modes:
    """The lowest modes at speeds (k,) [rad/s].

    source : Rayleigh and Ritz: at every speed the best that can be made of the lowest at rest, and of these after two
             steps of inverse iteration at the highest speed
    """
    free = np.flatnonzero(~beam.held.ravel())
    at_rest, weighs = (each.dense()[np.ix_(free, free)] for each in (elastic(beam), mass(beam, masses)))
    turned = spun(beam, masses, coning_rad).stiffness.dense()[np.ix_(free, free)]
    fastest = float(np.max(np.abs(rad_s)))
    shift = (1.0 + 2.0 * fastest**2) * weighs  # some may not come back by themselves
    low = _lowest(at_rest + shift, weighs)
    fast, high = at_rest + fastest**2 * turned + shift, low
    for _ in range(2):
        high = np.asarray(np.linalg.solve(fast, weighs @ high))
    basis = _apart(np.hstack((low, high)), weighs)
    stiff, taut = (basis.T @ each @ basis for each in (at_rest, turned))
    squares, ways = np.linalg.eigh(stiff + rad_s[:, None, None] ** 2 * taut)
    moved = np.stack([_energy(basis, weighs, free % FREE, kind) for kind in KINDS.values()])
    parts = np.einsum("kim,hij,kjm->kmh", ways, moved, ways, optimize=True)
    order = _followed(ways)[:, :count]
    squares, parts = np.take_along_axis(squares, order, 1), np.take_along_axis(parts, order[..., None], 1)
    shares = parts / parts.sum(-1, keepdims=True)
    return Modes(rad_s, np.sqrt(np.maximum(squares, 0.0)), shares, _names(shares.mean(0)))


def _lowest(stiffness: FloatArray, weighs: FloatArray) -> FloatArray:
    """(f, up to BASIS) shapes of the lowest swings; fewer where fewer points have mass."""
    across = np.linalg.inv(np.linalg.cholesky(stiffness))
    sizes, ways = np.linalg.eigh(across @ weighs @ across.T)  # greatest where swings are lowest
    kept = int(np.count_nonzero(sizes > ALIKE**1.5 * sizes[-1]))
    return np.asarray(across.T @ ways[:, -min(kept, BASIS) :])


def _apart(shapes: FloatArray, weighs: FloatArray) -> FloatArray:
    """Shapes made square to one another by mass, each of mass 1; those that are made of others left out."""
    shapes = shapes / np.sqrt(np.einsum("ij,ik,kj->j", shapes, weighs, shapes, optimize=True))
    sizes, ways = np.linalg.eigh(shapes.T @ weighs @ shapes)
    kept = sizes > ALIKE * sizes[-1]
    return np.asarray(shapes @ ways[:, kept] / np.sqrt(sizes[kept]))


def _energy(basis: FloatArray, weighs: FloatArray, what: IntArray, kind: tuple[int, ...]) -> FloatArray:
    """(b, b) twice the energy of motion of one kind alone."""
    rows = np.isin(what, kind)
    return np.asarray(basis[rows].T @ weighs[np.ix_(rows, rows)] @ basis[rows])


def _followed(ways: FloatArray) -> IntArray:
    """(k, b) at each speed, which mode goes on from each at the speed before: the most alike in shape first."""
    order = [np.arange(ways.shape[-1])]
    for alike in np.abs(ways[:-1].swapaxes(-1, -2) @ ways[1:]):
        to = alike.argmax(axis=1)
        if len(np.unique(to)) < len(to):
            to = _paired(alike)
        order.append(to[order[-1]])
    return np.array(order, dtype=np.intp)


def _paired(alike: FloatArray) -> IntArray:
    """(b,) the partner of each, the most alike pair first (b, b)."""
    left, to = alike.copy(), np.empty(len(alike), dtype=np.intp)
    for _ in range(len(left)):
        one, other = np.unravel_index(int(np.argmax(left)), left.shape)
        to[one] = other
        left[one], left[:, other] = -1.0, -1.0
    return to


def _names(shares: FloatArray) -> tuple[str, ...]:
    kinds = [list(KINDS)[k] for k in np.argmax(shares, axis=-1)]
    return tuple(f"{kind} {kinds[: k + 1].count(kind)}" for k, kind in enumerate(kinds))

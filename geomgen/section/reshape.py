"""A section changed: scaled in thickness and camber, flattened below, its tail closed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.section import hermite, spline
from geomgen.section.section import Run, Section, Surface, joined

FLAT = "flat"  # the corner where a flattened lower surface begins

_NEAR = 1e-3  # a sample nearer than this to a new end is left out [chord]
_FACING = 0.9  # partners are looked for where the cosine between their tangents is above this
_ROUNDS = 6  # of Newton's rule
_SEAM = 16  # samples over which the partners round the nose fade into those behind it
_TAIL = 0.8  # behind this, partners go over to tail with tail [share of the surface's length]
_SMALL = 1e-6


def flattened(section: Section, from_x: float) -> Section:
    """The section made straight below, from the lower surface at `from_x` to the lower tail point.

    from_x : where the flat begins [chord], 0 < from_x < 1
    returns: a section whose lower surface has a corner "flat" where the two don't meet in a tangent
    """
    lower = section.lower
    stretch, share = hermite.crossings(lower.xy[None], lower.tangent[None], np.array([[from_x]]))
    i = int(stretch[0, 0])
    along = lower.along[i] + float(share[0, 0]) * (lower.along[i + 1] - lower.along[i])
    start, tangent = lower.at([along], "left")
    kept = int(np.searchsorted(lower.along, along - _NEAR))
    before = Surface(
        np.vstack([lower.xy[:kept], start]),
        np.vstack([lower.tangent[:kept], tangent]),
        tuple(c for c in lower.corners if c < kept - 1),
        tuple(name for c, name in zip(lower.corners, lower.names, strict=True) if c < kept - 1),
    )
    way = lower.xy[-1] - start[0]
    even = np.linspace(0.0, 1.0, max(len(lower.xy) - kept, 5))[:, None]
    flat = Run(start + even * way, np.tile(way / np.hypot(*way), (len(even), 1)))
    below = joined([*before.runs(), flat], [*before.names, FLAT])
    return Section(f"{section.name}, flat from {from_x:.4g}", section.note, section.upper, below)


def closed(section: Section) -> Section:
    """The section with its tail closed: each surface moved by half the gap at the tail, in proportion to x ahead."""
    middle = 0.5 * (section.upper.xy[-1] + section.lower.xy[-1])

    def shut(surface: Surface) -> Surface:
        move = (middle - surface.xy[-1]) / surface.xy[-1, 0]
        xy = surface.xy + surface.xy[:, :1] * move
        xy[-1] = middle
        tangent = surface.tangent + surface.tangent[:, :1] * move
        return replace(surface, xy=xy, tangent=tangent / np.hypot(tangent[:, 0], tangent[:, 1])[:, None])

    return Section(section.name, f"{section.note}; tail closed", shut(section.upper), shut(section.lower))


def scaled(section: Section, thickness_times: float = 1.0, camber_times: float = 1.0) -> Section:
    """The section with its thickness and its camber multiplied.

    Each point has a partner on the other surface, so that the line between them stands square to the line half way
    between their tangents. The middles form the mean line: its heights are multiplied by `camber_times`, the distances
    from it by `thickness_times`, and each stays square to it.
    """
    if thickness_times == 1.0 and camber_times == 1.0:
        return section
    upper = _moved(section.upper, section.lower, thickness_times, camber_times)
    lower = _moved(section.lower, section.upper, thickness_times, camber_times)
    above, below = _smooth(upper, section.round_nose), _smooth(lower, section.round_nose)
    if section.round_nose:
        around = spline.tangents(np.vstack([upper[0][:0:-1], lower[0]]))
        ahead = len(upper[0])
        above[0] = Run(upper[0], -around[:ahead][::-1])
        below[0] = Run(lower[0], around[ahead - 1 :])
    name = f"{section.name}, thickness x {thickness_times:.4g}, camber x {camber_times:.4g}"
    return Section(name, section.note, joined(above, section.upper.names), joined(below, section.lower.names))


def _smooth(stretches: list[FloatArray], nose_follows: bool) -> list[Run]:
    """Stretches with the tangents of smooth curves through them; the first is left bare where the nose's own follow."""
    first = 1 if nose_follows else 0
    return [Run(xy, xy) for xy in stretches[:first]] + [Run(xy, spline.tangents(xy)) for xy in stretches[first:]]


def _moved(surface: Surface, other: Surface, thickness_times: float, camber_times: float) -> list[FloatArray]:
    """New points (n, 2) of each stretch of a surface, from where their partners on the other surface are."""
    partner = other.at(_partners(surface, other))[0]
    middle, half = 0.5 * (surface.xy + partner), 0.5 * (surface.xy - partner)
    reach = np.hypot(half[:, 0], half[:, 1])
    along = np.column_stack([half[:, 1], -half[:, 0] * camber_times])  # of the mean line, its slope scaled
    size = np.hypot(along[:, 0], along[:, 1])
    square = np.column_stack([-along[:, 1], along[:, 0]]) / np.where(size > 0.0, size, 1.0)[:, None]
    moved = middle * [1.0, camber_times] + thickness_times * reach[:, None] * square
    starts = [i + 1 for i in surface.corners]
    return np.split(moved, starts)


def _partners(surface: Surface, other: Surface) -> FloatArray:
    """Length along the other surface (n,) at which each point's partner lies.

    Round the nose, where a circle's points have no one partner, at about the same length from the nose, going over
    smoothly: behind the nose of a family the two lengths part as x to the power 3/2. Tail goes with tail.
    """
    own, end = surface.along, other.length
    q, pace = own * (end / surface.length), np.ones(len(own))
    once, back = np.unique(own, return_inverse=True)
    for _ in range(2):
        for _ in range(_ROUNDS):
            now, near = _lean(surface, other, q, pace), np.where(q < 0.5 * end, _SMALL, -_SMALL)
            rate = (_lean(surface, other, q + near, pace) - now) / near
            move = np.where(np.abs(rate) > 1e-3, now / np.where(rate == 0.0, 1.0, rate), 0.0)
            q = np.maximum(q - np.clip(move, -0.02, 0.02), 0.0)
        q = _at_nose(surface, other, q)
        pace = np.gradient(np.interp(once, own, q), once)[back]
    astern = np.clip(own / surface.length - _TAIL, 0.0, None) / (1.0 - _TAIL)
    return np.asarray(q + (end - q[-1]) * astern**3)


def _at_nose(surface: Surface, other: Surface, q: FloatArray) -> FloatArray:
    """The partners with those round the nose put in: lengths that differ by x^1.5 (a + b x) and fade into the rest."""
    first = int(np.argmax(np.sum(surface.tangent * _beyond(other, q)[1], axis=1) > _FACING))
    seam = slice(first, first + _SEAM)
    x = np.maximum(surface.xy[:, 0], 0.0)[:, None] ** [1.5, 2.5]
    terms = np.linalg.lstsq(x[seam], (q - surface.along)[seam], rcond=None)[0]
    fade = np.clip((np.arange(len(q)) - first) / _SEAM, 0.0, 1.0)
    fade = fade * fade * (3.0 - 2.0 * fade)
    return np.asarray(fade * q + (1.0 - fade) * (surface.along + x @ terms))


def _lean(surface: Surface, other: Surface, q: FloatArray, pace: FloatArray) -> FloatArray:
    """How far the line between each point and its partner is from square to the way their middle goes, (n,)."""
    point, tangent = _beyond(other, q)
    return np.asarray(np.sum((surface.xy - point) * (surface.tangent + pace[:, None] * tangent), axis=1))


def _beyond(surface: Surface, along: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Points and tangents of a surface, which runs straight on behind its tail."""
    xy, tangent = surface.at(along)
    return xy + np.maximum(along - surface.length, 0.0)[:, None] * tangent, tangent

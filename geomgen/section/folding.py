"""The section that one folded sheet can really make: flats between score lines, and a rolled nose."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.errors import Fault, MakeError
from geomgen.figures import at_least, at_most
from geomgen.section.section import Run, Section, Surface

LEAST_FLAT = 0.005  # no flat is narrower, and no score line nearer to nose or tail, than this [chord]
LEAST_RADIUS = 1e-4  # of a rolled nose [chord]

_STEP = np.radians(2.5)  # of the samples round the nose: a cubic meets the arc to a 10⁸th of its radius
_FEWEST = 12  # steps of the nose on each surface, which its radius is measured from
_ALONG = np.linspace(0.0, 1.0, 9)[:, None]  # samples of a flat


@dataclass(frozen=True)
class Folds:
    """Where a sheet is scored and how its nose is rolled.

    upper       : chord shares of the score lines above, rising, nose to tail [-]
    lower       : the same below [-]
    nose_radius : outer radius of the rolled nose [chord]
    chord_mm    : chord, to tell sizes in mm [mm]; None to tell them in chords
    """

    upper: tuple[float, ...]
    lower: tuple[float, ...]
    nose_radius: float
    chord_mm: float | None = None

    def in_words(self, share: float, *, up: bool = False) -> str:
        """A size in words, rounded down, or up where it is a least one."""
        if self.chord_mm is None:
            return f"{share:g} of the chord"
        return (at_least if up else at_most)(share * self.chord_mm, 1)

    def sides(self) -> tuple[tuple[str, float, tuple[float, ...]], ...]:
        """Name, sign and score lines of each side."""
        return ("upper", 1.0, self.upper), ("lower", -1.0, self.lower)


def folded(section: Section, folds: Folds, path: str = "") -> Section:
    """The section that a sheet makes when it is folded round a wanted one: its outer face.

    The score lines lie on the wanted surface and the tail points are the wanted ones; between them the sheet is flat.
    The nose is an arc through the wanted nose (0, 0) with the wanted tangent there, so its centre lies `nose_radius`
    square behind it (where the nose is sharp, half way between its tangents); where that tangent leans by an angle a,
    the arc comes out ahead of x = 0 by nose_radius · (1 - cos a), as the families' own noses do. The first flat of each
    surface leaves the arc in a tangent and runs to the first score line, or to the tail where there is none.

    section : the wanted one
    path    : key path to blame
    returns : a section with a corner "fold 1", "fold 2", … from the nose at each score line. One that comes to lie on a
              straight stretch stays a corner, of no angle, so that score lines keep their names along a blade
    raises  : MakeError with every fault: score lines out of order or too near each other, a radius that doesn't fit,
              flats that cross
    source  : tangent of length √(d² - R²) from a point at d from the centre of a circle of radius R
    """
    faults = [fault for side, _, x in folds.sides() for fault in _disorder(x, side, path)]
    if not folds.nose_radius >= LEAST_RADIUS:
        wrong = "a nose can't be rolled to that radius"
        faults.append(
            Fault(path, folds.in_words(folds.nose_radius), wrong, f"at least {folds.in_words(LEAST_RADIUS, up=True)}")
        )
    if faults:
        raise MakeError(faults)
    aft = _aft(section)
    points = [_points(section.upper, folds.upper), _points(section.lower, folds.lower)]
    if unfit := _unfit(points, aft, folds, path):
        raise MakeError(unfit)
    above, below = (_sheet(to, aft, folds.nose_radius, sign) for to, sign in zip(points, (1.0, -1.0), strict=True))
    counts = f"{len(folds.upper)} above and {len(folds.lower)} below"
    name = f"{section.name}, folded {counts}, nose radius {folds.nose_radius:.4g}"
    made = Section(name, section.note, above, below)
    if crossed := _crossed(made, path):
        raise MakeError(crossed)
    return made


def bends(section: Section) -> tuple[tuple[str, float], ...]:
    """How far the outline turns at each corner between the tails, anticlockwise from the upper tail round the nose.

    returns : (name as of `Section.corners`, angle [deg]); positive where a sheet folds towards its inside, negative
              where it folds outwards
    """
    runs = section.runs()
    corners = section.corners()[1 : len(runs)]
    joints = zip(corners, pairwise(runs), strict=True)
    return tuple((name, _turn(before.tangent[-1], after.tangent[0])) for (name, _), (before, after) in joints)


def nose_turn(section: Section) -> float:
    """How far the sheet turns round the nose, from the first flat above to the first below [deg]; 0 if it is sharp."""
    if not section.round_nose:
        return 0.0
    turns = [[_turn(a, b) for a, b in pairwise(s.runs()[0].tangent)] for s in (section.upper, section.lower)]
    return sum(turns[1]) - sum(turns[0])


def _turn(before: FloatArray, after: FloatArray) -> float:
    """Angle from one direction to another, anticlockwise positive [deg]."""
    return float(np.degrees(np.arctan2(before[0] * after[1] - before[1] * after[0], before @ after)))


def _aft(section: Section) -> FloatArray:
    """(2,) unit direction square behind the nose; where it is sharp, half way between the surfaces' tangents."""
    (ux, uy), (lx, ly) = section.upper.tangent[0], section.lower.tangent[0]
    aft = np.array([uy - ly, lx - ux])
    return np.asarray(aft / np.hypot(*aft))


def _points(surface: Surface, scored: tuple[float, ...]) -> FloatArray:
    """(n, 2) points of a wanted surface at the score lines, and its tail."""
    x = np.array(scored)
    return np.vstack([np.column_stack([x, surface.y(x)]), surface.xy[-1]])


def _sheet(points: FloatArray, aft: FloatArray, radius: float, sign: float) -> Surface:
    """One surface: the nose's arc, and flats through points (n, 2), the last of them the tail.

    sign : 1 above, -1 below
    """
    start = np.arctan2(aft[1], aft[0]) + sign * np.pi / 2  # heading at the nose
    end = np.arctan2(*_leaving(points[0], aft, radius, sign)[::-1])
    steps = max(_FEWEST, int(np.ceil(abs(end - start) / _STEP)))
    heading = np.linspace(start, end, steps + 1)
    way = np.column_stack([np.cos(heading), np.sin(heading)])
    arc = radius * (aft + sign * np.column_stack([-way[:, 1], way[:, 0]]))
    arc[0] = 0.0
    flats = [_flat(a, b) for a, b in pairwise([arc[-1], *points])]
    first = Run(np.vstack([arc, flats[0].xy[1:]]), np.vstack([way, flats[0].tangent[1:]]))
    runs = [first, *flats[1:]]
    corners = np.cumsum([len(run.xy) for run in runs])[:-1] - 1
    return Surface(
        np.vstack([run.xy for run in runs]),
        np.vstack([run.tangent for run in runs]),
        tuple(corners.tolist()),
        tuple(f"fold {i + 1}" for i in range(len(corners))),
    )


def _flat(start: FloatArray, end: FloatArray) -> Run:
    way = end - start
    xy = start + _ALONG * way
    xy[-1] = end
    return Run(xy, np.tile(way / np.hypot(*way), (len(xy), 1)))


def _leaving(point: FloatArray, aft: FloatArray, radius: float, sign: float) -> FloatArray:
    """(2,) unit direction in which the nose's arc is left for a point in a tangent."""
    gap = point - radius * aft
    square = float(gap @ gap)
    reach = np.sqrt(square - radius * radius)
    # gap = reach · way + sign · radius · (way turned to the left)
    turned = np.array([[reach, sign * radius], [-sign * radius, reach]])
    return np.asarray(turned @ gap / square)


def _disorder(x: tuple[float, ...], side: str, path: str) -> list[Fault]:
    """Whether score lines don't rise from nose to tail, or leave a flat too narrow."""
    steps = list(pairwise((0.0, *x, 1.0)))
    if all(b - a >= LEAST_FLAT - 1e-12 for a, b in steps):
        return []
    value, allowed = ", ".join(f"{at:g}" for at in x), "rising from nose to tail, between 0 and 1"
    if not all(0.0 < at < 1.0 for at in x):
        at = next(at for at in x if not 0.0 < at < 1.0)
        return [Fault(path, value, f"the {side} score line at {at:g} of the chord is off the section", allowed)]
    a, b = next((a, b) for a, b in steps if not b - a >= LEAST_FLAT - 1e-12)
    if b <= a:
        return [Fault(path, value, f"the {side} score line at {b:g} of the chord comes after that at {a:g}", allowed)]
    ends = {0.0: "the nose", 1.0: "the tail"}
    names = [ends.get(at, f"the score line at {at:g}") for at in (a, b)]
    wrong = f"the {side} flat between {names[0]} and {names[1]} is {b - a:.2g} of the chord wide"
    return [Fault(path, value, wrong, f"at least {LEAST_FLAT:g}", "leave one out or move them apart")]


def _unfit(points: list[FloatArray], aft: FloatArray, folds: Folds, path: str) -> list[Fault]:
    """Whether the rolled nose leaves no first flat, above or below, that runs aft in a tangent."""
    faults = []
    for (side, sign, scored), to in zip(folds.sides(), points, strict=True):
        end = f"the first {side} score line at {scored[0]:g} of the chord" if scored else f"the {side} tail"
        most = np.floor(_most(to[0], aft, sign) * 1e4) / 1e4
        if most < LEAST_RADIUS:
            wrong = f"no rolled nose has a flat behind it that reaches {end}"
            faults.append(Fault(path, folds.in_words(folds.nose_radius), wrong, "", "score the first line farther aft"))
        elif folds.nose_radius > _most(to[0], aft, sign):
            wrong = f"a nose rolled to a radius of {folds.in_words(folds.nose_radius)} reaches past {end}"
            remedy = "or score the first line farther aft" if scored else ""
            faults.append(
                Fault(path, folds.in_words(folds.nose_radius), wrong, f"at most {folds.in_words(most)}", remedy)
            )
    return faults


def _most(point: FloatArray, aft: FloatArray, sign: float) -> float:
    """The greatest nose radius with a flat of the least width behind it that runs aft to a point; 0 for none [chord].

    source : reach² = |p|² - 2 R p·aft for a circle through the nose; a flat that runs straight up or down stands a
             radius behind the centre
    """
    behind = float(point @ aft)
    if behind <= 0.0:
        return 0.0
    most = (float(point @ point) - LEAST_FLAT**2) / (2.0 * behind)
    if sign * (point[1] - most * aft[1]) <= 0.0:  # beyond the middle of the greatest circle, where its rim runs ahead
        most = min(most, float(point[0] / (1.0 + aft[0])))
    return most


def _crossed(made: Section, path: str) -> list[Fault]:
    """Whether upper and lower flats cross ahead of the tail: looked for at every sample of both surfaces."""
    x = np.unique(np.concatenate([made.upper.xy[1:, 0], made.lower.xy[1:, 0]]))
    x = x[(x > 1e-6) & (x < min(made.upper.xy[-1, 0], made.lower.xy[-1, 0]) - 1e-6)]
    depth = made.depth(x)
    i = int(np.argmin(depth))
    if depth[i] > 0.0:
        return []
    wrong = f"the upper and the lower flats cross at {x[i]:.3g} of the chord, by {-depth[i]:.2g} of the chord"
    return [Fault(path, "", wrong, "", "score more lines on the side that bulges there")]

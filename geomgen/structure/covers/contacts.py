"""Where a cover meets the ribs beneath it, and its two halves one another: joints, each with its area and place."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.curve import Side
from geomgen.design.schema import HALVES, Half
from geomgen.model.joint import Bond, Joint, Key, touching
from geomgen.model.layout import rib_key
from geomgen.model.spread import of_sides
from geomgen.structure.covers.film import Film
from geomgen.structure.covers.panel import Panel
from geomgen.structure.ribs.blank import Blank

BARE_MM = 0.1  # what is thinner brings its own glue


def glued(panels: Sequence[Panel], ribs: Sequence[Blank]) -> Iterator[Joint]:
    """Sheet glued to each rib's edge, ahead of where the sheet ends, all of it at the middle of what it lies on."""
    for rib in ribs:
        if rib.cover.ahead_mm <= BARE_MM:
            continue
        step = rib.cover.step
        end = np.inf if step is None else step * rib.station.chord_mm
        middle = rib.outline.middle(50)
        ahead = max(int(np.count_nonzero(middle[:, 0] <= end)), 1)  # the foremost at least
        place = rib.station.to_blade(middle[:ahead].mean(axis=0))[0]
        for half in HALVES:
            over = [panel for panel in panels if panel.covers(rib.place.r_mm, half)]
            side = rib.outline.side(half)
            area = _length_mm(side, to_mm=end) * rib.place.thickness_mm
            second = _lying(rib, side, to_mm=end) - np.outer(place, place)
            for panel in over:
                contact = np.array([[area / len(over), *place]])
                yield Joint(panel.key, rib_key(rib.place), Bond.GLUED, panel.path, contact, second=second[None])


def sealed(film: Film, ribs: Sequence[Blank], behind_sheet: bool = False) -> Iterator[Joint]:
    """Film sealed to each rib's edge; behind the sheet alone, where there is one."""
    for rib in ribs:
        start = (rib.cover.step or 1.0) * rib.station.chord_mm if behind_sheet else 0.0
        middle = rib.outline.middle(50)
        bare = middle[middle[:, 0] >= start]
        if not len(bare):
            continue
        place = rib.station.to_blade(bare.mean(axis=0))[0]
        for half in HALVES:
            side = rib.outline.side(half)
            area = (side.length_mm - _length_mm(side, to_mm=start)) * rib.place.thickness_mm
            yield Joint(film.key(half), rib_key(rib.place), Bond.SEALED, film.path, np.array([[area, *place]]))


def sealed_on(film: Film, beneath: Iterable[Key]) -> Iterator[Joint]:
    """Film on what else lies beneath it: both panels on each part, but on one of a surface's own the panel there."""
    for key in beneath:
        for half in HALVES:
            if not any(side in key.mark and side != half for side in HALVES):
                yield touching(film.key(half), key, Bond.SEALED, film.path)


def seamed(panels: Sequence[Panel], ribs: Sequence[Blank]) -> Iterator[Joint]:
    """Both halves of a skin glued on one another behind the ribs' tails, bay by bay."""
    for inner, outer in itertools.pairwise(ribs):
        if min(inner.cover.behind_mm, outer.cover.behind_mm) <= BARE_MM:
            continue
        ends = (inner.place.r_mm, outer.place.r_mm)
        upper, lower = (_over(panels, ends, half) for half in HALVES)
        if upper is None or lower is None:
            continue
        widths = [rib.station.chord_mm - rib.outline.tail_mm for rib in (inner, outer)]
        area = (widths[0] + widths[1]) / 2 * (ends[1] - ends[0])
        middles = [
            rib.station.to_blade(np.array([[(rib.station.chord_mm + rib.outline.tail_mm) / 2, 0.0]]))[0]
            for rib in (inner, outer)
        ]
        contact = np.array([[area, *((middles[0] + middles[1]) / 2)]])
        lies = of_sides(middles[1] - middles[0])[None]
        yield Joint(upper.key, lower.key, Bond.SEAMED, upper.path, contact, second=lies)


def _over(panels: Sequence[Panel], ends_mm: tuple[float, float], half: Half) -> Panel | None:
    """The panel over a bay's surface: over its middle, or else over its inner rib."""
    for r in (sum(ends_mm) / 2, ends_mm[0]):
        for panel in panels:
            if panel.covers(r, half):
                return panel
    return None


def _lying(rib: Blank, side: Side, to_mm: float) -> FloatArray:
    """(3, 3) mean of place times place along a rib's edge from the nose to an x [mm], about the blade frame's origin
    [mm2]."""
    start, end = side.xy[:-1], side.xy[1:]
    on = (start[:, 0] + end[:, 0]) / 2 <= to_mm
    share = np.hypot(*(end - start)[on].T) / np.hypot(*(end - start)[on].T).sum()
    a, b = (rib.station.to_blade(points[on]) for points in (start, end))
    return np.asarray(sum(np.einsum("k,ki,kj->ij", share, p, p) for p in (a, b, a + b)) / 6.0)


def _length_mm(side: Side, to_mm: float) -> float:
    """Length of an edge from the nose to an x [mm]."""
    if np.isinf(to_mm):
        return side.length_mm
    step = np.hypot(*np.diff(side.xy, axis=0).T)
    return float(step[(side.xy[1:, 0] + side.xy[:-1, 0]) / 2 <= to_mm].sum())

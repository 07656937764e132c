"""What stands beside each hole of a pitch cap: its pitch, round the rim where that can be read, else standing along the
radius; or its letters, always along the radius, as those of neighbours would run into one another.
"""

from __future__ import annotations

import numpy as np

from geomgen.model.label import FIGURE_GAP_MM, Figures
from geomgen.model.part import Text
from geomgen.plane.letters import text_width
from geomgen.plane.polar import on_circle

HEIGHTS_MM = (4.5, 4.0, 3.5, 3.0, 2.5, 2.0, 1.75)  # tried, largest first
READABLE_MM = 3.0  # figures this high run round the rim; smaller ones would be turned to stand along the radius
UNIT = "°"


def pitch_figures(figures: Figures) -> tuple[Text, ...]:
    """One text each, read with the head up; the unit once a set, where it meets no neighbour."""
    sets = figures.words or (tuple(f"{value:g}" for value in figures.values_deg),) * len(figures.angles_deg)
    unit_mark = "" if figures.words else UNIT
    height, lean = _height(figures, [word for words in sets for word in words])
    radius = figures.rim_mm + figures.band_mm / 2
    texts = []
    for words, angles in zip(sets, figures.angles_deg, strict=True):
        ways = np.array([_upright(angle + lean) for angle in angles])
        places, along = on_circle(np.full(len(ways), radius), angles), on_circle(np.ones(len(ways)), ways)
        last = int(np.argmax(np.einsum("ij,ij->i", places - places.mean(axis=0), along))) if lean else len(ways) - 1
        unit = (text_width(words[last] + unit_mark, height) - text_width(words[last], height)) / 2
        places[last] += unit * along[last]
        for i, (word, (x, y), way) in enumerate(zip(words, places, ways, strict=True)):
            texts.append(Text(word + unit_mark if i == last else word, (float(x), float(y)), height, float(way)))
    return tuple(texts)


def _height(figures: Figures, words: list[str]) -> tuple[float, float]:
    """Height of the figures [mm], and how far they lean from the radius, -90 round the rim or 0 along it [deg]."""
    apart = min((float(np.diff(np.sort(one)).min()) for one in figures.angles_deg if len(one) > 1), default=180.0)
    room = 2 * figures.rim_mm * np.sin(np.radians(min(apart, 180.0)) / 2) - FIGURE_GAP_MM
    deep = figures.band_mm - 2 * FIGURE_GAP_MM + 1e-9
    round_about = [h for h in HEIGHTS_MM if h <= deep and max(text_width(word, h) for word in words) <= room]
    outward = [h for h in HEIGHTS_MM if h <= room and max(text_width(word, h) for word in words) <= deep]
    if figures.words:
        return max(outward, default=HEIGHTS_MM[-1]), 0.0
    outward = outward if max(round_about, default=0.0) < READABLE_MM else []
    height = max(round_about + outward, default=HEIGHTS_MM[-1])
    return height, -90.0 if height in round_about else 0.0


def _upright(deg: float) -> float:
    """A base line's direction, or its opposite, whichever is read with the head up [deg]."""
    turned = float(deg + 90.0) % 360.0 - 90.0
    return turned - 180.0 if turned > 90.0 + 1e-6 else turned

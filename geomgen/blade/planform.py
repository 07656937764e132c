"""The blade seen from above: chord along r, out to the radius, a shaped tip included."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.blade import Blade
from geomgen.design.schema import Design

LOOKS = 33  # places along a rounded tip


def planform(design: Design, blade: Blade) -> tuple[FloatArray, FloatArray]:
    """Radii and chords between which the chord runs straight.

    A rounded tip is taken as half an ellipse, a raked one as running straight to nothing at the radius.

    returns : (n,) radii from root to radius [mm], (n,) chords [mm]
    """
    r = blade.breaks()
    chord = blade.chord.at(r)
    tip = design.blade.tip
    if tip is None or tip.depth is None:
        return r, chord
    share = np.sin(np.linspace(0.0, np.pi / 2, LOOKS))[1:] if tip.kind == "rounded" else np.array([1.0])
    left = np.sqrt(np.maximum(1.0 - share**2, 0.0)) if tip.kind == "rounded" else 1.0 - share
    return np.append(r, r[-1] + tip.depth * share), np.append(chord, chord[-1] * left)

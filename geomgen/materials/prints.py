"""How much of a print is there: printed mass over solid mass."""

from __future__ import annotations

from geomgen.materials.catalogue import known
from geomgen.materials.figure import Figure

USUAL = Figure(
    0.53,
    0.63,
    0.73,
    "-",
    "the usual share: a slicer's figures for this tool's demo hub, 2 to 4 walls, 20 to 40 % infill; typical is the "
    "middle",
)
# How far a print is off what walls, layers and infill come to: root of the sum of squares of 3 % that slicers lay
# otherwise (our slices against a general slicer's own sums, up to 2.5 %; that slicer's patterns, and its ways of
# laying walls and of closing slopes, up to 2.5 % apart), 3.5 % of the filament's section (1.75 mm +- 0.03 mm, common
# practice) and 2 % that an extruder is set off (common practice)
LAID = (0.95, 1.05)
# With one print weighed, filament and extruder are in its factor; what is laid otherwise differs from part to part
LIKE_THE_WEIGHED = (0.97, 1.03)
ON_SCALES = (0.99, 1.01)  # of that one itself: 1 g of 100 g
WHOLE = Figure(1.0, 1.0, 1.0, "-", "cut from a block, not printed")


def usual_share(material: str) -> Figure:
    """The share of its solid that a print of a material is, where its maker doesn't say [-]; a foam is no print."""
    found = known(material)
    return WHOLE if found is not None and found.kind == "foam" else USUAL


def laid_share(share: float, words: str, times: float | None = None, *, on_scales: bool = False) -> Figure:
    """The share of its solid that a print is by its slices [-].

    share     : plastic over solid
    words     : how it is printed, for the source
    times     : one weighed over what it comes to, by which all are made heavier or lighter; None where none was
    on_scales : whether it is the one that was weighed
    """
    low, high = LAID if times is None else ON_SCALES if on_scales else LIKE_THE_WEIGHED
    factor = 1.0 if times is None else times
    source = f"{words}, by its slices" + ("" if times is None else f", times {times:.3f} by your weighed print")
    return Figure(share * factor * low, share * factor, share * factor * high, "-", source)

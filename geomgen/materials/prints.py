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
WHOLE = Figure(1.0, 1.0, 1.0, "-", "cut from a block, not printed")


def usual_share(material: str) -> Figure:
    """The share of its solid that a print of a material is, where its maker doesn't say [-]; a foam is no print."""
    found = known(material)
    return WHOLE if found is not None and found.kind == "foam" else USUAL

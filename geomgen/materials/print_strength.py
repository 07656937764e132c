"""What is left of a printed plastic's strength: by walls and infill, under steady load, by heat."""

from __future__ import annotations

from geomgen.materials.catalogue import known
from geomgen.materials.figure import Figure
from geomgen.materials.strength_table import strength_table

STEADY = Figure(
    0.2,
    0.3,
    0.4,
    "-",
    "from memory: share of its strength that a print keeps under a load of months, up to 35 degC; a paper's abstract, "
    "read, says of PLA only that it creeps well below its glass point",
)
FATIGUE = Figure(
    0.15, 0.25, 0.35, "-", "from memory: share of its strength that a print keeps through 1e5 loads from nothing"
)
SOLID = 0.999  # infill from which a print has no hollow
LEAST = 0.05  # share of strength that any print has; from memory
BAND = (0.85, 1.1)  # of the share of strength, so that a thicker wall never carries less; from memory


def print_heat(material: str) -> Figure | None:
    """Where a print of a material softens [degC]; None where no figure is known."""
    found = known(material)
    entry = strength_table()["heat"].get(found.name) if found is not None else None
    if entry is None:
        return None
    low, typical, high = map(float, entry["degc"])
    return Figure(low, typical, high, "degC", str(entry["source"]))


def strength_share(walls: float, infill: float, words: str, *, across: bool = False) -> Figure:
    """The share of the solid plastic's strength that a printed wall has [-].

    walls  : share of its section that is in solid lines and layers, 0 to 1
    infill : share of the rest that is filled, 0 to 1
    words  : how it is printed, for the source
    across : pulled across its layers, where only its walls count, unless it is solid (from memory)
    """
    across = across and infill < SOLID
    share = walls if across else walls + (1.0 - walls) * infill * (0.5 + 0.4 * infill)
    low, high = (min(max(share * end, LEAST), 1.0) for end in BAND)
    law = "across its layers its walls alone" if across else "walls w, infill f, w + (1 - w) f (0.5 + 0.4 f)"
    source = (
        f"{words}: {law}, from memory; papers' abstracts, read, say that walls count twice as much as infill; ends "
        "from memory"
    )
    return Figure(low, share, high, "-", source)

"""Stand-ins, to be replaced at the merge."""

from __future__ import annotations

from enum import StrEnum

from geomgen.design.schema import Design, VolumeStock
from geomgen.materials.figure import Figure
from geomgen.materials.screws import SCREWS

STEADY = Figure(0.2, 0.3, 0.4, "-", "from memory")


class Surface(StrEnum):
    TUBE = "tube"


def print_share(design: Design, stock: str, wall_mm: float) -> Figure:
    table = design.stock[stock]
    assert isinstance(table, VolumeStock)
    walls = table.print.walls if table.print else 3
    w = min(1.0, 2 * walls * design.printer.line / wall_mm)
    f = table.print.infill if table.print else table.share.typical
    share = w + (1 - w) * f * (0.5 + 0.4 * f)
    return Figure(max(0.01, share - 0.15), share, min(1.0, share + 0.1), "-", "stand-in")


def glue_strength(glue: str, on: Surface) -> tuple[Figure | None, str]:
    return (Figure(2.0, 5.0, 8.0, "MPa", "stand-in"), "") if glue == "epoxy" else (None, "unpublished")


def bolt_proof_n(size: str) -> float:
    d = SCREWS[size].diameter
    return 580.0 * 0.7 * 0.785 * d * d


def print_heat(material: str) -> Figure | None:
    return Figure(52.0, 57.0, 60.0, "degC", "stand-in")

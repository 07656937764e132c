"""What a bolt stands, by its size: stressed as far as it springs back, and to where it breaks."""

from __future__ import annotations

import math

from geomgen.figures import figure
from geomgen.materials.figure import Figure
from geomgen.materials.screws import SCREWS

PITCHES_MM = {"M2": 0.4, "M2.5": 0.45, "M3": 0.5, "M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25}  # ISO 261, coarse
PROOF_MPA = (310.0, 580.0)  # classes 4.8 and 8.8, ISO 898-1, from memory; inch screws of grade 2 and 5 are alike
ULTIMATE_MPA = (420.0, 800.0)  # ISO 898-1: 4.8 from memory; 8.8 gives the least loads of its table, read
METRIC_DEPTH, INCH_DEPTH = 0.9382, 0.9743  # of thread that isn't counted, over its pitch
_IN = 25.4  # [mm]


def pitch_mm(size: str) -> float:
    """From thread to thread: "M4" 0.7 mm, "#8-32" 1/32 in [mm]."""
    return PITCHES_MM[size] if size in PITCHES_MM else _IN / float(size.rsplit("-", 1)[1])


def stress_area_mm2(size: str) -> float:
    """The section that a threaded bolt breaks in, pi / 4 (d - 0.9382 P)^2 (ISO 898-1); of inch threads less 0.9743 P
    (ASME B1.1, from memory) [mm2]."""
    depth = METRIC_DEPTH if size in PITCHES_MM else INCH_DEPTH
    return math.pi / 4 * (SCREWS[size].diameter - depth * pitch_mm(size)) ** 2


def bolt_proof_n(size: str) -> Figure:
    """The pull that a steel bolt springs back from [N]; low is of the soft class that hardware shops sell."""
    stress = figure("MPa", PROOF_MPA, 0, "{} {u} of class 4.8 and {} of 8.8")
    return _pull(size, PROOF_MPA, f"proof stress {stress}, from memory")


def bolt_ultimate_n(size: str) -> Figure:
    """The pull that a steel bolt breaks at, at the least [N]; low is of the soft class that hardware shops sell."""
    stress = figure("MPa", ULTIMATE_MPA, 0, "{} {u} of class 4.8, from memory, {} of 8.8")
    return _pull(size, ULTIMATE_MPA, f"{stress} (ISO 898-1 in a public copy, read)")


def _pull(size: str, mpa: tuple[float, float], words: str) -> Figure:
    area = stress_area_mm2(size)
    return Figure(mpa[0] * area, mpa[1] * area, mpa[1] * area, "N", f"{size}, {figure('mm2', area, 2)}: {words}")

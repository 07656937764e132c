"""What a bolt stands, by its size: stressed as far as it springs back."""

from __future__ import annotations

import math

from geomgen.figures import figure
from geomgen.materials.figure import Figure
from geomgen.materials.screws import SCREWS

PITCHES_MM = {"M2": 0.4, "M2.5": 0.45, "M3": 0.5, "M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25}  # ISO 261, coarse
PROOF_MPA = (310.0, 580.0)  # classes 4.8 and 8.8, ISO 898-1, from memory; inch screws of grade 2 and 5 are alike
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
    area, (soft, hard) = stress_area_mm2(size), PROOF_MPA
    source = f"{size}, {figure('mm2', area, 2)}: proof stress {stress}, from memory"
    return Figure(soft * area, hard * area, hard * area, "N", source)

"""Bolts: stress areas and loads of ISO 898-1, in a public copy; inch threads by their definition."""

from __future__ import annotations

import math

import pytest

from geomgen.materials.bolts import bolt_proof_n, pitch_mm, stress_area_mm2
from geomgen.materials.screws import SCREWS

# ISO 898-1: stress area [mm2] and least ultimate load of class 8.8 [N], read; proof load at 580 MPa [N], worked out
READ = {"M3": (5.03, 4020, 2917), "M4": (8.78, 7020, 5092), "M5": (14.2, 11350, 8236), "M6": (20.1, 16100, 11658),
        "M8": (36.6, 29200, 21228)}  # fmt: skip
WORKED_OUT = {"M2": (2.073, 1202), "M2.5": (3.391, 1967)}  # area, proof load of 8.8
# Unified threads, stress area [in2] (ASME B1.1, from memory)
UNIFIED = {"#4-40": 0.00604, "#6-32": 0.00909, "#8-32": 0.0140, "#10-24": 0.0175, "#10-32": 0.0200, "1/4-20": 0.0318,
           "1/4-28": 0.0364, "5/16-18": 0.0524}  # fmt: skip


@pytest.mark.parametrize("size", READ)
def test_metric_bolts_by_the_standard(size: str) -> None:
    area, ultimate, proof = READ[size]
    assert stress_area_mm2(size) == pytest.approx(area, rel=3e-3)
    assert 800.0 * stress_area_mm2(size) == pytest.approx(ultimate, rel=0.01)  # 800 MPa, read
    assert bolt_proof_n(size).typical == pytest.approx(proof, rel=3e-3)


@pytest.mark.parametrize("size", WORKED_OUT)
def test_small_bolts(size: str) -> None:
    area, proof = WORKED_OUT[size]
    assert stress_area_mm2(size) == pytest.approx(area, rel=1e-3)
    assert bolt_proof_n(size).typical == pytest.approx(proof, rel=1e-3)


@pytest.mark.parametrize("size", UNIFIED)
def test_unified_threads(size: str) -> None:
    """pi / 4 (d - 0.9743 / n)^2 in inches, which rounds to the standard's table."""
    assert stress_area_mm2(size) / 25.4**2 == pytest.approx(UNIFIED[size], rel=6e-3)


@pytest.mark.parametrize("size", SCREWS)
def test_every_screw_has_a_pitch_and_a_soft_bolt_is_the_low_end(size: str) -> None:
    assert 0.1 * SCREWS[size].diameter < pitch_mm(size) < 0.3 * SCREWS[size].diameter
    area = stress_area_mm2(size)
    assert 0.5 < area / (math.pi / 4 * SCREWS[size].diameter ** 2) < 0.85
    proof = bolt_proof_n(size)
    assert proof.unit == "N" and proof.low == pytest.approx(310 * area) and proof.low < proof.typical == proof.high

"""The table of README.md beside this is what report_measured.py gives."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from report_measured import stated, tm_thrust
from test_measured_rotors import TM_81232

README = (Path(__file__).parent / "README.md").read_text(encoding="utf-8")


def test_thrusts_of_tm_81232() -> None:
    rows = re.findall(r"TM 81232, \d+ deg, C_T \| [.\d]+ \| ([.\d]+) \(.*?\) \| ([.\d]+)", README)
    named, own = zip(*((float(one), float(other)) for one, other in rows), strict=True)
    assert named == pytest.approx(tm_thrust(TM_81232), rel=0.01)
    assert own == pytest.approx(tm_thrust(stated("0012")), rel=0.01)

"""A maker's own table: read as written, refused by line."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from geomgen.errors import DesignError
from geomgen.section.polar.own_table import read_table

GOOD = """# from our tunnel
Reynolds number, angle [deg], lift, drag
100000, -5, -0.3, 0.03
100000, 0, 0.2, 0.02
100000, 10, 1.1, 0.04
200000, -5, -0.4, 0.02
200000, 0, 0.3, 0.01
200000, 10, 1.2, 0.03
"""


def test_as_written_between_its_points_and_a_plate_beyond(tmp_path: Path) -> None:
    (tmp_path / "own.csv").write_text(GOOD)
    polar = read_table(tmp_path / "own.csv")
    at = polar.at(np.radians([-5.0, 0.0, 5.0, 10.0, 90.0]), np.array([1e5, 2e5, 1e5, 2e5, 1e5]))
    assert at.lift[:4] == pytest.approx([-0.3, 0.3, 0.65, 1.2])
    assert at.drag[:4] == pytest.approx([0.03, 0.01, 0.03, 0.03])
    assert at.drag[4] == pytest.approx(1.80)  # SAND80-2114 at 90 deg
    assert at.slope_per_rad[2] == pytest.approx(0.9 / np.radians(10.0))
    assert "beyond the table's angles, -5 to 10 deg" in " ".join(polar.words)


@pytest.mark.parametrize(
    ("old", "new", "line", "words"),
    [
        ("100000, 0, 0.2, 0.02", "100000, 0, 0.2", 4, "holds 3 values"),
        ("100000, 0, 0.2, 0.02", "100000, -5, 0.2, 0.02", 4, "stands twice"),
        ("100000, 0, 0.2, 0.02", "100000, -6, 0.2, 0.02", 4, "comes after -5 deg"),
        ("100000, 0, 0.2, 0.02", "100000, 0, nan, 0.02", 4, "lift"),
        ("100000, 0, 0.2, 0.02", "100000, 0, 0.2, -0.02", 4, "drag"),
        ("200000, -5", "90000, -5", 6, "comes after 100000"),
        ("lift, drag", "lift, sink", 2, "heading"),
        ("200000, 10, 1.2, 0.03\n", "", 6, "has 2 angles"),
    ],
)
def test_refused_with_file_and_line(tmp_path: Path, old: str, new: str, line: int, words: str) -> None:
    (tmp_path / "own.csv").write_text(GOOD.replace(old, new))
    with pytest.raises(DesignError) as caught:
        read_table(tmp_path / "own.csv")
    fault = caught.value.faults[0]
    assert (fault.file, fault.line) == ("own.csv", line)
    assert words in str(fault)
    assert fault.allowed

"""Figures in a band about an axis, read from where they stand."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.marking.pitch_figures import pitch_figures
from geomgen.model.label import FIGURE_GAP_MM, Figures
from geomgen.plane.letters import text_width

WIDE = Figures((2.0, 8.0, 14.0), ((88.0, 82.0, 76.0), (268.0, 262.0, 256.0)), rim_mm=50.0, band_mm=6.0)
CLOSE = Figures((12.5, 15.5, 18.5), ((88.0, 85.0, 82.0),), rim_mm=60.0, band_mm=6.0)


@pytest.mark.parametrize("figures", [WIDE, CLOSE, WIDE.mirrored(), CLOSE.mirrored()])
def test_each_stands_at_its_angle_with_the_head_up(figures: Figures) -> None:
    texts = pitch_figures(figures)
    angles = np.ravel(figures.angles_deg)
    assert len(texts) == len(angles)
    for text, angle in zip(texts, angles, strict=True):
        x, y = text.at
        off = (np.degrees(np.arctan2(y, x)) - angle + 180.0) % 360.0 - 180.0
        assert abs(off) < (2.0 if "°" in text.text else 1e-9) and -90.0 <= text.turn_deg <= 90.01
    assert sum("°" in text.text for text in texts) == len(figures.angles_deg)


def test_close_figures_stand_along_the_radius() -> None:
    """3 deg at 60 mm are 3.1 mm: three digits of 2 mm, side by side, don't go round the rim."""
    for text in pitch_figures(CLOSE):
        assert abs(text.turn_deg) > 80.0 and text.height_mm <= 2 * 60.0 * np.sin(np.radians(1.5)) - FIGURE_GAP_MM
        assert text_width(text.text.strip("°"), text.height_mm) <= 6.0 - 2 * FIGURE_GAP_MM


def test_the_unit_goes_to_the_last_that_is_read() -> None:
    """Round the rim, read left to right on top: the rightmost figure of the upper set, in either hand."""
    for figures in (WIDE, WIDE.mirrored()):
        upper = [text for text in pitch_figures(figures) if text.at[1] > 0]
        assert "°" in max(upper, key=lambda text: text.at[0]).text

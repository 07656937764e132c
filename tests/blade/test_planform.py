"""The blade seen from above, a shaped tip included, against closed forms."""

from __future__ import annotations

from math import pi
from typing import Any

import numpy as np
import pytest

from geomgen.blade.planform import planform
from geomgen.craft import Craft


def areas(craft: Craft) -> tuple[float, float]:
    """Area of the planform, and of the frame alone [mm2]."""
    r, chord = planform(craft.design, craft.blade)
    assert r[0] == craft.design.rotor.root and r[-1] == pytest.approx(craft.design.rotor.radius)
    frame = r <= craft.design.frame_end + 1e-9
    return float(np.trapezoid(chord, r)), float(np.trapezoid(chord[frame], r[frame]))


@pytest.mark.parametrize(("kind", "share"), [("rounded", pi / 4), ("raked", 0.5)])
def test_a_shaped_tip_is_half_an_ellipse_or_a_triangle(craft_of: Any, kind: str, share: float) -> None:
    tip = f'[blade.tip]\nkind = "{kind}"\ndepth = 20\nstock = "ply_2"\n\n[blade.skin.all]'
    craft = craft_of("starter", ("[blade.skin.all]", tip))
    whole, frame = areas(craft)
    end = float(craft.blade.chord.at(680.0))  # starter: radius 700
    assert whole - frame == pytest.approx(share * 20.0 * end, rel=2e-3)


def test_a_square_tip_is_none(craft_of: Any) -> None:
    whole, frame = areas(craft_of("starter"))
    assert whole == frame == pytest.approx((180.0 + 150.0) / 2 * 580.0)

"""The picture of mass and centre: bars and discs measured on the page against the statement's own lines."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.figures import spelled
from geomgen.model.role import Assembly
from geomgen.views.drawing import Drawing, Quarters, Ring, Shape, Words
from geomgen.views.mass_picture import STYLES, by_group, mass_picture
from geomgen.views.plan_inputs import plan_of

FILLS = {f"{style}-fill paper" for style in STYLES.values()}


def picture(craft: Craft) -> Drawing:
    return mass_picture(craft.mass, plan_of(craft))


@pytest.mark.parametrize("name", ["lantern", "kite_day"])
def test_bars_are_as_long_as_groups_are_heavy(craft_of: object, name: str) -> None:
    craft: Craft = craft_of(name)  # type: ignore[operator]
    bars = [item for item in picture(craft).items if isinstance(item, Shape) and item.style in FILLS]
    lengths = [item.loops[0].bounds()[2] - item.loops[0].bounds()[0] for item in bars]
    lines = [line for line in craft.mass.lines if line.assembly is Assembly.BLADE]
    sums = [triple[1] for triple in by_group(lines).values()]
    assert sum(sums) == pytest.approx(craft.mass.blade.mass_g.typical)
    assert np.array(lengths) / lengths[0] == pytest.approx(np.array(sums) / sums[0])


@pytest.mark.parametrize("name", ["lantern", "kite_day"])
def test_discs_balance_at_the_mark(craft_of: object, name: str) -> None:
    """The centre of the discs, weighted by their areas, is where the centre of gravity is marked."""
    craft: Craft = craft_of(name)  # type: ignore[operator]
    items = picture(craft).items
    discs = [item for item in items if isinstance(item, Ring) and item.style in FILLS]
    areas = np.array([math.pi * disc.radius**2 for disc in discs])
    centre = areas @ np.array([disc.center for disc in discs]) / areas.sum()
    mark = next(item for item in items if isinstance(item, Quarters))
    assert centre == pytest.approx(np.array(mark.center), abs=1e-6)


def test_words_stay_on_the_picture(kite_day: Craft) -> None:
    drawing = picture(kite_day)
    x0, y0, x1, y1 = drawing.box
    for item in drawing.items:
        if isinstance(item, Words):
            wide = 0.56 * item.size * len(spelled(item.text, drawing.unit))
            left = item.at[0] - (wide if item.anchor == "end" else 0.0)
            assert x0 <= left and left + wide <= x1 and y0 < item.at[1] < y1 - item.size, item.text
        if isinstance(item, Ring):
            assert x0 < item.center[0] - item.radius and item.center[0] + item.radius < x1
            assert y0 < item.center[1] - item.radius


def test_a_clockwise_blade_is_seen_as_it_turns(kite_day: Craft) -> None:
    plan = plan_of(kite_day)
    mark = next(item for item in picture(kite_day).items if isinstance(item, Quarters))
    axis = next(item for item in picture(kite_day).items if getattr(item, "dashes", ()))
    forward = kite_day.mass.blade.cg_chordwise_mm.typical
    assert plan.hand == -1.0
    assert (mark.center[1] - axis.points[0][1]) * forward * plan.hand > 0.0  # type: ignore[union-attr,index]

"""Glue by hand: areas of joints of one kind added up, lying where they do."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.design.library import starter_text
from geomgen.design.reader import read_text
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.part import Area, Bought
from geomgen.model.role import Role
from geomgen.structure.glue import glue

SKIN, SPAR = Key(Role.SKIN, "blade.skin.all"), Key(Role.SPAR, "blade.spar.main")
INNER, OUTER = (Key(Role.RIB, "blade.ribs.outer", (k,)) for k in (1, 2))


def joint(a: Key, b: Key, *rows: list[float]) -> Joint:
    return Joint(a, b, Bond.GLUED, a.path, np.array(rows))


JOINTS = [
    joint(SKIN, INNER, [100.0, 200.0, -10.0, 4.0]),
    joint(SKIN, OUTER, [250.0, 600.0, -30.0, 0.0], [50.0, 600.0, 30.0, 8.0]),
    joint(SPAR, INNER, [75.0, 200.0, 0.0, 0.0]),
]


def test_each_kind_of_joint_lies_at_the_mean_of_its_areas() -> None:
    """100 mm2 at r 200 and 300 at 600: 500 in the mean; forward (-1000 - 7500 + 1500) / 400, up (400 + 400) / 400."""
    skin, spars = glue(read_text(starter_text()).design, (), JOINTS).read().parts
    assert isinstance(skin.shape, Area) and skin.shape.area_mm2 == 400.0
    shares, places = skin.spread[:, 0], skin.spread[:, 1:]
    assert shares @ places == pytest.approx([500.0, -17.5, 2.0])
    assert isinstance(spars.shape, Area) and spars.shape.area_mm2 == 75.0


def test_a_stated_mass_lies_over_all_joints_by_area() -> None:
    """As before, and 75 mm2 on the axis at r 200: (400 x 500 + 75 x 200) / 475."""
    text = starter_text().replace('[glue]\nkind = "wood glue"', '[glue]\nmass = "9 g"')
    design = read_text(text).design
    assert design.glue is not None and design.glue.mass == 9.0
    (whole,) = glue(design, (), JOINTS).read().parts
    assert isinstance(whole.shape, Bought) and whole.shape.mass_g[1] == 9.0
    assert whole.spread[:, 0] @ whole.spread[:, 1:3] == pytest.approx([215_000 / 475, -7_000 / 475])

"""What pulls on a rib and what its glue carries, by hand: two ribs under one skin, a fan on the outer one."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geomgen.design.library import starter_text
from geomgen.design.reader import read_text
from geomgen.judging.bonds import Hold, rib_holds, tightest
from geomgen.mass.lines import Line
from geomgen.mass.unit_mass import StockFigure
from geomgen.materials.figure import Figure
from geomgen.model.joint import Bond, Joint, Key, touching
from geomgen.model.made import Made
from geomgen.model.role import Assembly, Role

RIBS, MAIN = "blade.ribs.outer", "blade.spar.main"
INNER, OUTER, SPAR = Key(Role.RIB, RIBS, (1,)), Key(Role.RIB, RIBS, (2,)), Key(Role.SPAR, MAIN)
SKIN, FAN, GLUE = (Key(role, str(role)) for role in (Role.SKIN, Role.FITTING, Role.GLUE))
LIGHT = Key(Role.FITTING, "fitting.light")
RPM = 380.0  # rpm_max


def line(key: Key, high_g: float, r_mm: float, stock: str = "", density: float = 100.0) -> Line:
    """Low and typical masses are a half and three quarters of the high one, so that an end mistaken is seen."""
    grams = (high_g / 2, 0.75 * high_g, high_g)
    figure = StockFigure(Figure(density, 1.5 * density, 2 * density, "kg/m3", "invented"), "mm2", 3.0)
    return Line(
        name=str(key.role), role=key.role, stock=stock, path=key.path, assembly=Assembly.BLADE, count=1, amount=1.0,
        figure=figure, share=1.0, one_g=grams, set_g=grams, place_mm=(r_mm, 0.0, 0.0), out_forward_mm2=0.0,
        mark=key.mark,
    )  # fmt: skip


def area(a: Key, b: Key, bond: Bond, mm2: float) -> Joint:
    return Joint(a, b, bond, a.path, np.array([[mm2, 500.0, 0.0, 0.0]]))


def test_two_ribs_by_hand() -> None:
    """Pull of 1 g at 1 m and 380 rpm: 39.794^2 / 1000 = 1.58352 N. The skin's 40 g at 500 mm pull 31.67 N, its glue's
    2 g there 1.584 and the light's 5 g at 400 mm 3.167: 36.42 N, a quarter of it on the inner rib, which shares 100 of
    400 mm2. Of their own the ribs pull 3 g x 0.3 m, and 2 g x 0.6 m with 50 g of fan: 1.425 and 49.41 N. Glue: 75 mm2
    of balsa of 100 kg/m3 at the least, 0.00786 MPa m3/kg of shear: 58.95 N."""
    lines = [
        line(SPAR, 30, 400), line(INNER, 3, 300, "balsa_3"), line(OUTER, 2, 600, "balsa_3"), line(FAN, 50, 600),
        line(SKIN, 40, 500), line(GLUE, 2, 500), line(LIGHT, 5, 400),
    ]  # fmt: skip
    joints = (
        area(INNER, SPAR, Bond.LET_IN, 75.0),
        area(OUTER, SPAR, Bond.LET_IN, 75.0),
        area(SKIN, INNER, Bond.GLUED, 100.0),
        area(SKIN, OUTER, Bond.GLUED, 300.0),
        touching(FAN, OUTER, Bond.SCREWED, FAN.path),
        touching(LIGHT, SKIN, Bond.SEALED, LIGHT.path),
    )
    held = {INNER: SPAR, OUTER: SPAR, SKIN: INNER, FAN: OUTER, LIGHT: SKIN, GLUE: SKIN}
    slower = starter_text().replace("rpm_max    = 410", "rpm_max    = 380").replace("rpm        = 280", "rpm = 250")
    design = read_text(slower).design
    assert design.duty.rpm_max == RPM
    inner, outer = rib_holds(design, Made((), joints), held, lines)
    newton = (RPM * math.pi / 30) ** 2 * 1e-3
    assert newton == pytest.approx(1.58352, rel=1e-5)
    assert inner.pull_n == pytest.approx(1.425 + 36.42 / 4, abs=0.01)
    assert outer.pull_n == pytest.approx(49.41 + 0.75 * 36.42, abs=0.01)
    for rib in (inner, outer):
        assert rib.holds_n == pytest.approx(58.95, abs=0.01)
    most = tightest((inner, outer), None)
    assert most is not None and most.name == outer.name and most.share == pytest.approx(outer.pull_n / 58.95, rel=1e-3)
    collar = Hold("the collar", 45.0, 131.0, 100.0)
    assert tightest((inner, outer), collar) is collar


def test_ply_isn_t_judged() -> None:
    design = read_text(starter_text()).design
    (rib,) = rib_holds(
        design, Made((), (area(OUTER, SPAR, Bond.LET_IN, 50.0),)), {OUTER: SPAR}, [line(OUTER, 5, 600, "ply_2")]
    )
    assert rib.holds_n is None and rib.pull_n > 0.0 and tightest((rib,), None) is None

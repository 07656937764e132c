"""How pulls are shared among ribs: by hand, and that nothing is lost, on blades as drawn."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read
from geomgen.model.joint import Bond, Joint, Key, touching
from geomgen.model.role import Assembly, Role
from geomgen.strength.load_path import chain
from geomgen.strength.shares import Areas

ONE, TWO = (Key(Role.RIB, "blade.ribs.outer", (number,)) for number in (1, 2))
SPAR, REAR = Key(Role.SPAR, "blade.spar.main"), Key(Role.SPAR, "blade.spar.rear")
SHEET, FILM, WIRE, GLUE = (Key(role, str(role)) for role in (Role.SHEETING, Role.FILM, Role.WIRE, Role.GLUE))
CAP = Key(Role.CAP_STRIP, "caps", (2, "upper"))


def joint(a: Key, b: Key, mm2: float, bond: Bond = Bond.GLUED) -> Joint:
    return Joint(a, b, bond, a.path, np.array([[mm2, 500.0, 0.0, 0.0]]))


JOINTS = (
    joint(ONE, SPAR, 75.0, Bond.LET_IN), joint(TWO, SPAR, 75.0, Bond.LET_IN),
    joint(REAR, ONE, 10.0, Bond.LET_IN), joint(REAR, TWO, 30.0, Bond.LET_IN),
    joint(SHEET, ONE, 100.0), joint(SHEET, TWO, 300.0), joint(CAP, TWO, 400.0),
    touching(FILM, SHEET, Bond.SEALED, "film"), touching(FILM, CAP, Bond.SEALED, "film"),
    touching(WIRE, TWO, Bond.CLAMPED, "tie", [(600.0, 0.0, 0.0)]),
    touching(WIRE, ONE, Bond.CLAMPED, "tie", [(300.0, 0.0, 0.0)]),
    touching(WIRE, TWO, Bond.BEARING, "channel", [(600.0, 0.0, 0.0)]),
    touching(GLUE, ONE, Bond.GLUED, "glue"), touching(GLUE, TWO, Bond.GLUED, "glue"),
)  # fmt: skip
HELD = {ONE: SPAR, TWO: SPAR, REAR: ONE, SHEET: ONE, CAP: TWO, FILM: SHEET, WIRE: ONE, GLUE: ONE}


@pytest.mark.parametrize(
    ("key", "on_one", "why"),
    [
        (ONE, 1.0, "a rib has its own"),
        (REAR, 0.25, "a strip by its glue in ribs, 10 of 40 mm2"),
        (SHEET, 0.25, "a sheet by its glue on ribs, 100 of 400 mm2"),
        (FILM, 0.125, "film by what lies beneath: sheet of 400 mm2, a quarter on one, and a strip of 400 on two"),
        (WIRE, 1.0, "a wire from its innermost tie"),
        (GLUE, 0.5, "glue evenly on what it joins"),
    ],
)
def test_by_hand(key: Key, on_one: float, why: str) -> None:
    shares = Areas(JOINTS, HELD).shares(key)
    assert shares.get(ONE, 0.0) == pytest.approx(on_one), why
    assert sum(shares.values()) == pytest.approx(1.0)


def test_what_ribs_hang_on_goes_to_none() -> None:
    assert not Areas(JOINTS, HELD).shares(SPAR)


@pytest.mark.parametrize(
    ("example", "option"),
    [("lantern", None), ("lantern", "balsa"), ("lantern", "film"), ("lantern", "foam_board"), ("kite_day", None)],
)
def test_ribs_have_all_that_hangs_on_the_spar(example: str, option: str | None) -> None:
    """The test's own sum over the mass lines of all that hangs on the main spar, itself left out."""
    path = example_path(example)
    craft = Craft(read(path, option).design, path.parent, exact=False)
    moments: dict[Key, float] = {}
    for line in craft.weighed:
        if line.assembly is Assembly.BLADE:
            moments[line.key] = moments.get(line.key, 0.0) + line.set_g[2] * line.place_mm[0]
    main = Key(Role.SPAR, f"blade.spar.{craft.design.main_spar}")
    hanging = sum(moment for key, moment in moments.items() if main in chain(key, craft.hung))
    pulls = {key: np.array(moment) for key, moment in moments.items()}
    shared = Areas(craft.flying.joints, craft.hung).on_ribs(pulls)
    assert sum(float(each) for each in shared.values()) == pytest.approx(hanging, rel=1e-9)

"""Parts that go on a sheet or a bed only when turned: bars, whose extent is l cos a + w sin a by l sin a + w cos a."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.design.schema import Design, SheetStock
from geomgen.figures import spelled
from geomgen.model.part import Flat, Part
from geomgen.plane.path import from_points
from geomgen.plane.region import Region
from geomgen.stock.laying import lay
from geomgen.stock.need import needs
from geomgen.stock.sheet_fit import sheet_faults, too_large


def bar(long: float, wide: float, grain: float | None = None) -> Part:
    outline = from_points([(0, 0), (long, 0), (long, wide), (0, wide)], closed=True)
    flat = Flat(Region(outline), 3.0, grain=grain)
    return Part("bar", "rib", "board", "blade.ribs.x", flat, "hub", 1, np.array([[1.0, 0, 0, 0]]), mark=(long,))  # type: ignore[arg-type]


def shop(lantern: Craft, **given: Any) -> Design:
    """The demo's design with a sheet and a laser of some sizes."""
    design, stock = lantern.design, {"kind": "sheet", "of": "balsa", "thickness": 3.0}
    board = SheetStock.model_construct(**stock, size=given.get("sheet"), grain=given.get("grain"))
    laser = design.laser.model_copy(update={"bed": given.get("bed"), "edge": given.get("edge", 0.0)})
    return design.model_copy(update={"stock": design.stock | {"board": board}, "laser": laser})


def test_a_bar_goes_on_a_bed_at_45_deg(lantern: Craft) -> None:
    """(400 + 20) / sqrt 2 is 297."""
    (note,) = spelled(too_large(bar(400, 20), shop(lantern, bed=(300.0, 300.0))))
    assert note.startswith("400 x 20 mm: it goes on the laser's bed, 300 x 300 mm, turned by ")
    assert note.endswith((" 45 deg", " 135 deg"))


@pytest.mark.parametrize(("long", "goes"), [(404.2, True), (404.3, False)])
def test_a_bar_hardly_too_long(lantern: Craft, long: float, goes: bool) -> None:
    (note,) = spelled(too_large(bar(long, 20), shop(lantern, bed=(300.0, 300.0))))
    assert ("turned by" in note) is goes and ("too large" in note) is not goes


def test_a_quarter_turn_is_not_worth_a_word(lantern: Craft) -> None:
    assert too_large(bar(20, 290), shop(lantern, bed=(300.0, 100.0), sheet=(300.0, 100.0))) == ()


def test_grain_lies_as_the_sheets(lantern: Craft) -> None:
    """A bar that goes on a sheet askew, or only across it, where its grain lets it."""
    square, strip = (300.0, 300.0), (300.0, 100.0)
    (fault,) = sheet_faults([bar(400, 20, 0.0)], shop(lantern, sheet=square, grain="long", edge=5.0))
    assert fault.path == "stock.board.size"
    assert (
        spelled(fault.wrong)
        == "bar is 400 x 20 mm, its grain as the sheet's: 110.0 mm too large, less 5 mm at its edges"
    )
    assert spelled(fault.allowed) == "at least 410 mm by 30 mm"
    assert "turned by" in too_large(bar(400, 20, 0.0), shop(lantern, sheet=square))[0]
    assert "turned by" in too_large(bar(400, 20), shop(lantern, sheet=square, grain="long"))[0]
    assert too_large(bar(20, 200, 180.0), shop(lantern, sheet=strip))[0:] == ()
    assert [*sheet_faults([bar(20, 200, 180.0)], shop(lantern, sheet=strip, grain="long"))]
    assert not [*sheet_faults([bar(20, 200, 90.0)], shop(lantern, sheet=strip, grain="long"))]
    assert too_large(bar(20, 200, 90.0), shop(lantern, sheet=strip, grain="long")) == ()


def test_what_lies_askew_takes_a_sheet_of_its_own(lantern: Craft) -> None:
    """Not counted by its area, which would be a tenth of a sheet."""
    bars, design = [bar(400, 20), bar(410, 10)], shop(lantern, sheet=(300.0, 300.0))
    (need,) = needs(bars, design, lay(bars, design))
    assert (need.sheets, need.too_large) == (2, ())

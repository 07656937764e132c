"""What is bought besides stocks, against the demo's design file by hand and against sums of its parts."""

from __future__ import annotations

import pytest

from geomgen.craft import Craft
from geomgen.model.part import Area, Bought, Length
from geomgen.stock.bought import Purchase, purchases


def bought(craft: Craft) -> dict[str, Purchase]:
    grams = {line.key: line.one_g[1] for line in craft.mass.lines}
    return {one.name: one for one in purchases(craft.finished, grams, craft.design)}


def test_pieces_are_those_of_all_blades_and_of_the_hub(lantern: Craft) -> None:
    """The demo: two blades; a fan, a strip of lights, a collar each; a battery, a receiver, two controls on the hub."""
    found = bought(lantern)
    pieces = {name: one.pieces for name, one in found.items() if one.unit == "piece"}
    assert pieces == {
        "collar": 2, "turning cap screw M3 x 12": 8, "fixed cap screw M3 x 12": 8, "screw of fan M2 x 12": 4,
        "fitting fan": 2, "fitting light_strip": 2, "fitting battery": 1, "fitting receiver": 1,
        "fitting speed_control": 2, "tie of power": 4, "mast bolt M4 x 16": 4,
    }  # fmt: skip
    fan = lantern.design.fitting["fan"]
    assert found["fitting fan"].mass_g == pytest.approx(2 * fan.mass)


def test_wire_is_its_length_times_wires_times_blades(lantern: Craft) -> None:
    wire = lantern.design.wire["fan"]
    (one,) = (part for part in lantern.wires if part.path == "wire.fan")
    assert isinstance(one.shape, Length) and wire.count == 3
    found = bought(lantern)["wire fan"]
    assert (found.pieces, found.unit) == (6, "mm")
    assert found.amount == pytest.approx(6 * one.shape.length_mm)
    assert found.mass_g == pytest.approx(found.amount / 1000 * wire.mass, rel=1e-3)


def test_all_glue_of_one_kind_is_one(lantern: Craft) -> None:
    """What holds on the tube is bought apart, the rest together."""
    for name, marks in (("glue on tubes", 1), ("glue", 5)):
        parts = [part for part in lantern.glue if (part.name == "glue on tubes") == (name == "glue on tubes")]
        areas = [part.shape.area_mm2 for part in parts if isinstance(part.shape, Area)]
        found = bought(lantern)[name]
        assert found.unit == "mm2" and found.amount == pytest.approx(2 * sum(areas))
        names = {part.name for part in parts}
        lines = [line for line in lantern.mass.lines if line.role == "glue" and line.name in names]
        assert found.mass_g == pytest.approx(2 * sum(line.set_g[1] for line in lines))
        assert found.pieces == len(lines) == marks


def test_glue_whose_mass_is_stated_is_that_mass(craft_of: object) -> None:
    craft: Craft = craft_of("lantern", ('kind = "wood glue"', 'mass = "12 g"'))  # type: ignore[operator]
    assert all(isinstance(part.shape, Bought) for part in craft.glue)
    assert bought(craft)["glue"] == Purchase("glue", 1, pytest.approx(24.0), "g", pytest.approx(24.0))


def test_what_has_a_stock_and_what_stays_on_the_bench_is_not_bought_here(lantern: Craft) -> None:
    names = set(bought(lantern))
    assert not names & {part.name for part in lantern.finished if part.stock or part.assembly == "bench"}

"""What the air asks of a blade: its panels by the planform's own area, and polars blended along it as shapes are."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pytest

from geomgen.blade.planform import planform
from geomgen.hover.air_side import along_blade, looks_mm, panels_of
from geomgen.section.polar.record import Band, Polar


@cache
def flat(lift: float) -> Polar:
    """A polar of one lift and drag at any angle and Reynolds number."""
    rows = np.full((2, 3), lift)
    none = np.zeros(2)
    band = Band(none, none, none, none, none)
    return Polar(np.array([1e4, 1e6]), np.array([-np.pi, 0.0, np.pi]), rows, rows / 10, 0 * rows, band)


def lifts(r_mm: list[float], at_mm: list[float], *polars: Polar) -> Any:
    along = along_blade(np.array(r_mm), np.array(at_mm), polars)
    assert np.allclose(np.sum(along.share, axis=1), 1.0)
    forces = along.at(np.full(len(r_mm), 0.05), np.full(len(r_mm), 1e5))
    assert np.allclose(forces.drag, forces.lift / 10)
    return forces.lift


def test_straight_between_entries_and_constant_beyond() -> None:
    one, other = flat(0.2), flat(0.8)
    assert lifts([50.0, 100.0, 250.0, 400.0, 500.0], [100.0, 400.0], one, other) == pytest.approx(
        [0.2, 0.2, 0.5, 0.8, 0.8]
    )


def test_one_polar_at_several_places() -> None:
    """Up to 200 mm the first, from 300 mm the second, and back to the first at 400."""
    one, other = flat(0.2), flat(0.8)
    got = lifts([150.0, 250.0, 300.0, 350.0], [100.0, 200.0, 300.0, 400.0], one, one, other, one)
    assert got == pytest.approx([0.2, 0.5, 0.8, 0.5])
    assert len(along_blade(np.array([150.0]), np.array([100.0, 200.0]), (one, one)).polars) == 1


@pytest.mark.parametrize("example", ["lantern", "starter"])
def test_panels_have_the_planforms_area(craft_of: Any, example: str) -> None:
    """Chord by a trapezium sum along the planform, all blades, over the disc: within 1 %."""
    craft = craft_of(example)
    found = panels_of(craft.design, craft.blade)
    assert found is not None and found.blades == craft.design.rotor.blades
    r, chord = planform(craft.design, craft.blade)
    radius = craft.design.rotor.radius
    area = found.blades * float(np.trapezoid(chord, r)) / (np.pi * radius**2)
    assert found.solidity == pytest.approx(area, rel=0.01)
    assert found.edge[0] * radius == pytest.approx(r[0]) and found.edge[-1] == pytest.approx(1.0)


def test_a_shaped_tip_ends_in_a_little_chord(craft_of: Any) -> None:
    tip = '[blade.tip]\nkind = "raked"\ndepth = 20\nstock = "ply_2"\n\n[blade.skin.all]'
    craft = craft_of("starter", ("[blade.skin.all]", tip))
    found = panels_of(craft.design, craft.blade)
    assert found is not None
    assert 0.0 < found.edge_chord[-1] < 0.03 * found.edge_chord.max()


def test_blades_that_overlap_at_the_root_have_none(craft_of: Any) -> None:
    craft = craft_of("starter")
    many = craft.design.model_copy(update={"rotor": craft.design.rotor.model_copy(update={"blades": 24})})
    assert panels_of(many, craft.blade) is None


def test_polars_are_taken_where_sections_are_stated(craft_of: Any) -> None:
    craft = craft_of("starter")
    assert list(looks_mm(craft.blade)) == [r for r, _ in craft.blade.sections]

"""The clockwise twin is the mirror image: equal areas, mirrored outlines, letters the right way round."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.frames import applied, blade_to_rotor
from geomgen.parts.part import Flat


@pytest.fixture(scope="module")
def twin(craft_of: object) -> Craft:
    return craft_of("lantern", ('turn   = "anticlockwise"', 'turn   = "clockwise"'))  # type: ignore[operator]


def test_blade_one_lies_along_x_with_its_leading_edge_towards_y(lantern: Craft) -> None:
    station = lantern.blade.station(600.0)
    nose = station.to_blade(np.zeros((1, 2)))
    rotor = applied(blade_to_rotor(1, 2, lantern.design.pitch.set, lantern.design.rotor.coning), nose)[0]
    assert rotor[0] > 590 and rotor[1] > 30


def test_equal_areas_and_mirrored_outlines(lantern: Craft, twin: Craft) -> None:
    assert [part.name for part in lantern.flat_parts] == [part.name for part in twin.flat_parts]
    for here, there in zip(lantern.flat_parts, twin.flat_parts, strict=True):
        assert isinstance(here.shape, Flat) and isinstance(there.shape, Flat)
        a, b = here.shape.region, there.shape.region
        assert b.area() == pytest.approx(a.area(), rel=1e-12)
        assert b.centroid()[0] == pytest.approx(-a.centroid()[0], abs=1e-9)
        assert b.centroid()[1] == pytest.approx(a.centroid()[1], abs=1e-9)
        x0, y0, x1, y1 = a.bounds()
        assert b.bounds() == pytest.approx((-x1, y0, -x0, y1), abs=1e-9)


def test_letters_are_not_mirrored(twin: Craft) -> None:
    from geomgen.parts.lettering import written

    # The strokes of "R" in its own frame, and as they stand on the part: a turn and a shift, no mirror.
    for part in twin.flat_parts:
        assert isinstance(part.shape, Flat)
        for text in part.shape.texts:
            strokes = written(text)
            assert strokes
            assert -90.0 <= text.turn_deg <= 90.0 + 1e-9


def test_a_clockwise_rib_points_its_nose_to_the_right(lantern: Craft, twin: Craft) -> None:
    for craft, label in ((lantern, "left"), (twin, "right")):
        rib = craft.ribs[3].shape
        assert isinstance(rib, Flat) and rib.face == "root side"
        x0, _, x1, _ = rib.region.bounds()
        assert (abs(x0) < abs(x1)) == (label == "left")


def test_placed_parts_of_the_twin_are_the_mirror_image(lantern: Craft, twin: Craft) -> None:
    """A rib's corner taken through its place and the rotor's matrix: y changes sign, x and z don't."""
    for here, there in zip(lantern.ribs, twin.ribs, strict=True):
        assert isinstance(here.shape, Flat) and isinstance(there.shape, Flat)
        name, (x, y) = here.shape.corners[0]
        twin_corner = dict(there.shape.corners)[name]
        one = applied(blade_to_rotor(1, 2, 8.0, 2.0) @ here.places[0], [x, y, 0.0])
        other = applied(blade_to_rotor(1, 2, 8.0, 2.0, clockwise=True) @ there.places[0], [*twin_corner, 0.0])
        assert other == pytest.approx(one * [1.0, -1.0, 1.0], abs=1e-9)


def test_mass_is_the_same_and_its_centre_mirrored(lantern: Craft, twin: Craft) -> None:
    a, b = lantern.mass.craft, twin.mass.craft
    assert b.mass_g.typical == pytest.approx(a.mass_g.typical, rel=1e-9)
    assert b.cg_x_mm.typical == pytest.approx(a.cg_x_mm.typical, abs=1e-6)
    assert b.cg_y_mm.typical == pytest.approx(-a.cg_y_mm.typical, abs=1e-6)
    assert b.cg_z_mm.typical == pytest.approx(a.cg_z_mm.typical, abs=1e-2)  # engraved letters aren't mirrored

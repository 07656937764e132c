"""The measures themselves: against closed forms, and against ribs and solids put wrong on purpose."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from assembled import assembled
from meeting import beyond, farthest, overlap
from test_assembly_planes import GLUE, MEAN, MOST, fit


def test_two_boxes() -> None:
    found = overlap(shapely.box(0, 0, 10, 1), shapely.box(0, 0.95, 10, 3))
    assert found.area == pytest.approx(0.5)
    assert found.deepest == pytest.approx(0.05)
    assert found.area / found.contact == pytest.approx(
        0.05, rel=0.15
    )  # its short sides are in contact a little way too
    assert overlap(shapely.box(0, 0, 10, 1), shapely.box(0, 1.01, 10, 3)).deepest == 0.0


def test_a_disc_too_large_for_its_hole() -> None:
    disc, hole = (shapely.Point(0, 0).buffer(radius, quad_segs=90) for radius in (5.05, 5.0))
    found = beyond(disc, hole)
    assert found.deepest == pytest.approx(0.05, abs=1e-3)
    assert found.area == pytest.approx(np.pi * (5.05**2 - 25), rel=1e-3)
    assert found.contact == pytest.approx(2 * np.pi * 5.05, rel=1e-3)
    away, _ = farthest(shapely.get_coordinates(disc), [shapely.box(-5, -9, 5, 9)])
    assert away == pytest.approx(0.05, abs=1e-3)


@pytest.mark.parametrize("name", ["lantern base", "lantern foam_board"])
def test_a_rib_put_wrong_is_found(name: str) -> None:
    """0.4 mm up, well within the skin: too much in it above, and a gap below."""
    planes = [planes for planes in assembled(name).rib_planes if planes[0].rib.part.role == "rib"][3]
    moved = [
        replace(plane, wood=shapely.transform(plane.wood, lambda yz: yz + np.array([0.0, 0.4]))) for plane in planes
    ]
    right, wrong = fit(planes), fit(moved)
    assert right.mean <= MEAN < wrong.mean
    assert right.most <= MOST < wrong.most == pytest.approx(0.4, abs=0.06)
    assert right.gap <= GLUE < wrong.gap == pytest.approx(0.4, abs=0.06)


def test_solids_in_common() -> None:
    """A box and a cylinder through it."""
    import cadquery as cq
    import kernel_solids

    box = cq.Solid.makeBox(10, 10, 4)
    rod = cq.Solid.makeCylinder(2, 20, cq.Vector(5, 5, -5), cq.Vector(0, 0, 1))
    found = kernel_solids.met(box, rod)
    assert found.both_mm3 == pytest.approx(np.pi * 4 * 4, rel=1e-6)
    assert found.rest_mm3 == pytest.approx(400 - np.pi * 4 * 4, rel=1e-6)


def test_a_boolean_that_loses_a_piece_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    import cadquery as cq
    import kernel_solids

    box, small = cq.Solid.makeBox(10, 10, 4), cq.Solid.makeBox(1, 1, 1)
    monkeypatch.setattr(kernel_solids, "_operated", lambda a, b, tol: [small, a])
    with pytest.raises(kernel_solids.WrongSum):
        kernel_solids.met(box, small)

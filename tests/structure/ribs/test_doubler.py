"""Doublers: drawn at their own r, against the published equations; screws that pass rib and doubler alike."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
import shapely

from geomgen.craft import Craft
from geomgen.design.schema import Doubler
from geomgen.design.schema.place import Place
from geomgen.errors import MakeError
from geomgen.frames import applied
from geomgen.marking.finish import in_hand
from geomgen.model.joint import Bond
from geomgen.model.layout import rib_key
from geomgen.model.made import Made
from geomgen.model.part import Flat, Part
from geomgen.plane.path import Circle
from geomgen.structure.ribs.blank import Blank
from geomgen.structure.ribs.doubler import doubler_blanks, doublers

ROOT, TIP = Place(name="root"), Place(name="tip")


def doubled(craft: Craft, **tables: Doubler) -> Craft:
    design = craft.design
    blade = design.blade.model_copy(update={"doubler": tables, "jig": None})
    return Craft(design.model_copy(update={"blade": blade}), craft.folder, craft.cache)


def made(craft: Craft) -> tuple[tuple[Blank, ...], Made]:
    """Blanks of the doublers; the doublers as the craft's own hand has them, and their joints."""
    assert craft.layout.doublers  # or it raises
    drawn = doubler_blanks(craft.layout, craft.blanks)
    found, clockwise = doublers(craft.layout, drawn).read(), craft.design.rotor.turn == "clockwise"
    parts = tuple(in_hand(part, clockwise=clockwise) for part in found.parts)
    return drawn, replace(found, parts=parts)


def ply(at: Place) -> Doubler:
    return Doubler.model_construct(at=at, stock="ply_2")


def test_on_the_outer_face_and_at_the_last_rib_on_the_inner_one(craft_of: Callable[..., Craft]) -> None:
    craft = doubled(craft_of("lantern"), root=ply(ROOT), more=ply(ROOT), end=ply(TIP))
    first, last = craft.rib_places[0], craft.rib_places[-1]
    _, found = made(craft)
    root, more, end = found.parts
    assert root.r_mm == pytest.approx(first.r_mm + first.thickness_mm / 2 + 1.0)
    assert more.r_mm == pytest.approx(root.r_mm + 2.0)  # on the one before
    assert end.r_mm == pytest.approx(last.r_mm - last.thickness_mm / 2 - 1.0)
    for part in (root, more, end):
        assert applied(part.places[0], (0.0, 0.0, 0.0))[0] == pytest.approx(part.r_mm)
        assert isinstance(part.shape, Flat) and part.shape.thickness_mm == 2.0
        np.testing.assert_allclose(part.spread[0, 1:], applied(part.places[0], (*part.shape.region.centroid(), 0.0)))


def test_glued_with_all_its_face_to_what_it_lies_on(craft_of: Callable[..., Craft]) -> None:
    craft = doubled(craft_of("lantern"), root=ply(ROOT), more=ply(ROOT), end=ply(TIP))
    _, found = made(craft)
    root, more, end = found.parts
    first, last = rib_key(craft.rib_places[0]), rib_key(craft.rib_places[-1])
    assert [(joint.a, joint.b) for joint in found.joints] == [
        (root.key, first),
        (more.key, root.key),
        (end.key, last),
    ]
    for joint, part in zip(found.joints, found.parts, strict=True):
        assert joint.bond is Bond.GLUED and isinstance(part.shape, Flat)
        assert joint.area_mm2 == pytest.approx(part.shape.region.to_shapely(1e-3).area, rel=1e-4)
        np.testing.assert_allclose(joint.contact[:, 1:], part.spread[:, 1:])


def test_outline_is_the_section_at_its_own_r_less_the_skin(craft_of: Callable[..., Craft]) -> None:
    """NACA Report 460's equations, chord and thickness straight between the entries, moved in by shapely."""
    _, found = made(doubled(craft_of("lantern"), root=ply(ROOT)))
    (part,) = found.parts
    assert isinstance(part.shape, Flat) and part.r_mm is not None
    chord, thick = (
        np.interp(part.r_mm, (130.0, 800.0), (210.0, 150.0)),
        np.interp(part.r_mm, (130.0, 800.0), (0.15, 0.14)),
    )
    x = 0.5 * (1 - np.cos(np.linspace(0, np.pi, 600)))
    half = 5 * thick * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    mean = np.where(x < 0.4, 0.25 * (0.8 * x - x**2), 0.04 / 0.36 * (0.2 + 0.8 * x - x**2))
    slope = np.arctan(np.where(x < 0.4, 0.5 * (0.4 - x), 0.08 / 0.36 * (0.4 - x)))
    upper = np.column_stack([x - half * np.sin(slope), mean + half * np.cos(slope)])
    lower = np.column_stack([x + half * np.sin(slope), mean - half * np.cos(slope)])
    inner = shapely.Polygon(chord * np.vstack([upper[::-1], lower[1:]])).buffer(-2.0, quad_segs=32)
    drawn = part.shape.region.outer.flattened(0.002)
    ends = drawn[:, 0].max() - 0.5  # the tail is cut off
    off = shapely.distance(inner.exterior, shapely.points(drawn[drawn[:, 0] < ends]))
    assert off.max() < 0.02


@pytest.mark.parametrize(("name", "stock"), [("lantern", "ply_2"), ("kite_day", "ply_eighth")])
def test_screws_and_spar_go_straight_through_rib_and_doubler(
    craft_of: Callable[..., Craft], name: str, stock: str
) -> None:
    craft = doubled(craft_of(name), root=Doubler.model_construct(at=ROOT, stock=stock))
    (blank,), found = made(craft)
    (part,), rib = found.parts, craft.ribs[0]
    assert isinstance(part.shape, Flat) and isinstance(rib.shape, Flat)

    def seen(which: Part) -> np.ndarray:  # round holes along the feather axis: forward, up, radius
        assert isinstance(which.shape, Flat)
        holes = [hole for hole in which.shape.region.holes if isinstance(hole, Circle)]
        at = applied(which.places[0], np.array([(*hole.center, 0.0) for hole in holes]))
        return np.column_stack([at[:, 1:], [hole.radius for hole in holes]])

    screws = [opening.loop for opening in blank.openings if opening.path == "pitch.fixing"]
    assert len(screws) == craft.design.pitch.fixing.count
    ours, theirs = seen(part), seen(rib)
    straight = [row for row in ours if np.abs(theirs - row).max(axis=1).min() < 1e-6]
    assert len(straight) >= len(screws) + 1  # and the spar on the feather axis
    assert any(np.hypot(*row[:2]) < 1e-6 for row in straight)


def test_one_that_reaches_the_next_rib_is_refused(craft_of: Callable[..., Craft]) -> None:
    craft = craft_of("lantern", ("every = 35", "every = 4"))
    # 18 bays of 3.89 mm from 130; the first rib stands flush at 131, and both take 1 mm of the bay
    with pytest.raises(MakeError, match=r"blade\.doubler\.root\.at: 2 mm of ply_2 on rib R\d+, and 0\.89 mm free"):
        made(doubled(craft, root=ply(ROOT)))

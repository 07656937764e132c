"""The drawing of a whole hub shows everything that goes to it, where it stands, and the same each time."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
import shapely
from inside import inside
from test_line_drawing import area_of, shadow_of

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.model.part import Flat
from geomgen.model.role import Role
from geomgen.printing.hub_drawing import Body, hub_bodies, hub_drawing, placed
from geomgen.printing.line_drawing import Shown
from geomgen.printing.mesh import Mesh, meshed
from geomgen.render.svg import svg
from geomgen.tolerances import STANDARD
from geomgen.views.hub_picture import hub_view


@pytest.fixture(scope="module", params=["lantern", "kite_day"])
def drawn(request, craft_of: Any, cache: Cache) -> tuple[list[Body], list[Shown]]:
    """Bodies of an anticlockwise and of a clockwise craft, and what shows of them."""
    craft: Craft = craft_of(request.param)
    (hub,), (turning,), (fixed,) = (craft.finished_of(role) for role in (Role.HUB, Role.TURNING_CAP, Role.FIXED_CAP))
    bodies = hub_bodies(craft.design, craft.root_face, craft.pattern, (hub, turning, fixed))
    return bodies, hub_drawing(bodies, cache)


@pytest.fixture(scope="module")
def meshes(drawn, cache: Cache) -> list[Mesh]:
    """Each of the bodies in its place."""
    return [meshed(placed(shape, place, cache), STANDARD) for _, shape, place in drawn[0]]


def test_every_body_is_there_and_seen(drawn) -> None:
    """Hub; for each blade two caps, spar, collar, two pins, and their clips where the turning cap is cut of ply."""
    bodies, shown = drawn
    blades = bodies[0][1].blades
    clips = ["pin", "pin"] if blades == 3 else []
    assert [body.kind for body in shown] == [
        "hub",
        *["fixed-cap", "turning-cap", "spar", "collar", "pin", "pin", *clips] * blades,
    ]
    assert {body.kind for body in shown if not body.outline} <= {"collar", "pin"}  # in the bay, or behind a cap
    for body in shown:
        assert bool(body.outline) == bool(body.faces)
    assert sum(bool(body.outline) for body in shown) > 0.7 * len(shown)


def test_what_shows_is_what_a_projection_shows(drawn, meshes: list[Mesh]) -> None:
    _, shown = drawn
    seen = shapely.union_all([area_of(body.outline) for body in shown], grid_size=1e-3)
    cast = shapely.union_all([shadow_of(mesh) for mesh in meshes], grid_size=1e-3)
    assert seen.symmetric_difference(cast).area < 1e-3 * cast.area
    overlap = sum(area_of(body.outline).area for body in shown) - seen.area
    assert overlap < 1e-3 * seen.area


def test_bodies_do_not_run_into_each_other(meshes: list[Mesh]) -> None:
    """No corner of one lies inside another, spars and pins in their holes included."""
    assert all(mesh.volume() > 0.0 for mesh in meshes)
    for j, other in enumerate(meshes):
        some = [one.vertices[:: max(1, len(one.vertices) // 400)] for one in meshes if one is not other]
        assert not inside(other.vertices, other.faces, np.vstack(some)).any(), j


@pytest.mark.parametrize(("inside", "bore_mm"), [('inside  = "3/16 in"', 4.7625), ("", 0.0)])
def test_a_tube_is_drawn_hollow_and_a_rod_solid(craft_of: Any, cache: Cache, inside: str, bore_mm: float) -> None:
    """The end that shows of a 5/16 in spar: its outline, and round its bore, if it has one."""
    craft = craft_of("kite_day", ('inside  = "3/16 in"', inside))
    (hub,), (turning,), (fixed,) = (craft.finished_of(role) for role in (Role.HUB, Role.TURNING_CAP, Role.FIXED_CAP))
    bodies = hub_bodies(craft.design, craft.root_face, craft.pattern, (hub, turning, fixed))
    spars = [placed(shape, place, cache) for kind, shape, place in bodies if kind == "spar"]
    lengths = [shape.thickness_mm for kind, shape, _ in bodies if kind == "spar" and isinstance(shape, Flat)]
    assert len(lengths) == 3
    for spar, long in zip(spars, lengths, strict=True):
        assert spar.Volume() / long == pytest.approx(np.pi / 4 * (7.9375**2 - bore_mm**2), rel=1e-6)


def test_the_same_picture_each_time(drawn) -> None:
    bodies, shown = drawn
    assert svg(hub_view(hub_drawing(bodies, Cache()), "hub")) == svg(hub_view(shown, "hub"))


def test_the_picture_is_sound_and_holds_every_face(drawn) -> None:
    import xml.etree.ElementTree as tree

    _, shown = drawn
    root = tree.fromstring(svg(hub_view(shown, "a < b")))
    paths = [each.get("class") for each in root.iter("{http://www.w3.org/2000/svg}path")]
    assert len(paths) == sum(len(body.faces) for body in shown) + 2
    x, y, width, height = map(float, root.get("viewBox").split())
    corners = np.concatenate([loop.xy for body in shown for loop in body.outline])
    assert (corners > (x, -y - height)).all() and (corners < (x + width, -y)).all()

"""The picture of a whole hub shows everything that goes to it."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from geomgen.craft import Craft
from geomgen.design.library import demo
from geomgen.printing import hub_picture
from geomgen.printing.picture import Body, picture


@pytest.fixture(scope="module")
def shown(tmp_path_factory) -> tuple[list[Body], bytes]:
    """The bodies of the demo's hub picture, and the picture."""
    craft = Craft(demo().design, None, tmp_path_factory.mktemp("solids"))
    hub = next(part for part in craft.parts if part.role == "hub")
    gathered: list[Body] = []

    def spy(bodies, *view) -> bytes:
        gathered.extend(bodies)
        return picture(bodies, *view)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(hub_picture, "picture", spy)
        parts = (hub, *craft.caps)
        meshes = tuple(craft.meshes[part.name] for part in parts)
        png = hub_picture.hub_picture(craft.design, craft.root_face, craft.pattern, parts, meshes, width_px=500)
    return gathered, png


def test_every_body_is_there_and_seen(shown) -> None:
    """Hub; for each of two blades two caps, spar, collar, two pins. Without any one the picture is another."""
    bodies, png = shown
    assert len(bodies) == 1 + 2 * (2 + 1 + 1 + 2)
    image = np.asarray(Image.open(io.BytesIO(png)).convert("RGB")).astype(int)
    red, green, blue = image.transpose(2, 0, 1)
    for colour in (blue > red + 40, red > blue + 60, (green > red + 10) & (green > blue + 20)):
        assert colour.mean() > 0.01  # hub, fixed caps, turning caps
    view = (hub_picture.AZIMUTH_DEG, hub_picture.HEIGHT_DEG, 500)
    assert picture(bodies, *view) == png
    unseen = [k for k in range(len(bodies)) if picture(bodies[:k] + bodies[k + 1 :], *view) == png]
    assert unseen == []


def test_bodies_do_not_run_into_each_other(shown) -> None:
    """No corner of one lies inside another, spars and pins in their holes included."""
    import trimesh

    bodies, _ = shown
    meshes = [trimesh.Trimesh(m.vertices, m.faces, process=False) for m in (body.placed() for body in bodies)]
    for i, one in enumerate(meshes):
        for j, other in enumerate(meshes):
            apart = (one.bounds[0] > other.bounds[1]).any() or (one.bounds[1] < other.bounds[0]).any()
            if i != j and not apart:
                assert not other.contains(one.vertices[:: max(1, len(one.vertices) // 400)]).any(), (i, j)


def test_placed_bodies_enclose_their_volume(shown) -> None:
    bodies, _ = shown
    for body in bodies:
        assert body.placed().volume() == pytest.approx(body.mesh.volume(), rel=1e-9)
        mirrored = replace(body, place=np.diag((1.0, -1.0, 1.0, 1.0)) @ body.place)
        assert mirrored.placed().volume() == pytest.approx(body.mesh.volume(), rel=1e-9)

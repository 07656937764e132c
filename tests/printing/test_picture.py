"""Pictures: what is seen has the size geometry says, what is in front hides what is behind, by the same bytes."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from geomgen.frames import shift
from geomgen.model.part import Flat
from geomgen.plane.arcs import rectangle
from geomgen.plane.path import Circle
from geomgen.plane.region import Region
from geomgen.printing.picture import Body, picture
from geomgen.printing.plate import plate_mesh
from geomgen.printing.raster import NOTHING, visible
from geomgen.tolerances import STANDARD

RED, BLUE = (0.9, 0.1, 0.1), (0.1, 0.1, 0.9)


def brick(width: float, depth: float, height: float):
    return plate_mesh(Flat(Region(rectangle((0.0, 0.0), width, depth)), height), STANDARD, "")


def seen(png: bytes) -> np.ndarray:
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB")).astype(float)


@pytest.mark.parametrize(("azimuth", "height"), [(0.0, 0.0), (-54.0, 36.0), (100.0, 70.0)])
def test_area_of_a_brick_seen_askew(azimuth: float, height: float) -> None:
    """Sum over its three visible sides of area times the cosine of how far it is turned away."""
    a, b, c = 60.0, 40.0, 25.0
    image = seen(picture([Body(brick(a, b, c), np.eye(4), BLUE)], azimuth, height, 600))
    az, h = np.radians((azimuth, height))
    x, y, z = abs(np.cos(az) * np.cos(h)), abs(np.sin(az) * np.cos(h)), abs(np.sin(h))
    across = a * abs(np.sin(az)) + b * abs(np.cos(az))
    per_px = across / (600 * 0.92)
    ink = (255.0 - image.min(axis=2)) > 60
    assert ink.sum() * per_px**2 == pytest.approx(b * c * x + a * c * y + a * b * z, rel=0.01)


def test_the_nearer_hides_the_farther() -> None:
    big, small = brick(40.0, 40.0, 4.0), brick(10.0, 10.0, 4.0)
    for lift, middle in ((20.0, 0), (-20.0, 2)):  # small red above or below big blue, seen from above
        image = seen(picture([Body(small, shift((0, 0, lift)), RED), Body(big, np.eye(4), BLUE)], 0.0, 90.0, 300))
        assert image[image.shape[0] // 2, 150].argmax() == middle


def test_a_mirrored_place_does_not_turn_inside_out() -> None:
    body = brick(40.0, 20.0, 10.0)
    plain = picture([Body(body, np.eye(4), BLUE)], -54.0, 36.0, 300)
    assert picture([Body(body, np.diag((1.0, -1.0, 1.0, 1.0)), BLUE)], -54.0, 36.0, 300) == plain


def test_each_pixel_has_the_foremost_triangle() -> None:
    """Against a plain loop over triangles and pixels."""
    rng = np.random.default_rng(3)
    corners = rng.uniform((-5, -5, 0), (45, 35, 10), (40, 3, 3))
    found, depth = visible(corners, 40, 30)
    best, which = np.full((30, 40), -np.inf), np.full((30, 40), NOTHING)
    x, y = np.arange(40) + 0.5, (np.arange(30) + 0.5)[:, None]
    for k, (a, b, c) in enumerate(corners):
        area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
        second = ((x - a[0]) * (c[1] - a[1]) - (y - a[1]) * (c[0] - a[0])) / area
        third = ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / area
        z = a[2] + second * (b[2] - a[2]) + third * (c[2] - a[2])
        front = (second >= 0) & (third >= 0) & (second + third <= 1) & (z > best)
        best[front], which[front] = z[front], k
    assert (found == which).mean() > 0.998  # an edge may run through a pixel's middle
    same = found == which
    assert depth[same & (which != NOTHING)] == pytest.approx(best[same & (which != NOTHING)], abs=1e-4)


def test_round_faces_look_round() -> None:
    """A cylinder's side is lit without steps between its facets."""
    from geomgen.printing.shading import corner_normals

    mesh = plate_mesh(Flat(Region(Circle((0.0, 0.0), 10.0)), 20.0), STANDARD, "")
    normals = corner_normals(mesh)
    side = np.abs(normals[..., 2]) < 0.5
    radial = mesh.corners()[..., :2] / 10.0
    assert np.abs(normals[..., :2][side] - radial[side]).max() < 0.05
    assert np.abs(np.abs(normals[..., 2][~side]) - 1.0).max() < 1e-12  # and its ends stay flat

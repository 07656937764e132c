"""How a box's walls and foam between ribs lie round their middles: closed forms, and polygons cut by shapely."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray

from geomgen.craft import Craft
from geomgen.model.role import Role
from geomgen.model.spread import centre_of
from geomgen.structure.covers.slab import slab
from geomgen.structure.spars.box_patterns import _walls

FloatArray = NDArray[np.float64]


def test_walls_of_a_box() -> None:
    """24 wide, 15 high, 3 thick: (W H3 - w h3) / 12 over their area, tilted by 10 deg."""
    c, s = np.cos(np.radians(10)), np.sin(np.radians(10))
    fore, up = np.array([0.0, c, s]), np.array([0.0, -s, c])
    corners = np.array([[a * 12 * fore + b * 7.5 * up for a, b in ((1, -1), (-1, -1), (-1, 1), (1, 1))]])
    area = 24 * 15 - 18 * 9
    wide, high = (24**3 * 15 - 18**3 * 9) / 12 / area, (24 * 15**3 - 18 * 9**3) / 12 / area
    assert _walls(corners, 3.0)[0] == pytest.approx(wide * np.outer(fore, fore) + high * np.outer(up, up))


def polygon(shape: shapely.Polygon) -> tuple[float, FloatArray, FloatArray]:
    """Area, first and second moments of a polygon with holes about the origin; sides' triangles with the origin."""
    area, first, second = 0.0, np.zeros(2), np.zeros((2, 2))
    for k, ring in enumerate((shape.exterior, *shape.interiors)):
        p, q = np.array(ring.coords)[:-1], np.array(ring.coords)[1:]
        size = 0.5 * (p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0])
        size *= np.sign(size.sum()) * (-1.0 if k else 1.0)
        area += float(size.sum())
        first += size @ (p + q) / 3.0
        for middle in (p / 2, q / 2, (p + q) / 2):
            second += np.einsum("n,ni,nj->ij", size / 3.0, middle, middle)
    return area, first, second


def test_a_foam_core_by_its_cross_sections(craft_of: Callable[..., Craft]) -> None:
    """The second example's longest piece: the section less film and what passes through it, in 80 slices."""
    craft = craft_of("kite_day", option="foam_core")
    layout = craft.layout
    cores = [part for part in craft.covering.parts if part.role is Role.CORE]
    core = max(cores, key=lambda part: part.shape.volume_mm3)  # type: ignore[union-attr]
    low, high = core.spread[:, 1].min(), core.spread[:, 1].max()
    reach = (high - low) / (2 * np.sqrt(0.6)) if len(core.spread) == 3 else None
    length = core.shape.length_mm  # type: ignore[union-attr]
    middle = (low + high) / 2
    assert reach is None or reach == pytest.approx(length / 2)
    step = length / 80
    volume, first, second = 0.0, np.zeros(3), np.zeros((3, 3))
    design, film_mm = craft.design, 0.03
    routes = [(route, design.stock[design.blade.spar[name].stock].outside + design.blade.spar[name].fit)
              for name, route in layout.spars.items()]  # fmt: skip
    routes += [(route, design.blade.channel[name].diameter) for name, route in layout.channels.items()]
    for r in middle - length / 2 + step * (np.arange(80) + 0.5):
        station = layout.blade.station(float(r))
        ring = station.to_blade(slab([station], film_mm).ring(0))[:, 1:]
        shape = shapely.Polygon(ring)
        for route, wide in routes:
            if route.passes(float(r)):
                shape = shape.difference(shapely.Point(route.at(float(r))[1:]).buffer(wide / 2, quad_segs=64))
        area, yz, squares = polygon(shape)
        volume += area * step
        first += step * np.array([area * r, *yz])
        second[0, 0] += step * area * (r * r + step**2 / 12)
        second[1:, 1:] += step * squares
        second[0, 1:] += step * r * yz
        second[1:, 0] += step * r * yz
    centre = first / volume
    assert centre_of(core.spread) == pytest.approx(centre, abs=0.05)
    wanted = second / volume - np.outer(centre, centre)
    assert core.second is not None
    assert np.diag(core.second) == pytest.approx(np.diag(wanted), rel=3e-3)
    assert core.second == pytest.approx(wanted, abs=3e-3 * np.sqrt(np.outer(np.diag(wanted), np.diag(wanted))).max())

"""What skins weigh and where, against integrals over the surface from its equations."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from skin_designs import Made

from geomgen.mass.statement import weigh
from geomgen.materials.catalogue import find

Get = Callable[[str], Made]
PIECES = ["wrap", "panel above", "half below", "nose box above", "all round", "cone"]


def surface(made: Made) -> tuple[np.ndarray, np.ndarray]:
    """Areas [mm²] and middles (n, 3) [mm] of small cells of the surface, its slope along the blade with them."""
    radii, shares = np.linspace(120.0, 700.0, 233), np.linspace(0.0, 1.0, 241) ** 1.5  # closest at one end: either does
    p = np.array([made.sheet.row(made.wing, float(r), shares)[0] for r in radii])
    across = np.cross(p[1:, 1:] - p[:-1, :-1], p[1:, :-1] - p[:-1, 1:])
    area = 0.5 * np.linalg.norm(across, axis=-1)
    middle = 0.25 * (p[1:, 1:] + p[:-1, :-1] + p[1:, :-1] + p[:-1, 1:])
    return area.ravel(), middle.reshape(-1, 3)


@pytest.mark.parametrize("name", PIECES)
def test_it_weighs_its_surface_times_its_mass_per_area(piece: Get, name: str) -> None:
    """Thickness times density of the catalogue, less the opening for the wires, without what the seam is trimmed of."""
    made = piece(name)
    area, _ = surface(made)
    holes = sum(abs(hole.area()) for hole in made.flat.region.holes)
    (line,) = weigh([made.part], made.craft.design, {}).lines
    foam = "foam" in made.part.stock
    thickness = 2.0 if foam else 1.0
    figure = find("extruded polystyrene" if foam else "balsa").at_thickness(thickness)
    assert figure.unit == "kg/m3"
    assert line.set_g[1] == pytest.approx((area.sum() - holes) * thickness * figure.typical * 1e-6, rel=3e-4)
    # girths alone, without the surface's slope along the blade, come out too small
    radii = np.linspace(120.0, 700.0, 30)
    girths = np.array([made.sheet.girth(made.wing, float(r)) for r in radii])
    plain = float(np.diff(radii) @ (0.5 * (girths[1:] + girths[:-1])))
    assert area.sum() > plain * (1.0 + 2e-5)


@pytest.mark.parametrize("name", PIECES)
def test_its_mass_sits_where_its_surface_does(piece: Get, name: str) -> None:
    made = piece(name)
    area, middle = surface(made)
    share, place = made.part.spread[:, 0], made.part.spread[:, 1:]
    assert share.sum() == pytest.approx(1.0, abs=1e-12)
    assert share.min() > 0.0
    wanted = area @ middle / area.sum()
    assert share @ place == pytest.approx(wanted, abs=0.1)
    product = area @ (middle[:, 0] * middle[:, 1]) / area.sum()
    scale = np.sqrt(area @ (middle[:, 0] ** 2 * middle[:, 1] ** 2) / area.sum())
    assert share @ (place[:, 0] * place[:, 1]) == pytest.approx(product, abs=2e-3 * scale)

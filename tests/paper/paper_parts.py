"""Parts for paper whose shape is known: a skin with bowed rims, openings and rib lines, a long strip, small plates."""

from __future__ import annotations

import math

import numpy as np

from geomgen.model.part import Flat, Part, Text
from geomgen.model.role import Assembly, Role
from geomgen.paper.template import Template, template
from geomgen.plane.path import Circle, Path, from_points
from geomgen.plane.region import Region

QUARTER = math.tan(math.pi / 8)  # bulge of a quarter circle
RIBS = (15.0, 120.0, 187.0, 261.0, 333.3, 408.0, 470.5, 561.0, 640.0)


def part(flat: Flat, name: str = "skin all", role: Role = Role.SKIN, stock: str = "foam_2") -> Part:
    spread = np.array([[1.0, 0.0, 0.0, 0.0]])
    return Part(name, role, stock, "blade.skin.all", flat, Assembly.BLADE, 1, spread)


def skin() -> Flat:
    """Some 656 x 430: straight ends, bowed rims, two openings, nine bowed rib lines."""
    xy = np.array([(0.0, 0.0), (650.0, 55.0), (656.0, 380.0), (3.0, 430.0)])
    outer = Path(xy, np.array([0.02, 0.0, 0.015, 0.0]), True)
    slot = Path(
        np.array([(340.0, 190.0), (420.0, 190.0), (420.0, 230.0), (340.0, 230.0)]), np.array([0.0, 1.0, 0.0, 1.0]), True
    )
    ribs = tuple(Path(np.array([(x, 70.0), (x + 3.0, 360.0)]), np.array([0.01, 0.0]), False) for x in RIBS)
    sheets = (from_points([(0.0, 215.0), (650.0, 215.0)], closed=False),)
    region = Region(outer, (slot, Circle((100.0, 120.0), 30.0)))
    texts = (Text("R5", (350.0, 80.0), 3.0),)
    return Flat(region, 2.0, marks=ribs, reference=sheets, texts=texts, face="outside", grain=0.0)


def strip(long: float = 1900.0, wide: float = 120.0) -> Flat:
    """A long strip with round ends."""
    xy = np.array([(0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)])
    return Flat(Region(Path(xy, np.array([0.0, 1.0, 0.0, 1.0]), True)), 1.5)


def plate(wide: float, high: float) -> Flat:
    """A plate with rounded corners and a hole."""
    r = 0.2 * min(wide, high)
    xy = [(r, 0), (wide - r, 0), (wide, r), (wide, high - r), (wide - r, high), (r, high), (0, high - r), (0, r)]
    outer = Path(np.array(xy, float), np.array([0, QUARTER] * 4, float), True)
    return Flat(Region(outer, (Circle((wide / 2, high / 2), r / 2),)), 3.0, face="root side", grain=0.0)


def templates() -> list[Template]:
    """The skin, and small plates of many sizes."""
    sizes = [(30.0 + 11.0 * k, 20.0 + 4.0 * (k % 5)) for k in range(14)]
    plates = [part(plate(*size), f"plate {k:02}", Role.GAUGE, "ply_3") for k, size in enumerate(sizes)]
    return [template(each, 2, clockwise=False) for each in (part(skin()), *plates)]

"""Ribs of many sizes to be laid on sheets, made here from the sections' equation and by none of our code.

source : E. N. Jacobs, K. E. Ward, R. M. Pinkerton, NACA Report 460 (1933), from memory: the half-thickness
         5 t (0.2969 sqrt x - 0.1260 x - 0.3516 x2 + 0.2843 x3 - 0.1015 x4), laid off across a mean line of two
         parabolas that meet at their top, m at p
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geomgen.design.library import demo
from geomgen.design.schema import Design, SheetStock
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.plane.path import from_points
from geomgen.plane.region import Region

STOCK, SIZE = "rib_balsa", (1000.0, 100.0)
GAP_MM, EDGE_MM = 3.0, 5.0


def section(m: float, p: float, t: float, chord_mm: float, pairs: int = 40) -> NDArray[np.float64]:
    """(2 pairs, 2) a section's outline from the tail over the upper side round to the tail, anticlockwise [mm].

    m, p, t : rise of the mean line, where it is highest, thickness, as shares of the chord [-]
    """
    x = 0.5 * (1.0 + np.cos(np.linspace(0.0, np.pi, pairs + 1)))
    half = 5.0 * t * (0.2969 * np.sqrt(x) - 0.1260 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    front = x < p
    mean = np.where(front, m / p**2 * (2 * p * x - x**2), m / (1 - p) ** 2 * (1 - 2 * p + 2 * p * x - x**2))
    slope = np.where(front, 2 * m / p**2 * (p - x), 2 * m / (1 - p) ** 2 * (p - x))
    angle = np.arctan(slope)
    upper = np.column_stack((x - half * np.sin(angle), mean + half * np.cos(angle)))
    lower = np.column_stack((x + half * np.sin(angle), mean - half * np.cos(angle)))
    return chord_mm * np.vstack((upper, lower[-2::-1]))


def ribs(count: int, seed: int) -> list[Part]:
    """So many ribs, one of each: chords of 90 to 230 mm, 9 to 18 % thick, up to 4 % of camber; their grain along x."""
    random = np.random.default_rng(seed)
    found = []
    for k in range(1, count + 1):
        m, p, t = random.uniform(0.0, 0.04), random.uniform(0.3, 0.5), random.uniform(0.09, 0.18)
        outline = section(m, p, t, random.uniform(90.0, 230.0))
        flat = Flat(Region(from_points(outline, closed=True)), 3.0, grain=0.0)
        spread = np.array([[1.0, 0.0, 0.0, 0.0]])
        found.append(Part(f"rib {k}", Role.RIB, STOCK, "blade.ribs.x", flat, Assembly.HUB, 1, spread, mark=(k,)))
    return found


def rib_design(kerf_mm: float = 0.0) -> Design:
    """The demo with a balsa sheet for them, its grain along it, and no bed that it would be cut across for."""
    design = demo().design
    stock = SheetStock.model_construct(kind="sheet", of="balsa", thickness=3.0, size=SIZE, grain="long")
    laser = design.laser.model_copy(update={"gap": GAP_MM, "edge": EDGE_MM, "bed": None, "kerf": {STOCK: kerf_mm}})
    return design.model_copy(update={"stock": design.stock | {STOCK: stock}, "laser": laser})

"""Of links that are alike, the weakest; and what changing one key does to one."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator
from functools import cache

import numpy as np

from geomgen.design.schema import Design, LengthStock, SheetStock
from geomgen.figures import figure, mm
from geomgen.materials.catalogue import find, known
from geomgen.materials.figure import DESIGN_FILE, Figure
from geomgen.materials.strength import Property
from geomgen.materials.strength_table import strength_of
from geomgen.strength.blade_loads import GREATEST
from geomgen.strength.link import Help, Link

INCH = 25.4
STEPS = ((3.0, 0.25, INCH / 64), (12.0, 0.5, INCH / 32), (30.0, 1.0, INCH / 16))  # up to, by so much [mm]
COARSE = (5.0, INCH / 4)  # beyond [mm]


def used(link: Link) -> float:
    """How much of what a link stands it takes at its worst; of unknown strength, its stress, small besides [-]."""
    most = float(np.abs(link.stress[GREATEST]).max(initial=0.0))
    return most / link.strength.low if link.strength is not None and link.strength.low > 0.0 else 1e-9 * most


def weakest(links: Iterable[Link], alike: Callable[[Link], Hashable] = lambda link: None) -> Iterator[Link]:
    """Of all that are alike the one that is used most, in the order in which kinds come.

    alike : what those share that are alike; left out, all are
    """
    found = dict[Hashable, Link]()
    for link in links:
        kind = alike(link)
        if kind not in found or used(link) > used(found[kind]):
            found[kind] = link
    yield from found.values()


def tidy(design: Design, length_mm: float) -> float:
    """A length that a maker would write, near one [mm]."""
    inches = design.units in ("in", "ft")
    step = next((one[1 + inches] for one in STEPS if length_mm <= one[0]), COARSE[inches])
    return max(round(length_mm / step), 1) * step


def sized(design: Design, path: str, was_mm: float, factor: float, times: Callable[[float], float]) -> Iterator[Help]:
    """What a longer or shorter length does to a link; nothing where the next length that one would write is the same.

    factor : how much longer [-]
    times  : the length [mm] -> margin over what it is [-]
    """
    to = tidy(design, factor * was_mm)
    if abs(to - was_mm) > 1e-6:
        yield Help(path, mm(was_mm), mm(to), float(times(to)))


def thicker(design: Design, stock: str, times: Callable[[float], float]) -> Iterator[Help]:
    """What a sheet half as thick again does. times : thickness [mm] -> margin over what it is [-]"""
    sheet = design.stock.get(stock)
    if isinstance(sheet, SheetStock):
        yield from sized(design, f"stock.{stock}.thickness", sheet.thickness, 1.5, times)


def closer(design: Design, run: str, power: float = 1.0) -> Iterator[Help]:
    """What ribs of a run that stand closer do.

    run   : of ribs
    power : of the space between them by which stress grows [-]
    """
    every = design.blade.ribs[run].every
    yield from sized(design, f"blade.ribs.{run}.every", every, 0.75, lambda to: (every / to) ** power)


def denser(design: Design, stock: str, wanted: Property) -> Iterator[Help]:
    """What a wood does that is weighed and as heavy as is usual, where the design says nothing of how heavy it is.

    wanted : what of it the link is held against
    """
    table = design.stock.get(stock)
    material = known(table.of) if isinstance(table, SheetStock | LengthStock) else None
    if material is None or material.kind != "wood" or material.density is None or weighed(table):
        return
    if (more := _at_usual_density(material.name, wanted)) is not None:
        yield Help(f"stock.{stock}.density", "unstated", figure("kg/m3", material.density.typical), more)


@cache
def _at_usual_density(material: str, wanted: Property) -> float | None:
    """What a wood of its usual density stands at the least, over what it does where that isn't known [-]."""
    density = find(material).density
    if density is None:
        return None
    own = Figure(density.typical, density.typical, density.typical, "kg/m3", DESIGN_FILE)
    was, then = (strength_of(material, density=one).of(wanted) for one in (None, own))
    return then.low / was.low if was is not None and then is not None and was.low > 0.0 else None


def weighed(stock: object) -> bool:
    """Whether a stock's maker says how heavy it is."""
    return any(getattr(stock, key, None) is not None for key in ("density", "areal", "linear"))


def more_wall(design: Design, stock: str, times: Callable[[float], float]) -> Iterator[Help]:
    """What a tube of thicker walls does, as wide outside. times : inside diameter [mm] -> margin over what it is [-]"""
    tube = design.stock.get(stock)
    if isinstance(tube, LengthStock) and tube.outside is not None and tube.inside is not None:
        wall = (tube.outside - tube.inside) / 2.0
        if tube.inside > wall:
            yield from sized(design, f"stock.{stock}.inside", tube.inside, (tube.inside - wall) / tube.inside, times)

"""What a sheet takes: how tightly it bends round the nose, how much it stretches over what can't be laid flat."""

from __future__ import annotations

import numpy as np

from geomgen.blade.station import Station
from geomgen.design.schema import SheetStock
from geomgen.errors import Fault
from geomgen.figures import at_most, mm
from geomgen.materials.catalogue import known
from geomgen.structure.covers.laid import Laid
from geomgen.structure.covers.rows import contour


def bend(stock: SheetStock, stations: list[Station], outside_mm: float, path: str) -> tuple[list[Fault], list[str]]:
    """Whether a sheet goes round the nose: faults and notes.

    outside_mm : depth of the sheet's outer face in the section [mm]
    path       : key path of what is made of it
    """
    inside = outside_mm + stock.thickness
    deep = [inside] * len(stations)
    radii = np.minimum(contour(stations, "upper", deep).turns(), contour(stations, "lower", deep).turns())
    k = int(np.argmin(radii))
    tightest, where = float(radii[k]), f"at r {mm(stations[k].r_mm, 0)}"
    if tightest <= 0.0:
        wrong = (
            f"its {mm(stock.thickness)} are thicker than the nose is round {where}: the section's own radius there "
            f"is {mm(tightest + inside, 2)}"
        )
        remedy = "a thinner sheet, a rounder nose, or panels that meet on a strip along the nose"
        return [Fault(path, "", wrong, f"less than {at_most(tightest + inside, 2)}", remedy)], []
    material = known(stock.of)
    if material is None:
        return [], [f"bends to {mm(tightest, 1)} inside round the nose {where}: try a piece of it first"]
    least = material.bend(stock.thickness, "along" if stock.grain == "long" else None)
    if least is None:
        said = f"bends to {mm(tightest, 1)} inside round the nose {where}; no figure is published for how "
        return [], [said + f"tightly {stock.of} bends: try a strip of it first, or let panels meet on a nose strip"]
    if tightest >= least.typical:
        return [], []
    wrong = f"bends to {mm(tightest, 1)} inside round the nose {where}"
    soaked = material.bend(stock.thickness, "along" if stock.grain == "long" else None, soaked=True)
    wet = f", {mm(soaked.typical, 1)} soaked in hot water" if soaked is not None else ""
    allowed = (
        f"{stock.of} of {mm(stock.thickness)} takes {mm((least.typical, least.low), 1, '{} {u} ({} at best)')}{wet}"
    )
    remedy = "let upper and lower panels meet on a strip along the nose, or take a thinner sheet"
    if tightest < least.low and (soaked is None or tightest < soaked.typical):
        return [Fault(path, "", wrong, allowed, remedy)], []
    return [], [f"{wrong}: {allowed}; {remedy}"]


def stretch(stock: SheetStock, laid: Laid, path: str) -> tuple[list[Fault], list[str]]:
    """What a pattern leaves to the sheet's give, and whether that is more than it has: faults and notes."""
    most = 100.0 * max(abs(change) for change in laid.flat.stretch)
    gap = laid.flat.mismatch_mm
    said = f"laid flat it stretches by {most:.3f} % at most; neighbouring bays miss one another by {mm(gap, 2)}"
    material = known(stock.of)
    limit = material.stretch if material is not None else None
    if limit is None or most <= limit.typical:
        return [], [said]
    allowed = f"{stock.of} gives {limit.typical:g} % ({limit.high:g} % at most): {limit.source}"
    remedy = "less twist or taper, a skin in shorter runs along r, or upper and lower panels"
    if most > limit.high:
        return [Fault(path, "", f"laid flat it stretches by {most:.2f} %", allowed, remedy)], []
    return [], [f"{said}; {allowed}"]


def tools(stock: SheetStock) -> list[str]:
    """What the sheet is not to be cut with."""
    material = known(stock.of)
    if material is None or material.laser.verdict == "yes":
        return []
    if material.laser.verdict == "ask":
        return [f"before a laser cuts it, ask the shop: {material.laser.reason}"]
    return [f"cut it with a knife, never with a laser: {material.laser.reason}"]

"""From a stock of the design file to what a millimetre, a square or a cubic millimetre or a piece of it weighs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.design.schema import Design, LengthStock, SheetStock, VolumeStock
from geomgen.errors import DesignError, Fault
from geomgen.mass.band import Triple
from geomgen.materials.catalogue import Figure, find, find_glue
from geomgen.materials.figure import DESIGN_FILE
from geomgen.model.part import Bought

_GRAMS = {"kg/m3": 1e-6, "g/m2": 1e-6, "g/m": 1e-3, "g": 1.0}  # one mm3, mm2, mm, piece


@dataclass(frozen=True)
class StockFigure:
    """What one measure of a stock weighs.

    figure : as stated, [kg/m3] | [g/m2] | [g/m] | [g], with the words of where it came from
    per    : the measure: "mm3" | "mm2" | "mm" | "piece"
    across : thickness [mm] of a sheet, or section [mm2] of a length, whose figure is a density; else 1
    """

    figure: Figure
    per: str
    across: float = 1.0

    @property
    def grams(self) -> Triple:
        """(low, typical, high) mass of one measure [g]."""
        times = _GRAMS[self.figure.unit] * self.across
        return self.figure.low * times, self.figure.typical * times, self.figure.high * times


def of_stock(design: Design, name: str) -> StockFigure:
    """What a [stock.*] table weighs, by the way it is sold; a print as solid.

    name   : name of the table
    raises : DesignError where its material isn't in the catalogue, or the catalogue knows no figure that would do
    """
    stock, path = design.stock[name], f"stock.{name}"
    if isinstance(stock, SheetStock):
        return _sheet(stock, path)
    if isinstance(stock, LengthStock):
        return _length(stock, path)
    if isinstance(stock, VolumeStock):
        density = _density(stock, path)
        if stock.print is not None and stock.print.weighed is not None:
            typical, source = density.typical, f"{density.source}; your weighed print leaves it no band"
            density = Figure(typical, typical, typical, density.unit, source)
        return StockFigure(density, "mm3")
    return of_bought(Bought.about(stock.mass, stock.plus_minus).mass_g)


def of_shaped(design: Design, name: str) -> StockFigure:
    """What a part planed or cut from a stock weighs, by what is left of it; of a length of which only its mass for each
    mm is known, by the share of its section that is left."""
    stock = design.stock[name]
    if isinstance(stock, LengthStock) and stock.linear is None:
        return StockFigure(_density(stock, f"stock.{name}"), "mm3")
    return of_stock(design, name)


def of_bought(mass_g: Triple) -> StockFigure:
    """What a bought piece weighs, by the design file's word: (low, typical, high) [g]."""
    return StockFigure(_stated(mass_g, "g"), "piece")


def of_wire(design: Design, name: str) -> StockFigure:
    """What a [wire.*] table weighs for each mm."""
    return StockFigure(_stated(design.wire[name].mass, "g/m"), "mm")


def of_glue(design: Design, *, on_tube: bool = False) -> StockFigure:
    """What the design's glue weighs for each mm2 of joint, once it has set; a stated coverage is taken as it stands.

    on_tube : of the kind that is named for tubes
    """
    glue = design.glue
    if on_tube and glue is not None and glue.on_tube is not None:
        return StockFigure(_from_catalogue(find_glue(glue.on_tube, "glue.on_tube").dry, glue.on_tube), "mm2")
    if glue is None or glue.mass is not None:
        raise DesignError(Fault("glue", "", "no figure for an area of glue", "kind, or coverage"))
    if glue.coverage is not None:
        return StockFigure(_stated(glue.coverage, "g/m2"), "mm2")
    kind = glue.kind or ""
    return StockFigure(_from_catalogue(find_glue(kind, "glue.kind").dry, kind), "mm2")


def section_mm2(design: Design, name: str) -> float:
    """Section of a stock sold by length [mm2]."""
    stock = design.stock[name]
    assert isinstance(stock, LengthStock)  # the rules see to it
    return _section_mm2(stock, f"stock.{name}")


def _length(stock: LengthStock, path: str) -> StockFigure:
    if stock.linear is not None:
        return StockFigure(_stated(stock.linear, "g/m"), "mm")
    return StockFigure(_density(stock, path), "mm", _section_mm2(stock, path))


def _section_mm2(stock: LengthStock, path: str) -> float:
    if stock.outside is not None:
        return float(np.pi / 4 * (stock.outside**2 - (stock.inside or 0.0) ** 2))
    if stock.width is not None and stock.height is not None:
        return stock.width * stock.height
    allowed = "outside, or width and height, or linear"
    raise DesignError(Fault(path, "", "its section isn't known, so neither is its mass", allowed))


def _sheet(stock: SheetStock, path: str) -> StockFigure:
    if stock.areal is not None:
        return StockFigure(_stated(stock.areal, "g/m2"), "mm2")
    if stock.density is not None:
        return StockFigure(_stated(stock.density, "kg/m3"), "mm2", stock.thickness)
    figure = _from_catalogue(find(stock.of, f"{path}.of").at_thickness(stock.thickness), stock.of)
    return StockFigure(figure, "mm2", 1.0 if figure.unit == "g/m2" else stock.thickness)


def _density(stock: LengthStock | VolumeStock, path: str) -> Figure:
    if stock.density is not None:
        return _stated(stock.density, "kg/m3")
    density = find(stock.of, f"{path}.of").density
    if density is None:
        remedy = "state its `density`"
        raise DesignError(Fault(f"{path}.of", f'"{stock.of}"', "the catalogue knows it by area only", remedy=remedy))
    return _from_catalogue(density, stock.of)


def _from_catalogue(figure: Figure, name: str) -> Figure:
    return Figure(figure.low, figure.typical, figure.high, figure.unit, f"catalogue, {name}: {figure.source}")


def _stated(value: float | Triple, unit: str) -> Figure:
    low, typical, high = value if isinstance(value, tuple) else (value, value, value)
    return Figure(low, typical, high, unit, DESIGN_FILE)

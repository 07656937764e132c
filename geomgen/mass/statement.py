"""The mass statement: what each part weighs and where it sits, of one blade and of the whole craft."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from geomgen.design.schema import Design, VolumeStock
from geomgen.errors import DesignError, Fault
from geomgen.frames import applied
from geomgen.mass.band import Triple
from geomgen.mass.sums import BladeMass, CraftMass, Line, blade_mass, craft_mass
from geomgen.mass.unit_mass import StockFigure, of_bought, of_glue, of_shaped, of_stock, of_wire, section_mm2
from geomgen.model.part import Area, Bought, Flat, Length, Part, Shaped, Solid

FloatArray = NDArray[np.float64]


class SolidProperties(Protocol):
    """What is known of an exact solid.

    volume_mm3 : [mm3]
    centroid  : (3,) its centroid in the part's own frame [mm]
    """

    @property
    def volume_mm3(self) -> float: ...
    @property
    def centroid(self) -> FloatArray: ...


@dataclass(frozen=True)
class MassStatement:
    """Every part's line, and their sums.

    lines      : in the order of the parts
    blade      : one blade, in the blade frame at the reference pitch
    craft      : all blades at the pitch set, and the hub, in the rotor frame
    unweighed  : names of the printed parts whose solids weren't there to weigh; no sum holds them
    """

    lines: tuple[Line, ...]
    blade: BladeMass
    craft: CraftMass
    unweighed: tuple[str, ...]


def weigh(parts: Sequence[Part], design: Design, solids: Mapping[str, SolidProperties]) -> MassStatement:
    """The mass statement of a craft.

    parts   : every different part of one blade and of the hub
    design  : where stocks, wires, glue, payload, pitch and coning are read
    solids  : part name -> properties of its solid; a printed part that is missing is named in `unweighed`
    raises  : DesignError where a stock can't be weighed as the part asks
    """
    parts = [part for part in parts if part.assembly != "bench"]
    absent = tuple(part.name for part in parts if isinstance(part.shape, Solid) and part.name not in solids)
    lines = tuple(_line(part, design, solids.get(part.name)) for part in parts if part.name not in absent)
    return MassStatement(lines, blade_mass(lines), craft_mass(lines, design), absent)


def _line(part: Part, design: Design, solid: SolidProperties | None) -> Line:
    figure = _figure(part, design)
    amount, share = _amount(part, figure, design, solid)
    low, typical, high = (grams * amount * share for grams in figure.grams)
    place, out_forward = _place(part, solid)
    return Line(
        name=part.name,
        role=part.role,
        stock=part.stock,
        path=part.path,
        assembly=part.assembly,
        count=part.count,
        amount=amount,
        figure=figure,
        share=share,
        one_g=(low, typical, high),
        set_g=(low * part.count, typical * part.count, high * part.count),
        place_mm=place,
        out_forward_mm2=out_forward,
    )


def _figure(part: Part, design: Design) -> StockFigure:
    """Where a part's mass is told: by itself if bought, by its stock, else by the table it came from."""
    if isinstance(part.shape, Bought):
        return of_bought(part.shape.mass_g)
    if part.stock:
        return (of_shaped if isinstance(part.shape, Shaped) else of_stock)(design, part.stock)
    table, _, name = part.path.partition(".")
    if table == "wire":
        return of_wire(design, name)
    if table == "glue":
        return of_glue(design)
    raise DesignError(Fault(part.path, "", f"{part.name} has no stock to weigh it by", remedy="name its stock"))


def _amount(part: Part, figure: StockFigure, design: Design, solid: SolidProperties | None) -> tuple[float, float]:
    """How much of its figure's measure one part is, and the share of it that is there (prints)."""
    match part.shape, figure.per:
        case _, "piece":
            return 1.0, 1.0
        case Flat(weighed=region), "mm2":
            return region.area(), 1.0
        case Flat(weighed=region, thickness_mm=thickness), "mm3":
            stock = design.stock[part.stock]
            return region.area() * thickness, stock.solid if isinstance(stock, VolumeStock) else 1.0
        case Shaped(volume_mm3=volume), "mm3":
            return volume, 1.0
        case Shaped(volume_mm3=volume), "mm":
            return volume / section_mm2(design, part.stock), 1.0
        case Area(area_mm2=area), "mm2":
            return area, 1.0
        case Length(length_mm=length), "mm":
            return length, 1.0
        case Solid(print_share=share), "mm3" if solid is not None:
            return solid.volume_mm3, share
    sold = design.stock[part.stock].kind if part.stock else part.path
    wrong = f"{part.name} can't be weighed from what is sold by {sold}"
    raise DesignError(Fault(part.path, part.stock, wrong, remedy="give it another stock"))


def _place(part: Part, solid: SolidProperties | None) -> tuple[Triple, float]:
    """Centre of one set (out, forward, up) [mm] and its mean of out times forward [mm2]."""
    if solid is not None and part.places:
        points = np.array([applied(matrix, solid.centroid) for matrix in part.places])
        shares = np.full(len(points), 1.0 / len(points))
    else:
        shares, points = part.spread[:, 0], part.spread[:, 1:]
    out, forward, up = (float(value) for value in shares @ points)
    return (out, forward, up), float(shares @ (points[:, 0] * points[:, 1]))

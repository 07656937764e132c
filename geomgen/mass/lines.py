"""The lines of a mass statement: what each part weighs of the stock it is made of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from geomgen.design.schema import Design, VolumeStock
from geomgen.errors import DesignError, Fault
from geomgen.mass.band import Triple
from geomgen.mass.doubt import split_of, stated
from geomgen.mass.measured import Measured
from geomgen.mass.unit_mass import StockFigure, of_bought, of_glue, of_shaped, of_stock, of_wire, section_mm2
from geomgen.materials.doubt import ALL_GRADE, Split
from geomgen.materials.figure import Figure
from geomgen.model.joint import Key
from geomgen.model.part import Bought, Flat, Part, Shaped, Solid
from geomgen.model.role import Assembly, Role


@dataclass(frozen=True)
class Line:
    """One part in the statement.

    name, role, stock, path, assembly, count, mark : as in `Part`; count is that of one blade, or of the hub
    amount          : measure of one, in `figure.per` [mm3] | [mm2] | [mm] | pieces
    figure          : what one measure weighs, and where that is from
    share           : printed mass over solid mass, and where that is from; None for what isn't printed [-]
    one_g           : (low, typical, high) mass of one [g]
    set_g           : the same of all in one blade, or on the hub [g]
    place_mm        : centre (out, forward, up) in the blade frame at the reference pitch; in the rotor frame of the
                      anticlockwise twin for what is on the hub [mm]
    out_forward_mm2 : mean of out times forward over its mass [mm2]
    split           : what its band is made of
    blades          : set_g of each blade, where they were weighed in and differ; set_g is their mean then, from the
                      lightest's low to the heaviest's high
    """

    name: str
    role: Role
    stock: str
    path: str
    assembly: Assembly
    count: int
    amount: float
    figure: StockFigure
    share: Figure | None
    one_g: Triple
    set_g: Triple
    place_mm: Triple
    out_forward_mm2: float
    split: Split = ALL_GRADE
    mark: tuple[str | int, ...] = ()
    blades: tuple[Triple, ...] = ()

    @property
    def key(self) -> Key:
        """Which part it is, whatever it is called."""
        return Key(self.role, self.path, self.mark)

    @property
    def lot(self) -> str:
        """Lines of one lot are heavy or light together: key path of their stock, else of their table."""
        return f"stock.{self.stock}" if self.stock else self.path


def lines(
    measured: Sequence[Measured], design: Design, shares: Mapping[Key, Figure] = MappingProxyType({})
) -> tuple[Line, ...]:
    """One line for each part.

    measured : what there is of each to weigh
    design   : where stocks, wires and glue are read
    shares   : printed mass over solid mass of what is weighed by its slices [-]
    raises   : DesignError where a stock can't be weighed as the part asks
    """
    known: dict[tuple[str, str, bool], StockFigure] = {}
    return tuple(_line(each, design, known, shares.get(each.part.key)) for each in measured)


def _line(
    measured: Measured, design: Design, known: dict[tuple[str, str, bool], StockFigure], laid: Figure | None
) -> Line:
    part = measured.part
    sold = part.stock, "" if part.stock else part.path, isinstance(part.shape, Shaped)
    if isinstance(part.shape, Bought):
        figure = of_bought(part.shape.mass_g)
    elif (figure_known := known.get(sold)) is not None:
        figure = figure_known
    else:
        figure = known[sold] = _figure(part, design)
    doubted, split = stated(figure.figure, split_of(part, design), design, part.stock)
    figure = replace(figure, figure=doubted)
    amount, share = _amount(measured, figure, design), laid or _share(part, design)
    there = (share.low, share.typical, share.high) if share is not None else (1.0, 1.0, 1.0)
    low, typical, high = (grams * amount * part_of for grams, part_of in zip(figure.grams, there, strict=True))
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
        place_mm=measured.place_mm,
        out_forward_mm2=measured.out_forward_mm2,
        split=split,
        mark=part.mark,
    )


def _figure(part: Part, design: Design) -> StockFigure:
    """Where a part's mass is told: by its stock, else by the table it came from."""
    if part.stock:
        return (of_shaped if isinstance(part.shape, Shaped) else of_stock)(design, part.stock)
    table, _, name = part.path.partition(".")
    if table == "wire":
        return of_wire(design, name)
    if table == "glue":
        return of_glue(design, on_tube=name == "on_tube")
    raise DesignError(Fault(part.path, "", f"{part.name} has no stock to weigh it by", remedy="name its stock"))


def _amount(measured: Measured, figure: StockFigure, design: Design) -> float:
    """How much of its figure's measure one part is."""
    part, amounts = measured.part, measured.amounts
    if figure.per == "piece":
        return 1.0
    if isinstance(part.shape, Shaped) and figure.per == "mm":
        return part.shape.volume_mm3 / section_mm2(design, part.stock)
    if figure.per not in amounts:
        sold = design.stock[part.stock].kind if part.stock else part.path
        wrong = f"{part.name} can't be weighed from what is sold by {sold}"
        raise DesignError(Fault(part.path, part.stock, wrong, remedy="give it another stock"))
    return amounts[figure.per]


def _share(part: Part, design: Design) -> Figure | None:
    """How much of a print is there; None of what isn't printed."""
    stock = design.stock.get(part.stock)
    return stock.share if isinstance(part.shape, Solid | Flat) and isinstance(stock, VolumeStock) else None

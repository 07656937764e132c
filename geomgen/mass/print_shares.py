"""How much of each print is there: by its slices, and by one print that was weighed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from geomgen.design.schema import Design, VolumeStock, WeighedPrint
from geomgen.errors import DesignError, Fault
from geomgen.figures import figure
from geomgen.mass.measured import Measured, SolidProperties
from geomgen.mass.unit_mass import of_stock
from geomgen.materials.figure import Figure
from geomgen.materials.prints import laid_share
from geomgen.model.joint import Key
from geomgen.model.role import Role

AMISS = (
    1.5  # a print that is so many times heavier or lighter than its slices say is another one: filament and extruder
)
# are off by a tenth at most
ROLES = {"hub": Role.HUB, "turning_cap": Role.TURNING_CAP, "fixed_cap": Role.FIXED_CAP}


class LaidDown(Protocol):
    """What is laid down of a printed part: plastic over solid [-], how it is printed, and from which stock;
    and the plastic's own centroid and inertia, of what is no plate."""

    @property
    def stock(self) -> str: ...
    @property
    def share(self) -> float: ...
    @property
    def words(self) -> str: ...
    @property
    def bulk(self) -> SolidProperties | None: ...


def factors(measured: Sequence[Measured], laid: Mapping[Key, LaidDown], design: Design) -> dict[str, float]:
    """By what a print that was weighed is heavier than its slices say, for each stock that has one.

    measured : what there is of each part, among them the weighed ones
    laid     : of each printed part
    raises   : DesignError where what was weighed can't be that print
    """
    found = {}
    for each in measured:
        key, stock = each.part.key, each.part.stock
        if key in laid and (weighed := _on_scales(key, stock, design)) is not None:
            computed_g = each.amounts["mm3"] * of_stock(design, stock).grams[1] * laid[key].share
            found[stock] = weighed.mass / computed_g
            if not 1.0 / AMISS < found[stock] < AMISS:
                wrong = f"by {laid[key].words} it would weigh {figure('g', computed_g, significant=3)}"
                path, remedy = f"stock.{stock}.print.weighed.mass", "weigh it again, or look up how it was printed"
                raise DesignError(Fault(path, figure("g", weighed.mass), wrong, remedy=remedy))
    return found


def print_shares(laid: Mapping[Key, LaidDown], factors: Mapping[str, float], design: Design) -> dict[Key, Figure]:
    """Plastic over solid of each printed part, with its band [-]."""
    found = {}
    for key, each in laid.items():
        weighed = _on_scales(key, each.stock, design) is not None
        found[key] = laid_share(each.share, each.words, factors.get(each.stock), on_scales=weighed)
    return found


def _on_scales(key: Key, name: str, design: Design) -> WeighedPrint | None:
    """What the scales say of this part; None where it isn't the one that was weighed."""
    stock = design.stock[name]
    weighed = stock.print.weighed if isinstance(stock, VolumeStock) and stock.print is not None else None
    return weighed if weighed is not None and key.role == ROLES[weighed.part] else None

"""Which fit coupons a craft's laser-cut sheets ask for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from geomgen.cutting.fit_coupon import FitCoupon, fit_coupon
from geomgen.cutting.fit_tries import Round
from geomgen.design.schema import Design, LengthStock
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.stock.tool import Tool, tool

RIBS = (Role.RIB, Role.DOUBLER)  # what spars go through
PITCH = (Role.TURNING_CAP, Role.FIXED_CAP, Role.WEDGE)  # what pitch pins go through


def fit_coupons(parts: Sequence[Part], design: Design) -> tuple[FitCoupon, ...]:
    """One for each sheet that a laser cuts, with what goes through the parts that are cut from it.

    parts : as they are cut
    """
    flats = [part for part in parts if isinstance(part.shape, Flat)]
    lasered = [name for name in dict.fromkeys(part.stock for part in flats) if _lasered(design, name)]
    kerf, unit = design.laser.kerf, design.units or "mm"
    return tuple(
        fit_coupon(
            name,
            design.sheet(name).thickness,
            tuple(_through([part.role for part in flats if part.stock == name], design)),
            kerf_mm=kerf.get(name),
            unit=unit,
        )
        for name in lasered
    )


def _lasered(design: Design, name: str) -> bool:
    return tool(design.stock.get(name)) is Tool.LASER


def _through(roles: Sequence[Role], design: Design) -> Iterator[Round]:
    """Round spars through ribs, pins through caps."""
    if any(role in RIBS for role in roles):
        for name, spar in design.blade.spar.items():
            stock = design.stock[spar.stock]
            if isinstance(stock, LengthStock) and stock.outside is not None:
                yield Round(f"spar {name}", stock.outside, f"blade.spar.{name}")
    if any(role in PITCH for role in roles):
        yield Round("a pitch pin", design.pitch.pin.diameter, "pitch.pin")

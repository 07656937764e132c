"""By what a flat part is cut: a laser only where shops let it, else a knife or a saw; a printed part by none."""

from __future__ import annotations

from enum import StrEnum

from geomgen.design.schema import SheetStock, Stock
from geomgen.materials.catalogue import known

SOFT = ("foam", "film", "board")  # kinds of material that a knife goes through


class Tool(StrEnum):
    """What cuts it; files for each lie in a folder of its own."""

    LASER = "laser"
    KNIFE = "knife"
    SAW = "saw"


def tool(stock: Stock | None) -> Tool | None:
    """What cuts parts of a stock; None where it is no sheet: printed parts have no cutting file.

    A material that the catalogue doesn't know, or says no of, never goes to the laser, whatever is asked for; what may
    go there is cut otherwise where that is asked for.
    """
    if not isinstance(stock, SheetStock):
        return None
    material = known(stock.of)
    if stock.cut in (Tool.KNIFE, Tool.SAW):
        return Tool(stock.cut)
    if material is not None and material.laser.verdict in ("yes", "ask"):
        return Tool.LASER
    return Tool.KNIFE if material is not None and material.kind in SOFT else Tool.SAW


def looser(stock: Stock) -> str:
    """Why a stock that is asked for on the laser doesn't go there; "" where it does, or isn't asked for."""
    if not isinstance(stock, SheetStock) or stock.cut != "laser" or tool(stock) is Tool.LASER:
        return ""
    material = known(stock.of)
    return f"no laser cuts it: {material.laser.reason}" if material else "no laser cuts what the catalogue doesn't know"


def verdict(stock: Stock | None) -> str:
    """What laser shops say to a stock: "yes", "ask" or "no", also where the catalogue doesn't know it."""
    material = known(stock.of) if isinstance(stock, SheetStock) else None
    return "no" if material is None else material.laser.verdict


def to_ask(stock: Stock | None) -> str:
    """What is to be written on a cutting file where laser shops disagree; "" where they don't."""
    material = known(stock.of) if isinstance(stock, SheetStock) else None
    return "ask the shop before a laser cuts it" if material is not None and material.laser.verdict == "ask" else ""

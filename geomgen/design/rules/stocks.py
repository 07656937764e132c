"""Rules of [stock.*], and of the parts that name a stock."""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from geomgen.design.keypath import KeyPath
from geomgen.design.near import near
from geomgen.design.rules.tools import Faults, fault, guarded, known, quoted
from geomgen.design.schema.design import Design
from geomgen.design.schema.hub import Cap, Pin, Pinned, PrintedHub
from geomgen.design.schema.spar import AnySpar
from geomgen.design.schema.stock import LengthStock, SheetStock, Stock, VolumeStock
from geomgen.design.schema.table import Table
from geomgen.figures import at_least, at_most, mm
from geomgen.materials import catalogue

Kinds = tuple[type[Table], ...]
KINDS: dict[str, type[Table]] = {"length": LengthStock, "sheet": SheetStock, "volume": VolumeStock}
SOLD: dict[str, tuple[str, ...]] = {  # kinds of material that are sold so
    "length": ("wood", "fibre", "metal"),
    "sheet": ("wood", "ply", "board", "foam", "film", "metal", "plate"),
    "volume": ("print", "foam"),
}
BUILT: KeyPath = ("blade", "construction")

STIFF = {"wood", "ply", "board", "foam", "plate"}  # kinds of material that are sold no thinner than this:
THINNEST = 0.3  # the thinnest birch ply has 0.4 mm (catalogue) [mm]
_SAME = 0.02  # two thicknesses closer than this are one: 1/8 in and 3.18 mm [mm]


def stocks(design: Design) -> Faults:
    """Each stock has one shape and one word on its mass."""
    for name, stock in design.stock.items():
        path: KeyPath = ("stock", name)
        yield from guarded(
            _shape(design, path, stock), _weight(path, stock), _thin(design, path, stock), _print(design, path, stock)
        )


def _shape(design: Design, path: KeyPath, stock: Stock) -> Faults:
    if not isinstance(stock, LengthStock):
        return
    flat = stock.width is not None or stock.height is not None
    if stock.round and flat:
        yield fault(path, "is round and flat at once", "outside (and inside), or width and height")
    elif flat and (stock.width is None or stock.height is None):
        yield fault(path, "has only one of width and height", "both, or outside")
    elif not flat and stock.outside is None:
        yield fault(path, "has no section", "outside (and inside) for a tube or rod, width and height for a strip")
    if stock.inside is not None and stock.outside is not None and stock.inside >= stock.outside:
        yield fault((*path, "inside"), "leaves no wall", f"less than the outside, {at_most(stock.outside)}")


def _thin(design: Design, path: KeyPath, stock: Stock) -> Faults:
    """Only films are thinner than the thinnest ply."""
    if isinstance(stock, SheetStock) and stock.thickness < THINNEST:
        kinds = {catalogue.find(name).kind for name in catalogue.meant(stock.of)}
        if kinds and kinds <= STIFF:
            wrong = f"no sheet of {stock.of} is so thin"
            yield fault((*path, "thickness"), wrong, f"at least {at_least(THINNEST)}")


def _weight(path: KeyPath, stock: Stock) -> Faults:
    own = "areal" if isinstance(stock, SheetStock) else "linear"
    if isinstance(stock, SheetStock | LengthStock) and getattr(stock, own) is not None and stock.density is not None:
        yield fault((*path, own), "stands beside density: which is it?", remedy=f"leave out {own} or density")


def _print(design: Design, path: KeyPath, stock: Stock) -> Faults:
    """What is said of a print is said once, of what is printed."""
    if not isinstance(stock, VolumeStock) or stock.print is None:
        return
    if stock.solid is not None:
        yield fault((*path, "print"), "stands beside solid: which is it?", remedy="leave out print or solid")
    kinds = {catalogue.find(name).kind for name in catalogue.meant(stock.of)}
    if kinds == {"foam"}:
        yield fault((*path, "print"), f"{stock.of} is cut from a block, not printed", remedy="leave out print")
    if design.printer.layer >= design.printer.line:
        wrong = f"{mm(design.printer.layer)} is no less than a line is wide"
        allowed = f"less than printer.line, {at_most(design.printer.line)}"
        yield fault(("printer", "layer"), wrong, allowed)
    if stock.print.weighed is not None:
        yield from _weighed(design, path, stock.print.weighed.part)


def _weighed(design: Design, path: KeyPath, part: str) -> Faults:
    """What was weighed is printed from this stock."""
    tables: dict[str, PrintedHub | Cap] = {
        "hub": design.hub, "turning_cap": design.pitch.turning_cap, "fixed_cap": design.pitch.fixed_cap,
    }  # fmt: skip
    mine = [name for name, table in tables.items() if table.stock == path[1]]
    if part not in mine:
        allowed = f"one of {', '.join(map(quoted, mine))}" if mine else ""
        yield fault((*path, "print", "weighed", "part"), f"isn't printed from [stock.{path[1]}]", allowed)


def materials(design: Design) -> Faults:
    """A stock without a figure of its own is made of something in the catalogue."""
    yield from guarded(*(_material(("stock", name), stock) for name, stock in design.stock.items()))


def _material(path: KeyPath, stock: Stock) -> Faults:
    if stock.kind == "piece" or any(getattr(stock, key, None) is not None for key in ("density", "areal", "linear")):
        return
    meant = catalogue.meant(stock.of)
    if len(meant) > 1:
        wrong = "is more than one material, and the stock has no density of its own"
        yield fault((*path, "of"), wrong, f"one of {', '.join(map(quoted, meant))}")
    elif not meant:
        wrong = "is not in the catalogue, and the stock has no density of its own"
        if glue := catalogue.meant_glue(stock.of):
            yield fault((*path, "of"), f"is a glue: {wrong}", remedy=f'[glue] has it, with kind = "{glue[0]}"')
            return
        remedy = near(stock.of, catalogue.words())
        yield fault(
            (*path, "of"),
            wrong,
            "" if remedy else f"a density, or one of {', '.join(map(quoted, _fitting(stock)))}",
            remedy,
        )


def _fitting(stock: Stock) -> list[str]:
    """Materials that are sold as a stock is."""
    return [name for name in catalogue.names() if catalogue.find(name).kind in SOLD[stock.kind]]


def used(design: Design) -> Faults:
    """What a part is made of is there, and of a kind it can be made from."""
    runs = (("ribs", "ribs are"), ("skin", "a skin is"), ("doubler", "a doubler is"))
    yield from guarded(*(_runs(design, *run) for run in runs))
    yield from guarded(*(_spar(design, ("blade", "spar", name), spar) for name, spar in design.blade.spar.items()))
    yield from guarded(_pin(design), _collar_pin(design), _hub(design))
    yield from guarded(
        _cap(design, "turning_cap"), _cap(design, "fixed_cap"), _wedge(design), _built(design), _bench(design)
    )


def _built(design: Design) -> Faults:
    """What the construction is made of, key by key."""
    for under, name, kind, what, flat in design.blade.construction.stocks():
        yield from _named(design, (*BUILT, *under), name, (KINDS[kind],), what)
        yield from _flat(design, (*BUILT, *under), name, flat)


def _bench(design: Design) -> Faults:
    """What jig, tip and a fitting's rib are cut from."""
    jig, tip = design.blade.jig, design.blade.tip
    asked: list[tuple[KeyPath, str | None]] = [
        (("blade", "jig", key), getattr(jig, key, None)) for key in ("board", "gauge")
    ]
    asked += [(("blade", "tip", "stock"), tip.stock if tip is not None else None)]
    asked += [(("fitting", name, "rib_stock"), fitting.rib_stock) for name, fitting in design.fitting.items()]
    for path, stock in asked:
        if stock is not None:
            yield from _named(design, path, stock, (SheetStock,), "this is")


def _named(design: Design, path: KeyPath, stock: str, kinds: Kinds, what: str) -> Faults:
    """As `_fits`, for a key of another name than stock."""
    yield from known(path, stock, design.stock, "stock")
    if stock in design.stock and not isinstance(design.stock[stock], kinds):
        wrong = f'[stock.{stock}] is of kind "{design.stock[stock].kind}"'
        yield fault(path, wrong, f'{what} made of kind = "{_kind(kinds)}"')


def _fits(design: Design, path: KeyPath, stock: str, kinds: Kinds, what: str) -> Faults:
    yield from _named(design, (*path, "stock"), stock, kinds, what)


def _kind(kinds: Kinds) -> str:
    return '" or "'.join(get_args(kind.model_fields["kind"].annotation)[0] for kind in kinds)


def _runs(design: Design, table: str, what: str) -> Faults:
    for name, run in getattr(design.blade, table).items():
        yield from guarded(_fits(design, ("blade", table, name), run.stock, (SheetStock,), what))


def _spar(design: Design, path: KeyPath, spar: AnySpar) -> Faults:
    for under, name, kind, what, flat in spar.stocks():
        yield from _fits(design, (*path, *under), name, (KINDS[kind],), what)
        yield from _flat(design, (*path, *under, "stock"), name, flat)


def _flat(design: Design, path: KeyPath, name: str, flat: bool) -> Faults:
    """A strip is not round."""
    stock = design.stock.get(name)
    if flat and isinstance(stock, LengthStock) and stock.round:
        yield fault(path, "is round", "a strip, with width and height")


def _hub(design: Design) -> Faults:
    yield from _fits(design, ("hub",), design.hub.stock, (VolumeStock,), "a printed hub is")


def _cap(design: Design, cap: str) -> Faults:
    table: Cap = getattr(design.pitch, cap)
    yield from _fits(design, ("pitch", cap), table.stock, (VolumeStock, SheetStock), f"a {cap.replace('_', ' ')} is")
    yield from _as_thick(design, ("pitch", cap), table.stock, table.thickness)


def _wedge(design: Design) -> Faults:
    if (table := design.pitch.wedge) is None:
        return
    if table.stock is not None:
        yield from _fits(design, ("pitch", "wedge"), table.stock, (VolumeStock, SheetStock), "wedges are")
    if table.thickness is not None:
        stock = table.stock or design.pitch.fixed_cap.stock
        yield from _as_thick(design, ("pitch", "wedge"), stock, table.thickness)


def _as_thick(design: Design, path: KeyPath, name: str, thickness: float) -> Faults:
    """What is cut from a sheet is as thick as it."""
    stock = design.stock.get(name)
    if isinstance(stock, SheetStock) and abs(stock.thickness - thickness) > _SAME:
        wrong = f"[stock.{name}] is {mm(stock.thickness)} thick"
        yield fault((*path, "thickness"), wrong, remedy="write that, or take another stock")


def _pin(design: Design) -> Faults:
    yield from _rod(design, ("pitch", "pin"), design.pitch.pin)


def _collar_pin(design: Design) -> Faults:
    if isinstance(pinned := design.hub.collar.fixing, Pinned):
        yield from _rod(design, ("hub", "collar", "fixing"), pinned)


def _rod(design: Design, path: KeyPath, pin: Pin | Pinned) -> Faults:
    yield from _fits(design, path, pin.stock, (LengthStock,), "pins are")
    stock = design.stock.get(pin.stock)
    if isinstance(stock, LengthStock) and (stock.outside is None or abs(stock.outside - pin.diameter) > _SAME):
        what = f"{mm(stock.outside)} thick" if stock.outside is not None else "not round"
        yield fault((*path, "stock"), f"[stock.{pin.stock}] is {what}", f"a rod of the pin's {mm(pin.diameter)}")


def kerfs(design: Design) -> Faults:
    """Each kerf and each speed is that of a sheet."""
    yield from guarded(_sheets(design, "kerf", design.laser.kerf), _sheets(design, "speed", design.laser.speed))


def _sheets(design: Design, key: str, table: Mapping[str, float]) -> Faults:
    for name in table:
        path: KeyPath = ("laser", key, name)
        if name not in design.stock:
            sheets = [key for key, stock in design.stock.items() if stock.kind == "sheet"]
            yield fault(path, f"there is no [stock.{name}]", f"sheets here: {', '.join(sheets)}", near(name, sheets))
        elif design.stock[name].kind != "sheet":
            yield fault(path, f"[stock.{name}] is no sheet", "stocks that the laser cuts")


def shop(design: Design) -> Faults:
    """Sheets that are cut are named as they are numbered, and only a roll of paper has a width."""
    yield from guarded(_done(design), _roll(design))


def _done(design: Design) -> Faults:
    for k, name in enumerate(design.laser.done):
        stock, _, number = name.rpartition(" ")
        there = design.stock.get(stock)
        if there is None or there.kind != "sheet" or not number.isdecimal():
            yield fault(("laser", "done", k), "is no sheet's name", 'a stock and a number, as in "ply_2 1"')


def _roll(design: Design) -> Faults:
    if design.paper.width is not None and design.paper.size != "roll":
        beside = f'stands beside size = "{design.paper.size}"' if design.paper.size else "is only of a roll"
        yield fault(("paper", "width"), beside, remedy='write size = "roll"')

"""What to buy or have at hand of each stock: sheets, lengths, volumes, pieces."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from geomgen.design.schema import Design, LengthStock, PieceStock, SheetStock, VolumeStock
from geomgen.model.joint import Key
from geomgen.model.part import Area, Flat, Length, Part, Shaped, Solid
from geomgen.stock.copies import cut_copies
from geomgen.stock.packing import lengths_needed
from geomgen.stock.sheets import Layout, Sheet

SAW_MM = 1.0  # taken by each cut of a length
SCARF = 12.0  # of a joint in a length: 1 in 12 (AC 43.13-1B, read: the steepest permitted in plywood)


@dataclass(frozen=True)
class Need:
    """What is needed of one stock.

    stock      : name of its [stock.*] table
    of         : its material
    kind       : "sheet" | "length" | "volume" | "piece"
    bench      : it is for aids to build by, which don't fly; they are counted apart
    pieces     : parts that are cut from it
    sheets     : whole sheets; None where it is sold otherwise, or the size of its sheet isn't stated
    lengths    : whole lengths; None where it is sold otherwise, or its length isn't stated
    used_share : share of those sheets or lengths that ends in parts [-]; None where they aren't counted
    amount     : what is in the parts themselves, without waste [unit]
    unit       : "mm2" | "mm" | "mm3" | "piece"
    too_large  : names of parts larger than the sheet, counted by their area; or longer than the length, joined
    offcuts    : off-cuts that are laid on besides
    """

    stock: str
    of: str
    kind: str
    bench: bool
    pieces: int
    sheets: int | None
    lengths: int | None
    used_share: float | None
    amount: float
    unit: str
    too_large: tuple[str, ...] = ()
    offcuts: int = 0


def needs(
    parts: Sequence[Part],
    design: Design,
    layout: Layout,
    volumes_mm3: Mapping[Key, float] | None = None,
    shares: Mapping[Key, float] | None = None,
) -> tuple[Need, ...]:
    """What all blades, the hub and the aids to build by take of each stock that parts name, in the parts' order.

    parts       : every different part of one blade, of the hub and of the bench
    design      : stocks, number of blades
    layout      : what lies on which sheet
    volumes_mm3 : exact volume of each printed solid [mm3]; one that is missing counts nothing
    shares      : printed mass over solid mass of what is weighed by its slices [-]
    returns     : the craft's needs, then the bench's; parts of no stock (wires, glue, bought things) are passed over
    """
    found = []
    for bench in (False, True):
        mine = [part for part in parts if part.stock and (part.assembly == "bench") == bench]
        for name in dict.fromkeys(part.stock for part in mine):
            cut = [(part, cut_copies(part, design)) for part in mine if part.stock == name]
            found.append(_need(name, cut, design, layout.of(name, bench=bench), volumes_mm3 or {}, shares or {}, bench))
    return tuple(found)


def _need(
    name: str,
    cut: Sequence[tuple[Part, int]],
    design: Design,
    laid: Sequence[Sheet],
    volumes: Mapping[Key, float],
    shares: Mapping[Key, float],
    bench: bool,
) -> Need:
    stock, pieces = design.stock[name], sum(count for _, count in cut)
    sheets = lengths = used = None
    offcuts = sum(sheet.offcut for sheet in laid)
    too_large: tuple[str, ...] = ()
    if isinstance(stock, SheetStock):
        amount, unit = sum(count * _area_mm2(part) for part, count in cut), "mm2"
        if stock.size is not None:
            sheets, too_large = _sheets(stock.size, cut, laid)
            area = sheets * stock.size[0] * stock.size[1] + sum(a * b for a, b in (s.size for s in laid if s.offcut))
            used = amount / area if area else None
    elif isinstance(stock, LengthStock):
        amount, unit = sum(count * _length_mm(part) for part, count in cut), "mm"
        if stock.length is not None:
            lengths, too_large = _lengths(stock, stock.length, cut)
            used = amount / (lengths * stock.length) if lengths else None
    elif isinstance(stock, VolumeStock):
        amount, unit = sum(count * _volume_mm3(part, stock, volumes, shares) for part, count in cut), "mm3"
    else:
        amount, unit = float(pieces), "piece"
    of = (stock.of or name) if isinstance(stock, PieceStock) else stock.of
    return Need(name, of, stock.kind, bench, pieces, sheets, lengths, used, amount, unit, too_large, offcuts)


def _sheets(
    size: tuple[float, float], cut: Sequence[tuple[Part, int]], laid: Sequence[Sheet]
) -> tuple[int, tuple[str, ...]]:
    """Whole sheets, and the names of parts that go on none; those and what isn't drawn are counted by area."""
    there = {each.key for sheet in laid for each in sheet.laid}
    loose = [(part, count) for part, count in cut if part.key not in there]
    by_area = math.ceil(sum(count * _area_mm2(part) for part, count in loose) / (size[0] * size[1]) - 1e-9)
    too_large = tuple(part.name for part, _ in loose if isinstance(part.shape, Flat))
    return sum(not sheet.offcut for sheet in laid) + by_area, too_large


def _lengths(stock: LengthStock, length: float, cut: Sequence[tuple[Part, int]]) -> tuple[int, tuple[str, ...]]:
    """Whole lengths, and the names of parts that are joined from more than one."""
    across = max(stock.outside or 0.0, stock.width or 0.0, stock.height or 0.0)
    joint = SCARF * across if SCARF * across < length else 0.0
    pieces = [_length_mm(part) for part, count in cut for _ in range(count)]
    longer = tuple(part.name for part, _ in cut if _length_mm(part) > length + 1e-6)
    return lengths_needed([piece for piece in pieces if piece > 0.0], length, SAW_MM, joint), longer


def _area_mm2(part: Part) -> float:
    match part.shape:
        case Flat(region=region):
            return region.area()
        case Area(area_mm2=area):
            return area
    return 0.0


def _length_mm(part: Part) -> float:
    return part.shape.length_mm if isinstance(part.shape, Length | Shaped) else 0.0


def _volume_mm3(part: Part, stock: VolumeStock, volumes: Mapping[Key, float], shares: Mapping[Key, float]) -> float:
    share = shares.get(part.key, stock.share.typical)
    match part.shape:
        case Flat(volume_mm3=volume):
            return volume * share
        case Shaped(volume_mm3=volume):
            return volume
        case Solid():
            return volumes.get(part.key, 0.0) * share
    return 0.0

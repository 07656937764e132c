"""What to buy or have at hand of each stock: sheets, lengths, volumes, pieces."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from geomgen.design.schema import Design, LengthStock, PieceStock, SheetStock, VolumeStock
from geomgen.model.joint import Key
from geomgen.model.part import Area, Flat, Length, Part, Shaped, Solid
from geomgen.stock.lying import angle_on_sheet, box_of
from geomgen.stock.packing import Box, lengths_needed, packed, sheets_of

GAP_MM = 3.0  # between parts on a sheet; a laser's kerf where that is wider
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


def needs(parts: Sequence[Part], design: Design, volumes_mm3: Mapping[Key, float] | None = None) -> tuple[Need, ...]:
    """What all blades, the hub and the aids to build by take of each stock that parts name, in the parts' order.

    parts       : every different part of one blade, of the hub and of the bench
    design      : stocks, number of blades, laser
    volumes_mm3 : exact volume of each printed solid [mm3]; one that is missing counts nothing
    returns     : the craft's needs, then the bench's; parts of no stock (wires, glue, bought things) are passed over
    """
    found = []
    for bench in (False, True):
        mine = [part for part in parts if part.stock and (part.assembly == "bench") == bench]
        for name in dict.fromkeys(part.stock for part in mine):
            cut = [(part, times(part, design)) for part in mine if part.stock == name]
            found.append(_need(name, cut, design, volumes_mm3 or {}, bench))
    return tuple(found)


def times(part: Part, design: Design) -> int:
    """How many of a part there are in the craft: as many sets as blades, or one."""
    return part.count * (design.rotor.blades if part.assembly == "blade" else 1)


def _need(
    name: str, cut: Sequence[tuple[Part, int]], design: Design, volumes: Mapping[Key, float], bench: bool
) -> Need:
    stock, pieces = design.stock[name], sum(count for _, count in cut)
    sheets = lengths = used = None
    too_large: tuple[str, ...] = ()
    if isinstance(stock, SheetStock):
        amount, unit = sum(count * _area_mm2(part) for part, count in cut), "mm2"
        if stock.size is not None:
            gap = max(GAP_MM, design.laser.kerf.get(name, 0.0))
            sheets, too_large = _sheets(stock, stock.size, cut, gap)
            used = amount / (sheets * stock.size[0] * stock.size[1]) if sheets else None
    elif isinstance(stock, LengthStock):
        amount, unit = sum(count * _length_mm(part) for part, count in cut), "mm"
        if stock.length is not None:
            lengths, too_large = _lengths(stock, stock.length, cut)
            used = amount / (lengths * stock.length) if lengths else None
    elif isinstance(stock, VolumeStock):
        amount, unit = sum(count * _volume_mm3(part, stock, volumes) for part, count in cut), "mm3"
    else:
        amount, unit = float(pieces), "piece"
    of = (stock.of or name) if isinstance(stock, PieceStock) else stock.of
    return Need(name, of, stock.kind, bench, pieces, sheets, lengths, used, amount, unit, too_large)


def _sheets(
    stock: SheetStock, size: tuple[float, float], cut: Sequence[tuple[Part, int]], gap: float
) -> tuple[int, tuple[str, ...]]:
    """Whole sheets, and the names of parts that go on none; those and what isn't drawn are counted by area.

    A skin that is made up of several sheets takes as many as its layout says.
    """
    boxes: list[Box] = []
    too_large, loose_mm2, joined = [], 0.0, 0
    for part, count in cut:
        if (made_up := round(part.facts.get("sheets", 0.0))) > 1:
            joined += made_up * count
            continue
        if isinstance(part.shape, Flat) and (angle := angle_on_sheet(part.shape, stock, size)) is not None:
            boxes += [box_of(part.shape, stock, angle)] * count
            continue
        loose_mm2 += count * _area_mm2(part)
        if isinstance(part.shape, Flat):
            too_large.append(part.name)
    by_area = math.ceil(loose_mm2 / (size[0] * size[1]) - 1e-9)
    return sheets_of(packed(boxes, size, gap)) + joined + by_area, tuple(too_large)


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


def _volume_mm3(part: Part, stock: VolumeStock, volumes: Mapping[Key, float]) -> float:
    match part.shape:
        case Flat(volume_mm3=volume):
            return volume * stock.share.typical
        case Shaped(volume_mm3=volume):
            return volume
        case Solid():
            return volumes.get(part.key, 0.0) * stock.share.typical
    return 0.0

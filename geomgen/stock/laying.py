"""Everything that is cut from sheet, laid on sheets: what lay somewhere before stays, the rest goes where room is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import affinity

from geomgen.design.schema import Design, SheetStock
from geomgen.model.joint import Key
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.nesting.fill import Ground, Piece, filled
from geomgen.nesting.mask import FLATTEN_MM
from geomgen.stock.copies import cut_copies
from geomgen.stock.lying import angle_on_sheet, has_grain
from geomgen.stock.margins import Margins, margins
from geomgen.stock.nearness import near_pairs
from geomgen.stock.pieces import Cut, cut_edges, cuts_of, outline
from geomgen.stock.renumbered import renamed
from geomgen.stock.sheets import APART, BENCH, DOUBLERS, FLIES, Laid, Layout, Sheet
from geomgen.stock.tool import Tool, tool

_SAME = 1e-6


Size = tuple[float, float]
Which = tuple[Key, int, int]  # part, piece and copy


@dataclass(frozen=True, eq=False)
class _Copy:
    """One thing to be laid, not yet anywhere."""

    cut: Cut
    laid: Laid


Wanted = Mapping[tuple[str, str], Sequence[_Copy]]


def lay(parts: Sequence[Part], design: Design, before: Layout | None = None) -> Layout:
    """The sheets of a whole craft, every copy of every part on one of them.

    parts   : as they are cut, in the craft's own hand
    design  : stocks, blades, laser
    before  : an earlier layout. What of it is as it was stays where it was, to the bit; the sheets that `laser.done`
              names stay whatever has changed
    returns : sheets of what flies, of doublers and of what stays on the bench apart, so that nothing is mixed up that
              looks alike. A part that goes on no sheet (a film) is left out
    """
    wanted = _wanted(parts, design)
    old = () if before is None else renamed(before.sheets, _digests(wanted), design.laser.done)
    cut = [sheet.stock for sheet in old if sheet.name in design.laser.done]
    stocks = dict.fromkeys([*(stock for stock, _ in wanted), *cut])
    sheeted = [name for name in stocks if isinstance(design.stock.get(name), SheetStock)]
    found = [_of_stock(name, wanted, design, [sheet for sheet in old if sheet.stock == name]) for name in sheeted]
    sheets = tuple(sheet for mine, _ in found for sheet in mine)
    return Layout(sheets, tuple(each for _, anew in found for each in anew), bool(sheets) and sheets == old)


def _of_stock(
    name: str, wanted: Wanted, design: Design, old: Sequence[Sheet]
) -> tuple[list[Sheet], list[tuple[str, Key, int]]]:
    """The sheets of one stock, by number; and what is cut already and has changed."""
    done, offcuts = set(design.laser.done), list(design.sheet(name).offcuts)
    offcuts = _without(offcuts, [sheet for sheet in old if sheet.name in done])
    held = []
    for apart in APART:
        group = _Group(design, name, apart, wanted.get((name, apart), ()), frozenset(done))
        kept, missing, anew = group.kept([sheet for sheet in old if sheet.apart == apart], offcuts)
        offcuts = _without(offcuts, [sheet for sheet in kept if sheet.name not in done])
        held.append((group, kept, missing, anew))
    taken = {sheet.number for _, kept, _, _ in held for sheet in kept}
    sheets = list[Sheet]()
    for group, kept, missing, _ in held:
        made = group.filled(kept, missing, offcuts, taken)
        offcuts = _without(offcuts, [sheet for sheet in made if sheet.number not in taken])
        taken |= {sheet.number for sheet in made}
        sheets += made
    return sorted(sheets, key=lambda sheet: sheet.number), [each for *_, anew in held for each in anew]


def turns(flat: Flat, stock: SheetStock) -> tuple[float, ...]:
    """The angles at which a part may lie on its sheet: its grain along the sheet's; of no grain, any quarter turn, and
    where it goes on at no quarter turn the one at which it does [deg]."""
    if has_grain(flat, stock):
        turn = (90.0 if stock.grain == "across" else 0.0) - (flat.grain or 0.0)
        return turn % 360.0, (turn + 180.0) % 360.0
    angle = angle_on_sheet(flat, stock, stock.size) if stock.size is not None else 0.0
    free = (0.0, 90.0, 180.0, 270.0)
    return free if angle is None or angle % 90.0 == 0.0 else (*free, angle, (angle + 180.0) % 360.0)


def shape_of(flat: Flat, *, in_holes: bool) -> shapely.Polygon:
    """What a part takes of its sheet; its holes are free for others only where that is asked for [mm]."""
    whole = flat.region.to_shapely(FLATTEN_MM)
    return whole if in_holes else shapely.Polygon(whole.exterior)


def lying(shape: shapely.Polygon, laid: Laid) -> shapely.Polygon:
    """A shape where it lies on its sheet [mm]."""
    return affinity.translate(affinity.rotate(shape, laid.turn_deg, origin=(0.0, 0.0)), *laid.at)


def _wanted(parts: Sequence[Part], design: Design) -> Wanted:
    found: dict[tuple[str, str], list[_Copy]] = {}
    for part in parts:
        stock = design.stock.get(part.stock)
        if not isinstance(stock, SheetStock) or stock.size is None or not isinstance(part.shape, Flat):
            continue
        for cut in cuts_of(part):
            if angle_on_sheet(cut.flat, stock, margins(design, part.stock).within(stock.size)) is None:
                continue
            edges, whole = outline(cut.flat), cut_edges(cut.flat)
            found.setdefault((part.stock, _apart(part)), []).extend(
                _Copy(cut, Laid(part.key, copy, (0.0, 0.0), 0.0, cut.piece, edges, whole))
                for copy in range(1, cut_copies(part, design) + 1)
            )
    return found


def _digests(wanted: Wanted) -> dict[tuple[str, str], dict[Which, str]]:
    """Outlines of what is to be laid, by stock and use."""
    return {where: {copy.laid.which: copy.laid.outline for copy in copies} for where, copies in wanted.items()}


def _apart(part: Part) -> str:
    if part.assembly == Assembly.BENCH:
        return BENCH
    return DOUBLERS if part.role == Role.DOUBLER else FLIES


@dataclass(frozen=True, eq=False)
class _Group:
    """What lies on sheets of its own: of one stock, and of one kind of use."""

    design: Design
    name: str
    apart: str
    wanted: Sequence[_Copy]
    done: frozenset[str]

    @property
    def stock(self) -> SheetStock:
        return self.design.sheet(self.name)

    @property
    def margins(self) -> Margins:
        return margins(self.design, self.name)

    def kept(
        self, old: Sequence[Sheet], offcuts: Sequence[Size]
    ) -> tuple[list[Sheet], list[_Copy], list[tuple[str, Key, int]]]:
        """Earlier sheets with what of them is as it was; what is to be laid; what is cut already and has changed."""
        missing = {copy.laid.which: copy for copy in self.wanted}
        sheets, changed = list[Sheet](), list[tuple[str, Key, int]]()
        for sheet in sorted(old, key=lambda sheet: sheet.name not in self.done):
            if sheet.name in self.done:
                sheets.append(sheet)
                for laid in sheet.laid:
                    copy = missing.get(laid.which)
                    if copy is not None and copy.laid.edges == laid.edges:
                        del missing[laid.which]
                    elif copy is not None:
                        changed.append((sheet.name, laid.key, laid.copy))
            elif self._stands(sheet, offcuts) and (stay := self._staying(sheet, missing)):
                for laid in stay:
                    del missing[laid.which]
                sheets.append(replace(sheet, laid=stay))
                offcuts = _without(offcuts, sheets[-1:])
        return sheets, list(missing.values()), changed

    def _stands(self, sheet: Sheet, offcuts: Sequence[Size]) -> bool:
        """Whether a sheet that isn't cut yet is laid as it would be now."""
        gap, edge = self.margins.gap_mm, self.margins.edge_mm
        if abs(sheet.gap_mm - gap) > _SAME or abs(sheet.edge_mm - edge) > _SAME:
            return False
        across = self.across(sheet.size)
        if len(across) != len(sheet.across) or any(
            abs(a - b) > _SAME for a, b in zip(across, sheet.across, strict=True)
        ):
            return False
        return sheet.size in offcuts if sheet.offcut else sheet.size == self.stock.size

    def _staying(self, sheet: Sheet, missing: Mapping[Which, _Copy]) -> tuple[Laid, ...]:
        """What of a sheet stays where it was, each part once; not what has other holes now and something in them."""
        stay = {laid.which: laid for laid in reversed(sheet.laid) if self._is_as_was(laid, missing)}
        stay = {laid.which: laid for laid in sheet.laid if stay.get(laid.which) is laid}
        new = {which for which, laid in stay.items() if missing[which].laid.edges != laid.edges}
        if new:
            shapes = [lying(shape_of(missing[which].cut.flat, in_holes=True), laid) for which, laid in stay.items()]
            names = list(stay)
            for pair in near_pairs(shapes, sheet.gap_mm):
                for which in {names[k] for k in pair} & new:
                    stay.pop(which, None)
        return tuple(replace(laid, edges=missing[which].laid.edges) for which, laid in stay.items())

    def _is_as_was(self, laid: Laid, missing: Mapping[Which, _Copy]) -> bool:
        """Whether an earlier place will do for the part as it is now: of the same outline, its grain as the sheet's."""
        copy = missing.get(laid.which)
        if copy is None or copy.laid.outline != laid.outline:
            return False
        flat = copy.cut.flat
        off = [(laid.turn_deg - turn + 180.0) % 360.0 - 180.0 for turn in turns(flat, self.stock)]
        return not has_grain(flat, self.stock) or any(abs(each) < _SAME for each in off)

    def filled(
        self,
        kept: Sequence[Sheet],
        missing: Sequence[_Copy],
        offcuts: Sequence[Size],
        taken: set[int],
    ) -> list[Sheet]:
        """Earlier sheets with what is missing laid on them where there is room, on off-cuts, and on new sheets."""
        if not missing:
            return list(kept)
        free = sorted(offcuts, key=lambda size: (size[0] * size[1], size))
        open_ = [sheet for sheet in kept if sheet.name not in self.done]
        there = [*(self._ground(size) for size in free), *(self._ground(sheet.size, sheet) for sheet in open_)]
        pieces = _pieces(missing, self.stock, in_holes=self.design.laser.in_holes)
        assert self.stock.size is not None
        spots = filled(
            [piece for piece, _ in pieces],
            there,
            self._ground(self.stock.size),
            self.margins.gap_mm,
            self.margins.edge_mm,
        )
        lists = [list(copies) for _, copies in pieces]
        fresh: dict[int, list[Laid]] = {}
        for spot in spots:
            laid = lists[spot.piece].pop(0).laid
            fresh.setdefault(spot.ground, []).append(replace(laid, at=spot.at, turn_deg=spot.turn_deg % 360.0))
        now = {sheet.name: sheet for sheet in kept}
        taken = set(taken)
        for ground, new in sorted(fresh.items(), key=lambda each: (each[0] < len(free), each[0])):
            k = ground - len(free)
            if 0 <= k < len(open_):
                sheet = open_[k]
                now[sheet.name] = replace(sheet, laid=(*sheet.laid, *new))
                continue
            number = next(n for n in range(1, len(taken) + 2) if n not in taken)
            taken.add(number)
            size = free[ground] if ground < len(free) else self.stock.size
            made = Sheet(
                self.name,
                number,
                size,
                self.apart,
                ground < len(free),
                *self.margins.both,
                tuple(new),
                self.across(size),
            )
            now[made.name] = made
        return list(now.values())

    def _ground(self, size: tuple[float, float], sheet: Sheet | None = None) -> Ground:
        on = [] if sheet is None else list(self._shapes(sheet))
        return Ground(size, tuple(on), self.across(size))

    def _shapes(self, sheet: Sheet) -> Iterator[shapely.Polygon]:
        cuts = {copy.laid.which: copy.cut for copy in self.wanted}
        for laid in sheet.laid:
            yield lying(shape_of(cuts[laid.which].flat, in_holes=self.design.laser.in_holes), laid)

    def across(self, size: tuple[float, float]) -> tuple[float, ...]:
        """Where a sheet longer than the laser's bed is cut across first; nowhere where a part is longer still."""
        bed = self.design.laser.bed
        if bed is None or tool(self.stock) is not Tool.LASER:
            return ()
        long = max((along for along, across in (bed, bed[::-1]) if size[1] <= across + _SAME), default=0.0)
        if not 0.0 < long < size[0]:
            return ()
        room = long - 2.0 * self.margins.edge_mm
        if any(_reach(copy.cut.flat, self.stock) > room for copy in self.wanted):
            return ()
        return tuple(long * k for k in range(1, int(size[0] / long - _SAME) + 1))


def _reach(flat: Flat, stock: SheetStock) -> float:
    """The least that a part takes of a sheet's length [mm]."""
    regions = [flat.region.turned(turn) if turn % 180.0 else flat.region for turn in turns(flat, stock)]
    boxes = [region.bounds() for region in regions]
    return float(min(x1 - x0 for x0, _, x1, _ in boxes))


def _pieces(missing: Sequence[_Copy], stock: SheetStock, *, in_holes: bool) -> list[tuple[Piece, list[_Copy]]]:
    """Copies of one cut together."""
    by: dict[tuple[object, int], list[_Copy]] = {}
    for copy in missing:
        by.setdefault((copy.laid.key, copy.laid.piece), []).append(copy)
    found = []
    for alike in by.values():
        flat = alike[0].cut.flat
        found.append((Piece(shape_of(flat, in_holes=in_holes), turns(flat, stock), len(alike)), alike))
    return found


def _without(offcuts: Sequence[Size], used: Sequence[Sheet]) -> list[Size]:
    """Off-cuts less those that are used."""
    left = Counter(offcuts)
    left.subtract(Counter(sheet.size for sheet in used if sheet.offcut))
    return list((+left).elements())

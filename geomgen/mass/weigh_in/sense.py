"""Whether readings can be of this craft at all: what they name is there, and they don't contradict one another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from geomgen.design.near import near
from geomgen.design.schema import Design, LengthStock, SheetStock
from geomgen.errors import DesignError, Fault
from geomgen.figures import g, mm
from geomgen.mass.weigh_in.reading import OUT, ROOT, TIP, WHOLE, Kind, Reading
from geomgen.model.part import Part
from geomgen.model.role import Assembly
from geomgen.section.listing import Origin
from geomgen.stock.sharing import Sharing

_ANY = (Kind.HUB, Kind.CRAFT)
_MOST_FAULTS = 20


@dataclass(frozen=True, eq=False)
class Shop:
    """What of a craft a form may name.

    parts   : of one blade and on the hub, by name
    on      : by part, the sheet of each copy
    sheets  : names of bare sheets that may be weighed: "balsa_3 1"; of a stock of which it isn't known what lies where,
              the stock alone
    lengths : stocks sold by length, of which one is known to be so long
    blades  : [-]
    """

    parts: Mapping[str, Part]
    on: Sharing
    sheets: tuple[str, ...]
    lengths: tuple[str, ...]
    blades: int

    def reach_mm(self) -> tuple[float, float]:
        """From where to where along r the blade's parts have their centres: its own lies between [mm]."""
        at = [float(part.spread[:, 0] @ part.spread[:, 1]) for part in self.parts.values() if _on_blade(part)]
        return min(at, default=0.0), max(at, default=0.0)


def shop(parts: Sequence[Part], design: Design, sharing: Sharing) -> Shop:
    """What of a craft a form may name, in the order of its parts. parts : of one blade and of the hub"""
    flying = [part for part in parts if part.assembly != Assembly.BENCH]
    stocks = dict.fromkeys(part.stock for part in flying)
    sheets, lengths = list[str](), list[str]()
    for name in stocks:
        stock = design.stock.get(name)
        if isinstance(stock, SheetStock) and stock.size is not None:
            known = {on for part in flying if part.stock == name for on in sharing.get(part.key, ())}
            sheets += sorted(known, key=lambda on: (len(on), on)) or [name]
        elif isinstance(stock, LengthStock) and stock.length is not None:
            lengths.append(name)
    named = {part.name: part for part in flying}
    return Shop(named, sharing, tuple(sheets), tuple(lengths), design.rotor.blades)


def sensible(readings: Sequence[Reading], there: Shop, origin: Origin) -> tuple[Reading, ...]:
    """Readings with their names as the craft has them.

    raises : DesignError with the line of every reading of what isn't there, or that others contradict
    """
    found = [_named(each, there, origin) for each in readings]
    faults = [each for each in found if isinstance(each, Fault)]
    if not faults:
        faults = list(_contradictions([each for each in found if isinstance(each, Reading)], there, origin))
    if faults:
        raise DesignError(faults[:_MOST_FAULTS])
    return tuple(each for each in found if isinstance(each, Reading))


def _named(reading: Reading, there: Shop, origin: Origin) -> Reading | Fault:
    """The reading with its name as the craft has it; or what is wrong with what it names."""
    kind, line, word = reading.kind, reading.line, reading.which
    if kind in _ANY:
        return replace(reading, which=WHOLE, blade=None)
    if kind == Kind.BLADE:
        blade = _blade(reading, there, origin)
        return blade or replace(reading, which=word.lower())
    names = list(there.parts if kind == Kind.PART else there.sheets if kind == Kind.SHEET else there.lengths)
    name = next((name for name in names if " ".join(name.split()).casefold() == word.casefold()), None)
    if name is None:
        allowed = f"one of the {len(names)} in a blank form" if names else "none"
        return origin.fault(line, f'{kind} "{word[:60]}" isn\'t in this craft', allowed, near(word, names))
    reading = replace(reading, which=name)
    if kind != Kind.PART:
        return replace(reading, blade=None, pieces=max(reading.pieces, 1))
    part = there.parts[name]
    if reading.pieces not in (0, part.count):
        where = "one blade" if _on_blade(part) else "the craft"
        return origin.fault(
            line, f"{reading.pieces} of {name}, of which {where} has {part.count}", "all of them at once"
        )
    if not _on_blade(part):
        return replace(reading, blade=None)
    return _blade(reading, there, origin) or reading


def _blade(reading: Reading, there: Shop, origin: Origin) -> Fault | None:
    """Whether the blade is there."""
    if reading.blade is not None and reading.blade <= there.blades:
        return None
    wrong = "names no blade" if reading.blade is None else f"there is no blade {reading.blade}"
    return origin.fault(reading.line, f"{reading.which}: {wrong}", f"1 to {there.blades}")


def _contradictions(readings: Sequence[Reading], there: Shop, origin: Origin) -> Iterator[Fault]:
    """What can't be, whatever the parts weigh: a part of a thing heavier than the thing."""
    parts = [each for each in readings if each.kind == Kind.PART]
    whole = {each.blade: each for each in readings if each.kind == Kind.BLADE and each.which == WHOLE}
    hub = [each for each in readings if each.kind == Kind.HUB]
    on_hub = [each for each in parts if each.blade is None]
    blades, heaviest = [], list[Reading]()
    for number in range(1, there.blades + 1):
        inside = [each for each in parts if each.blade == number]
        scales = {each.which: each for each in readings if each.is_lever and each.blade == number}
        if number in whole:
            yield from _heavier(inside, whole[number], "parts of it", origin)
        if len(scales) == 2:
            yield from _balance(scales[ROOT], scales[TIP], there, origin)
            yield from _heavier(inside, scales[TIP], "parts of it", origin, of=[scales[ROOT], scales[TIP]])
        blades.append([whole[number]] if number in whole else [*scales.values()] if len(scales) == 2 else inside)
        heaviest += blades[-1]
    for each in hub:
        yield from _heavier(on_hub, each, "parts on it", origin)
    for each in (each for each in readings if each.kind == Kind.CRAFT):
        yield from _heavier([*heaviest, *(hub or on_hub)], each, "blades, hub and parts of them", origin)
    for each in (each for each in readings if each.kind == Kind.SHEET):
        cut = [one for one in parts if _from(one, each.which, there)]
        yield from _heavier(cut, each, "parts cut from it", origin)
    yield from _edges(readings, there, origin)


def _heavier(
    some: Sequence[Reading], one: Reading, words: str, origin: Origin, of: Sequence[Reading] = ()
) -> Iterator[Fault]:
    """A fault where some readings are more than that of what they are in, by more than the scale's step explains."""
    whole = of or [one]
    inside_g, whole_g = sum(each.mass_g for each in some), sum(each.mass_g for each in whole)
    slack_g = sum(each.step_g for each in (*some, *whole)) / 2.0
    if some and inside_g - whole_g > slack_g:
        lines = ", ".join(str(each.line) for each in some[:6]) + ("" if len(some) <= 6 else " and more")
        wrong = f"{one.name} weighs {g(whole_g)}, {words} {g(inside_g)} (line {lines})"
        yield origin.fault(one.line, wrong, "no less than what is in it")


def _from(reading: Reading, sheet: str, there: Shop) -> bool:
    """Whether a part that was weighed is cut from a sheet, all of it."""
    part = there.parts[reading.which]
    copies: Sequence[str] = there.on.get(part.key, ())
    if reading.blade is not None:
        copies = copies[(reading.blade - 1) * part.count : reading.blade * part.count]
    return bool(copies) and all(each == sheet for each in copies)


def _balance(root: Reading, tip: Reading, there: Shop, origin: Origin) -> Iterator[Fault]:
    """Faults of two scales: that they stand the wrong way round, or put the centre where no blade is."""
    if tip.place <= root.place:
        wrong = f"the tip's scale stands at {mm(tip.place)}, the root's at {mm(root.place)}"
        yield origin.fault(tip.line, wrong, "the tip's further out")
        return
    centre = (root.mass_g * root.place + tip.mass_g * tip.place) / (root.mass_g + tip.mass_g)
    yield from _inside(centre, tip, there, origin)


def _edges(readings: Sequence[Reading], there: Shop, origin: Origin) -> Iterator[Fault]:
    for each in readings:
        if each.is_edge and each.which == OUT:
            yield from _inside(each.place, each, there, origin)


def _inside(centre: float, reading: Reading, there: Shop, origin: Origin) -> Iterator[Fault]:
    low, high = there.reach_mm()
    if not low <= centre <= high:
        wrong = f"puts the centre of blade {reading.blade} at {mm(centre, 1)}, outside the blade"
        yield origin.fault(reading.line, wrong, f"its parts lie from {mm((low, high), 1, ' to ')}")


def _on_blade(part: Part) -> bool:
    return part.assembly == Assembly.BLADE

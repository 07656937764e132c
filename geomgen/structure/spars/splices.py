"""Splices where stock is shorter than what is made of it: how many, where they may stand, and what is cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil
from typing import Any

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design, LengthStock, SheetStock, Stock
from geomgen.design.schema.spar import Joint
from geomgen.errors import Fault, MakeError
from geomgen.figures import at_least, at_most, mm
from geomgen.materials.catalogue import known
from geomgen.model.layout import Layout
from geomgen.model.part import Length, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import of_sides, rows_of, second_of, straight
from geomgen.structure.spars.kind import Member

Span = tuple[float, float]

APART = 3.0  # splices stand at least so many lengths of the longer one apart: AC 43.13-1B on splices of spars, read
SLEEVE = 8.0  # a sleeve is so many outside diameters long where the design doesn't say; common practice, from memory
MOST = 40  # splices in one part


@dataclass(frozen=True, eq=False)
class Along:
    """Where a long piece runs: the same n places told in three ways.

    r_mm   : (n,) radii, rising [mm]
    s_mm   : (n,) lengths along it from its inner end [mm]
    points : (n, 3) in the blade frame [mm]
    """

    r_mm: FloatArray
    s_mm: FloatArray
    points: FloatArray

    @classmethod
    def through(cls, points: FloatArray) -> Along:
        """The straight legs through (n, 3) points of rising r [mm]."""
        steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
        return cls(points[:, 0], np.concatenate([[0.0], np.cumsum(steps)]), points)

    @property
    def length_mm(self) -> float:
        """Length of it all [mm]."""
        return float(self.s_mm[-1])

    def s_of(self, r_mm: float) -> float:
        """Length along it at a radius, drawn on beyond its ends [mm]."""
        beyond = min(r_mm - self.r_mm[0], 0.0) + max(r_mm - self.r_mm[-1], 0.0)
        return float(np.interp(r_mm, self.r_mm, self.s_mm) + beyond)

    def r_of(self, s_mm: float) -> float:
        """Radius at a length along it [mm]."""
        return float(np.interp(s_mm, self.s_mm, self.r_mm))

    def at(self, s_mm: float) -> FloatArray:
        """(3,) the point at a length along it [mm]."""
        return np.array([np.interp(s_mm, self.s_mm, self.points[:, k]) for k in range(3)])


@dataclass(frozen=True, eq=False)
class Uncut:
    """A part that may be longer than its stock.

    name         : its part's name
    along        : where it runs
    thickness_mm : what a scarf slopes through [mm]
    mark         : its part's mark
    notes        : its part's notes, besides those on splices
    """

    name: str
    along: Along
    thickness_mm: float
    mark: tuple[str | int, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Splices:
    """How one part is made of pieces.

    at_mm      : middles of its splices, along it [mm]
    r_mm       : their radii [mm]
    overlap_mm : how much each splice adds to what is cut: a scarf's length, nothing for a sleeve [mm]
    pieces_mm  : cut lengths from the inner end on; together its length and an overlap for each splice [mm]
    notes      : in words
    sleeves    : the sleeves' own part, if any
    """

    at_mm: tuple[float, ...]
    r_mm: tuple[float, ...]
    overlap_mm: float
    pieces_mm: tuple[float, ...]
    notes: tuple[str, ...] = ()
    sleeves: tuple[Part, ...] = ()

    def noted(self, part: Part) -> Part:
        """A part with what is to be said of its splices."""
        if not self.at_mm:
            return part
        facts = {f"joint_{i}_r_mm": r for i, r in enumerate(self.r_mm, start=1)}
        facts |= {f"piece_{i}_mm": length for i, length in enumerate(self.pieces_mm, start=1)}
        return replace(part, notes=(*part.notes, *self.notes), facts={**part.facts, **facts})


def closed_spans(layout: Layout) -> tuple[Span, ...]:
    """Stretches of r where no splice may stand: the hub's socket, and under what is fixed to the blade [mm].

    source : AC 43.13-1B, read: no splice under an attachment fitting
    """
    design = layout.design
    spans = [(-np.inf, design.rotor.root)]
    spans += [(design.r(f.at), design.r(f.at)) for f in design.fitting.values() if f.on == "blade"]
    spans += [(rib.r_mm - rib.thickness_mm / 2, rib.r_mm + rib.thickness_mm / 2) for rib in layout.ribs if rib.fittings]
    return tuple(spans)


def spliced(member: Member[Any], parts: Sequence[Uncut], *, closed: Sequence[Span] = ()) -> dict[str, Splices]:
    """How each of a spar's parts is made of its stock, by name; no splice near one of another part.

    closed : more stretches of r where no splice may stand [mm]
    raises : MakeError, every fault at once, where a part is longer than its stock and can't be spliced
    """
    sold, taken, faults = sold_mm(member.layout.design, member.spar.stock), list[float](), list[Fault]()
    spans = (*closed_spans(member.layout), *closed)
    made = {}
    for part in parts:
        if sold is None or part.along.length_mm <= sold + 1e-6:
            made[part.name] = Splices((), (), 0.0, (part.along.length_mm,))
            continue
        try:
            made[part.name] = _spliced(member, part, sold_mm=sold, spans=spans, taken=taken)
        except MakeError as error:
            faults.extend(error.faults)
            continue
        taken += made[part.name].r_mm
    if faults:
        raise MakeError(dict.fromkeys(faults))
    return made


def lengths(member: Member[Any], some: Sequence[Uncut]) -> list[Part]:
    """Parts of a spar that are lengths of its own stock, each followed by the sleeves of its splices.

    raises : MakeError, every fault at once, where one is longer than its stock and can't be spliced
    """
    splices, parts = spliced(member, some), list[Part]()
    for uncut in some:
        legs = list(pairwise(uncut.along.points))
        length, spread = straight(legs)
        part = Part(
            name=uncut.name,
            role=Role.SPAR,
            stock=member.spar.stock,
            path=member.path,
            shape=Length(length),
            assembly=Assembly.BLADE,
            count=1,
            spread=spread,
            notes=uncut.notes,
            mark=uncut.mark,
            second=_lying(member.layout.design.stock[member.spar.stock], legs, spread),
        )
        parts += [splices[uncut.name].noted(part), *splices[uncut.name].sleeves]
    return parts


def sold_mm(design: Design, name: str) -> float | None:
    """How long one piece of a stock is along its grain, as it is sold [mm]; None where the design doesn't say."""
    stock = design.stock[name]
    if isinstance(stock, LengthStock):
        return stock.length
    if not isinstance(stock, SheetStock) or stock.size is None:
        return None
    return {"long": stock.size[0], "across": stock.size[1], None: max(stock.size)}[stock.grain]


def places_mm(
    length_mm: float, sold_mm: float, overlap_mm: float, apart_mm: float, closed: Sequence[Span]
) -> tuple[float, ...] | None:
    """Middles of the fewest joints that will do, each as far out as it can be: loads are least there.

    overlap_mm : how much longer the two pieces of a joint are together than what they make [mm]
    apart_mm   : joints stand at least so far from one another and from the outer end [mm]
    closed     : open stretches along the piece in which no middle of a joint may lie [mm]
    returns    : rising [mm]; None where no number of joints will do
    """
    if sold_mm <= overlap_mm:
        return None
    fewest = max(1, ceil((length_mm - sold_mm) / (sold_mm - overlap_mm) - 1e-9))
    for count in range(fewest, MOST + 1):
        at: list[float] = []
        for left in range(count, 0, -1):
            reach = at[-1] + sold_mm - overlap_mm if at else sold_mm - overlap_mm / 2
            x = _before(min(reach, length_mm - left * apart_mm), closed)
            if x < (at[-1] + apart_mm if at else overlap_mm / 2):
                break
            at.append(x)
        if len(at) == count and length_mm - at[-1] + overlap_mm / 2 <= sold_mm + 1e-9:
            return tuple(at)
    return None


def _before(x: float, closed: Sequence[Span]) -> float:
    """The last place at or before x that is in no closed stretch."""
    for low, high in sorted(closed, key=lambda span: -span[1]):
        if low < x < high:
            return _before(low, closed)
    return x


def _spliced(
    member: Member[Any], part: Uncut, *, sold_mm: float, spans: Sequence[Span], taken: Sequence[float]
) -> Splices:
    joint, along, path = member.spar.joint, part.along, member.path
    if joint is None:
        wrong = f"{part.name} is {at_least(along.length_mm, 1)} long, and it is sold in {mm(sold_mm)}: "
        wrong += f"it runs from r {mm((along.r_mm[0], along.r_mm[-1]), 0, ' to ')}"
        remedy = f'a longer piece, or a joint: {path}.joint = {{ kind = "scarf" }} in wood, "sleeve" in a tube'
        raise MakeError(
            Fault(f"{path}.stock", member.spar.stock, wrong, f"at most {at_most(sold_mm)} without a joint", remedy)
        )
    scarfed = joint.kind == "scarf"
    size = _scarf_mm(member, joint, part.thickness_mm) if scarfed else _sleeve_mm(member, joint)
    overlap = size if scarfed else 0.0
    near = [(along.s_of(low) - size / 2, along.s_of(high) + size / 2) for low, high in spans]
    near += [(along.s_of(r) - APART * size, along.s_of(r) + APART * size) for r in taken]
    at = places_mm(along.length_mm, sold_mm, overlap, APART * size, near)
    if at is None:
        wrong = (
            f"{part.name}, {mm(along.length_mm, 0)} out of {mm(sold_mm, 0)}, has no place for joints of {mm(size, 0)}"
        )
        allowed = f"at least {at_least(APART * size, 0)} from one to another, above and below, and none under a fitting"
        raise MakeError(Fault(f"{path}.joint", "", wrong, allowed, "a longer stock, or a shorter joint"))
    ends, adds = pairwise([0.0, *at, along.length_mm]), pairwise([0.0, *[overlap / 2] * len(at), 0.0])
    lengths = tuple(end - start + before + after for (start, end), (before, after) in zip(ends, adds, strict=True))
    r_mm = tuple(along.r_of(s) for s in at)
    sleeves = () if scarfed else (_sleeves(member, joint, part, at, size),)
    return Splices(at, r_mm, overlap, lengths, _notes(member, joint, lengths, r_mm), sleeves)


def _notes(member: Member[Any], joint: Joint, lengths: Sequence[float], r_mm: Sequence[float]) -> tuple[str, ...]:
    how = f"scarfed 1:{joint.slope:g}" if joint.kind == "scarf" else "sleeved"
    notes = [f"of {len(lengths)} pieces, {mm(lengths, 0)}, {how} at r {mm(r_mm, 0)}"]
    of = member.layout.design.stock[member.spar.stock].of
    if joint.kind == "scarf" and (material := known(of)) is not None:
        wanted = material.scarf
        if wanted is None:
            notes.append(f"no scarf slope is known for {of}")
        elif joint.slope < wanted.typical:
            notes.append(f"1:{joint.slope:g} is steeper than 1:{wanted.typical:g} wanted for {of}: {wanted.source}")
    return tuple(notes)


def _scarf_mm(member: Member[Any], joint: Joint, thickness_mm: float) -> float:
    """Length of a scarf through a thickness [mm]; MakeError in a tube."""
    name, stock = member.spar.stock, member.layout.design.stock[member.spar.stock]
    if isinstance(stock, LengthStock) and stock.inside is not None:
        remedy = 'kind = "sleeve", and a stock that fits inside'
        raise MakeError(Fault(f"{member.path}.joint.kind", "scarf", f"[stock.{name}] is a tube", remedy=remedy))
    return joint.slope * thickness_mm


def _sleeve_mm(member: Member[Any], joint: Joint) -> float:
    """Length of a sleeve [mm]; MakeError where it doesn't go into the tube."""
    stocks, name, path = member.layout.design.stock, member.spar.stock, f"{member.path}.joint"
    tube, sleeve = stocks[name], stocks.get(joint.stock or "")
    outside = sleeve.outside if isinstance(sleeve, LengthStock) else None
    if not isinstance(tube, LengthStock) or tube.inside is None:
        wrong = f"a sleeve goes inside, and [stock.{name}] is not a tube"
        raise MakeError(Fault(f"{path}.kind", "sleeve", wrong, remedy='kind = "scarf", or a tube'))
    if outside is None:
        raise MakeError(Fault(f"{path}.stock", joint.stock or "", "a sleeve is a round rod or tube", "outside"))
    if outside > tube.inside + 1e-6:
        wrong = f"{mm(outside)} does not go into a tube of {mm(tube.inside)} inside"
        raise MakeError(Fault(f"{path}.stock", joint.stock or "", wrong, f"at most {at_most(tube.inside)} outside"))
    return joint.length if joint.length is not None else SLEEVE * (tube.outside or 0.0)


def _lying(stock: Stock, legs: Sequence[tuple[FloatArray, FloatArray]], spread: FloatArray) -> FloatArray:
    """(3, 3) how straight legs of a stock lie round their middle, as thick as they are, see `Part.second` [mm2].

    A tube has a quarter of its radii's squares either way across; a strip's width lies level.
    """
    assert isinstance(stock, LengthStock)
    across = []
    for start, end in legs:
        way = (end - start) / np.linalg.norm(end - start)
        if stock.outside is not None:
            round_mm2 = (stock.outside**2 + (stock.inside or 0.0) ** 2) / 16.0
            across.append(round_mm2 * (np.eye(3) - np.outer(way, way)))
        else:
            across.append(of_sides(np.diag([0.0, stock.width or 0.0, stock.height or 0.0])))
    return second_of(spread, np.repeat(across, [rows_of(end - start) for start, end in legs], axis=0))


def _sleeves(member: Member[Any], joint: Joint, whole: Uncut, at: Sequence[float], size: float) -> Part:
    along = whole.along
    legs = [(along.at(s - size / 2), along.at(s + size / 2)) for s in at]
    _, spread = straight(legs)
    return Part(
        name=f"{whole.name} sleeve",
        role=Role.SLEEVE,
        stock=joint.stock or "",
        path=member.path,
        shape=Length(size),
        assembly=Assembly.BLADE,
        count=len(at),
        spread=spread,
        notes=(f"inside the joint at r {mm(map(along.r_of, at), 0)}",),
        mark=whole.mark,
        second=_lying(member.layout.design.stock[joint.stock or ""], legs, spread),
    )

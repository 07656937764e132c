"""Skins by construction: which pieces of sheet go over the ribs, and the part that comes of each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from geomgen.blade.blade import Blade
from geomgen.blade.rib_places import RibPlace, sheet_mm
from geomgen.design.schema import Design, EdgeStock, Folded, Ribbed, Sheeted, SheetStock
from geomgen.errors import Fault, MakeError
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.structure.covers.marks import bevel_mm
from geomgen.structure.covers.outline import Beyond
from geomgen.structure.covers.panel import Crossed, Wanted
from geomgen.structure.covers.piece import piece
from geomgen.structure.covers.rows import Half
from geomgen.tolerances import Tolerances

HALVES: tuple[Half, Half] = ("upper", "lower")


def skins(design: Design, blade: Blade, on: Crossed, tol: Tolerances) -> list[Part]:
    """Every piece of skin, sheet or board of one blade; none under film alone.

    raises : MakeError, every fault at once
    """
    parts, faults = list[Part](), list[Fault]()
    for wanted in pieces(design, blade, on.ribs):
        try:
            parts.append(piece(design, blade, wanted, on, tol))
        except MakeError as error:
            faults.extend(error.faults)
    if faults:
        raise MakeError(dict.fromkeys(faults))
    return parts


def pieces(design: Design, blade: Blade, ribs: Sequence[RibPlace]) -> list[Wanted]:
    """What is asked for, by construction."""
    match design.blade.construction:
        case Ribbed() as built:
            return list(_ribbed(design, blade, built, ribs))
        case Sheeted() as built:
            return list(_sheeted(design, blade, built))
        case Folded() as built:
            return [_folded(design, blade, built)]
    return []


def _ribbed(design: Design, blade: Blade, built: Ribbed, ribs: Sequence[RibPlace]) -> Iterable[Wanted]:
    for name, run in design.blade.skin.items():
        start, end = design.r(run.from_), design.r(run.to)
        notes = (*_loose_ends((start, end), ribs), _bevel(blade, design, run.stock, start, end, built.tail))
        strip = built.strip if built.pattern == "panels" else None
        for halves in (HALVES,) if built.pattern == "wrap" else (("upper",), ("lower",)):
            yield Wanted(
                name=f"skin {name}" + ("" if len(halves) == 2 else f" {halves[0]}"),
                role=Role.SKIN,
                stock=run.stock,
                path=f"blade.skin.{name}",
                from_mm=start,
                to_mm=end,
                halves=halves,
                neutral=_neutral(design, run.stock),
                nose_mm=_width(strip),
                tail_mm=_width(built.tail),
                beyond=_seam(halves, built.first, 0.0 if built.tail else built.seam),
                bevelled=built.tail is None,
                notes=notes,
            )


def _sheeted(design: Design, blade: Blade, built: Sheeted) -> Iterable[Wanted]:
    start, end = blade.root_mm, blade.radius_mm
    film = sheet_mm(design, built.cover) if built.cover else 0.0
    whole = built.to is None
    notes = (_bevel(blade, design, built.stock, start, end, built.tail),) if whole else ()
    for halves in (HALVES,) if built.nose is None else (("upper",), ("lower",)):
        yield Wanted(
            name="sheeting" + ("" if len(halves) == 2 else f" {halves[0]}"),
            role=Role.SHEETING,
            stock=built.stock,
            path="blade.construction.stock",
            from_mm=start,
            to_mm=end,
            halves=halves,
            depth_mm=film,
            neutral=_neutral(design, built.stock),
            nose_mm=_width(built.nose),
            to_share=built.to,
            tail_mm=_width(built.tail),
            beyond=_seam(halves, built.first, built.seam) if whole and built.tail is None else (),
            bevelled=whole and built.tail is None,
            notes=notes,
        )


def _folded(design: Design, blade: Blade, built: Folded) -> Wanted:
    start, end = blade.root_mm, blade.radius_mm
    inside = built.score == "inside"
    paper = "outside" if inside else "inside"
    score = (
        f"score the fold lines on the {built.score}, through paper and foam; the paper {paper} is left whole, and what "
        "is laid flat is that paper"
    )
    nose = (
        f"between the two lines either side of the nose the inside paper is peeled and the foam rolled to "
        f"{built.nose_radius:g} mm outside radius"
    )
    return Wanted(
        name="folded skin",
        role=Role.FOLDED_SKIN,
        stock=built.stock,
        path="blade.construction.stock",
        from_mm=start,
        to_mm=end,
        halves=HALVES,
        neutral=0.0 if inside else 1.0,
        beyond=(Beyond("first", built.flap),) if built.flap > 0 else (),
        face=built.score,
        stagger_mm=built.stagger,
        bevelled=True,
        rolled=True,
        notes=(score, nose, _bevel(blade, design, built.stock, start, end, None), *_flap(built)),
    )


def _flap(built: Folded) -> tuple[str, ...]:
    if built.flap <= 0:
        return ()
    return (f"behind the upper tail line {built.flap:g} mm of paper, its foam peeled off, is lapped round the tail",)


def _bevel(blade: Blade, design: Design, stock: str, start: float, end: float, tail: EdgeStock | None) -> str:
    if tail is not None:
        return f"it ends {tail.width:g} mm ahead of the tail, on the tail strip"
    widths = [bevel_mm(blade.station(r), sheet_mm(design, stock)) for r in (start, end)]
    return (
        f"bevel both halves inside where they meet at the tail, over the last {widths[0]:.0f} mm at the root and "
        f"{widths[1]:.0f} mm at the tip"
    )


def _seam(halves: Sequence[Half], first: Half, width_mm: float) -> tuple[Beyond, ...]:
    """The seam's strip, along the tail of the half that goes on first."""
    if width_mm <= 0 or first not in halves:
        return ()
    return (Beyond("first" if first == "upper" else "last", width_mm),)


def _width(edge: EdgeStock | None) -> float:
    return edge.width if edge is not None else 0.0


def _neutral(design: Design, stock: str) -> float:
    sheet = design.stock[stock]
    return sheet.neutral if isinstance(sheet, SheetStock) else 0.5


def _loose_ends(ends: tuple[float, float], ribs: Sequence[RibPlace]) -> list[str]:
    """Notes on ends of a skin that lie on no rib."""
    held = [any(abs(rib.r_mm - end) <= rib.thickness_mm / 2 + 1e-6 for rib in ribs) for end in ends]
    return [f"its end at r {end:.1f} mm lies on no rib" for end, rib in zip(ends, held, strict=True) if not rib]

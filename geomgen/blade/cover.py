"""What lies over the ribs: how deep skin, sheet, strips and film reach into the section at each radius."""

from __future__ import annotations

from dataclasses import dataclass

from geomgen.blade.rib_places import sheet_mm
from geomgen.design.schema import Core, Covered, Design, EdgeStock, Folded, Ribbed, Sheeted


@dataclass(frozen=True)
class Cover:
    """What lies over a rib at one radius.

    ahead_mm  : depth of what covers it from the section inwards, along the normal, ahead of `step` [mm]
    behind_mm : the same behind it [mm]
    step      : chord share at which the depth changes; None where it is the same all round
    nose_mm   : how much of the chord a strip along the nose takes; the rib begins behind it [mm]
    tail_mm   : how much of the chord a strip along the tail takes; the rib ends ahead of it [mm]
    """

    ahead_mm: float
    behind_mm: float
    step: float | None = None
    nose_mm: float = 0.0
    tail_mm: float = 0.0


def cover(design: Design, r_mm: float) -> Cover:
    """What covers the ribs at a radius [mm]."""
    built = design.blade.construction
    match built:
        case Ribbed():
            depth = _skin_mm(design, r_mm)
            strip = built.strip if built.pattern == "panels" else None
            return Cover(depth, depth, nose_mm=_width(strip), tail_mm=_width(built.tail))
        case Sheeted():
            film = sheet_mm(design, built.cover) if built.cover else 0.0
            ahead = sheet_mm(design, built.stock) + film
            ends = _width(built.nose), _width(built.tail)
            if built.to is None:
                return Cover(ahead, ahead, None, *ends)
            behind = film + (sheet_mm(design, built.caps.stock) if built.caps else 0.0)
            return Cover(ahead, behind, built.to, *ends)
        case Covered():
            film = sheet_mm(design, built.stock)
            return Cover(film, film, None, _width(built.nose), _width(built.tail))
        case Folded():
            board = sheet_mm(design, built.stock)
            return Cover(board, board)
        case Core():
            film = sheet_mm(design, built.cover) if built.cover else 0.0
            return Cover(film, film)


def _width(edge: EdgeStock | None) -> float:
    return edge.width if edge is not None else 0.0


def _skin_mm(design: Design, r_mm: float) -> float:
    for run in design.blade.skin.values():
        if design.r(run.from_) - 1e-6 <= r_mm <= design.r(run.to) + 1e-6:
            return sheet_mm(design, run.stock)
    return 0.0

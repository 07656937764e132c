"""Cross-sections of one blade along r: all that runs along it there, what of it bends as one, and what is closed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from geomgen.blade.station import Station
from geomgen.design.schema import Half
from geomgen.materials.strength import Strength
from geomgen.model.joint import Key
from geomgen.model.layout import Layout
from geomgen.model.made import Made
from geomgen.model.part import Part
from geomgen.model.role import Assembly, Role
from geomgen.strength.cross_section import Cell, CrossSection, Piece
from geomgen.strength.sections.abreast import together
from geomgen.strength.sections.cells import boxes, outer
from geomgen.strength.sections.cover_shapes import Side, cores, sheets, sides, strips
from geomgen.strength.sections.moduli import Moduli, moduli
from geomgen.strength.sections.shapes import Shape
from geomgen.strength.sections.spar_shapes import spars
from geomgen.strength.sections.stress import OVER
from geomgen.strength.sections.ties import Tie, numbered, runs_along, ties


def cross_sections(
    layout: Layout, flying: Made, strengths: Mapping[str, Strength], r_mm: Sequence[float]
) -> tuple[CrossSection, ...]:
    """All that carries along one blade at many radii, in the blade frame at the reference pitch.

    flying    : all that turns, and where it touches: joints along the blade say what bends as one and what is closed
    strengths : by stock's name; what has no modulus in them carries nothing
    r_mm      : (k,) from the hub to the blade's end [mm]. Inboard of the root there are only spars that reach in
    returns   : in the order of `r_mm`. Wires, film, cap strips and glue don't carry; splices count as whole
    """
    parts = {part.key: part for part in flying.parts if part.assembly is Assembly.BLADE and runs_along(part.role)}
    known = {key: moduli(part, layout.design, strengths) for key, part in parts.items()}
    known = {key: one for key, one in known.items() if one.stretched_mpa[1] > 0.0 or one.shear_mpa[1] > 0.0}
    glue, film = ties(flying.joints), _film_mm(layout, flying)
    root, end = layout.blade.root_mm, layout.blade.radius_mm
    covered = [r for r in dict.fromkeys(map(float, r_mm)) if root - 1e-6 <= r <= end + 1e-6]
    stations = layout.blade.stations(covered) if covered else []
    laid = sides(layout, parts, stations, film) if covered else []
    solids = list(zip(strips(layout, parts, stations, film), cores(parts, stations, film), strict=True))
    by_r = {r: (stations[k], laid[k], solids[k]) for k, r in enumerate(covered)}
    main = f"blade.spar.{layout.design.main_spar}"
    runs = sorted(spars(layout, parts), key=lambda run: run.path != main)
    found = []
    for r in map(float, r_mm):
        shapes = {key: shape for run in runs for key, shape in run.at(r)}
        station, sheeted, widths = None, dict[Half, Side](), dict[Key, float]()
        if r in by_r:
            station, sheeted, (edges, foam) = by_r[r]
            shapes |= dict(sheets(sheeted, station))
            shapes |= {key: shape for key, shape, _ in edges} | dict(foam)
            widths = {key: width for key, _, width in edges}
        tied = [tie for tie in glue if tie.at(r)]
        shapes = {key: shape for key, shape in shapes.items() if key in known}
        pieces = _pieces(shapes, parts, known, tied)
        closed = _cells(station, sheeted, pieces, shapes, tied, widths)
        whole = pieces and pieces[0].key.path == main
        cut = CrossSection(r, pieces, closed, *(_taken_up(layout, r) if whole else (1.0, 1.0)))
        found.append(replace(cut, together=cut.taken_up * together(cut, end - root)))
    return tuple(found)


def _film_mm(layout: Layout, flying: Made) -> float:
    """Thickness of the film over all else; 0 where there is none [mm]."""
    films = (part for part in flying.parts if part.role is Role.FILM)
    return max((layout.design.sheet(part.stock).thickness for part in films), default=0.0)


def _taken_up(layout: Layout, r_mm: float) -> tuple[float, float]:
    """Share of its bending that what ends at the root has taken up from the main spar, and how much more it may have.

    Ribs press on it, they don't bend it: its moment grows evenly from nothing at the root rib to the next one, where it
    is more than its share, and back to that at the third.
    """
    ribs = [rib.r_mm for rib in layout.ribs[:3]]
    share, over = np.array([0.0, 1.0, 1.0]), np.array([OVER, OVER, 1.0])
    return float(np.interp(r_mm, ribs, share[: len(ribs)])), float(np.interp(r_mm, ribs, over[: len(ribs)]))


def _pieces(
    shapes: Mapping[Key, Shape],
    parts: Mapping[Key, Part],
    known: Mapping[Key, Moduli],
    tied: Sequence[Tie],
) -> tuple[Piece, ...]:
    alone = [
        Piece(
            key=key,
            stock=parts[key].stock,
            area_mm2=shape.area_mm2,
            centre=shape.centre,
            second=shape.second,
            torsion_mm4=shape.torsion_mm4,
            rim=shape.rim,
            modulus_mpa=known[key].stretched_mpa,
            shear_mpa=known[key].shear_mpa,
            bends_with=0,
        )
        for key, shape in shapes.items()
    ]
    numbers = numbered(alone, shapes, tied)
    return tuple(replace(piece, bends_with=number) for piece, number in zip(alone, numbers, strict=True))


def _cells(
    station: Station | None,
    sheeted: Mapping[Half, Side],
    pieces: Sequence[Piece],
    shapes: Mapping[Key, Shape],
    tied: Sequence[Tie],
    widths: Mapping[Key, float],
) -> tuple[Cell, ...]:
    by_key = {piece.key: piece for piece in pieces}
    there = {half: side for half, side in sheeted.items() if side.key in by_key}
    skin = outer(station, there, by_key, shapes, tied, widths) if station is not None else ()
    return (*skin, *boxes(by_key, shapes, tied))

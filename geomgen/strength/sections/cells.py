"""What is closed in a cross-section, and so resists twist: the sheets all round or as far as a web, and box spars."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.station import Station
from geomgen.design.schema import HALVES, Half
from geomgen.model.joint import Bond, Key
from geomgen.model.role import Role
from geomgen.strength.cross_section import Cell, Piece
from geomgen.strength.sections.cover_shapes import Side
from geomgen.strength.sections.shapes import Shape, area_mm2
from geomgen.strength.sections.ties import Tie
from geomgen.structure.spars.kinds.box import FOLDED

Wall = tuple[Key, float, float, tuple[float, float, float]]
Walls = list[Wall]
CORNERS: Final = 4  # of a box


def outer(
    station: Station,
    sides: Mapping[Half, Side],
    pieces: Mapping[Key, Piece],
    shapes: Mapping[Key, Shape],
    tied: Sequence[Tie],
    widths: Mapping[Key, float],
) -> Iterator[Cell]:
    """The cell that the sheets close: in one piece or on a strip at the nose, by a seam, a strip or a web behind.

    sides  : the sheets there
    pieces : all that is there, by key
    shapes : of these
    tied   : glue lines there
    widths : how much of the chord each strip takes [mm]
    returns : none where a joint is missing, or a wall's shear modulus isn't known. A web ahead of a closed tail is left
              out: it adds a few per cent at most
    """
    if len(sides) < len(HALVES):
        return
    upper, lower = sides["upper"], sides["lower"]
    seams = list[tuple[str, float]]()
    walls: Walls = []
    if upper.key != lower.key:
        nose = _strip(Role.NOSE_STRIP, (upper, lower), tied)
        if nose is None or nose[0] not in pieces:
            return
        seams += _lines(nose[1])
        walls.append(_across(pieces[nose[0]], upper.line[0], lower.line[0], widths[nose[0]]))
    ends = upper.line[-1], lower.line[-1]
    outline = {"upper": upper.line, "lower": lower.line}
    tail = _strip(Role.TAIL_STRIP, (upper, lower), tied)
    if upper.to_tail and tail is not None and tail[0] in pieces:
        seams += _lines(tail[1])
        walls.append(_across(pieces[tail[0]], *ends, widths[tail[0]]))
    elif upper.to_tail and (seam := _seam(upper.key, lower.key, tied)) is not None:
        seams += _lines([seam])
    elif (web := _web((upper, lower), pieces, tied)) is not None:
        seams += web[1]
        thickness, deep = shapes[web[0].key].thin_mm or (0.0, 0.0)
        walls.append((web[0].key, deep, thickness, web[0].shear_mpa))
        ends = _ends_of(station, shapes[web[0].key])
        outline = {"upper": _to(upper.line, ends[0]), "lower": _to(lower.line, ends[1])}
    else:
        return
    for side, half in ((upper, "upper"), (lower, "lower")):
        walls.append((side.key, _long(outline[half]), side.thickness_mm, pieces[side.key].shear_mpa))
    ring = np.vstack([outline["upper"][::-1], outline["lower"]])
    yield from _made(area_mm2(ring), walls, seams)


def boxes(pieces: Mapping[Key, Piece], shapes: Mapping[Key, Shape], tied: Sequence[Tie]) -> Iterator[Cell]:
    """Box spars: a board folded and lapped on itself, whose seam is the lap, or plates glued edge to edge all round."""
    spars = [piece for piece in pieces.values() if piece.key.role is Role.SPAR and shapes[piece.key].thin_mm]
    for path in dict.fromkeys(piece.key.path for piece in spars):
        own = [piece for piece in spars if piece.key.path == path]
        keys = {piece.key for piece in own}
        seams = [tie for tie in tied if tie.a in keys and tie.b in keys]
        walls: Walls = []
        for piece in own:
            thickness, long = shapes[piece.key].thin_mm or (0.0, 0.0)
            walls.append((piece.key, long, thickness, piece.shear_mpa))
        lapped = [(tie.path, tie.wide_mm - FOLDED * walls[0][2]) for tie in seams if tie.bond is Bond.LAPPED]
        if len(own) == 1 and lapped:
            yield from _made(shapes[own[0].key].within_mm2, walls, lapped)
        elif len(own) == CORNERS == len({frozenset((tie.a, tie.b)) for tie in seams}):
            yield from _made(shapes[own[0].key].within_mm2, walls, _lines(seams))


def _made(area_mm2: float, walls: Walls, seams: Sequence[tuple[str, float]]) -> Iterator[Cell]:
    """A cell, unless a wall's shear modulus isn't known."""
    if all(shear[1] > 0.0 and thickness > 0.0 for _, _, thickness, shear in walls):
        yield Cell(area_mm2, tuple(walls), tuple(seams))


def _lines(tied: Sequence[Tie]) -> list[tuple[str, float]]:
    return [(tie.path, tie.wide_mm) for tie in tied]


def _strip(role: Role, sides: Sequence[Side], tied: Sequence[Tie]) -> tuple[Key, list[Tie]] | None:
    """The strip that both sheets are glued to, and these joints."""
    found: dict[Key, list[Tie]] = {}
    for key in dict.fromkeys(side.key for side in sides):
        for tie in tied:
            strip = next((end for end in (tie.a, tie.b) if end.role is role), None)
            if strip is not None and key in (tie.a, tie.b):
                found.setdefault(strip, []).append(tie)
    wanted = {side.key for side in sides}
    for strip, joints in found.items():
        if wanted <= {end for tie in joints for end in (tie.a, tie.b)}:
            return strip, joints
    return None


def _seam(one: Key, other: Key, tied: Sequence[Tie]) -> Tie | None:
    """The glue line of two sheets on one another at the tail; not where sheets lie edge to edge in one pattern."""
    closes = Bond.SEAMED, Bond.LAPPED
    return next((tie for tie in tied if {tie.a, tie.b} == {one, other} and tie.bond in closes), None)


def _web(
    sides: Sequence[Side], pieces: Mapping[Key, Piece], tied: Sequence[Tie]
) -> tuple[Piece, list[tuple[str, float]]] | None:
    """A web whose caps, or which itself, are glued to both sheets; and the glue lines of that, above and below."""
    sheeted = {side.key for side in sides}
    for web in (piece for piece in pieces.values() if piece.key.role is Role.WEB):
        seams = list[tuple[str, float]]()
        for half in (1.0, -1.0):
            on_web = [
                tie for tie in _of(web.key, tied) if half * (_other_end(tie, web.key, pieces) - web.centre[1]) > 0.0
            ]
            caps = {end for tie in on_web for end in (tie.a, tie.b)} - {web.key}
            on_sheet = [tie for cap in caps - sheeted for tie in _of(cap, tied) if sheeted & {tie.a, tie.b}]
            if not (on_sheet or caps & sheeted):
                break
            seams.append((on_web[0].path, sum(tie.wide_mm for tie in on_web)))
            seams += [(on_sheet[0].path, sum(tie.wide_mm for tie in on_sheet))] if on_sheet else []
        else:
            return web, seams
    return None


def _of(key: Key, tied: Sequence[Tie]) -> list[Tie]:
    """The glue lines of one piece with others."""
    return [tie for tie in tied if key in (tie.a, tie.b) and tie.a != tie.b]


def _other_end(tie: Tie, key: Key, pieces: Mapping[Key, Piece]) -> float:
    """How high the piece at a glue line's other end lies; where this one does, if it isn't there [mm]."""
    other = tie.b if tie.a == key else tie.a
    return float(pieces[other if other in pieces else key].centre[1])


def _across(piece: Piece, above: FloatArray, below: FloatArray, width_mm: float) -> Wall:
    """A strip as the wall between two places."""
    return piece.key, float(np.hypot(*(above - below))), width_mm, piece.shear_mpa


def _ends_of(station: Station, shape: Shape) -> tuple[FloatArray, FloatArray]:
    """Upper and lower end of a web's middle line, in the station's frame [mm]."""
    places = np.column_stack([np.zeros(len(shape.rim)), shape.rim])
    foot = station.from_blade(places[:2]).mean(axis=0)
    top = station.from_blade(places[2:4]).mean(axis=0)
    return top, foot


def _to(line: FloatArray, end: FloatArray) -> FloatArray:
    """A sheet's middle line as far as a web's end, to which it is drawn on [mm]."""
    ahead = line[line[:, 0] < end[0]]
    if len(ahead) == len(line):
        return np.vstack([ahead, end])
    return np.vstack([ahead, [end[0], np.interp(end[0], line[:, 0], line[:, 1])]])


def _long(line: FloatArray) -> float:
    return float(np.hypot(*np.diff(line, axis=0).T).sum())

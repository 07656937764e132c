"""One piece of skin laid flat, as the part that is cut."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.blade import Blade
from geomgen.blade.station import Station
from geomgen.design.schema import Design, SheetStock
from geomgen.errors import Fault, MakeError
from geomgen.marking.lettering import Arrow, letter
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly
from geomgen.plane.path import Path, from_points
from geomgen.plane.region import Region
from geomgen.structure.covers.laid import Laid, Ply, lay
from geomgen.structure.covers.limits import bend, stretch, tools
from geomgen.structure.covers.marks import exits, lines, openings, rolled
from geomgen.structure.covers.outline import outline, spread
from geomgen.structure.covers.panel import Crossed, Wanted
from geomgen.structure.covers.rows import Half, Strand, radii, strand
from geomgen.structure.covers.sheets import Layout, layout
from geomgen.tolerances import Tolerances

FloatArray = NDArray[np.float64]
Strands = dict[Half, Strand]

SHORT_MM = 12.0  # lengths in which marks are kept clear of


def piece(design: Design, blade: Blade, wanted: Wanted, on: Crossed, tol: Tolerances) -> Part:
    """The part that is cut.

    raises : MakeError where the sheet won't bend round the nose, would have to stretch too much, or can't be drawn
    """
    sheet = design.stock[wanted.stock]
    assert isinstance(sheet, SheetStock)  # the rules see to it
    stations = blade.stations(_radii(design, blade, wanted, on))
    depth = wanted.depth_mm + wanted.neutral * sheet.thickness
    strands: Strands = {half: strand(stations, half, [depth] * len(stations)) for half in wanted.halves}
    notes = _bent(sheet, stations, wanted)
    laid = lay(stations, _plies(stations, strands, wanted), wanted.path)
    notes += _checked(*stretch(sheet, laid, wanted.path))
    whole, stays, edges = outline(laid, wanted.beyond, tol, wanted.path)
    plan = layout(sheet, whole, wanted.stagger_mm, _step(strands, laid) if wanted.rolled else None)
    notes += _checked(_board(plan, sheet, whole, wanted), [])
    marks, texts = lines(stations, strands, laid, wanted, on, sheet, tol)
    holes = openings(design, stations, strands, laid, on)
    flat = Flat(
        region=Region(whole.outer, holes),
        thickness_mm=sheet.thickness,
        marks=(*marks, *edges),
        texts=tuple(texts),
        reference=plan.joints,
        face=wanted.face,
        stays=Region(stays.outer, holes) if edges else None,
        grain={None: None, "long": 0.0, "across": 90.0}[sheet.grain],
    )
    clockwise = design.rotor.turn == "clockwise"
    turned = clockwise != (wanted.face == "inside")
    flat, missing = _lettered(mirrored(flat) if turned else flat, wanted, sheet, turned)
    return Part(
        name=wanted.name,
        role=wanted.role,
        stock=wanted.stock,
        path=wanted.path,
        shape=flat,
        assembly=Assembly.BLADE,
        count=1,
        spread=spread(laid),
        notes=(*wanted.notes, *notes, *_made_up(plan), *tools(sheet), *missing),
        facts={
            "girth_root_mm": _girth(laid, 0),
            "girth_tip_mm": _girth(laid, -1),
            "stretch_least": laid.flat.stretch[0],
            "stretch_most": laid.flat.stretch[1],
            "mismatch_mm": laid.flat.mismatch_mm,
            "sheets": float(plan.sheets),
        },
    )


def mirrored(flat: Flat) -> Flat:
    """A flat part seen from its other side; its letters stay as they are, at their mirrored places."""
    return replace(
        flat,
        region=flat.region.mirrored_x(),
        stays=None if flat.stays is None else flat.stays.mirrored_x(),
        marks=tuple(mark.mirrored_x() for mark in flat.marks),
        reference=tuple(line.mirrored_x() for line in flat.reference),
        texts=tuple(replace(text, at=(-text.at[0], text.at[1]), turn_deg=-text.turn_deg) for text in flat.texts),
        corners=tuple((name, (-x, y)) for name, (x, y) in flat.corners),
    )


def _radii(design: Design, blade: Blade, wanted: Wanted, on: Crossed) -> FloatArray:
    fixed = [*blade.breaks().tolist(), *exits(design, on.channels)]
    return radii((wanted.from_mm, wanted.to_mm), fixed, [rib.r_mm for rib in on.ribs])


def _plies(stations: list[Station], strands: Strands, wanted: Wanted) -> list[Ply]:
    chords = np.array([station.chord_mm for station in stations])
    plies = []
    for of in strands.values():
        start = np.zeros(len(stations)) if wanted.nose_mm <= 0 else of.along_to([wanted.nose_mm] * len(stations))
        end = of.length
        if wanted.to_share is not None:
            end = of.along_to(wanted.to_share * chords)
        elif wanted.tail_mm > 0:
            end = of.along_to(chords - wanted.tail_mm)
        plies.append(Ply(of, start, end))
    return plies


def _bent(sheet: SheetStock, stations: list[Station], wanted: Wanted) -> list[str]:
    if len(wanted.halves) < 2 or wanted.rolled:
        return []
    return _checked(*bend(sheet, stations, wanted.depth_mm, wanted.path))


def _step(strands: Strands, laid: Laid) -> FloatArray:
    """(k, 2) where joints of a folded board may step from its upper to its lower face: the middle of the lower face's
    first flat, clear of rolled nose and folds [mm]."""
    lengths, ahead = laid.halves["lower"][0], rolled(strands["lower"])
    folds = [column for name, column in laid.corners if name.startswith("lower")]
    first = int(laid.halves["lower"][1][0])
    behind = lengths[:, folds[0] - first] if folds else lengths[:, -1]
    return laid.at("lower", range(len(laid.r_mm)), 0.5 * (ahead + behind))


def _board(plan: Layout, sheet: SheetStock, whole: Region, wanted: Wanted) -> list[Fault]:
    """A board that is folded is as wide as what is folded of it; joints across it are set apart above and below."""
    if wanted.rolled and plan.strips > 1 and sheet.size is not None:
        _, y0, _, y1 = whole.bounds()
        wrong = f"is {min(sheet.size):g} mm wide: {y1 - y0:.0f} mm go round the root and are folded of one piece"
        remedy = "a wider board, a smaller flap, or panels of another construction"
        return [Fault(wanted.path, wanted.stock, wrong, f"at least {y1 - y0:.0f} mm", remedy)]
    if not wanted.rolled or sheet.size is None or plan.apart_mm >= wanted.stagger_mm - 1e-6:
        return []
    wrong = f"boards {max(sheet.size):g} mm long leave the joints above and below {plan.apart_mm:.0f} mm apart"
    path, allowed = wanted.path.replace(".stock", ".stagger"), f"at most {math.floor(plan.apart_mm)} mm"
    return [Fault(path, f"{wanted.stagger_mm:g} mm", wrong, allowed, "or a longer board")]


def _checked(faults: list[Fault], notes: list[str]) -> list[str]:
    if faults:
        raise MakeError(faults)
    return notes


def _lettered(flat: Flat, wanted: Wanted, sheet: SheetStock, turned: bool) -> tuple[Flat, list[str]]:
    """Letters go where there is room, clear of all lines: long ones count in short lengths, to leave room beside."""
    arrows = [Arrow("TIP", "left" if turned else "right")]
    if sheet.grain is not None:
        arrows.append(Arrow("GRAIN", "right" if sheet.grain == "long" else "up"))
    elif wanted.rolled:  # a board is stiffer along its length
        arrows.append(Arrow("BOARD'S LENGTH", "right"))
    short = tuple(part for mark in flat.marks for part in _short(mark))
    inside = replace(flat, region=flat.weighed, marks=short)
    lettered, missing = letter(inside, [wanted.name, wanted.face.upper()], arrows)
    return replace(lettered, region=flat.region, marks=(*flat.marks, *lettered.marks[len(short) :])), missing


def _short(mark: Path) -> list[Path]:
    """A line in straight lengths of no more than some millimetres."""
    points = mark.flattened(0.05)
    along = np.append(0.0, np.cumsum(np.hypot(*np.diff(points, axis=0).T)))
    count = max(1, int(np.ceil(along[-1] / SHORT_MM)))
    at = np.linspace(0.0, along[-1], count + 1)
    cut = np.column_stack([np.interp(at, along, points[:, c]) for c in (0, 1)])
    return [from_points(cut[n : n + 2], closed=False) for n in range(count)]


def _made_up(plan: Layout) -> list[str]:
    said = []
    if plan.strips > 1:
        said.append(f"made up of {plan.strips} sheets side by side, edges joined along the lines marked to look at")
    if plan.lengths > 1 and plan.strips == 1 and len(plan.ends) == 2:
        above, below = (", ".join(f"{x:.0f}" for x in cuts) for cuts in plan.ends)
        said.append(f"longer than a sheet: joined across at x {above} mm above and {below} mm below, a step between")
    elif plan.lengths > 1:
        places = "; ".join(
            ", ".join(f"{x:.0f}" for x in cuts) + f" mm in strip {k}" for k, cuts in enumerate(plan.ends, start=1)
        )
        said.append(f"longer than a sheet: joined across at x {places}")
    return said


def _girth(laid: Laid, row: int) -> float:
    return float(np.hypot(*np.diff(laid.flat.xy[row], axis=0).T).sum())

"""One piece of skin laid flat, as the part that is cut."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.station import Station
from geomgen.design.schema import Half, SheetStock
from geomgen.errors import Fault
from geomgen.figures import at_least, at_most, mm
from geomgen.model.joint import Bond, Joint, over
from geomgen.model.label import Arrow, Item, Label
from geomgen.model.layout import Layout
from geomgen.model.made import Made, attempted
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly
from geomgen.model.spread import about, centre_of
from geomgen.plane.region import Region
from geomgen.structure.covers.laid import Laid, Ply, lay
from geomgen.structure.covers.limits import bend, stretch, tools
from geomgen.structure.covers.marks import exits, lines, openings, rolled
from geomgen.structure.covers.outline import outline, spread, whole_second
from geomgen.structure.covers.panel import Panel
from geomgen.structure.covers.rows import Contour, contour, radii
from geomgen.structure.covers.sheets import SheetPlan, sheet_plan, trim

Contours = dict[Half, Contour]


def piece(layout: Layout, panel: Panel) -> Made:
    """The part that is cut, in one piece or of several sheets.

    faults : the sheet won't bend round the nose, would have to stretch too much, or can't be drawn
    """
    sheet = layout.design.sheet(panel.stock)
    stations = layout.blade.stations(_radii(layout, panel))
    faults, notes = _bent(sheet, stations, panel)
    return Made(faults=tuple(faults)) if faults else attempted(lambda: _laid(layout, panel, stations, notes))


def _laid(layout: Layout, panel: Panel, stations: list[Station], notes: list[str]) -> Made:
    sheet = layout.design.sheet(panel.stock)
    depth = panel.depth_mm + panel.neutral * sheet.thickness
    contours: Contours = {half: contour(stations, half, [depth] * len(stations)) for half in panel.halves}
    laid = lay(stations, _plies(stations, contours, panel), panel.path)
    faults, gives = stretch(sheet, laid, panel.path)
    whole, stays, edges = outline(laid, panel.beyond, layout.tol, panel.path)
    step = _step(contours, laid) if panel.rolled else None
    plan = sheet_plan(sheet, whole, panel.stagger_mm, step, trim(layout.design.laser.edge))
    holes, crossed = openings(layout, stations, contours, laid)
    faults += [*_board(plan, sheet, whole, panel), *crossed]
    if faults:
        return Made(faults=tuple(faults))
    marks, texts, folds = lines(stations, contours, laid, panel, layout)
    shared = spread(laid)
    flat = Flat(
        region=Region(whole.outer, holes),
        thickness_mm=sheet.thickness,
        marks=(*marks, *edges),
        texts=tuple(texts),
        reference=plan.joints,
        face=panel.face,
        stays=Region(stays.outer, holes) if edges else None,
        grain={None: None, "long": 0.0, "across": 90.0}[sheet.grain],
        label=Label((_words(panel, sheet),), clear_of="short", on_stays=True),
        folds=tuple(folds),
    )
    part = Part(
        name=panel.name,
        role=panel.role,
        stock=panel.stock,
        path=panel.path,
        shape=flat.mirrored_x() if panel.face == "inside" else flat,  # drawn from its other side
        assembly=Assembly.BLADE,
        count=1,
        spread=shared,
        notes=(*panel.notes, *notes, *gives, *_made_up(plan), *tools(sheet)),
        facts={
            "girth_root_mm": _girth(laid, 0),
            "girth_tip_mm": _girth(laid, -1),
            "stretch_least": laid.flat.stretch[0],
            "stretch_most": laid.flat.stretch[1],
            "mismatch_mm": laid.flat.mismatch_mm,
            "sheets": float(plan.sheets),
        },
        mark=panel.mark,
        second=about(centre_of(shared), whole_second(laid, sheet.thickness)),
    )
    return Made((part,), tuple(_joints(part, flat, panel)))


def _words(panel: Panel, sheet: SheetStock) -> tuple[Item, ...]:
    """What is written on it: name, face, and where the tip, the grain or the board's length lie."""
    words: list[Item] = [panel.name, panel.face.upper(), Arrow("TIP", "right")]
    if sheet.grain is not None:
        words.append(Arrow("GRAIN", "right" if sheet.grain == "long" else "up", turns=False))
    elif panel.rolled:  # a board is stiffer along its length
        words.append(Arrow("BOARD'S LENGTH", "right", turns=False))
    return tuple(words)


def _joints(part: Part, flat: Flat, panel: Panel) -> Iterator[Joint]:
    """Where a panel meets itself: sheets edge to edge, and what is lapped over."""
    edges = sum(line.length() for line in flat.reference) * flat.thickness_mm
    if edges > 0:
        yield Joint(part.key, part.key, Bond.BUTTED, part.path, over(edges, part.spread))
    lap = flat.region.area() - flat.weighed.area()
    if panel.lapped and lap > 0:
        yield Joint(part.key, part.key, Bond.LAPPED, part.path, over(lap, part.spread))


def _radii(layout: Layout, panel: Panel) -> FloatArray:
    fixed = [*layout.blade.breaks().tolist(), *exits(layout.design, layout.channels)]
    return radii((panel.from_mm, panel.to_mm), fixed, [rib.r_mm for rib in layout.ribs])


def _plies(stations: list[Station], contours: Contours, panel: Panel) -> list[Ply]:
    chords = np.array([station.chord_mm for station in stations])
    plies = []
    for of in contours.values():
        start = np.zeros(len(stations)) if panel.nose_mm <= 0 else of.along_to([panel.nose_mm] * len(stations))
        end = of.length
        if panel.to_share is not None:
            end = of.along_to(panel.to_share * chords)
        elif panel.tail_mm > 0:
            end = of.along_to(chords - panel.tail_mm)
        plies.append(Ply(of, start, end))
    return plies


def _bent(sheet: SheetStock, stations: list[Station], panel: Panel) -> tuple[list[Fault], list[str]]:
    if len(panel.halves) < 2 or panel.rolled:
        return [], []
    return bend(sheet, stations, panel.depth_mm, panel.path)


def _step(contours: Contours, laid: Laid) -> FloatArray:
    """(k, 2) where joints of a folded board may step from its upper to its lower face: the middle of the lower face's
    first flat, clear of rolled nose and folds [mm]."""
    lengths, ahead = laid.halves["lower"][0], rolled(contours["lower"])
    folds = [column for name, column in laid.corners if name.startswith("lower")]
    first = int(laid.halves["lower"][1][0])
    behind = lengths[:, folds[0] - first] if folds else lengths[:, -1]
    return laid.at("lower", range(len(laid.r_mm)), 0.5 * (ahead + behind))


def _board(plan: SheetPlan, sheet: SheetStock, whole: Region, panel: Panel) -> list[Fault]:
    """A board that is folded is as wide as what is folded of it; joints across it are set apart above and below."""
    if panel.rolled and plan.strips > 1 and sheet.size is not None:
        _, y0, _, y1 = whole.bounds()
        wrong = f"is {mm(min(sheet.size))} wide: {mm(y1 - y0, 0)} go round the root and are folded of one piece"
        remedy = "a wider board, a smaller flap, or panels of another construction"
        return [Fault(panel.path, panel.stock, wrong, f"at least {at_least(y1 - y0, 0)}", remedy)]
    if not panel.rolled or sheet.size is None or plan.apart_mm >= panel.stagger_mm - 1e-6:
        return []
    wrong = f"boards {mm(max(sheet.size))} long leave the joints above and below {mm(plan.apart_mm, 0)} apart"
    path, allowed = panel.path.replace(".stock", ".stagger"), f"at most {at_most(plan.apart_mm, 0)}"
    return [Fault(path, mm(panel.stagger_mm), wrong, allowed, "or a longer board")]


def _made_up(plan: SheetPlan) -> list[str]:
    said = []
    if plan.strips > 1:
        said.append(f"made up of {plan.strips} sheets side by side, edges joined along the lines marked to look at")
    if plan.lengths > 1 and plan.strips == 1 and len(plan.ends) == 2:
        above, below = (mm(cuts, 0, ", ") for cuts in plan.ends)
        said.append(f"longer than a sheet: joined across at x {above} above and {below} below, a step between")
    elif plan.lengths > 1:
        places = "; ".join(f"{mm(cuts, 0, ', ')} in strip {k}" for k, cuts in enumerate(plan.ends, start=1))
        said.append(f"longer than a sheet: joined across at x {places}")
    return said


def _girth(laid: Laid, row: int) -> float:
    return float(np.hypot(*np.diff(laid.flat.xy[row], axis=0).T).sum())

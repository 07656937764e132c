"""Box spars, folded board and upright sheet: their faces pulled and pressed, their upright walls sheared."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import BoxSpar, LengthStock, SheetStock
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property, Strength
from geomgen.model.joint import Key
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.strength.blade_loads import GREATEST
from geomgen.strength.build import Build
from geomgen.strength.formulas.bar import rectangle_shear_mpa
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.boards import FACES, is_board, paper_shear, wrinkles
from geomgen.strength.links.bonds import stock_of
from geomgen.strength.links.choose import thicker, weakest
from geomgen.strength.links.running import Running, Runs, body_shear_n, running


def boxes(build: Build, runs: Runs | None = None) -> Iterator[Link]:
    """Of each table's boards and of spars that stand by themselves the weakest place in each way."""
    runs = running(build) if runs is None else runs
    links = list[Link]()
    for key, some in runs.items():
        of, part = stock_of(build, key), build.part(key)
        if of is not None and is_board(of):
            links += _papers(build, part, of, some)
        if of is not None and key.role is Role.SPAR:
            links += _walls(build, part, of, some)
    yield from weakest(links, lambda link: (link.between[0].role, link.path, link.fails))


def _papers(build: Build, part: Part, of: Strength, some: Sequence[Running]) -> Iterator[Link]:
    """A board's papers, pulled and pressed along the blade, each by half of what the board carries by width."""
    sheet = build.design.stock[part.stock]
    thick = sheet.thickness if isinstance(sheet, SheetStock) else 0.0
    pulled = max(some, key=lambda one: _most(one.pulled))
    pressed = max(some, key=lambda one: _most(one.pressed))
    tension, why = of.of(Property.WIDTH_TENSION), of.why_not(Property.WIDTH_TENSION)
    note = "one paper of the board, half of what it carries by width"
    yield _link(build, part, pulled, Fails.PULLED_APART, pulled.pulled * thick / FACES, tension, why, note, "N/mm")
    why = of.why_not(Property.WIDTH_STIFFNESS)
    yield _link(build, part, pressed, Fails.WRINKLED, pressed.pressed * thick / FACES, wrinkles(of), why, note, "N/mm")


def _walls(build: Build, part: Part, of: Strength, some: Sequence[Running]) -> Iterator[Link]:
    """What stands upright in a box or sheet spar, or a strip by itself, sheared by its share of the lift."""
    stock = build.design.stock[part.stock]
    spar = build.design.blade.spar.get(part.path.removeprefix("blade.spar."))
    found = list[tuple[FloatArray, Running]]()
    for run in some:
        if isinstance(stock, LengthStock):
            if stock.round or _with_others(run):
                continue
            wide, high = stock.width or 0.0, stock.height or 0.0
        else:
            count = 2.0 if isinstance(spar, BoxSpar) else 1.0
            wide, high = count * getattr(stock, "thickness", 0.0), float(np.ptp(run.piece.rim[:, 1]))
        found.append((rectangle_shear_mpa(body_shear_n(build, run), wide, high), run))
    if not found:
        return
    stress, run = max(found, key=lambda one: _most(one[0]))
    figure, unit = of.of(Property.SHEAR), "MPa"
    if is_board(of) and isinstance(stock, SheetStock):
        stress, figure, unit = stress * stock.thickness / FACES, paper_shear(of), "N/mm"
    note = "shear of all that it bends with"
    yield _link(build, part, run, Fails.SHEARED, stress, figure, of.why_not(Property.SHEAR), note, unit)


def _with_others(run: Running) -> bool:
    """Whether it bends as one with others: webs take their shear."""
    return any(one.bends_with == run.piece.bends_with and one is not run.piece for one in run.section.pieces)


def _most(stress: FloatArray) -> float:
    return float(np.abs(stress[GREATEST]).max(initial=0.0))


def _link(
    build: Build,
    part: Part,
    run: Running,
    fails: Fails,
    stress: FloatArray,
    figure: Figure | None,
    why: str,
    note: str,
    unit: str,
) -> Link:
    key: Key = part.key
    sheet = build.design.stock[part.stock]
    helps = tuple[Help, ...]()
    if isinstance(sheet, SheetStock):
        helps = tuple(thicker(build.design, part.stock, lambda to: to / sheet.thickness))
    return Link(
        name=part.name,
        fails=fails,
        path=part.path,
        r_mm=run.r_mm,
        between=(key, key),
        stress=stress,
        unit=unit,
        strength=figure,
        unpublished="" if figure else why,
        helps=helps,
        note=note,
    )

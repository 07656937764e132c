"""What is closed and so resists twist: its walls sheared, and the glue of its seams."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import SheetStock
from geomgen.materials.strength import Property
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.role import Role
from geomgen.strength.blade_loads import GREATEST
from geomgen.strength.build import Build
from geomgen.strength.cross_section import Cell, CrossSection
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.boards import FACES, is_board, paper_shear
from geomgen.strength.links.bonds import bond, glue_link, stock_of
from geomgen.strength.links.choose import thicker, used, weakest
from geomgen.strength.links.running import outboard
from geomgen.strength.sections.stress import flow_n_mm
from geomgen.strength.sections.ties import runs_along

BREDT = "shear flow round the closed cell by Bredt, its share of the twist by stiffness"


@dataclass(frozen=True, eq=False)
class Twisted:
    """A closed cell at one radius.

    section  : what else is there
    cell     : it
    flow     : (2, c) shear flow round it [N/mm]
    """

    section: CrossSection
    cell: Cell
    flow: FloatArray


Worst = tuple[FloatArray, Twisted, float]
"""Stress (2, c), where, and the thickness or width that it is taken over [mm]."""
Named = TypeVar("Named", bound=Hashable)


def cells(build: Build) -> Iterator[Link]:
    """Of each closed cell's walls and seams the weakest place."""
    twisted = _twisted(build)
    links = [*_walls(build, twisted), *_seams(build, twisted), *_butted(build, twisted)]
    yield from weakest(links, lambda link: (link.between[0].role, link.path, link.fails))


def _twisted(build: Build) -> Sequence[Twisted]:
    return [
        Twisted(section, cell, flow_n_mm(section, cell, build.loads.at(section.r_mm).turn_nm))
        for section in outboard(build)
        for cell in section.cells
    ]


def _walls(build: Build, twisted: Sequence[Twisted]) -> Iterator[Link]:
    """Each part that walls a cell, where the flow over its thickness is greatest."""
    found = dict[Key, Worst]()
    for one in twisted:
        for key, _, thick, _ in one.cell.walls:
            _keep(found, key, one.flow / thick, one, thick)
    for key, (stress, one, thick) in found.items():
        of = stock_of(build, key)
        if of is None:
            continue
        figure, unit = of.of(Property.SHEAR), "MPa"
        if is_board(of):
            stress, figure, unit = stress * thick / FACES, paper_shear(of), "N/mm"
        yield Link(
            name=f"{build.part(key).name} twisted",
            fails=Fails.SHEARED,
            path=key.path,
            r_mm=one.section.r_mm,
            between=(key, key),
            stress=stress,
            unit=unit,
            strength=figure,
            unpublished="" if figure else of.why_not(Property.SHEAR),
            helps=tuple(_thicker(build, build.part(key).stock)),
            note=BREDT,
        )


def _seams(build: Build, twisted: Sequence[Twisted]) -> Iterator[Link]:
    """Each glue line that closes a cell; of joints of one path the weakest that is there."""
    found, glued = dict[str, Worst](), _glued(build)
    for one in twisted:
        for path, wide in one.cell.seams:
            if wide > 0.0:
                _keep(found, path, one.flow / wide, one, wide)
    for path, (stress, one, _) in found.items():
        there = {piece.key for piece in one.section.pieces}
        joints = [each for each in glued.get(path, ()) if {each.a, each.b} <= there]
        links = [_seam(build, joint, one.section.r_mm, stress) for joint in joints]
        if links:
            yield max(links, key=lambda link: (link.strength is None, used(link)))


def _butted(build: Build, twisted: Sequence[Twisted]) -> Iterator[Link]:
    """Edges of sheets that are glued to one another along the blade: the flow of the cell that they are of."""
    for part in build.flying:
        sheet = build.design.stock.get(part.stock)
        if part.role not in (Role.SKIN, Role.SHEETING) or not isinstance(sheet, SheetStock):
            continue
        own = [one for one in twisted if any(key == part.key for key, *_ in one.cell.walls)]
        worst = max(own, key=lambda one: _most(one.flow), default=None)
        for joint in build.joints(part.key):
            if worst is not None and joint.a == joint.b and joint.bond is Bond.BUTTED and joint.area_mm2 > 0.0:
                yield _seam(build, joint, worst.section.r_mm, worst.flow / sheet.thickness)


def _seam(build: Build, joint: Joint, r_mm: float, stress: FloatArray) -> Link:
    one, other, bonded = build.part(joint.a), build.part(joint.b), bond(build, joint.a, joint.b)
    butted = joint.bond is Bond.BUTTED
    name = f"{'edges' if butted else 'seam'} of {one.name}" + (f" and {other.name}" if joint.a != joint.b else "")
    return glue_link(bonded, name, Fails.UNSTUCK, stress, path=joint.path, r_mm=r_mm, between=(joint.a, joint.b),
                     helps=bonded.helps, note=BREDT)  # fmt: skip


def _keep(found: dict[Named, Worst], name: Named, stress: FloatArray, one: Twisted, size: float) -> None:
    """Keep of each name the place where the stress is greatest."""
    if name not in found or _most(stress) > _most(found[name][0]):
        found[name] = stress, one, size


def _most(stress: FloatArray) -> float:
    return float(np.abs(stress[GREATEST]).max(initial=0.0))


def _thicker(build: Build, stock: str) -> Iterator[Help]:
    sheet = build.design.stock.get(stock)
    if isinstance(sheet, SheetStock):
        yield from thicker(build.design, stock, lambda to: to / sheet.thickness)


def _glued(build: Build) -> Mapping[str, Sequence[Joint]]:
    """Glue lines along the blade by their key path."""
    found = dict[str, list[Joint]]()
    for joint in build.flying.joints:
        if joint.bond.wants_glue and joint.area_mm2 > 0.0 and runs_along(joint.a.role) and runs_along(joint.b.role):
            found.setdefault(joint.path, []).append(joint)
    return found

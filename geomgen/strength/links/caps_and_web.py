"""Spar caps and what stands between them: caps that bow out where no web holds them, webs, their glue, layers' ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import HALVES, CapSpar, LengthStock, SheetStock
from geomgen.materials.figure import Figure, worked_out
from geomgen.materials.strength import Property
from geomgen.model.joint import Bond, Key
from geomgen.model.part import Flat
from geomgen.model.role import Role
from geomgen.strength.build import Build
from geomgen.strength.formulas.bar import rectangle_second_mm4
from geomgen.strength.formulas.panel import SHEARED, panel_buckling_mpa
from geomgen.strength.formulas.tube import column_n
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.bonds import bond, glue_link, stock_of
from geomgen.strength.links.choose import closer, sized, thicker, weakest
from geomgen.strength.links.running import Running, Runs, body_shear_n, near, running
from geomgen.strength.sections.stress import flow_n_mm, web_flow_n_mm
from geomgen.structure.spars.kinds.caps import FEATHERED

FLOW = "shear flow of all that bends together, and of the twist where the web closes a cell; the web takes all of it"
BOWS = "between two ribs, its ends free to turn; where a web is glued to it the web holds it"


def caps_and_webs(build: Build, runs: Runs | None = None) -> Iterator[Link]:
    """Of each spar of caps the weakest place in each way."""
    runs = running(build) if runs is None else runs
    for name, spar in build.design.blade.spar.items():
        if isinstance(spar, CapSpar):
            path = f"blade.spar.{name}"
            caps = {key: some for key, some in runs.items() if key.path == path and key.role is Role.SPAR}
            webs = {key: some for key, some in runs.items() if key.path == f"{path}.web"}
            links = [*_bowed(build, caps, webs), *_webs(build, webs), *_ends(build, caps)]
            yield from weakest(links, lambda link: (link.between[0].role, link.fails))


def _bowed(build: Build, caps: Runs, webs: Runs) -> Iterator[Link]:
    """Each layer between two ribs where no web is glued to it."""
    bays = list(pairwise(blank.place for blank in build.blanks))
    webbed = [float(build.part(key).spread[:, 1].mean()) for key in webs]
    for key, some in caps.items():
        stock, of = build.design.stock[build.part(key).stock], stock_of(build, key)
        stiff = of.of(Property.MODULUS) if of is not None else None
        if not isinstance(stock, LengthStock) or of is None or stiff is None:
            continue
        wide, high = stock.width or 0.0, stock.height or 0.0
        for inner, outer in bays:
            low, far, run_of = inner.r_mm, outer.r_mm, outer.run
            if any(low < r < far for r in webbed) or far < some[0].r_mm or low > some[-1].r_mm:
                continue
            run, long = near(some, low), far - low

            def stress(modulus: float, wide: float = wide, high: float = high, long: float = long) -> float:
                return float(column_n(modulus, rectangle_second_mm4(wide, high), long)) / (wide * high)

            figure = worked_out(stress, stiff, unit="MPa", source=f"Euler; {stiff.source}")
            yield _link(
                build,
                run,
                Fails.BUCKLED,
                run.pressed,
                figure,
                (*_thicker_strip(build, key, high), *closer(build.design, run_of, 2.0)),
                BOWS,
                "MPa",
            )


def _webs(build: Build, webs: Runs) -> Iterator[Link]:
    """Each web: sheared, buckled, and its glue on the caps."""
    for key, some in webs.items():
        of, flat = stock_of(build, key), build.part(key).shape
        sheet = build.design.stock[build.part(key).stock]
        if of is None or not isinstance(flat, Flat) or not isinstance(sheet, SheetStock):
            continue
        thick = sheet.thickness
        run = max(some, key=lambda one: float(_flow(build, one)[1].max()))
        flow = _flow(build, run)
        helps = tuple(_thicker_web(build, key, thick, 1.0))
        figure = of.of(Property.SHEAR)
        yield _link(build, run, Fails.SHEARED, flow / thick, figure, helps, FLOW, of.why_not(Property.SHEAR))
        x0, y0, x1, y1 = flat.region.bounds()
        stands = _buckles(build, key, thick, min(x1 - x0, y1 - y0))
        cube = tuple(_thicker_web(build, key, thick, 3.0))
        note = f"{FLOW}; as a plate of the mean of both moduli, from memory"
        why = of.why_not(Property.MODULUS_ACROSS)
        yield _link(build, run, Fails.BUCKLED, flow / thick, stands, cube, note, why)
        yield from _glued(build, run, flow)


def _flow(build: Build, run: Running) -> FloatArray:
    """(2, c) greatest shear flow in a web: of bending, and the twist's [N/mm]."""
    flow = web_flow_n_mm(run.section, run.piece, body_shear_n(build, run))
    for cell in run.section.cells:
        if any(key == run.key for key, *_ in cell.walls):
            flow = flow + flow_n_mm(run.section, cell, run.loads.turn_nm)
    return np.asarray(flow)


def _buckles(build: Build, key: Key, thick: float, short: float) -> Figure | None:
    of = stock_of(build, key)
    along = of.of(Property.MODULUS) if of is not None else None
    across = of.of(Property.MODULUS_ACROSS) if of is not None else None
    if along is None or across is None:
        return None

    def sheared(one: float, other: float) -> FloatArray:
        return panel_buckling_mpa(np.sqrt(one * other), thick, short, SHEARED)

    return worked_out(sheared, along, across, unit="MPa", source=f"a plate that is sheared; {along.source}")


def _glued(build: Build, run: Running, flow: FloatArray) -> Iterator[Link]:
    """A web's glue on the layers above, or below, whichever is narrower."""
    flat = build.part(run.key).shape
    assert isinstance(flat, Flat)
    x0, _, x1, _ = flat.region.bounds()
    joints = [each for each in build.joints(run.key) if each.a == run.key and each.bond is Bond.GLUED]
    wide = [sum(one.area_mm2 for one in joints if half in one.b.mark) / (x1 - x0) for half in HALVES]
    if not joints or min(wide) <= 0.0:
        return
    half = HALVES[int(np.argmin(wide))]
    cap = next(one.b for one in joints if half in one.b.mark)
    bonded, name = bond(build, run.key, cap), build.part(run.key).name
    yield glue_link(bonded, f"glue of {name} on its caps", Fails.UNSTUCK, flow / min(wide), path=run.key.path,
                    r_mm=run.r_mm, between=(run.key, cap), helps=bonded.helps, note=FLOW)  # fmt: skip


def _ends(build: Build, caps: Runs) -> Iterator[Link]:
    """Where a layer stops short of the others: what it carried goes into the next one over its feathered end."""
    last = max((some[-1].r_mm for some in caps.values()), default=0.0)
    for key, some in caps.items():
        stock = build.design.stock[build.part(key).stock]
        beneath = next((each.b for each in build.joints(key) if each.a == key and each.b.path == key.path), None)
        if some[-1].r_mm >= last - 1e-6 or beneath is None or not isinstance(stock, LengthStock):
            continue
        bonded, high = bond(build, key, beneath), stock.height or 0.0
        force = np.maximum(some[-1].pulled, some[-1].pressed) * some[-1].piece.area_mm2
        stress = force / ((stock.width or 0.0) * FEATHERED * high)
        note = f"all that it carries there, over its feathered end, {FEATHERED:g} times as long as high"
        yield glue_link(bonded, f"end of {build.part(key).name}", Fails.UNSTUCK, stress, path=key.path,
                        r_mm=some[-1].r_mm, between=(key, beneath), helps=bonded.helps, note=note)  # fmt: skip


def _thicker_strip(build: Build, key: Key, high: float) -> Iterator[Help]:
    """A strip of more height."""
    yield from sized(build.design, f"stock.{build.part(key).stock}.height", high, 1.5, lambda to: (to / high) ** 2)


def _thicker_web(build: Build, key: Key, was: float, power: float) -> Iterator[Help]:
    yield from thicker(build.design, build.part(key).stock, lambda to: (to / was) ** power)


def _link(
    build: Build,
    run: Running,
    fails: Fails,
    stress: FloatArray,
    figure: Figure | None,
    helps: Sequence[Help],
    note: str,
    why: str = "",
) -> Link:
    return Link(
        name=build.part(run.key).name,
        fails=fails,
        path=run.key.path,
        r_mm=run.r_mm,
        between=(run.key, run.key),
        stress=stress,
        unit="MPa",
        strength=figure,
        unpublished="" if figure else why,
        helps=tuple(helps),
        note=note,
    )

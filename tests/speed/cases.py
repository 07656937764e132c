"""What is raced: geomgen's side of it, and the same asked of a floor in plain figures."""

from __future__ import annotations

import hashlib
import io
import itertools
import json
import math
import os
import pathlib
import shutil
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import asdict, replace
from typing import Any
from unittest import mock

import ezdxf
import numpy as np
from floors import nesting
from floors.nesting import Told
from floors.patterns import Known
from floors.ribs import Row
from numpy.typing import NDArray
from rib_sets import EDGE_MM, GAP_MM, SIZE

import geomgen
from geomgen.blade.blade import loft
from geomgen.blade.rib_places import RibPlace
from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.cutting.dxf import all_dxf, part_dxf
from geomgen.design.library import demo, example_path
from geomgen.design.schema import Design
from geomgen.hover.panels import Panels, panels
from geomgen.hover.wake.influence import CORE, ENTRIES, LEAST_U0, MOST_U0
from geomgen.hover.wake.shape import filaments
from geomgen.model.layout import Layout
from geomgen.model.part import Flat, Part
from geomgen.nesting.fill import FINE_MM
from geomgen.printing.solid import properties
from geomgen.root.paired_pattern import Ask, Paired
from geomgen.section.find import find
from geomgen.stock.laying import shape_of
from geomgen.stock.sheets import Layout as SheetLayout
from geomgen.strength import stages as strength
from geomgen.strength.blade_loads import Case
from geomgen.strength.margins import Judged, judged
from geomgen.strength.run_up import run_up
from geomgen.structure.constructions import construction
from geomgen.structure.covers import laid
from geomgen.structure.ribs.blank import Blank, blanks
from geomgen.tolerances import STANDARD
from geomgen.unroll.unroll import Unrolled, unroll

HERE = pathlib.Path(__file__).parent
BLENDED = ("naca 4414", "naca 2414")  # an edit of the demo: thickness and camber both go over into others
SKIN_MM, PAIRS, BED_MM = 2.0, 16, 600.0
LIGHT, KERNEL = "numpy, shapely, pydantic", "numpy, shapely, pydantic, cadquery"  # what a command can't do without


def places(design: Design, count: int) -> list[RibPlace]:
    """So many ribs at even distances, from the root to where the frame ends."""
    radii = np.linspace(design.rotor.root, design.frame_end, count)
    return [RibPlace(f"R{k:04d}", float(r), "rest", "balsa_3", 3.0, number=k) for k, r in enumerate(radii, start=1)]


def outlines(design: Design, where: list[RibPlace]) -> tuple[Blank, ...]:
    """The ribs' edges as arcs, from the sections' names on; no holes."""
    blade = loft(design, lambda spec, path: find(spec, None, path))
    built = construction(design)
    return blanks(Layout(design, blade, tuple(where), (), {}, {}, built.cover, built.sheet_over, STANDARD), where)


def row(design: Design, radii: NDArray[np.float64], pairs: int = PAIRS) -> Row:
    """The same ribs asked of the floor."""
    first, last = design.blade.along
    assert first.section and last.section and first.section.naca and last.section.naca and first.chord and last.chord
    return Row(
        r=radii,
        at=(design.r(first.at), design.r(last.at)),
        chord=(first.chord, last.chord),
        digits=(first.section.naca, last.section.naca),
        skin=SKIN_MM,
        least_tail=design.blade.construction.least_tail,
        tol=STANDARD.chordal_mm,
        pairs=pairs,
    )


def skin(rows: int, columns: int) -> NDArray[np.float64]:
    """(rows, 2 columns - 1, 3) a twisted, tapered blade of NACA 2412 from tail round the nose to tail [mm]."""
    x = 0.98 * (1.0 - np.cos(np.linspace(0.0, 0.5 * np.pi, columns)))
    half = 0.6 * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    mean = np.where(x < 0.4, 0.125 * x * (0.8 - x), 0.02 / 0.36 * (0.2 + 0.8 * x - x * x))
    section = np.vstack((np.column_stack((x, mean + half))[::-1], np.column_stack((x, mean - half))[1:])) - (0.3, 0.0)
    share = np.linspace(0.0, 1.0, rows)[:, None]
    back, up = np.moveaxis((210.0 - 60.0 * share)[..., None] * section, -1, 0)
    turn = np.radians(5.0 - 5.0 * share)
    placed = -back * np.cos(turn) - up * np.sin(turn), up * np.cos(turn) - back * np.sin(turn)
    return np.stack((np.broadcast_to(130.0 + 670.0 * share, back.shape), *placed), axis=-1)


def asks(count: int = 200) -> list[Ask]:
    """What paired patterns are asked for: ranges, steps, pins, their size, and the largest rim, spread over so many."""
    ranges, steps, pins = (4.0, 8.0, 12.0, 16.0, 24.0), (0.5, 1.0, 2.0, 4.0, 6.0), (1, 2, 3)
    grid = list(itertools.product(ranges, steps, pins, (2.0, 3.0, 4.0), (45.0, 60.0)))
    return [_ask(*grid[k * len(grid) // count]) for k in range(count)]


def _ask(span: float, step: float, pins: int, diameter: float, rim: float) -> Ask:
    settings = tuple(step * k for k in range(int(span / step + 1e-9) + 1))
    skew = [0.0, step / (4.0 if pins == 2 else 2.0), 0.0][:pins]
    return Ask(settings, step, pins, diameter + 1.7, 0.1, tuple(skew), 18.0, rim - 13.6 - diameter / 2)


def known(ask: Ask, found: Paired) -> Known:
    """The same pattern as the floor is told it: each pin's holes are those that it takes at some setting."""

    def sets(holes: tuple[tuple[float, float], ...], fixed: int) -> tuple[tuple[float, float, int], ...]:
        told = []
        for q in range(ask.pins):
            first = min(pair[q][fixed] for pair in found.pairs)
            after = min((pair[q + 1][fixed] for pair in found.pairs), default=0) if q + 1 < ask.pins else len(holes)
            angles = [angle for _, angle in holes[first:after]]
            told.append((angles[0], angles[1] - angles[0] if len(angles) > 1 else 0.0, len(angles)))
        return tuple(told)

    return Known(found.circle_mm, sets(found.turning, 0), sets(found.fixed, 1), ask.pins, ask.fit_mm)


def many(parts: tuple[Part, ...], count: int) -> list[Part]:
    """So many parts, the given ones over and over under other names."""
    return [replace(parts[k % len(parts)], name=f"rib R{k + 1:04d}") for k in range(count)]


def told(parts: Sequence[Part], layout: SheetLayout) -> list[Told]:
    """What the floor of nesting is told: where each part lies."""
    shapes = {part.key: shape_of(part.shape, in_holes=False) for part in parts if isinstance(part.shape, Flat)}
    return [
        Told(shapes[laid.key], n, laid.turn_deg, laid.at)
        for n, sheet in enumerate(layout.sheets)
        for laid in sheet.laid
    ]


def sheets_by_floor(told: Sequence[Told]) -> list[NDArray[np.bool_]]:
    """Cells that are taken of each sheet, by the floor."""
    return nesting.taken(told, SIZE, GAP_MM, EDGE_MM, FINE_MM)


def layout_by_floor(text: str, outlines: Sequence[NDArray[np.float64]]) -> None:
    """A layout read, and a digest of each outline by which it is told whether it has changed."""
    json.loads(text)
    for outline in outlines:
        hashlib.sha256(np.round(outline, 4).tobytes()).hexdigest()


def cutting_files(design: Design, parts: list[Part]) -> list[bytes]:
    """A file of each part, and one of all."""
    colours, blades = design.laser.colour.model_dump(), design.rotor.blades
    return [*(part_dxf(part, colours, blades) for part in parts), sheet(design, parts)]


def sheet(design: Design, parts: list[Part]) -> bytes:
    """One file of all parts side by side."""
    return all_dxf(parts, design.laser.colour.model_dump(), BED_MM, design.rotor.blades)


def plain(data: bytes) -> dict[str, Any]:
    """What the DXF floor is asked for: a file's layers, entities and bounds, read back from it."""
    document = ezdxf.read(io.StringIO(data.decode("cp1252").replace("\r\n", "\n")))
    space = document.modelspace()
    entities: list[Any] = []
    for entity in space:
        layer = entity.dxf.layer
        if entity.dxftype() == "CIRCLE":
            entities.append((layer, (*tuple(entity.dxf.center)[:2], entity.dxf.radius)))
        else:
            entities.append((layer, [list(point) for point in entity.get_points("xyb")], bool(entity.closed)))
    layers = {each.dxf.name: (each.color, bool(each.dxf.plot)) for each in document.layers}
    for own in ("0", "Defpoints"):
        layers.pop(own, None)
    bounds = (*tuple(space.dxf.extmin)[:2], *tuple(space.dxf.extmax)[:2])
    return {"layers": layers, "entities": entities, "bounds": bounds}


# The demo, each time in a fresh process


def environment(keep: pathlib.Path) -> dict[str, str]:
    """Of a fresh process: compiled modules are written and found, solids are kept in a folder of ours."""
    own = {"GEOMGEN_KEEP": str(keep), "PYTHONPATH": str(pathlib.Path(geomgen.__file__).parents[1])}
    return {**{k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}, **own}


def make(out: pathlib.Path, keep: pathlib.Path) -> None:
    """The demo's whole `geomgen make`."""
    command = [sys.executable, "-m", "geomgen", "make", "--out", str(out)]
    subprocess.run(command, check=True, capture_output=True, env=environment(keep))


def make_first(out: pathlib.Path, keep: pathlib.Path) -> None:
    """The same, with nothing kept and nothing written."""
    for folder in (out, keep):
        shutil.rmtree(folder, ignore_errors=True)
    make(out, keep)


class Command:
    """A command on the demo, each time in a fresh process.

    name   : "check", "weigh", "compare", or "make", which writes into a folder here
    folder : an empty one
    """

    def __init__(self, name: str, folder: pathlib.Path) -> None:
        self.words = [sys.executable, "-m", "geomgen", name]
        self.keep, self.hubs, self.out = folder / "keep", folder / "hubs", folder / "out"
        self.words += ["--out", str(self.out)] if name == "make" else []
        if name != "make":  # what weighs asks the kernel once in a hub's life
            for option in (None, *demo().options):
                properties(Craft(demo(option).design, None, Cache(None)).hub_spec, Cache(self.hubs))

    def anew(self) -> None:
        """With nothing kept, or nothing but the hubs' volumes, and nothing written."""
        for folder in (self.keep, self.out):
            shutil.rmtree(folder, ignore_errors=True)
        if self.hubs.exists():
            shutil.copytree(self.hubs, self.keep)
        self.again()

    def again(self) -> None:
        """With all that the time before has kept."""
        subprocess.run(self.words, check=True, capture_output=True, env=environment(self.keep))


def imported(libraries: str) -> None:
    """A process that imports some libraries and ends."""
    command = [sys.executable, "-c", f"import {libraries}"]
    subprocess.run(command, check=True, capture_output=True, env=environment(pathlib.Path()))


def make_by_floors(order: pathlib.Path, out: pathlib.Path) -> None:
    """The floors of it, one after the other in one fresh process."""
    shutil.rmtree(out, ignore_errors=True)
    command = [sys.executable, "-m", "floors.whole_make", str(order), str(out)]
    subprocess.run(command, check=True, capture_output=True, env=environment(out), cwd=HERE)


def unrolled(craft: Craft) -> list[Unrolled]:
    """Every grid that is laid flat on the way to a craft's skins, in turn."""
    found: list[Unrolled] = []

    def watched(grid: NDArray[np.float64]) -> Unrolled:
        found.append(unroll(grid))
        return found[-1]

    with mock.patch.object(laid, "unroll", watched):
        assert Craft(craft.design, craft.folder, Cache()).covering
    return found


def write_order(craft: Craft, made: pathlib.Path, file: pathlib.Path) -> None:
    """What the floors of the whole make are asked for.

    craft : the demo
    made  : folder that geomgen made of it
    """
    ribs = row(craft.design, np.array([place.r_mm for place in craft.rib_places]), pairs=18)
    order = {
        "design": str(example_path("lantern")),
        "ribs": {**asdict(ribs), "r": ribs.r.tolist()},
        "skins": [each.space.tolist() for each in unrolled(craft)],
        "dxf": {path.name: plain(path.read_bytes()) for path in sorted((made / "cut").glob("*.dxf"))},
        "hub": asdict(craft.hub_spec),
        "mesh": [STANDARD.mesh_mm, STANDARD.mesh_deg],
    }
    file.write_text(json.dumps(order), encoding="utf-8")


def weighed(design: Design, cache: Cache) -> None:
    """What a sweep asks of a variant: its mass, and the rpm that carries it."""
    craft = Craft(design, None, cache, exact=False)
    assert craft.mass and craft.lifts


def held(craft: Craft, cases: int | None = None) -> Judged:
    """Loads, links, margins and swings of a craft whose parts are drawn; or those of so many speeds of a run-up."""
    design, air = craft.design, craft.air_loads
    sections = strength.carrying(craft.layout, craft.flying, craft.strengths, craft.placed)
    stiff, points = strength.stiff(sections), strength.points(craft.measured, craft.weighed, craft.elements, craft.hung)
    states = strength.cases(design, air, craft.about_axis_kg_m2) if cases is None else _run_up(craft, cases)
    found = strength.loads(design, craft.placed, stiff, points, air, states)
    strength.frequencies(design, craft.placed, stiff, points, air)
    links = strength.links(
        design, craft.layout, craft.blanks, craft.flying, craft.hung, craft.root, craft.hub_spec, found, sections,
        craft.strengths,
    )  # fmt: skip
    return judged(links, design.strength.factor)


def _run_up(craft: Craft, cases: int) -> tuple[Case, ...]:
    rotor, duty = craft.design.rotor, craft.design.duty
    return tuple(
        run_up(
            craft.air_loads, inertia_kg_m2=craft.about_axis_kg_m2, blades=rotor.blades,
            coning_rad=math.radians(rotor.coning), run_up_s=craft.design.strength.run_up,
            most_rad_s=duty.rpm_max * math.pi / 30.0, cases=cases,
        )
    )  # fmt: skip


def planform(blades: int) -> Panels:
    """A tapered blade, as the hover theories take it."""
    return panels([0.17, 1.0], [0.2, 0.12], blades)


def vortices(blade: Panels) -> list[tuple[NDArray[np.float64], NDArray[np.float64], float]]:
    """What the wake's floor is told: for each wake speed of the table the points, all blades' filaments, their core."""
    points = np.concatenate([np.stack((blade.r, y, 0.0 * y), axis=-1) for y in (-0.5 * blade.chord, 0.0 * blade.chord)])
    told = []
    for u0 in np.geomspace(LEAST_U0, MOST_U0, ENTRIES):
        for nodes, core in zip(filaments(blade, float(u0)), (0.0, CORE), strict=True):
            told.append((points, np.concatenate([_turned(nodes, k / blade.blades) for k in range(blade.blades)]), core))
    return told


def _turned(nodes: NDArray[np.float64], turns: float) -> NDArray[np.float64]:
    x, y, z = np.moveaxis(nodes, -1, 0)
    cosine, sine = np.cos(2.0 * np.pi * turns), np.sin(2.0 * np.pi * turns)
    return np.stack((cosine * x - sine * y, sine * x + cosine * y, z), axis=-1)

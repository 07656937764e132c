"""Sheets' cutting files, reopened by ezdxf and judged by shapely, which didn't lay them.

Along the file's paths runs a beam: half a kerf is taken off all that they enclose, and what is left is held against the
parts. Nothing is asked of our layout: each outline that is found is laid on every part of its stock, at every angle at
which that part may lie, and all of them are shared out among the copies that the craft needs, so that each copy lies
somewhere, none twice, none turned as it may not be, and none turned over.
"""

from __future__ import annotations

import hashlib
import io
import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import ezdxf
import numpy as np
import pytest
import shapely
from ezdxf.path import make_path
from scipy.optimize import linear_sum_assignment
from shapely import affinity
from sheet_sets import Set, of_craft, of_ribs

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import demo
from geomgen.design.schema import SheetStock
from geomgen.model.part import Flat, Part
from geomgen.stock.layout_file import layout_text, read_layout
from geomgen.stock.pieces import cuts_of

CHORD_MM = 0.002
NEAR_MM = 1.5e-3  # arcs are laid as chords within 0.001 mm, and read back as such
SAME_MM = 0.05  # a beam of 0.2 mm leaves an inside corner 0.04 mm off
BY_HAND_MM = 3.0  # what a knife keeps between two parts, as the chapter on sheets says
SETS = (*(f"lantern {option}".strip() for option in ("", *demo().options)), "kite_day", "60 ribs", "200 ribs")
LASERED = ("ply_2", "ply_3", "ply_eighth", "balsa_1", "balsa_2", "balsa_3", "balsa_1_16", "balsa_3_32", "rib_balsa")


@dataclass(frozen=True)
class Opened:
    """A sheet's file: what a beam leaves of it, the outlines along which its middle runs, the sheet's edge, and lines
    that it is cut across along first [mm]."""

    name: str
    stock: str
    kept: tuple[shapely.Polygon, ...]
    paths: tuple[shapely.Polygon, ...]
    edge: shapely.Polygon
    across: tuple[float, ...]


def opened(name: str, stock: str, data: bytes, kerf: float) -> Opened:
    """Read back; every inside cut lies within one outside cut."""
    lines: dict[str, list[np.ndarray]] = {}
    for entity in ezdxf.read(io.StringIO(data.decode("ascii"))).modelspace():
        if entity.dxf.layer == "mark":
            continue
        points = np.array([(v.x, v.y) for v in make_path(entity).flattening(CHORD_MM)])
        lines.setdefault(entity.dxf.layer, []).append(points)
        closed = entity.dxftype() == "CIRCLE" or bool(entity.closed)
        assert closed or "cut" not in entity.dxf.layer
    inside = [shapely.Polygon(points) for points in lines.get("inside cut", ())]
    paths = tuple(shapely.Polygon(points) for points in lines["outside cut"])
    kept, held = [], 0
    for whole in paths:
        mine = [hole for hole in inside if whole.contains(hole)]
        held += len(mine)
        left = (whole - shapely.union_all(mine)).buffer(-kerf / 2, quad_segs=32)
        assert isinstance(left, shapely.Polygon)
        kept.append(left)
    assert held == len(inside)
    edge, *across = _edge_and_across(lines["reference"])
    return Opened(name, stock, tuple(kept), paths, shapely.box(0.0, 0.0, *edge), tuple(x for x, _ in across))


def _edge_and_across(lines: list[np.ndarray]) -> Iterator[tuple[float, float]]:
    """The sheet's far corner, then where upright lines across it stand."""
    (edge,) = (points for points in lines if len(points) == 5 and np.ptp(points, axis=0).min() > 15.0)
    assert edge.min() == 0.0
    yield tuple(edge.max(axis=0))
    for points in lines:
        if len(points) == 2 and np.allclose(points[:, 1], (0.0, edge[:, 1].max())) and points[0, 0] == points[1, 0]:
            yield points[0, 0], 0.0


@dataclass(frozen=True)
class Wanted:
    """One copy of a part, or of a piece of it: its shape at each angle at which it may lie, and what it is for."""

    shapes: tuple[shapely.Polygon, ...]
    use: str
    name: str


def wanted(each: Set, stock: str) -> list[Wanted]:
    """All that is to be cut from a stock, from the parts' own words."""
    found = []
    for part in each.parts:
        if part.stock == stock and isinstance(part.shape, Flat):
            for cut in cuts_of(part):
                region = cut.flat.region
                holes = [hole.flattened(CHORD_MM) for hole in region.holes]
                shape = shapely.Polygon(region.outer.flattened(CHORD_MM), holes)
                shapes = tuple(affinity.rotate(shape, turn, origin=(0, 0)) for turn in angles(cut.flat, each, stock))
                found += [Wanted(shapes, use_of(part), part.name)] * copies(part, each)
    return found


def angles(flat: Flat, each: Set, stock: str) -> tuple[float, ...]:
    """Grain along grain, either way round; of no grain, quarter turns."""
    sheet = each.design.sheet(stock)
    if flat.grain is None or sheet.grain is None:
        return 0.0, 90.0, 180.0, 270.0
    turn = {"long": 0.0, "across": 90.0}[sheet.grain] - flat.grain
    return turn, turn + 180.0


def copies(part: Part, each: Set) -> int:
    return part.count * (each.design.rotor.blades if part.assembly == "blade" else 1)


def use_of(part: Part) -> str:
    if part.assembly == "bench":
        return "bench"
    return "doublers" if part.role == "doubler" else "flies"


def off(found: shapely.Polygon, shape: shapely.Polygon) -> float:
    """How far two shapes are apart when one lies on the other, middle on middle; inf for what is far from it [mm]."""
    if abs(found.area - shape.area) > SAME_MM * shape.length or len(found.interiors) != len(shape.interiors):
        return np.inf
    a, b = found.centroid, shape.centroid
    moved = affinity.translate(shape, a.x - b.x, a.y - b.y)
    if np.abs(np.subtract(found.bounds, moved.bounds)).max() > SAME_MM:
        return np.inf
    return float(shapely.hausdorff_distance(found.boundary, moved.boundary))


def apart(found: shapely.Polygon, part: Wanted) -> float:
    """The same at the angle that fits best; 1e6 where none does, so that sums can be taken."""
    return min(1e6, *(off(found, shape) for shape in part.shapes))


@pytest.fixture(scope="module")
def sets(craft_of) -> Callable[[str], Set]:  # type: ignore[no-untyped-def]
    @cache
    def make(name: str) -> Set:
        first, _, option = name.partition(" ")
        return of_ribs(int(first)) if option == "ribs" else of_craft(craft_of(first, option=option or None))

    return make


@pytest.fixture(scope="module")
def sheets(sets: Callable[[str], Set]) -> Callable[[str], list[Opened]]:
    @cache
    def read(name: str) -> list[Opened]:
        each = sets(name)
        kerf = each.design.laser.kerf
        return [opened(sheet, stock, data, kerf.get(stock, 0.0)) for sheet, (stock, data) in each.files.items()]

    return read


@pytest.mark.parametrize("name", SETS)
def test_every_copy_lies_on_one_sheet_turned_as_it_may_be(
    sets: Callable[[str], Set], sheets: Callable[[str], list[Opened]], name: str
) -> None:
    each, files = sets(name), sheets(name)
    stocks = {stock for stock, it in each.design.stock.items() if isinstance(it, SheetStock) and it.size is not None}
    for stock in stocks & {part.stock for part in each.parts if isinstance(part.shape, Flat)}:
        mine = [(sheet.name, shape) for sheet in files if sheet.stock == stock for shape in sheet.kept]
        parts = wanted(each, stock)
        assert len(mine) == len(parts)
        kinds = {id(part): part for part in parts}
        columns_of = {k: [apart(shape, part) for _, shape in mine] for k, part in kinds.items()}
        costs = np.column_stack([columns_of[id(part)] for part in parts])
        rows, columns = linear_sum_assignment(costs)
        assert costs[rows, columns].max() < SAME_MM, (stock, [parts[c].name for c in columns[costs[rows, columns] > 1]])
        uses: dict[str, set[str]] = {}
        for row, column in zip(rows, columns, strict=True):
            uses.setdefault(mine[row][0], set()).add(parts[column].use)
        assert all(len(use) == 1 for use in uses.values()), uses


@pytest.mark.parametrize("name", SETS)
def test_none_nearer_than_the_gap_and_none_off_the_sheet(
    sets: Callable[[str], Set], sheets: Callable[[str], list[Opened]], name: str
) -> None:
    """Nor do the beam's own ways come nearer than that, which lie half a kerf outside the parts."""
    laser = sets(name).design.laser
    for sheet in sheets(name):
        size = sets(name).design.sheet(sheet.stock).size
        assert size is not None and sheet.edge.bounds == pytest.approx((0.0, 0.0, *size), abs=1e-6)
        by_laser = sheet.stock in LASERED
        gap, edge = (laser.gap, laser.edge) if by_laser else (BY_HAND_MM, 0.0)
        shapes = np.array(sheet.paths)
        assert all(whole.buffer(1e-6).covers(part) for whole, part in zip(sheet.paths, sheet.kept, strict=True))
        near = shapely.STRtree(shapes).query(shapes, predicate="dwithin", distance=gap - NEAR_MM)
        assert (near[0] == near[1]).all(), sheet.name
        x0, y0, x1, y1 = shapely.total_bounds(shapes)
        assert min(x0, y0, size[0] - x1, size[1] - y1) >= edge - NEAR_MM, sheet.name
        for x in sheet.across:
            assert all(a >= x + edge - NEAR_MM or b <= x - edge + NEAR_MM for a, _, b, _ in shapely.bounds(shapes)), x


def test_sheets_longer_than_the_bed_are_cut_across(sheets: Callable[[str], list[Opened]]) -> None:
    """A metre of balsa on a bed of 600 x 400, at 600; of 36 in on one of 24 x 12 in, at 24."""
    assert {sheet.across for sheet in sheets("lantern") if sheet.stock == "balsa_3"} == {(600.0,)}
    assert {sheet.across for sheet in sheets("lantern") if sheet.stock == "ply_2"} == {()}
    (across,) = {sheet.across for sheet in sheets("kite_day") if sheet.stock == "balsa_3_32"}
    assert across == pytest.approx((24 * 25.4,))


@pytest.mark.parametrize("name", SETS)
def test_sheets_are_begun_at_their_beginning(sheets: Callable[[str], list[Opened]], name: str) -> None:
    """In a clockwise craft, too: what is left of a sheet is its far end."""
    for sheet in sheets(name):
        x0, _, x1, _ = shapely.total_bounds(np.array(sheet.kept))
        assert x0 <= sheet.edge.bounds[2] - x1 + 1.0, sheet.name


@pytest.mark.parametrize("name", ["lantern", "kite_day"])
def test_a_layout_read_back_is_kept_to_the_bit(craft_of, cache: Cache, name: str) -> None:  # type: ignore[no-untyped-def]
    """In either hand: nothing moves, and nothing is laid anew."""
    craft: Craft = craft_of(name)
    text = layout_text(craft.laid, craft.names)
    again = Craft(craft.design, craft.folder, cache, before=read_layout(text, "layout.json"))
    assert again.laid.kept and again.laid.sheets == craft.laid.sheets
    assert layout_text(again.laid, again.names) == text


SCRIPT = """
import hashlib, json, sys
from sheet_sets import of_craft, of_ribs
from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import demo
made = [of_craft(Craft(demo("foam_board").design, None, Cache(None))), *map(of_ribs, map(int, sys.argv[1:]))]
print(json.dumps([{k: hashlib.sha256(data).hexdigest() for k, (_, data) in each.files.items()} for each in made]))
"""


@pytest.mark.parametrize(("seed", "threads", "counts"), [("1", "1", ("60",)), ("2", "4", ("60", "200"))])
def test_the_same_bytes_whatever_the_hash_seed_and_the_threads(
    sets: Callable[[str], Set], seed: str, threads: str, counts: tuple[str, ...]
) -> None:
    """From nothing kept, in a process of its own, as in this one."""
    here = Path(__file__).parent
    made = [sets(name) for name in ("lantern foam_board", *(f"{count} ribs" for count in counts))]
    mine = [{k: hashlib.sha256(data).hexdigest() for k, (_, data) in each.files.items()} for each in made]
    folders = os.pathsep.join(str(folder) for folder in (here.parents[1], here, here.parent))
    env = {**os.environ, "PYTHONHASHSEED": seed, "OMP_NUM_THREADS": threads, "PYTHONPATH": folders}
    command = [sys.executable, "-c", SCRIPT, *counts]
    done = subprocess.run(command, env=env, capture_output=True, text=True, check=True)
    assert json.loads(done.stdout) == mine

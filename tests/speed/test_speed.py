"""How long geomgen takes, over what the floors take. By hand: python -m pytest tests/speed (see README.md here)."""

from __future__ import annotations

import itertools
import math
import pathlib
import timeit
from collections.abc import Callable
from dataclasses import asdict

import cadquery  # noqa: F401  the kernel's import is raced in the whole make only
import cases
import numpy as np
import pytest
import rib_sets
from floors import dxf, hub, patterns, reading, ribs, scatter
from floors import unroll as flat_floor
from floors import wake as wake_floor

from geomgen.balance.before import uncertain
from geomgen.balance.scatter import DRAWS, SEED, scattered
from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import demo, example_path
from geomgen.design.reader import read, read_text
from geomgen.design.schema import Design
from geomgen.design.vary import vary
from geomgen.hover.rotor import setting
from geomgen.hover.wake.influence import wake
from geomgen.hover.wake.lifting_line import hover_point
from geomgen.model.part import Flat
from geomgen.model.role import Role
from geomgen.printing.solid import mesh_of
from geomgen.root.paired_search import paired
from geomgen.section.polar.forces import CappedLine
from geomgen.stock.laying import lay
from geomgen.stock.layout_file import layout_text, read_layout
from geomgen.stock.sharing import as_laid
from geomgen.tolerances import STANDARD
from geomgen.unroll.unroll import unroll

Race = Callable[..., None]


def test_reading_a_design(race: Race) -> None:
    path = example_path("lantern")
    race(lambda: read(path), lambda: reading.read(path), rounds=50, aim="")


@pytest.mark.parametrize(("count", "rounds"), [(24, 15), (1000, 7)], ids=["24", "1000"])
def test_ribs_from_section_to_arcs(race: Race, blended: Craft, count: int, rounds: int) -> None:
    design, where = blended.design, cases.places(blended.design, count)
    row = cases.row(design, np.array([place.r_mm for place in where]))
    race(lambda: cases.outlines(design, where), lambda: ribs.outlines(row), rounds, aim="≤ 4")


def test_dxf_of_24_ribs_each_and_all(race: Race, blended: Craft) -> None:
    parts = cases.many(blended.finished_of(Role.RIB), 24)
    files = [cases.plain(data) for data in cases.cutting_files(blended.design, parts)]
    ours, floor = lambda: cases.cutting_files(blended.design, parts), lambda: [dxf.written(**file) for file in files]
    race(ours, floor, rounds=7, aim="≤ 4")


def test_dxf_of_1000_ribs_in_one_file(race: Race, blended: Craft) -> None:
    parts = cases.many(blended.finished_of(Role.RIB), 1000)
    file = cases.plain(cases.sheet(blended.design, parts))
    race(lambda: cases.sheet(blended.design, parts), lambda: dxf.written(**file), rounds=3, aim="≤ 4")


@pytest.mark.parametrize(("count", "aim"), [(60, "≤ 2 s"), (200, "≤ 6 s")], ids=["60", "200"])
def test_nesting_of_ribs_on_sheets(race: Race, count: int, aim: str) -> None:
    """Each another rib. The floor is told where each lies."""
    parts, design = rib_sets.ribs(count, 1), rib_sets.rib_design()
    told = cases.told(parts, lay(parts, design))
    race(lambda: lay(parts, design), lambda: cases.sheets_by_floor(told), rounds=5, aim=aim)


def test_reading_an_unchanged_layout_of_200(race: Race) -> None:
    """Held against the parts, which lie where they lay; the floor reads the JSON and takes outlines' digests."""
    parts, design = rib_sets.ribs(200, 1), rib_sets.rib_design()
    text = layout_text(lay(parts, design), {})

    def ours() -> None:
        assert lay(parts, design, read_layout(text, "layout.json")).kept

    outlines = [each.shape.region.outer.xy for each in parts if isinstance(each.shape, Flat)]
    race(ours, lambda: cases.layout_by_floor(text, outlines), rounds=30, aim="")


def test_100000_craft_out_of_balance(race: Race, lantern: Craft) -> None:
    """From the statement's lines to two quantiles; the floor is told the covariance."""
    lines = uncertain(lantern.weighed, lantern.design, as_laid(lantern.laid))
    covariance, mean = scattered(lines, np.zeros(2)).covariance, np.zeros(2)
    race(lambda: scattered(lines, mean), lambda: scatter.drawn(covariance, DRAWS, SEED), rounds=30, aim="≤ 2")


@pytest.mark.parametrize(("rows", "columns"), [(12, 40), (30, 80)], ids=["12 x 79", "30 x 159"])
def test_skin_laid_flat(race: Race, rows: int, columns: int) -> None:
    grid = cases.skin(rows, columns)
    race(lambda: unroll(grid), lambda: flat_floor.flat(grid), rounds=9, aim="≤ 4")


def test_200_paired_patterns(race: Race) -> None:
    """The floor is told which holes there are."""
    asked = cases.asks()
    known = [cases.known(ask, found) for ask in asked if (found := paired(ask))]
    race(lambda: [paired(ask) for ask in asked], lambda: [patterns.pitches(one) for one in known], rounds=3, aim="")


def test_slowest_of_200_paired_patterns(race: Race) -> None:
    times = {ask: min(timeit.repeat(lambda ask=ask: paired(ask), number=1, repeat=2)) for ask in cases.asks()}
    slowest = max(times, key=lambda ask: times[ask])
    found = paired(slowest)
    assert found is not None
    known = cases.known(slowest, found)
    race(lambda: paired(slowest), lambda: patterns.pitches(known), rounds=5, aim="≤ 1 s")


@pytest.mark.parametrize("blades", [2, 4])
def test_wake_table_of_a_planform(race: Race, blades: int) -> None:
    """The floor is told where every vortex lies; cylinders and matrices are no part of it."""
    blade = cases.planform(blades)
    told = cases.vortices(blade)
    race(lambda: wake(blade), lambda: [wake_floor.velocities(*each) for each in told], rounds=7, aim="≤ 0.7 s")


def test_100_hover_points(race: Race) -> None:
    """The floor is told each point's wake speed, and that lift stays below its greatest; 1.5 ms a point is the aim."""
    table, polar = wake(cases.planform(2)), CappedLine(5.9, 1.3)
    blade, pitches = table.blade, np.radians(np.linspace(2.0, 12.0, 100))
    speeds = [hover_point(table, pitch, polar, 1e6).wake_speed or 0.0 for pitch in pitches]
    told = [(np.array(table.at(u0)), float(pitch)) for u0, pitch in zip(speeds, pitches, strict=True)]

    def floor() -> None:
        for matrices, pitch in told:
            wake_floor.thrust(2, blade.r, blade.dr, blade.chord, matrices, pitch, 5.9, (0.0113, 1.25))

    race(lambda: [hover_point(table, pitch, polar, 1e6) for pitch in pitches], floor, rounds=7, aim="≤ 0.15 s")


def test_100_pitches_of_a_design(race: Race, lantern: Craft) -> None:
    """The demo's wake, its sections' polars and fans; the floor is as many hover points of a straight polar."""
    rotor, weight = lantern.rotor, lantern.hover.weight_n if lantern.hover else 0.0
    assert rotor is not None
    pitches, straight = np.linspace(4.0, 14.0, 100), CappedLine(5.9, 1.3)
    angles = [rotor.twist_rad + math.radians(pitch) for pitch in pitches]
    race(
        lambda: [setting(rotor, float(pitch), weight) for pitch in pitches],
        lambda: [hover_point(rotor.wake, angle, straight, 1e6) for angle in angles],
        rounds=7,
        aim="",
    )


@pytest.mark.parametrize("option", [None, "balsa"])
def test_200_speeds_of_a_run_up(race: Race, option: str | None) -> None:
    """Once parts are drawn; against one run of loads, links and swings, of which the aim is 0.5 s."""
    craft = Craft(demo(option).design, None, Cache(None), exact=False)
    race(lambda: cases.held(craft, 200), lambda: cases.held(craft), rounds=5, aim="≤ 5", against="one run, ≤ 0.5 s")


def test_hub_built_and_meshed(race: Race, lantern: Craft) -> None:
    spec, figures = lantern.hub_spec, asdict(lantern.hub_spec)

    def floor() -> None:
        solid = hub.built(figures)
        hub.measured(solid)
        hub.meshed(solid, STANDARD.mesh_mm, STANDARD.mesh_deg)

    race(lambda: mesh_of(spec, Cache()), floor, rounds=9, aim="≤ 1.2")


def test_whole_make_first(race: Race, lantern: Craft, tmp_path: pathlib.Path) -> None:
    out, keep, order = tmp_path / "out", tmp_path / "keep", tmp_path / "order.json"
    cases.make_first(out, keep)
    cases.write_order(lantern, out / "lantern" / "base", order)
    ours, floor = lambda: cases.make_first(out, keep), lambda: cases.make_by_floors(order, tmp_path / "floor")
    race(ours, floor, rounds=5, aim="≤ 1.5")


@pytest.mark.parametrize(
    ("command", "when", "libraries", "aim"),
    [
        ("check", "first", cases.LIGHT, "≤ 4"),
        ("check", "again", cases.LIGHT, "≤ 4"),
        ("weigh", "first", cases.LIGHT, "≤ 4"),
        ("weigh", "again", cases.LIGHT, "≤ 4"),
        ("compare", "first", cases.LIGHT, "≤ 12"),
        ("compare", "again", cases.LIGHT, "≤ 12"),
        ("make", "first", cases.KERNEL, "≤ 2"),
        ("make", "again", cases.LIGHT, "≤ 4"),
    ],
    ids=lambda value: value if value in ("check", "weigh", "compare", "make", "first", "again") else "",
)
def test_command(race: Race, tmp_path: pathlib.Path, command: str, when: str, libraries: str, aim: str) -> None:
    """Of the demo, with all its options where they are compared; the floor imports the libraries it needs."""
    first = cases.Command(command, tmp_path)
    ours = first.anew if when == "first" else first.again
    race(ours, lambda: cases.imported(libraries), rounds=5, aim=aim, against=f"import {libraries}")


def test_weighing_and_lifting_one_craft(race: Race) -> None:
    """Nothing kept; the floor is all that is drawn of it, lettered and judged."""
    design = demo().design

    def whole() -> None:
        craft = Craft(design, None, Cache(None), exact=False)
        assert craft.finished and not craft.faults

    race(lambda: cases.weighed(design, Cache(None)), whole, rounds=7, aim="≤ 0.35", against="all of it drawn")


def test_another_payload_from_its_text(race: Race) -> None:
    """Read, weighed and lifted, where the demo itself has been; the floor is reading alone."""
    text, cache, count = example_path("lantern").read_text(encoding="utf-8"), Cache(None), itertools.count(151)
    cases.weighed(read_text(text).design, cache)

    def ours() -> None:
        other = text.replace('payload    = "150 g"', f'payload = "{next(count)} g"')
        cases.weighed(read_text(other).design, cache)

    race(ours, lambda: read_text(text), rounds=30, aim="≤ 10 ms")


def test_200_variants_of_chord_and_twist(race: Race) -> None:
    """The floor is ten of them with all that is drawn of each."""
    file, count = demo(), itertools.count(1)

    def variant() -> Design:
        k = next(count)
        changes = {"blade.along.1.twist": f"{0.01 * k} deg", "blade.along.1.chord": f"{150 + 0.05 * k} mm"}
        return vary(file, changes).design

    def ours() -> None:
        cache = Cache(None)
        for _ in range(200):
            cases.weighed(variant(), cache)

    def ten() -> None:
        for _ in range(10):
            assert Craft(variant(), None, Cache(None), exact=False).finished

    race(ours, ten, rounds=1, aim="≤ 7", against="ten drawn whole")

"""Figures of options side by side, recomputed from the statements and formulas they stand on."""

from __future__ import annotations

import math
import pathlib
import re
import subprocess
import sys
from collections.abc import Callable

import pytest
from known_options import OPTIONS, bare

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import demo
from geomgen.design.reader import DesignFile, read_text
from geomgen.errors import DesignError
from geomgen.hover.rotor import Setting
from geomgen.mass.band import Band
from geomgen.model.part import Flat
from geomgen.study.comparison import Column, Comparison, compare
from geomgen.study.designs import chosen
from geomgen.study.difference import Difference
from geomgen.study.figures import Figures

Read = Callable[[str | None], DesignFile]


def figures(column: Column) -> Figures:
    assert column.figures is not None
    return column.figures


def ends(band: Band) -> tuple[float, float, float]:
    return band.low, band.typical, band.high


def test_every_option_is_there_and_is_the_craft_of_that_option(options: Comparison, alone: dict[str, Craft]) -> None:
    assert [column.name for column in options.columns] == list(alone)
    assert options.base == "base" and options.status == 0
    for column in options.columns:
        found, craft = figures(column), alone[column.name]
        assert found.blade_g == craft.mass.blade.mass_g and found.craft_g == craft.mass.craft.mass_g
        assert found.mean_lift_rpm == tuple(lift.rpm for lift in craft.lifts)
        assert craft.hover is not None
        rpm, air_w = (craft.hover.bands[name] for name in ("rpm", "air_w"))
        assert found.rpm == (rpm.low, rpm.typical, rpm.high) and found.air_w == (air_w.low, air_w.typical, air_w.high)
        flown = craft.hover.flown.setting
        assert isinstance(flown, Setting) and found.rpm[1] == flown.rpm and found.rpm[0] < flown.rpm < found.rpm[2]
        assert column.construction == craft.design.blade.construction.kind


def test_rpm_by_a_hand_integral_of_the_mean_lift_formula(keep: pathlib.Path) -> None:
    """T = 1/2 rho Omega^2 C_L N cos^3 beta integral c r^2 dr, for the demo's straight chord, 210 mm to 150 mm.

    Air by hand: the pressure 40 m up in the standard atmosphere (1976), the ideal gas at 2 degC. The tip is square.
    """
    text = re.sub(r"\[blade\.tip\].*\n(?:\w+ *=.*\n)+", "", bare("lantern")) + OPTIONS
    pressure = 101325 * (1 - 0.0065 * 40 / 288.15) ** 5.2559
    density = pressure / (287.053 * 275.15)
    slope = (0.150 - 0.210) / (0.8 - 0.13)
    start = 0.210 - slope * 0.13
    integral = start * (0.8**3 - 0.13**3) / 3 + slope * (0.8**4 - 0.13**4) / 4
    per_omega2 = 0.5 * density * 0.36 * 2 * integral * math.cos(math.radians(2)) ** 3
    for column in compare(read_text(text), ["base", "ply_ribs"], cache=Cache(keep)).columns:
        found = figures(column)
        for grams, rpm in zip(ends(found.lift_g), found.mean_lift_rpm, strict=True):
            omega = math.sqrt(grams * 1e-3 * 9.80665 / per_omega2)
            assert rpm == pytest.approx(omega * 60 / (2 * math.pi), rel=2e-5)


def test_tip_speed_by_hand(options: Comparison) -> None:
    """Omega R cos beta at the rpm that carries it, of blades 0.8 m long that rise by 2 deg."""
    for column in options.columns:
        found = figures(column)
        for rpm, tip in zip(found.rpm, found.tip_speed_m_s, strict=True):
            assert tip == pytest.approx(rpm * 2 * math.pi / 60 * 0.8 * math.cos(math.radians(2)), rel=1e-9)


def test_pull_at_the_root_line_by_line(options: Comparison, alone: dict[str, Craft]) -> None:
    """F = sum of m r Omega^2 over the lines of one blade, in kg, m and rad/s."""
    for column in options.columns:
        found, mass = figures(column), alone[column.name].mass
        for end in range(3):
            omega = found.rpm[end] * 2 * math.pi / 60
            lines = [line for line in mass.lines if line.assembly == "blade"]
            newtons = math.fsum(line.set_g[end] / 1000 * line.place_mm[0] / 1000 * omega**2 for line in lines)
            assert found.root_pull_n[end] == pytest.approx(newtons, rel=1e-9)
        assert found.root_pull_n[1] == pytest.approx(
            found.blade_g.typical * 1e-3 * found.cg_out_mm.typical * 1e-3 * (found.rpm[1] * math.pi / 30) ** 2, rel=1e-9
        )


def test_kinds_add_up_to_the_blade(options: Comparison) -> None:
    for column in options.columns:
        found = figures(column)
        for end, grams in enumerate(ends(found.blade_g)):
            assert math.fsum(kind.mass_g[end] for kind in found.kinds) == pytest.approx(grams, rel=1e-12)


def test_cuts_parts_and_glue_counted_another_way(options: Comparison, alone: dict[str, Craft]) -> None:
    """Length of cuts by shapely's own perimeters of finely flattened outlines; counts over the parts."""
    for column in options.columns:
        found, craft = figures(column), alone[column.name]
        cuts, pieces = 0.0, 0
        for part in craft.as_cut:
            sets = part.count * (2 if part.assembly == "blade" else 1)
            if part.assembly == "bench" or part.role == "glue":
                continue
            pieces += sets
            if isinstance(part.shape, Flat) and not part.stock.startswith("print"):
                cuts += sets * part.shape.region.to_shapely(1e-4).length
        assert found.cut_mm == pytest.approx(cuts, rel=1e-5)
        assert found.pieces == pieces
        glue = math.fsum(2 * line.set_g[1] for line in craft.mass.lines if line.role == "glue")
        assert found.glue_g[1] == pytest.approx(glue, rel=1e-12)


# Differences


def by_name(comparison: Comparison) -> dict[str, Difference]:
    return {one.option: one for one in comparison.differences}


def test_differences_add_up_to_the_craft(options: Comparison) -> None:
    """Line by line, and kind by kind, to the difference of the two statements' sums."""
    base = figures(options.columns[0]).craft_g.typical
    for column in options.columns[1:]:
        one = by_name(options)[column.name]
        craft = figures(column).craft_g.typical
        lines = [line for kind in one.kinds for line in kind.lines]
        assert math.fsum(line.difference_g for line in lines) == pytest.approx(craft - base, abs=1e-9)
        assert one.difference_g == pytest.approx(craft - base, abs=1e-9)
        assert one.base_g == pytest.approx(base, abs=1e-9) and one.option_g == pytest.approx(craft, abs=1e-9)
        sizes = [abs(kind.difference_g) for kind in one.kinds]
        assert sizes == sorted(sizes, reverse=True)
        for kind in one.kinds:
            assert kind.difference_g == pytest.approx(math.fsum(line.difference_g for line in kind.lines), abs=1e-12)
            inner = [abs(line.difference_g) for line in kind.lines]
            assert inner == sorted(inner, reverse=True)


def test_the_line_that_makes_a_difference_is_named(options: Comparison) -> None:
    """The rear spar taken away is gone, weighs what it weighed on both blades; with it the wood glue that held it, for
    the tube has another; nothing else is gone."""
    one = by_name(options)["ply_ribs_no_rear"]
    lines = [line for kind in one.kinds for line in kind.lines]
    gone = [line for line in lines if line.stock is None]
    assert [line.name for line in gone] == ["spar rear", "glue spars to ribs"]
    length = 0.92 * 800 - 130  # of its r; the strip lies a little askew, and is some tenths longer
    assert -gone[0].difference_g == pytest.approx(2 * length * 18 * 440e-6, rel=2e-3)
    ribs = next(kind for kind in by_name(options)["ply_ribs"].kinds if kind.role == "rib")
    changed = [line for line in ribs.lines if line.base_stock != line.stock]
    assert by_name(options)["ply_ribs"].kinds[0] is ribs and ribs.lines[: len(changed)] == tuple(changed)
    assert len(changed) > 5 and {(line.base_stock, line.stock) for line in changed} == {("balsa_3", "ply_2")}


def test_ribs_are_matched_though_fewer_have_fewer_digits(compared: Callable[..., Comparison]) -> None:
    """Three ribs and eight are told as R1 to R9, fourteen as R01 to R14: what stands at the root is there in both."""
    wide = "[option.wide]\nblade.ribs.rest.every = 200\n"
    found = compared("lantern", wide, options=["base", "wide"])
    ribs = next(kind for kind in found.differences[0].kinds if kind.role == "rib")
    first = next(line for line in ribs.lines if line.name == "rib R01")
    assert first.base_stock == first.stock == "ply_2" and first.difference_g == pytest.approx(0.0, abs=1e-9)


def test_every_option_of_the_demo_is_buildable_and_adds_up(shipped: Comparison) -> None:
    assert shipped.status == 0, [column.faults for column in shipped.columns]
    base = figures(shipped.columns[0]).craft_g.typical
    for one, column in zip(shipped.differences, shipped.columns[1:], strict=True):
        lines = [line.difference_g for kind in one.kinds for line in kind.lines]
        assert math.fsum(lines) == pytest.approx(figures(column).craft_g.typical - base, abs=1e-9)


# Which are compared


@pytest.mark.parametrize(
    ("options", "base", "expected"),
    [
        (None, None, ["base", "light_ribs", "ply_ribs", "ply_ribs_no_rear"]),
        (["ply_ribs", "light_ribs"], None, ["ply_ribs", "light_ribs"]),
        (["ply_ribs", "base", "light_ribs"], "light_ribs", ["light_ribs", "ply_ribs", "base"]),
        (["ply_ribs"], "base", ["base", "ply_ribs"]),
        (None, "ply_ribs", ["ply_ribs", "base", "light_ribs", "ply_ribs_no_rear"]),
    ],
)
def test_order(options: list[str] | None, base: str | None, expected: list[str], file: Read) -> None:
    assert list(chosen(file(None), options, base)) == expected


def test_names_that_are_not_there_are_told_at_once(file: Read) -> None:
    with pytest.raises(DesignError) as raised:
        chosen(file(None), ["ply_rib", "ply_ribs", "ply_ribs"], "x")
    told = [str(fault) for fault in raised.value.faults]
    assert len(told) == 3 and 'do you mean "ply_ribs"?' in told[0] and "twice" in told[1] and "--base x" in told[2]
    with pytest.raises(DesignError):
        chosen(file(None), [])


def test_an_option_that_can_not_be_built_is_told_and_the_others_compared(with_broken: Comparison) -> None:
    base, holed, fewer = with_broken.columns
    assert with_broken.status == holed.status == 3 and base.status == fewer.status == 0
    assert holed.figures is None
    (lost,) = [fault for fault in holed.faults if "leaves the section" in fault.wrong]
    assert lost.path.endswith("blade.channel.power") and lost.file == "mine.toml" and lost.line
    assert [one.option for one in with_broken.differences] == ["fewer"]
    assert with_broken.differences[0].difference_g < 0


def test_no_differences_from_a_base_that_can_not_be_built(compared: Callable[..., Comparison]) -> None:
    found = compared("starter", "[option.holed]\nblade.channel.power.chord = 0.97\n", options=["holed", "base"])
    assert found.base == "holed" and found.columns[1].figures is not None and not found.differences


def test_another_number_of_blades_counts_in_the_difference(compared: Callable[..., Comparison]) -> None:
    found = compared("lantern", "[option.three]\nrotor.blades = 3\n", options=["base", "three"])
    two, three = (figures(column) for column in found.columns)
    assert found.differences[0].difference_g == pytest.approx(three.craft_g.typical - two.craft_g.typical, abs=1e-9)
    ribs = next(kind for kind in found.differences[0].kinds if kind.role == "rib")
    assert ribs.option_g == pytest.approx(1.5 * ribs.base_g)


def test_a_clockwise_craft_compares_as_its_twin(compared: Callable[..., Comparison]) -> None:
    """Letters stay upright, so what a cap's engraving takes sits elsewhere: 0.002 mm of the blade's centre."""
    asked = {"options": ["base", "ply_ribs"]}
    ours = compared("lantern", OPTIONS, ('"anticlockwise"', '"clockwise"'), **asked)
    twin = compared("lantern", OPTIONS, **asked)
    for mine, other in zip(ours.columns, twin.columns, strict=True):
        a, b = figures(mine), figures(other)
        assert ends(a.cg_forward_mm) == pytest.approx(ends(b.cg_forward_mm), abs=0.01) and a.rpm == pytest.approx(b.rpm)
        assert a.cut_mm == pytest.approx(b.cut_mm) and [n.sheets for n in a.needs] == [n.sheets for n in b.needs]
    assert ours.differences[0].difference_g == pytest.approx(twin.differences[0].difference_g)


# Work is shared


def test_options_share_what_their_change_leaves_alone(file: Read, keep: pathlib.Path) -> None:
    cache = Cache(keep)
    first, second = (Craft(file(name).design, cache=cache) for name in (None, "ply_ribs"))
    shared = [stage.name for stage in Craft.stages() if first.outcome(stage) is second.outcome(stage)]
    assert {"Craft.blade", "Craft.sections", "Craft.air"} <= set(shared)
    assert not {"Craft.rib_places", "Craft.layout", "Craft.ribs", "Craft.mass"} & set(shared)


@pytest.mark.parametrize(
    ("key", "value"),
    [("rotor.radius", "810"), ("pitch.zero_at", '"70 %"'), ("blade.feather.chord", "0.26")],
)
def test_another_planform_is_lofted_anew(key: str, value: str) -> None:
    text, cache = bare("lantern") + f"\n[option.other]\n{key} = {value}\n", Cache()
    first, other = (Craft(read_text(text, "x.toml", name).design, cache=cache) for name in (None, "other"))
    assert first.blade is not other.blade


def test_comparing_draws_nothing_and_builds_no_solid_that_is_kept(keep: pathlib.Path) -> None:
    """In a fresh interpreter: neither matplotlib nor the kernel is loaded where every hub is kept."""
    names = ["base", demo().options[-1]]
    compare(demo(), names, cache=Cache(keep))
    code = (
        "import sys, pathlib\nfrom geomgen.cache import Cache\nfrom geomgen.study.comparison import compare\n"
        "from geomgen.design.library import demo\n"
        "from geomgen.render.text import page_text\nfrom geomgen.views.compare import compare_page\n"
        f"found = compare(demo(), {names}, cache=Cache(pathlib.Path({str(keep)!r})))\n"
        "print(len(page_text(compare_page(found))) > 1000)\n"
        "print([name for name in ('cadquery', 'OCP', 'matplotlib') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=300, check=False)
    assert done.stdout.split("\n")[:2] == ["True", "[]"], done.stderr

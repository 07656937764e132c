"""Every way of building refuses what can't be made: part, place, value, limit and remedy; just inside it passes.

Each case is an option laid over an example, and one step of its craft. The figures that are said are checked against
plain arithmetic, or against the source named beside them.
"""

from __future__ import annotations

import math
import pathlib
import re
from dataclasses import dataclass

import pytest

from geomgen.cli import main
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.errors import DesignError, Fault, GeomgenError, MakeError
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.structure.spars.straying import straying
from geomgen.structure.wire import wires

NAME = "mine.toml"
FEW = {"starter": "blade.ribs.outer.every = 290", "lantern": "blade.ribs.rest.every = 190"}
MM = r"([\d.]+) mm"

# The starter's blade: NACA 4415 of 180 mm at r 120, 150 mm at r 700, under foam of 2 mm. The lantern's: 4415 of 210 mm
# at r 130, 4414 of 150 mm at r 800; its frame ends at 782.
NOSE_MM = 1.1019 * 0.15**2 * 150  # NACA report 460, from memory: nose radius 1.1019 t2 of the chord; camber takes some


def half_depth(x: float, t: float) -> float:
    """NACA report 460, from memory: half the depth of a four-digit section [chord]."""
    return 5 * t * (0.2969 * math.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)


def starter_mm(r_mm: float) -> float:
    return 180 - 30 * (r_mm - 120) / 580


def lantern_mm(r_mm: float) -> float:
    return 210 - 60 * (r_mm - 130) / 670


ROOF_MM = (0.04 + half_depth(0.41, 0.1424)) * lantern_mm(636.5)


@dataclass(frozen=True)
class Case:
    """One thing that can't be made.

    on     : example, and the option of it that is built on; "" for the design as it stands
    step   : what of the craft is drawn; "straying" for lines that leave the section, "wires"
    over   : what is laid over it
    inside : what is laid over it instead, and passes
    path   : key path that is blamed, and a text in its line; the last such line
    says   : expressions in what is wrong: the part, the place
    value  : expression with the figure that is wrong, what it is, and how near [mm]
    limit  : expression with the figure that is allowed, what it is, and how near [mm]; or words
    remedy : words of the remedy
    """

    on: tuple[str, str]
    step: str
    over: str
    inside: str
    path: tuple[str, str]
    says: tuple[str, ...]
    value: tuple[str, float, float]
    limit: tuple[str, float, float] | str
    remedy: str


STARTER, LANTERN = ("starter", ""), ("lantern", "")
FILM, BALSA, BOARD = ("lantern", "film"), ("lantern", "balsa"), ("lantern", "foam_board")
CHANNEL, SKIN = ("blade.channel.power", "[blade.channel.power]"), ("blade.skin.all", "[blade.skin.all]")
STRIP = 'nose  = { stock = "balsa_8x22"', 'tail  = { stock = "balsa_18x8"'
COVERED = "option.film.blade.construction"
LARGEST = "blade.channel.power.passes.largest"


def skin(of: str, mm: float) -> str:
    return (
        f'blade.skin.all.stock = "own"\nstock.own = {{ kind = "sheet", of = "{of}", thickness = {mm}, grain = "long" }}'
    )


def rear(chord: float) -> str:
    stock = 'stock.own = { kind = "length", of = "spruce", width = 3, height = 6 }'
    return f'blade.spar.rear = {{ stock = "own", chord = {chord} }}\n{stock}'


def notch(height: str) -> str:
    caps = "blade.spar.caps = { web = false, chord = [0.3, 0.42], layers = ['90 %'] }"
    return f'{caps}\nblade.channel.power.height = ["camber", "{height}"]'


def caps(chord: float, layers: int = 1) -> str:
    return f"blade.spar.caps = {{ web = false, chord = {chord}, layers = {['90 %'] * layers} }}"


def sheet(chord: float, web: float = 2) -> str:
    own = f'blade.spar.own = {{ kind = "sheet", stock = "balsa_2", chord = {chord}, to = "90 %" }}'
    return f"blade.spar.caps = false\nblade.construction.web = {web}\n{own}"


CASES = {
    # On the camber line, which isn't straight: 0.1 mm.
    "ligament between holes": Case(
        STARTER, "ribs", "blade.channel.power.chord = [0.38, 0.315]", "blade.channel.power.chord = [0.38, 0.321]",
        CHANNEL, ("wood to blade.spar.main", "rib R5", r"r 672\.0 mm"),
        (f"leaves {MM}", (0.315 - 0.25) * starter_mm(672) - 8.1 / 2 - 9 / 2, 0.1), (f"{MM} needed", 2, 0), "move one",
    ),
    "ligament to the edge": Case(
        STARTER, "ribs", "blade.channel.power.chord = [0.38, 0.65]", "blade.channel.power.chord = [0.38, 0.6]",
        CHANNEL, ("wood to the edge", "rib R5", r"r 672\.0 mm"),
        (f"leaves {MM}", half_depth(0.65, 0.15) * starter_mm(672) - 2 - 9 / 2, 0.12), (f"{MM} needed", 2, 0), "smaller",
    ),
    # Rib R6, r 636.5: camber 4 of 100 and half the depth at 0.41 of 164.6 mm, less film of 0.03, a strip of 2 mm. The
    # channel's middle is on the camber, 8.38 mm, at the root, and 10 mm up at r 768; its radius is 4.5 mm.
    "ligament to a cap's notch": Case(
        FILM, "ribs", notch("10 mm"), notch("9.5 mm"), CHANNEL, ("wood to blade.spar.caps", "rib R6", r"r 636\.5 mm"),
        (f"leaves {MM}", ROOF_MM - 2.03 - (8.38 + 1.62 * 506.5 / 638) - 4.5, 0.15), (f"{MM} needed", 2, 0), "move one",
    ),
    "bend radius, balsa": Case(
        STARTER, "skins", skin("balsa", 0.5), skin("balsa", 0.38), SKIN, ("r 700 mm",),
        (f"bends to {MM} inside", NOSE_MM - 0.5, 0.15), (r"\(([\d.]+) at best\)", 8 * 0.5, 0), "a strip",
    ),
    # AC 43.13-1B table 1-2, read, in inches: 0.035 thick 0.1, 0.070 thick 0.4, soaked, face grain along the bend.
    "bend radius, ply": Case(
        STARTER, "skins", skin("birch ply", 1.0), skin("birch ply", 0.8), SKIN, ("r 700 mm",),
        (f"bends to {MM} inside", NOSE_MM - 1, 0.15),
        (f"{MM} soaked", 0.1 / 0.035 + (1 / 25.4 - 0.035) / 0.035 * (0.4 / 0.070 - 0.1 / 0.035), 0.06), "thinner",
    ),
    "skin thicker than the nose is round": Case(
        STARTER, "skins", "stock.foam_sheet_2.thickness = 3.7",
        'stock.foam_sheet_2.thickness = 3.5\npitch.fixing.screw = "M2"', SKIN, ("r 700 mm",),
        (f"its {MM} are thicker", 3.7, 0), (f"less than {MM}", NOSE_MM, 0.15), "a thinner sheet",
    ),
    # Three wires of 2.6 mm: 1.2 sqrt(3) 2.6 across, bent to ten times that, from 11.1 mm deep: sqrt(2 R h - h2).
    "opening too short for the wires' bend": Case(
        STARTER, "wires", "blade.channel.power.exit.length = 38", "blade.channel.power.exit.length = 38.3",
        ("option.t.blade.channel.power.exit.length", "length = 38"), ("lower side", "r 672 mm", "no less than 54 mm"),
        (f"come out over {MM}", math.sqrt(2 * 54.04 * 11.1 - 11.1**2) + 5.404, 0.15),
        (f"at least {MM}", 38.3, 0.1), "a longer opening",
    ),
    "tube too short": Case(
        STARTER, "spars", "stock.carbon_tube_8.length = 669.9", "stock.carbon_tube_8.length = 670",
        ("blade.spar.main.stock", 'stock = "carbon_tube_8"'), ("spar main", "r 30 to 700 mm"),
        (f"is {MM} long", 700 - 30, 0), (f"at most {MM}", 669.9, 0), "or a joint",
    ),
    "caps too short": Case(
        BALSA, "spars", "stock.spruce_2x5.length = 589",
        'stock.spruce_2x5.length = 589\nblade.spar.caps.joint = { kind = "scarf" }',
        ("option.balsa.blade.spar.caps.stock", "blade.spar.caps ="), ("spar caps (upper|lower) 1", "r 130 to 720 mm"),
        (f"is {MM} long", 590, 0.3), (f"at most {MM}", 589, 0), "scarf",
    ),
    # Along the tail's line: 652 mm out; of a chord 60 mm less at 670, three quarters lie behind the axis.
    "tail strip too short": Case(
        FILM, "covering", "stock.balsa_18x8.length = 653", "stock.balsa_18x8.length = 653.7",
        (f"{COVERED}.tail.stock", STRIP[1]), ("tail strip",),
        (f"is {MM} long", math.hypot(652, 45 * 652 / 670), 0.5), (f"at least {MM}", 653.6, 0.2), "a longer stock",
    ),
    "tail strip too narrow": Case(
        FILM, "covering", "stock.balsa_18x8.width = 17", "stock.balsa_18x8.width = 17.9",
        (f"{COVERED}.tail.stock", STRIP[1]), ("tail strip", r"r \d+ mm"),
        (f"takes {MM} of the chord", 18, 0.1), (f"at least {MM}", 17.8, 0.11), "a wider stock",
    ),
    "nose strip too low": Case(
        FILM, "covering", "stock.balsa_8x22.height = 17", "stock.balsa_8x22.height = 17.8",
        (f"{COVERED}.nose.stock", STRIP[0]), ("nose strip", "r 130 mm"),
        (f"is {MM} high at", 2 * half_depth(8 / 210, 0.15) * 210, 0.6), (f"at least {MM}", 17.8, 0.1), "smaller",
    ),
    # The section gets 6 mm thin 18.3 mm ahead of its tail there.
    "tail too thin for its strip": Case(
        FILM, "covering", "blade.construction.least_tail = 6", "blade.construction.least_tail = 5.9",
        (f"{COVERED}.tail.width", STRIP[1]), ("rib R8", r"r 781\.0 mm", "thinner than 6 mm"),
        (f"ends {MM} away", 18.3 - 18, 0.06), (f"at least {MM}", 18.3, 0.06), "a wider strip",
    ),
    "spar that leaves the section": Case(
        STARTER, "straying", rear(0.9), rear(0.85), ("option.t.blade.spar.rear", "blade.spar.rear ="), (r"r 5\d\d mm",),
        (f"by {MM}", 1.5 - (half_depth(0.9, 0.15) * starter_mm(523) - 2), 0.6), "within the skin", "end it sooner",
    ),
    # r 720, where they end: 4414.1 of 157.2 mm; film of 0.03 and five strips of 2 mm on both sides, which lean.
    "caps that leave too little": Case(
        FILM, "spars", caps(0.32, 5), caps(0.32, 4), ("option.t.blade.spar.caps.layers", "layers ="),
        ("5 of 2 mm above and below", "r 720 mm"),
        (f"leave {MM}", 2 * half_depth(0.32, 0.1412) * lantern_mm(720) - 20.06, 0.3), (f"at least {MM}", 2, 0), "fewer",
    ),
    "caps that meet": Case(
        FILM, "spars", caps(0.32, 6), caps(0.32, 4), ("option.t.blade.spar.caps.layers", "layers ="),
        ("above and below meet", "r 720 mm"), (r"(\d) of 2 mm", 6, 0), (f"at least {MM}", 2, 0), "fewer",
    ),
    "caps that leave the section": Case(
        FILM, "spars", caps(0.95), caps(0.85), ("option.t.blade.spar.caps.chord", "chord = 0.95"), ("caps", "r 130 mm"),
        (f"to {MM} behind", 0.95 * 210 + 2.5, 0.05), (f"and {MM}, where", 210 - 18, 0.05), "another chord",
    ),
    # NACA 4414.4, folded: what the flats leave is up to 1 mm less than the section; board of 3 mm, 2 mm of former.
    "box too deep": Case(
        BOARD, "spars", "blade.spar.box.chord = 0.65", "blade.spar.box.chord = 0.62",
        ("option.foam_board.blade.spar.box", "blade.spar.box "), ("r 560 mm",),
        (f"leaves it {MM}", 2 * half_depth(0.65 + 12 / lantern_mm(560), 0.1436) * lantern_mm(560) - 8, 1.5),
        (f"twice its sheet, {MM}", 6, 0), "a thinner sheet",
    ),
    "box that leaves the section": Case(
        BOARD, "spars", "blade.spar.box.chord = 0.9", "blade.spar.box.chord = 0.6",
        ("option.t.blade.spar.box.chord", "chord = 0.9"), ("r 140 mm",),
        (f"to {MM} behind", 0.9 * lantern_mm(140) + 12, 0.05), (f"and {MM}, where", 181.7, 3), "end it sooner",
    ),
    "upright sheet that leaves the section": Case(
        FILM, "spars", sheet(0.98), sheet(0.85), ("option.t.blade.spar.own.chord", "chord = 0.98"), ("r 130 mm",),
        (f"to {MM} behind", 0.98 * 210 + 1, 0.05), (f"and {MM}, where", 210 - 18, 0.05), "another chord",
    ),
    # Straight through 1.41 of ten: 157.2 mm at r 720; half of what is under film of 0.03 mm.
    "upright sheet halved too thin": Case(
        FILM, "spars", sheet(0.8, 5), sheet(0.8, 4.6),
        ("option.t.blade.spar.own", "chord = 0.8"), ("halved at r 720 mm",),
        (f"leaves {MM}", half_depth(0.8, 0.1412) * lantern_mm(720) - 0.03, 0.15), (f"at least {MM}", 5, 0), "farther",
    ),
    "skins that leave no rib": Case(
        STARTER, "bare_ribs", "stock.foam_sheet_2.thickness = 13",
        "stock.foam_sheet_2.thickness = 8\nblade.spar.main.to = 300\nblade.channel.power.to = 300",
        ("blade.ribs.outer", "[blade.ribs.outer]"), (r"r 4\d\d\.\d mm",),
        (f"skins, {MM} on", 13, 0), (f"more than {MM} deep", 2 * 13 + 2.5, 0), "a thinner skin",
    ),
    # Judged before anything is drawn: 1.2 sqrt(3) 4 mm across, and 1.25 times that (FAA AC 43.13-1B, 11-249, read).
    "bundle too full": Case(
        STARTER, "blade", "wire.fan.outside = 4", "wire.fan.outside = 3.4",
        ("blade.channel.power.diameter", "diameter = 9"), (),
        (f"bundle of {MM}", 1.2 * math.sqrt(3) * 4, 1e-3), (f"at least {MM}", 1.5 * math.sqrt(3) * 4, 1e-3), "second",
    ),
    "plug that won't pass": Case(
        STARTER, "blade", f'{LARGEST} = "8.9 mm"', f'{LARGEST} = "8.8 mm"',
        ("blade.channel.power.diameter", "diameter = 9"), (),
        (f"must pass {MM}", 8.9, 0), (f"at least {MM}", 8.9 + 0.2, 1e-9), "a wider channel",
    ),
    "tail thinner than can be cut": Case(
        STARTER, "blade", "blade.construction.least_tail = 0.19", "blade.construction.least_tail = 0.2",
        ("option.t.blade.construction.least_tail", "least_tail = 0.19"), ("tail",),
        (f"= {MM.removesuffix(' mm')}", 0.19, 0), (f"at least {MM}", 0.2, 0), "end sooner",
    ),
}  # fmt: skip
TRAPPED = {
    "the half on the feet's side goes on first": (
        LANTERN, 'blade.construction.first = "lower"', ("blade.jig.foot", "foot  = 8"), "its lower half goes on first",
        'blade.construction.first = "lower"\nblade.jig.side = "upper"',
    ),
    "folded round them": (
        BOARD, "blade.jig.foot = 8", ("option.t.blade.jig.foot", "blade.jig.foot = 8"), "folded round them",
        "blade.jig.clear = 9",
    ),
    "in a core": (
        BOARD, 'blade.jig.foot = 8\nblade.construction = { kind = "core", stock = "print_petg", template = "ply_3" }',
        ("option.t.blade.jig.foot", "blade.jig.foot = 8"), "core",
        'blade.construction = { kind = "core", stock = "print_petg", template = "ply_3" }',
    ),
}  # fmt: skip


def text_of(on: tuple[str, str], over: str) -> str:
    """An example's text with one more option, `t`."""
    example, option = on
    like = f'like = "{option}"\n' if option else ""
    return f"{example_path(example).read_text(encoding='utf-8')}\n[option.t]\n{like}{FEW[example]}\n{over}\n"


def line_of(text: str, part: str) -> int:
    """The last line that holds a text, from 1."""
    return max(number for number, line in enumerate(text.split("\n"), 1) if part in line)


def faults_of(on: tuple[str, str], step: str, over: str) -> list[Fault]:
    """What one step of a craft finds wrong, each with its line; none where it passes."""
    try:
        file = read_text(text_of(on, over), NAME, "t")
    except DesignError as error:
        return list(error.faults)
    craft = Craft(file.design, example_path(on[0]).parent)
    try:
        if step == "straying":
            return file.located(MakeError(straying(craft.layout)))
        if step == "wires":
            wires(craft.layout, ()).read()
        else:
            getattr(craft, step)
    except GeomgenError as error:
        return file.located(error)
    return []


def said(pattern: str, words: str) -> float:
    """The one figure that an expression finds in what is said."""
    found = re.search(pattern, words)
    assert found, f"{pattern!r} is not in: {words}"
    return float(found[1])


@pytest.mark.parametrize("name", CASES)
def test_what_cant_be_made_is_told_with_part_place_value_limit_and_remedy(name: str) -> None:
    case = CASES[name]
    faults = faults_of(case.on, case.step, case.over)
    fault = next((fault for fault in faults if fault.path == case.path[0]), None)
    assert fault is not None, "\n".join(map(str, faults))
    assert fault.line == line_of(text_of(case.on, case.over), case.path[1]) and fault.file == NAME
    words = str(fault)
    assert [pattern for pattern in case.says if not re.search(pattern, words)] == [], words
    pattern, expected, near = case.value
    assert said(pattern, words) == pytest.approx(expected, abs=near + 1e-9)
    if isinstance(case.limit, str):
        assert case.limit in fault.allowed
    else:
        assert said(case.limit[0], words) == pytest.approx(case.limit[1], abs=case.limit[2] + 1e-9)
    assert case.remedy in f"{fault.remedy} {fault.allowed}", words


@pytest.mark.parametrize("name", CASES)
def test_just_inside_the_limit_it_passes(name: str) -> None:
    case = CASES[name]
    assert faults_of(case.on, case.step, case.inside) == []


@pytest.mark.parametrize("name", TRAPPED)
def test_feet_under_a_skin(name: str) -> None:
    on, over, (path, part), why, inside = TRAPPED[name]
    faults = faults_of(on, "blade", over)
    (fault,) = [fault for fault in faults if "trapped" in fault.wrong]
    assert (fault.path, fault.value) == (path, "8") and fault.line == line_of(text_of(on, over), part)
    assert "under the skin" in fault.wrong and why in fault.wrong and fault.remedy
    assert [fault for fault in faults_of(on, "blade", inside) if "feet" in fault.wrong] == []


def test_a_rib_too_small_to_letter_says_what_is_left_off() -> None:
    """A chord of 50 mm leaves 7.5 - 4 mm of rib under foam of 2 mm: less than letters of 2 mm, 1 mm clear of edges."""
    inner = 'blade.spar.main.to = 300\nblade.channel.power.to = "40 %"'

    def last(chord: int) -> Part:
        entries = [
            f'{{ at = "{at}", chord = {mm}, section = "naca 4415" }}' for at, mm in (("root", 180), ("tip", chord))
        ]
        over = f"blade.along = [{', '.join(entries)}]\n{inner}"
        finished = Craft(read_text(text_of(STARTER, over), NAME, "t").design).outcome(Craft.finished).value
        return [part for part in finished if part.role == Role.RIB][-1]  # also where the skin doesn't go round the nose

    small, large = last(50), last(150)
    assert small.name == "rib R6" and small.r_mm == pytest.approx(700 - 1.5)
    words = next(note for note in small.notes if "left off" in note)
    assert "R6, r 698, ROOT SIDE" in words and "letters of 2 mm" in words
    assert not any("left off" in note for note in large.notes)


def test_a_sheet_too_small_is_joined_and_film_too_small_is_told() -> None:
    """No fault, as both can be made: sheets edge to edge, film in panels."""
    wide = {}
    for width in (300, 400):
        file = read_text(text_of(STARTER, f"stock.foam_sheet_2.size = [600, {width}]"), NAME, "t")
        (wide[width],) = Craft(file.design).skins
    around = wide[400].facts["girth_root_mm"]
    assert 300 < around < 400
    assert (wide[300].facts["sheets"], wide[400].facts["sheets"]) == (2, 1)
    assert any("2 sheets side by side" in note for note in wide[300].notes)
    assert not any("side by side" in note for note in wide[400].notes)
    file = read_text(text_of(FILM, "stock.film.size = [600, 300]\nstock.balsa_1.size = [1000, 160]"), NAME, "t")
    panels = Craft(file.design).finished_of(Role.FILM)
    assert panels and all(any("too large for" in note and "600 x 300 mm" in note for note in p.notes) for p in panels)


COMMANDS = {"bundle too full": 2, "tail too thin for its strip": 3, "caps that leave the section": 3}


@pytest.mark.parametrize("name", COMMANDS)
def test_the_command_says_so_with_its_line_and_status(
    name: str, tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]
) -> None:
    case = CASES[name]
    text = text_of(case.on, case.over)
    file = tmp_path / NAME
    file.write_text(text, encoding="utf-8")
    assert main(["check", str(file), "--option", "t"]) == COMMANDS[name]
    err = capsys.readouterr().err
    assert f"{file}:{line_of(text, case.path[1])} {case.path[0]}" in err and case.remedy in err

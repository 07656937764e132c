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
from geomgen.errors import DesignError, Fault, GeomgenError
from geomgen.parts.route_check import straying

NAME = "mine.toml"
FEW = {"starter": "blade.ribs.outer.every = 290", "lantern": "blade.ribs.rest.every = 190\nblade.jig = false"}

# The starter's blade: NACA 4415 of 180 mm at r 120, 150 mm at r 700. The lantern's: 4415 of 210 mm at r 130, 4414 of
# 150 mm at r 800; its frame ends at 782.
NOSE_MM = 1.1019 * 0.15**2 * 150  # NACA report 460, from memory: nose radius 1.1019 t2 of the chord; camber takes some


def chord_starter(r_mm: float) -> float:
    return 180 - 30 * (r_mm - 120) / 580


@dataclass(frozen=True)
class Case:
    """One thing that can't be made.

    on      : example, and the option of it that is built on ("" for none)
    step    : what of the craft is drawn; "straying" for lines that leave the section
    over    : what is laid over it
    path    : key path that is blamed, and a text in its line and in no other
    says    : expressions in what is wrong: the part where the path doesn't name it, the place
    value   : expression with the figure that is wrong, what it is, and how near
    limit   : expression with the figure that is allowed, what it is, and how near
    remedy  : a word of the remedy
    inside  : what is laid over it instead, and passes
    """

    on: tuple[str, str]
    step: str
    over: str
    path: tuple[str, str]
    says: tuple[str, ...]
    value: tuple[str, float, float]
    limit: tuple[str, float, float]
    remedy: str
    inside: str


MM = r"([\d.]+) mm"
STARTER, FILM, BALSA, BOARD = ("starter", ""), ("lantern", "film"), ("lantern", "balsa"), ("lantern", "foam_board")


def of_sheet(of: str, thickness: float) -> str:
    return f'stock.own = {{ kind = "sheet", of = "{of}", thickness = {thickness}, grain = "long" }}\nblade.skin.all.stock = "own"'


CAPS = "blade.spar.caps.web = false\nblade.spar.caps.chord = [0.3, 0.42]\nblade.spar.caps.layers = ['90 %']\n"
BOX_LINE = "blade.spar.box  ="
CASES = {
    # Ligaments: on the camber line, hole to hole, less both radii; the camber line isn't straight, so 0.1 mm.
    "ligament between holes": Case(
        STARTER, "ribs", "blade.channel.power.chord = [0.38, 0.315]", ("blade.channel.power", "[blade.channel.power]"),
        ("wood to blade.spar.main", "rib R5", r"r 672\.0 mm"),
        (f"leaves {MM} of wood", (0.315 - 0.25) * chord_starter(672) - 8.1 / 2 - 9 / 2, 0.1),
        (f"{MM} needed", 2.0, 0.0), "move one of them", "blade.channel.power.chord = [0.38, 0.321]",
    ),
    # Depth of a four-digit section at 0.65 of its chord: 5 t (.2969 sqrt x - .126 x - .3516 x2 + .2843 x3 - .1015 x4),
    # twice; the rib is two skins of 2 mm less deep, the hole is round in its middle.
    "ligament to the edge": Case(
        STARTER, "ribs", "blade.channel.power.chord = [0.38, 0.65]", ("blade.channel.power", "[blade.channel.power]"),
        ("wood to the edge", "rib R5", r"r 672\.0 mm"),
        (f"leaves {MM} of wood", 0.0622 * chord_starter(672) - 2 - 9 / 2, 0.25),
        (f"{MM} needed", 2.0, 0.0), "make it smaller", "blade.channel.power.chord = [0.38, 0.6]",
    ),
    # 0.5 mm higher than what passes by: the wood is so much thinner, but for the slope of the notch.
    "ligament to a cap's notch": Case(
        FILM, "ribs", CAPS + 'blade.channel.power.height = ["camber", "10 mm"]',
        ("blade.channel.power", "[blade.channel.power]"), ("wood to blade.spar.caps", "rib R6", r"r 636\.5 mm"),
        (f"leaves {MM} of wood", 1.7, 0.1), (f"{MM} needed", 2.0, 0.0), "move one of them",
        CAPS + 'blade.channel.power.height = ["camber", "9.5 mm"]',
    ),
    "bend radius, balsa": Case(
        STARTER, "skins", of_sheet("balsa", 0.5), ("blade.skin.all", "[blade.skin.all]"), (r"r 700 mm",),
        (f"bends to {MM} inside", NOSE_MM - 0.5, 0.15), (rf"takes 7.5 mm \(([\d.]+) at best\)", 8 * 0.5, 0.0),
        "strip along the nose", of_sheet("balsa", 0.4),
    ),
    # AC 43.13-1B table 1-2, read, in inches: 0.035 thick 0.1, 0.070 thick 0.4, soaked, face grain along the bend.
    "bend radius, ply": Case(
        STARTER, "skins", of_sheet("birch ply", 1.0), ("blade.skin.all", "[blade.skin.all]"), (r"r 700 mm",),
        (f"bends to {MM} inside", NOSE_MM - 1.0, 0.15),
        (f"{MM} soaked", (0.1 / 0.035) + (1 / 25.4 - 0.035) / 0.035 * (0.4 / 0.070 - 0.1 / 0.035), 0.06),
        "strip along the nose", of_sheet("birch ply", 0.8),
    ),
    "skin thicker than the nose is round": Case(
        STARTER, "skins", "stock.foam_sheet_2.thickness = 3.7", ("blade.skin.all", "[blade.skin.all]"), (r"r 700 mm",),
        (f"its {MM} are thicker", 3.7, 0.0), (f"less than {MM}", NOSE_MM, 0.15), "a thinner sheet",
        "stock.foam_sheet_2.thickness = 3.5",
    ),
    # Three wires of 2.6 mm: 1.2 sqrt(3) 2.6 across, bent to ten times that, from 11.1 mm deep: sqrt(2 R h - h2).
    "opening too short for the wires' bend": Case(
        STARTER, "parts", "blade.channel.power.exit = { length = 38 }",
        ("option.t.blade.channel.power.exit.length", "length = 38"), ("lower side", r"r 672 mm", r"less than 54 mm"),
        (f"come out over {MM}", math.sqrt(2 * 54.04 * 11.1 - 11.1**2) + 5.404, 0.15), (f"at least {MM}", 38.3, 0.1),
        "thinner wires", "blade.channel.power.exit = { length = 38.3 }",
    ),
    "tube too short": Case(
        STARTER, "spars", "stock.carbon_tube_8.length = 648.9", ("blade.spar.main.stock", 'stock = "carbon_tube_8"'),
        ("spar main", r"r 30 to 679 mm"), (f"is {MM} long", 0.97 * 700 - 30, 0.0), (f"at most {MM}", 648.9, 0.0),
        "joint", "stock.carbon_tube_8.length = 649",
    ),
    "caps too short": Case(
        BALSA, "spars", "stock.spruce_2x5.length = 589", ("option.balsa.blade.spar.caps.stock", "blade.spar.caps ="),
        (r"spar caps (upper|lower) 1", r"r 130 to 720 mm"), (f"is {MM} long", 590, 0.3), (f"at most {MM}", 589, 0.0),
        "scarf", 'stock.spruce_2x5.length = 589\nblade.spar.caps.joint = { kind = "scarf" }',
    ),
    # The tail's line: 652 mm out, and the tail of 210 mm moves (210 - 150) 0.75 mm on the way.
    "tail strip too short": Case(
        FILM, "covering", "stock.balsa_18x8.length = 653",
        ("option.film.blade.construction.tail.stock", FILM_TAIL := '[option.film.blade.construction]\nkind  = "covered"'),
        ("tail strip",), (f"is {MM} long", math.hypot(652, 45 * 652 / 670), 0.5), (f"at least {MM}", 653.6, 0.2),
        "a longer stock", "stock.balsa_18x8.length = 653.7",
    ),
    "tail strip too narrow": Case(
        FILM, "covering", "stock.balsa_18x8.width = 17", ("option.film.blade.construction.tail.stock", FILM_TAIL),
        ("tail strip", r"r \d+ mm"), (f"takes {MM} of the chord", 18, 0.1), (f"at least {MM}", 17.8, 0.11),
        "a wider stock", "stock.balsa_18x8.width = 17.9",
    ),
    "nose strip too low": Case(
        FILM, "covering", "stock.balsa_8x22.height = 17", ("option.film.blade.construction.nose.stock", FILM_TAIL),
        ("nose strip", r"r 130 mm"), (f"is {MM} high: ", 17, 0.0), (f"at least {MM}", 17.8, 0.0), "smaller",
        "stock.balsa_8x22.height = 17.8",
    ),
    # Film 0.03 mm; the section is 6 mm deep 18.3 mm ahead of its tail.
    "tail too thin for the strip": Case(
        FILM, "covering", "blade.construction.least_tail = 6", ("option.film.blade.construction.tail.width", FILM_TAIL),
        ("rib R8", r"r 781\.0 mm", "thinner than 6 mm"), (f"ends {MM} away", 0.3, 0.05), (f"at least {MM}", 18.3, 0.05),
        "wider strip", "blade.construction.least_tail = 5.9",
    ),
    "spar that leaves the section": Case(
        STARTER, "straying",
        'stock.own = { kind = "length", of = "spruce", width = 3, height = 6 }\nblade.spar.rear = { stock = "own", chord = 0.9 }',
        ("option.t.blade.spar.rear", "blade.spar.rear ="), (r"r 69\d mm|r 700 mm",), (f"by {MM}", 0.5, 0.45),
        ("(straight) line", math.nan, 0.0), "end it sooner",
        'stock.own = { kind = "length", of = "spruce", width = 3, height = 6 }\nblade.spar.rear = { stock = "own", chord = 0.8 }',
    ),
    "caps that meet": Case(
        FILM, "spars", "blade.spar.caps.layers = ['90 %', '90 %', '90 %', '90 %', '90 %', '90 %']",
        ("option.t.blade.spar.caps.layers", "blade.spar.caps.layers ="), ("6 of 2 mm above and below meet", r"r 720 mm"),
        (r"(\d) of 2 mm", 6, 0.0), (f"at least {MM} left", 2.0, 0.0), "thinner laminations",
        "blade.spar.caps.layers = ['90 %', '90 %', '90 %', '90 %']",
    ),
    "caps that leave the section": Case(
        FILM, "spars", "blade.spar.caps = { kind = 'caps', stock = 'spruce_2x5', chord = 0.95, to = '90 %', web = false }",
        ("option.t.blade.spar.caps.chord", "blade.spar.caps = { kind = 'caps'"), ("caps", r"r 130 mm"),
        (rf"to {MM} behind", 0.95 * 210 + 2.5, 0.05), (rf"and {MM}, where", 210 - 18, 0.05), "another chord",
        "blade.spar.caps = { kind = 'caps', stock = 'spruce_2x5', chord = 0.85, to = '90 %', web = false }",
    ),
}  # fmt: skip

"""No result comes out past a fault that it depends on, whatever is asked for first.

Faults are planted in examples, one at a time. Which results each touches, and which it leaves alone, is written by hand
from what is built of what: a rib that can't be cut is no part of the blade, but the hub is none the worse for it.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

import pytest
from test_faults_of_constructions import BOARD, CASES, FILM, LANTERN, NAME, STARTER, text_of

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.errors import GeomgenError

ORDERS = 20
SHARED = Cache(None)  # what a fault leaves alone is made once for all of them

# What is built of what, from the end: files, and the bench; what turns; what is glued; what is drawn from the layout.
CUT = ("order", "parts", "as_cut", "finished", "names", "skins", "flat_parts", "printed_parts")
WEIGHED = ("mass", "elements", "lifts", "load_path")
BENCH = ("bench_parts", *CUT)
TURNS = ("flying", "hung", *CUT, *WEIGHED)
FRAME = ("frame", "glue", *TURNS)
ON_RIBS = ("blanks", "ribs", "doublers", "covering", "mounts", "bench_parts", *FRAME)
AT_THE_HUB = ("hub_spec", "hub", "held_by", "fittings", *TURNS)
AT_THE_ROOT = ("root_face", "seat", "pattern", "root", "caps", *AT_THE_HUB)
DRAWN = ("layout", "bare_ribs", "spars", "tip", "wires", *AT_THE_ROOT, *ON_RIBS)


@dataclass(frozen=True)
class Planted:
    """One fault.

    on    : example, and the option of it that is built on
    over  : what is laid over it
    path  : key path that is blamed
    stops : results that rest on what is at fault
    spares: results that don't
    told  : whether `check` tells it; what weighing alone finds, it doesn't
    """

    on: tuple[str, str]
    over: str
    path: str
    stops: tuple[str, ...]
    spares: tuple[str, ...]
    told: bool = True


def known(name: str, stops: tuple[str, ...], spares: tuple[str, ...], path: str = "") -> Planted:
    """One that is told with part, place and remedy in `test_faults_of_constructions`."""
    case = CASES[name]
    return Planted(case.on, case.over, path or case.path[0].removeprefix("option.t."), stops, spares)


def root(section: str) -> str:
    tip = '{ at = "tip", chord = 150, twist = "0 deg", section = "naca 4415" }'
    return f'blade.along = [{{ at = "root", chord = 180, twist = "4 deg", section = {section} }}, {tip}]'


OUTLINE, RIBS, HUB = ("blade", "rib_places"), ("bare_ribs", "ribs", "frame"), ("hub_spec", "hub")
CAPS, COVER = "blade.spar.caps", "blade.construction"
TUBE = "stock.carbon_tube_8.length = 400"
SLEEVE = 'stock.rod = { kind = "length", of = "steel", outside = 7 }'
JIG = 'blade.jig = { foot = 8, board = "ply_2", gauge = "ply_2", clear = 3 }'
SECOND = 'rib_stock = "balsa_3" }\nfitting.fan.rib_stock = "ply_2"'
ACROSS = 'kind = "box", stock = "foam_board_3", chord = 0.36, width = 24, from = 140, to = 560'
BLOCK = 'stock.thick = { kind = "sheet", of = "balsa", thickness = 70 }'
MYLAR = 'stock.own = { kind = "length", of = "polyester film, laminating", width = 3, height = 6 }'

PLANTED = {
    # The blade and its layout: all is drawn from them, but the outline stands.
    "a section that isn't there": Planted(
        STARTER, root('{ file = "none.dat" }'), "blade.along[0].section", ("blade", "sections", *DRAWN), ("rib_places",)
    ),
    "two sheets for one rib": Planted(
        STARTER, f'fitting.other = {{ on = "blade", at = 672.5, mass = "3 g", rib = true, {SECOND}',
        "fitting.other.rib_stock", ("rib_places", *DRAWN), ("blade", "sections"),
    ),
    "a doubler in the next rib": Planted(
        STARTER, f'blade.doubler.x = {{ at = "fan", stock = "thick" }}\n{BLOCK}', "blade.doubler.x.at", DRAWN, OUTLINE
    ),
    "a nose rolled too wide": Planted(
        BOARD, "blade.construction.nose_radius = 40", f"{COVER}.nose_radius", ("fold_differences", *DRAWN), ("blade",)
    ),
    "a spar that leaves the section": known("spar that leaves the section", DRAWN, OUTLINE, "blade.spar.rear"),
    "caps that leave too little": known("caps that leave too little", DRAWN, OUTLINE, f"{CAPS}.layers"),
    "caps that leave the section": known("caps that leave the section", DRAWN, OUTLINE, f"{CAPS}.chord"),
    "a box too deep": known("box too deep", DRAWN, OUTLINE, "blade.spar.box"),
    "an upright sheet that leaves the section": known("upright sheet that leaves the section", DRAWN, OUTLINE),
    "a box across the main spar": Planted(
        FILM, f"blade.spar.box = {{ {ACROSS} }}", "blade.spar.box", DRAWN, OUTLINE,
    ),
    "skins that leave no rib": known("skins that leave no rib", DRAWN, OUTLINE, "blade.spar.main"),
    # The ribs: no frame without them, but caps and hub take only the root rib's outline.
    "holes too near": known("ligament between holes", ("ribs", *FRAME), ("layout", "spars", "wires", *HUB)),
    "a hole too near the edge": known("ligament to the edge", ("ribs", *FRAME), ("layout", "spars", "wires", *HUB)),
    "a fan's screws off the rib": Planted(
        STARTER, 'fitting.fan.mount = { screw = "M2", count = 2, circle = 30, first = "90 deg" }', "fitting.fan.mount",
        ("ribs", *FRAME), ("spars", "covering", "caps", "hub"),
    ),
    # What goes on and through them.
    "a skin too stiff": known("bend radius, balsa", ("covering", *FRAME), ("ribs", "spars", "hub", "bench_parts")),
    "a skin that cracks": known("bend radius, ply", ("covering", *FRAME), ("ribs", "spars", "hub", "bench_parts")),
    "a tail strip too short": known("tail strip too short", ("covering", *FRAME), ("ribs", "spars", "hub"),
                                    f"{COVER}.tail.stock"),
    "a nose strip too low": known("nose strip too low", ("covering", *FRAME), ("ribs", "spars", "hub"),
                                  f"{COVER}.nose.stock"),
    "a tail too thin for its strip": known("tail too thin for its strip", ("covering", *FRAME), ("ribs", "spars"),
                                           f"{COVER}.tail.width"),
    "a tube too short": known("tube too short", ("spars", *FRAME), ("ribs", "covering", "wires", "hub")),
    "strips too short": known("caps too short", ("spars", *FRAME), ("ribs", "covering", "hub"), f"{CAPS}.stock"),
    "a sleeve wider than its tube": Planted(
        STARTER, f'{TUBE}\n{SLEEVE}\nblade.spar.main.joint = {{ kind = "sleeve", stock = "rod", length = 40 }}',
        "blade.spar.main.joint.stock", ("spars", *FRAME), ("ribs", "covering", "wires", "hub"),
    ),
    "an opening too short": known("opening too short for the wires' bend", ("wires", *TURNS), ("frame", "glue", "hub"),
                                  "blade.channel.power.exit.length"),
    "glue that melts foam": Planted(
        STARTER, 'glue.kind = "cyanoacrylate"', "glue.kind", ("glue", *TURNS), ("frame", "caps", "hub", "bench_parts")
    ),
    # The root: the frame stands without caps, and the caps without a hub.
    "screws with no room in the root rib": Planted(
        STARTER, 'pitch.fixing = { screw = "M5", count = 4 }', "pitch.fixing.screw",
        ("caps", "held_by", *ON_RIBS), ("layout", "bare_ribs", "seat", "spars", "tip"),
    ),
    "pins with no room": Planted(
        STARTER, "pitch.index_circle = 20", "pitch.index_circle",
        ("pattern", "root", "caps", "hub", "held_by", *TURNS), ("seat", *RIBS, "spars", "glue"),
    ),
    "a cap too thin": Planted(
        STARTER, "pitch.turning_cap.thickness = 1", "pitch.turning_cap.thickness", ("caps", *TURNS), (*RIBS, *HUB)
    ),
    "a channel too near the spar": Planted(
        STARTER, "blade.channel.power.chord = [0.30, 0.42]", "blade.channel.power.chord",
        ("seat", "pattern", "root", "caps", *AT_THE_HUB), ("layout", "bare_ribs", "spars"),
    ),
    "a hub's wall too thin": Planted(STARTER, "hub.wall = 0.5", "hub.wall", AT_THE_HUB, ("seat", "caps", *RIBS)),
    "a hub too low": Planted(
        STARTER, "hub.bay.height = 15", "hub.bay.height", AT_THE_HUB, ("seat", "caps", *RIBS, "glue", "bench_parts")
    ),
    "a hub too wide": Planted(STARTER, "hub.bay.radius = 90", "rotor.root", AT_THE_HUB, ("seat", "caps", *RIBS)),
    # The bench: what flies is none the worse.
    "gauges too shallow": Planted(
        STARTER, JIG, "blade.jig.clear", BENCH, ("ribs", "flying", "hung", *HUB, "mass", "lifts", "load_path")
    ),
    "a foot with no room": Planted(LANTERN, "blade.jig.foot = 190", "blade.jig.foot", BENCH, ("flying", "hub", "mass")),
    "a foot too narrow": Planted(LANTERN, "blade.jig.foot = 6", "blade.jig.foot", BENCH, ("flying", "hub", "mass")),
    "a board too long": Planted(
        STARTER, f"laser.bed = [150, 100]\n{JIG.replace('3', '14')}", "blade.jig.board",
        BENCH, ("flying", "hub", "mass"),
    ),
    # Weighing.
    "a strip sold by area": Planted(
        STARTER, f'{MYLAR}\nblade.spar.rear = {{ stock = "own", chord = 0.5 }}', "stock.own.of",
        WEIGHED, ("flying", "hung", *CUT), told=False,
    ),
}  # fmt: skip
ALONE = (  # worked out anew for every order
    "a section that isn't there", "two sheets for one rib", "skins that leave no rib", "a channel too near the spar",
    "a nose rolled too wide",
)  # fmt: skip


def refused(craft: Craft, result: str) -> list[str]:
    """Key paths of the faults that reading a result raises with; none where it is given."""
    try:
        getattr(craft, result)
    except GeomgenError as error:
        return [fault.path for fault in error.faults]
    return []


@pytest.mark.parametrize("name", PLANTED)
def test_no_result_is_given_past_its_fault_in_any_order(name: str) -> None:
    planted = PLANTED[name]
    design = read_text(text_of(planted.on, planted.over), NAME, "t").design
    for seed in range(ORDERS):
        order = [*dict.fromkeys((*planted.stops, *planted.spares)), "faults"]
        random.Random(f"{name} {seed}").shuffle(order)
        cache = Cache(None) if name in ALONE else SHARED
        craft = Craft(design, example_path(planted.on[0]).parent, cache, exact=False)
        for result in order:
            if result == "faults":
                assert (planted.path in [fault.path for fault in craft.faults]) == planted.told
            elif result in planted.spares:
                assert refused(craft, result) == [], f"{result}, in the order {order}"
            else:
                assert planted.path in refused(craft, result), f"{result}, in the order {order}"


def test_no_result_is_both_stopped_and_spared() -> None:
    assert len(PLANTED) >= 30
    for name, planted in PLANTED.items():
        assert planted.spares and not {*planted.stops} & {*planted.spares}, name
        assert not [each for each in (*planted.stops, *planted.spares) if not hasattr(Craft, each)], name

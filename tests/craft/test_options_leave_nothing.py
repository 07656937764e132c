"""Changing construction in an option leaves no key and no part of the old one behind, whichever comes after which.

Each way of building the demo is written out as a file of its own, by plain edits of the base's text. An option that
turns one way into another says what the other has, and takes away what the first had beside its construction; what
belongs to the old construction it never names.
"""

from __future__ import annotations

import pathlib
import re
import tomllib
from collections.abc import Callable
from itertools import pairwise, permutations
from typing import Any

import pytest

from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.options import lay, option_names
from geomgen.design.reader import read_text
from geomgen.errors import DesignError

Raw = dict[str, Any]

DEMO = example_path("lantern").read_text(encoding="utf-8")
BASE = DEMO[: DEMO.index("\n[option.")]

RIBS = 'every   = 60\nstock   = "balsa_3"\nlighten = { web = 5, least = 8 } '
SKIN = '[blade.skin.all]\nstock = "foam_sheet_2"\n'
BUILT = 'kind       = "ribbed"\nweb        = 2.0 '
TAIL = "least_tail = 2.5 "
REAR = BASE[BASE.index("[blade.spar.rear]") : BASE.index("[blade.channel.power]")]
STANDS = ("foot  = 8\n", ""), ('board = "ply_3"\n', "")
TRUSS = 'every = 45\nstock = "balsa_2"\nlighten = { by = "truss", web = 4, least = 5 } '
CORE = 'kind = "core"\nstock = "foam_block"\ncover = "film"\ntemplate = "ply_3"\nweb = 2.5\n#'
BLOCK = '[stock.foam_block]\nkind = "volume"\nof = "extruded polystyrene"\n'


def construction(option: str) -> str:
    """What the demo's option says of its construction, word for word."""
    head = f"[option.{option}.blade.construction]\n"
    return re.split(r"\n\n|\n\[", DEMO[DEMO.index(head) + len(head) :])[0] + "\n#"


def spar(name: str) -> str:
    """What the demo's option says of a spar, word for word, as a table of a file of its own."""
    found = re.search(rf"^blade\.spar\.{name} *= (.*)$", DEMO, re.MULTILINE)
    assert found
    return f"[blade.spar]\n{name} = {found[1]}\n\n"


CAPS = (RIBS, TRUSS), (REAR, spar("caps")), (SKIN, "")
FORMERS = (RIBS, 'every = 120\nstock = "balsa_3"\n#'), (SKIN, ""), (TAIL, "#"), *STANDS
HEAVIEST = (
    ("rpm        = 270", "rpm        = 280"),
    ("[stock.balsa_3]\n", '[stock.balsa_3]\ndensity = ["130 kg/m3", "140 kg/m3", "160 kg/m3"]\n'),
    ("[blade.doubler.root]", '[blade.doubler.second]\nat = 165\nstock = "ply_2"\n[blade.doubler.root]'),
)
ALONE: dict[str, tuple[tuple[str, str], ...]] = {
    "base": (),
    "foam_on_ply": ((RIBS, 'every = 60\nstock = "ply_2"\nlighten = { by = "truss", web = 2.5, least = 5 } '),),
    "balsa": (*CAPS, (BUILT, construction("balsa")), (TAIL, "#")),
    "film": (*CAPS, (BUILT, construction("film")), (TAIL, "#")),
    "foam_board": (*FORMERS, (REAR, spar("box")), (BUILT, construction("foam_board")), *HEAVIEST),
    "core": (*FORMERS, (BUILT, CORE)),
}

KINDS = {  # what only some constructions make
    "skin", "sheeting", "folded skin", "film", "cap strip", "nose strip", "tail strip", "web", "core", "wire template",
}  # fmt: skip
MADE = {
    "base": {"skin"},
    "foam_on_ply": {"skin"},
    "balsa": {"sheeting", "cap strip", "film", "nose strip", "tail strip", "web"},
    "film": {"film", "nose strip", "tail strip", "web"},
    "foam_board": {"folded skin"},
    "core": {"core", "wire template", "film"},
}
PAIRS = list(permutations(ALONE, 2))


def written_alone(name: str) -> str:
    """The design file that builds the demo one way, and no other."""
    text = BASE
    for old, new in ALONE[name]:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the demo"
        text = text.replace(old, new)
    return text + BLOCK


def alone(name: str) -> Raw:
    return tomllib.loads(written_alone(name))


def turned(old: Raw, new: Raw) -> Raw:
    """What an option says to turn one table into another, by plain comparison."""
    said: Raw = {key: False for key in old if key not in new}
    for key, value in new.items():
        before = old.get(key)
        if isinstance(before, dict) and isinstance(value, dict) and before.get("kind") == value.get("kind"):
            inner = turned(before, value)
            said |= {key: inner} if inner else {}
        elif value != before:
            said[key] = value
    return said


def turning(old: Raw, new: Raw) -> Raw:
    """An option that turns one way of building into another; of the old construction and its skins it says nothing."""
    aside = ("construction", "skin")
    said = turned(*({key: v for key, v in raw["blade"].items() if key not in aside} for raw in (old, new)))
    if old["blade"]["construction"]["kind"] != new["blade"]["construction"]["kind"]:
        said |= {key: new["blade"][key] for key in aside if key in new["blade"]}
    beside = {key: turned(old[key], new[key]) for key in ("duty", "stock")}
    return {"blade": said} | {key: table for key, table in beside.items() if table}


def with_option(table: Raw, like: str, **more: Raw) -> Raw:
    """The demo with its own options, some more, and one more that is like another."""
    raw = tomllib.loads(DEMO + BLOCK)
    raw["option"] |= more | {"turned": table | ({} if like == "base" else {"like": like})}
    return raw


CORE_OPTION = {"core": turning(alone("base"), alone("core"))}


@pytest.mark.parametrize(("old", "new"), PAIRS, ids=[" to ".join(pair) for pair in PAIRS])
def test_one_way_turned_into_another_is_as_if_written_alone(old: str, new: str) -> None:
    option = turning(alone(old), alone(new))
    changed = alone(old)["blade"]["construction"]["kind"] != alone(new)["blade"]["construction"]["kind"]
    assert ("construction" in option["blade"]) is changed
    assert False not in (option["blade"].get("construction", {}) | option["blade"].get("skin", {})).values()
    assert option["blade"].get("skin") is not False
    laid = lay(with_option(option, old, **CORE_OPTION), "turned")
    assert laid.raw == alone(new)


@pytest.mark.parametrize("name", ALONE)
def test_the_demo_s_own_options_are_as_if_written_alone(name: str) -> None:
    raw = with_option({}, "base", **CORE_OPTION)
    assert lay(raw, None if name == "base" else name).raw == alone(name)


def test_through_all_ways_and_back() -> None:
    """One option on another, through every pair that is side by side in a walk with each construction twice."""
    walk = [*ALONE, *reversed(ALONE), "film", "core", "balsa", "foam_board", "film", "base"]
    raw, last = tomllib.loads(DEMO + BLOCK), "base"
    for step, (old, new) in enumerate(pairwise(walk)):
        name = f"step{step}"
        raw["option"][name] = turning(alone(old), alone(new)) | ({} if last == "base" else {"like": last})
        assert lay(raw, name).raw == alone(new), f"{old} to {new}"
        last = name


def test_what_is_taken_away_would_be_seen() -> None:
    """Or the tests above could not fail: keys of the old kind are not in the new one's model, and are refused."""
    keys = {name: set(alone(name)["blade"]["construction"]) for name in ALONE}
    for old, new in (("balsa", "base"), ("foam_board", "film"), ("film", "foam_board"), ("core", "balsa")):
        assert keys[old] - keys[new]
    text = written_alone("film").replace('"covered"\n', '"covered"\nnose_radius = 6\n')
    with pytest.raises(DesignError, match="nose_radius"):
        read_text(text)


@pytest.fixture(scope="module", params=ALONE)
def built(request: pytest.FixtureRequest) -> tuple[str, Craft]:
    """The demo built one way: read as an option where it is one, or from a file of its own; checked."""
    name: str = request.param
    own = name in ("base", *option_names(tomllib.loads(DEMO)))
    file = read_text(DEMO, option=name) if own else read_text(written_alone(name))
    assert file.design == read_text(written_alone(name).replace(BLOCK, "") if own else written_alone(name)).design
    craft = Craft(file.design)
    craft.check()
    return name, craft


def test_no_part_of_another_construction_is_left(built: tuple[str, Craft]) -> None:
    name, craft = built
    assert {part.role for part in craft.parts} & KINDS == MADE[name]


def test_every_part_of_the_blade_comes_from_a_table_that_is_there(built: tuple[str, Craft]) -> None:
    name, craft = built
    paths = {part.path for part in craft.parts if part.path.startswith("blade.")}
    for path in paths:
        inner: Any = alone(name)
        for key in path.split("."):
            assert isinstance(inner, dict) and key in inner, f"{path} of {name}"
            inner = inner[key]
    spars = {path.split(".")[2] for path in paths if path.startswith("blade.spar.")}
    assert spars == set(alone(name)["blade"]["spar"])


OTHERS = [
    (example, name)
    for example in ("starter", "kite_day")
    for name in ("base", *option_names(tomllib.loads(example_path(example).read_text(encoding="utf-8"))))
]


@pytest.mark.parametrize(("example", "name"), OTHERS)
def test_every_option_of_the_other_examples_passes_check(
    example: str, name: str, craft_of: Callable[..., Craft], keep: pathlib.Path
) -> None:
    craft_of(example, option=name).check()

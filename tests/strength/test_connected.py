"""The joints of every construction form one whole that hangs on the hub: judged by a graph library."""

from __future__ import annotations

from dataclasses import replace

import networkx as nx
import pytest

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read
from geomgen.errors import MakeError
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.made import Made
from geomgen.model.role import Assembly, Role
from geomgen.strength.load_path import hung

HUB = Key(Role.HUB, "hub")
ALL = [
    (name, option)
    for name in ("starter", "lantern", "kite_day")
    for option in (None, *read(example_path(name)).options)
]


def flying(name: str, option: str | None, cache: Cache) -> tuple[Made, str]:
    file = read(example_path(name), option)
    craft = Craft(file.design, file.source.folder, cache, exact=False)
    return craft.flying, f"blade.spar.{file.design.main_spar}"


def graph(joints: list[Joint]) -> nx.MultiDiGraph:
    """From what holds to what is held: both ways where a bond holds either, and what lies against a part holds nothing.

    A pin holds across itself and a turning joint slides: neither holds a pull along the blade.
    """
    found = nx.MultiDiGraph()
    found.add_node(HUB)
    for joint in joints:
        if joint.bond in (Bond.PINNED, Bond.TURNING):
            continue
        found.add_edge(joint.b, joint.a)
        if joint.bond is not Bond.BEARING:
            found.add_edge(joint.a, joint.b)
    return found


def reached(joints: list[Joint]) -> set[Key]:
    return nx.descendants(graph(joints), HUB) | {HUB}


def blamed(made: Made, joints: list[Joint], main_spar: str) -> set[str]:
    try:
        hung(replace(made, joints=tuple(joints)), main_spar=main_spar)
    except MakeError as error:
        return {fault.path for fault in error.faults if "fly off" in fault.wrong or "lies on no rib" in fault.wrong}
    return set()


@pytest.mark.parametrize(("name", "option"), ALL)
def test_everything_hangs_on_the_hub(name: str, option: str | None, cache: Cache) -> None:
    made, main_spar = flying(name, option, cache)
    blade = [part for part in made if part.assembly is Assembly.BLADE]
    assert {part.key for part in blade} <= reached(list(made.joints))
    assert blamed(made, list(made.joints), main_spar) == set()


@pytest.mark.parametrize(
    ("name", "option"),
    [
        ("starter", None),
        ("lantern", "film"),
        ("lantern", "foam_board"),
        ("lantern", "balsa"),
        ("kite_day", "foam_core"),
    ],
)
def test_a_joint_taken_away_orphans_exactly_what_hung_on_it(name: str, option: str | None, cache: Cache) -> None:
    """Every pair of parts that touch is parted in turn."""
    made, main_spar = flying(name, option, cache)
    blade = {part.key: part.path for part in made if part.assembly is Assembly.BLADE}
    pairs = {frozenset((joint.a, joint.b)) for joint in made.joints if joint.a != joint.b}
    orphaned = 0
    for pair in pairs:
        left = [joint for joint in made.joints if frozenset((joint.a, joint.b)) != pair]
        held = reached(left)
        loose = {path for key, path in blade.items() if key not in held}
        assert blamed(made, left, main_spar) == loose, pair
        orphaned += bool(loose)
    assert orphaned > 5

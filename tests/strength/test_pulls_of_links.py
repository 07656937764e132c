"""Each link is pulled by all that hangs outboard of it, by the test's own walk and sum over the mass lines."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

import networkx as nx
import numpy as np
import pytest
from planted import strong

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read
from geomgen.errors import MakeError
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.role import Assembly, Role
from geomgen.strength.link import Fails, Link
from geomgen.strength.load_path import hung

HUB = Key(Role.HUB, "hub")
NAMES = ("strong", "lantern", "lantern balsa", "kite_day", "starter")


@dataclass(frozen=True, eq=False)
class Walked:
    """A craft, and what the test makes of its joints and mass lines."""

    craft: Craft
    main: Key

    def outboard(self, outer: Key) -> set[Key]:
        """All that hangs by a part: what the hub no longer reaches without it, and it."""
        held = reached(self.craft.flying.joints, without=outer)
        return {part.key for part in self.craft.flying if part.key not in held and part.assembly is Assembly.BLADE}

    def mass_kg(self, keys: Collection[Key], row: int) -> float:
        lines = [line for line in self.craft.weighed if line.assembly is Assembly.BLADE and line.key in keys]
        return sum(line.set_g[1 + row] for line in lines) * 1e-3

    def pull_n(self, keys: Collection[Key], row: int, rad_s: float) -> float:
        """m r Omega^2 along the feather axis, r from the rotor's axis, summed over the mass lines of parts [N]."""
        cone, pitch, total = (
            math.radians(self.craft.design.rotor.coning),
            math.radians(self.craft.design.pitch.set),
            0.0,
        )
        for line in self.craft.weighed:
            if line.assembly is Assembly.BLADE and line.key in keys:
                x, y, z = line.place_mm
                up = y * math.sin(pitch) + z * math.cos(pitch)
                total += line.set_g[1 + row] * (x * math.cos(cone) - up * math.sin(cone)) * math.cos(cone)
        return total * 1e-6 * rad_s**2


def reached(joints: Collection[Joint], without: Key | None = None) -> set[Key]:
    """What the hub holds through bonds that hold a pull, one part left out."""
    found = nx.DiGraph()
    found.add_node(HUB)
    for joint in joints:
        if joint.bond in (Bond.PINNED, Bond.TURNING) or without in (joint.a, joint.b):
            continue
        found.add_edge(joint.b, joint.a)
        if joint.bond is not Bond.BEARING:
            found.add_edge(joint.a, joint.b)
    return nx.descendants(found, HUB) | {HUB}


@pytest.fixture(scope="module", params=NAMES)
def walked(request: pytest.FixtureRequest, cache: Cache) -> Walked:
    name, _, option = request.param.partition(" ")
    if name == "strong":
        craft = Craft(strong().design, None, cache, exact=False)
    else:
        path = example_path(name)
        craft = Craft(read(path, option or None).design, path.parent, cache, exact=False)
    return Walked(craft, Key(Role.SPAR, f"blade.spar.{craft.design.main_spar}"))


def pulled(walked: Walked) -> Iterator[tuple[Link, float]]:
    """Links that a pull alone loads, and the area that carries it [mm2]; 1 where the link is told in newtons."""
    design = walked.craft.design
    tube = design.stock[design.blade.spar[design.main_spar].stock].outside
    fixing, collar = design.hub.collar.fixing, design.hub.collar
    for link in walked.craft.links:
        hangs, on = link.between
        match link.fails, hangs.role, on.role:
            case Fails.UNSTUCK, Role.SPAR, Role.COLLAR:
                yield link, math.pi * tube * fixing.length
            case Fails.SLIPS, Role.SPAR, Role.COLLAR:
                yield link, 1.0
            case Fails.PRESSED, Role.COLLAR, Role.HUB:
                yield link, math.pi / 4.0 * (collar.outside**2 - walked.craft.hub_spec.socket**2)
            case Fails.PULLED_APART, Role.TIP, _:
                yield link, sum(each.area_mm2 for each in walked.craft.flying.joints if {each.a, each.b} == {hangs, on})


def tip_bent_mpa(walked: Walked, link: Link, area: float) -> np.ndarray:
    """(2, c) stuck on by its end, the air on it evenly spread: W l / 2 over b t2 / 6, t its sheet's thickness."""
    end, thick = (
        walked.craft.design.rotor.radius,
        walked.craft.design.stock[walked.craft.design.blade.tip.stock].thickness,
    )
    lift = np.abs(walked.craft.loads.air_between(link.r_mm, end)[0])
    return np.asarray(lift * (end - link.r_mm) / 2.0 / (area * thick / 6.0))


def test_pulls_by_the_tests_own_sum(walked: Walked) -> None:
    """The collar's face takes what the bent blade as a whole leaves: its weight pulls a raised blade inwards, and it
    isn't quite as far out as drawn."""
    told, sine = 0, math.sin(math.radians(walked.craft.design.rotor.coning))
    for link, area in pulled(walked):
        keys = walked.outboard(link.between[0])
        for k, case in enumerate(walked.craft.loads.cases):
            for row in (0, 1):
                by_hand, near = walked.pull_n(keys, row, case.rad_s) / area, 1e-6
                if link.between[0].role is Role.TIP:
                    by_hand += tip_bent_mpa(walked, link, area)[row, k]
                if link.between[1] == HUB and case.gains:
                    continue  # what gaining speed does to it goes through the whole blade as it is bent
                if link.between[1] == HUB:
                    by_hand, near = by_hand - 9.80665 * sine * walked.mass_kg(keys, row) / area, 5e-3
                assert link.stress[row, k] == pytest.approx(by_hand, rel=near, abs=1e-9), (link.name, case.name)
        told += 1
    assert told >= 2


def test_what_hangs_by_a_link_is_what_its_loss_sets_free(walked: Walked) -> None:
    """Every joint between the two parts of a link taken away: faults name just the tables of what hung there."""
    made, tables = walked.craft.flying, {part.key: part.path for part in walked.craft.flying}
    blade = [part.key for part in made if part.assembly is Assembly.BLADE]
    pairs = {link.between for link in walked.craft.links if len(set(link.between)) == 2 and HUB not in link.between}
    assert len(pairs) > 5
    for one, other in pairs:
        left = [joint for joint in made.joints if {joint.a, joint.b} != {one, other}]
        held = reached(left)
        loose = {tables[key] for key in blade if key not in held}
        try:
            hung(replace(made, joints=tuple(left)), main_spar=walked.main.path)
            named = set()
        except MakeError as error:
            named = {fault.path for fault in error.faults if "fly off" in fault.wrong}
        assert named == loose, (one, other)


def test_the_collar_lost_all_of_the_blade_is_named(walked: Walked) -> None:
    made = walked.craft.flying
    collar = next(part.key for part in made if part.role is Role.COLLAR)
    left = tuple(joint for joint in made.joints if collar not in (joint.a, joint.b))
    with pytest.raises(MakeError) as caught:
        hung(replace(made, joints=left), main_spar=walked.main.path)
    named = {fault.path for fault in caught.value.faults}
    assert {part.path for part in made if part.assembly is Assembly.BLADE and part.role is Role.RIB} <= named
    assert walked.main.path in named


def test_pulls_at_every_speed_go_by_its_square(walked: Walked) -> None:
    rates = np.array([case.rad_s for case in walked.craft.loads.cases])
    for pull in walked.craft.loads.pulls_n.values():
        assert pull[0] == pytest.approx(pull[0, rates.argmax()] * (rates / rates.max()) ** 2)

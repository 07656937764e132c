"""Every kind of spar there is, walked through all that is asked of one, on a blade whose section is an equation."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import shapely
from spar_blades import PLAIN_RIBS, cuts_in, half_depth, joined, member

from geomgen.craft import Craft
from geomgen.design.schema.spar import BoxSpar, CapSpar, Run, Spar, UprightSpar
from geomgen.mass.statement import weigh
from geomgen.model.joint import Bond
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.model.step import Phase
from geomgen.structure.spars.all import spar_tasks
from geomgen.structure.spars.kinds import KINDS, kind_of

RUN = 'chord = 0.5\nfrom = "root"\nto = "tip"\n'
TABLES: dict[type[Run], str] = {
    Spar: f'stock = "rod_6"\n{RUN}',
    CapSpar: f'kind = "caps"\nstock = "spruce_6x2"\n{RUN}web = {{ stock = "balsa_1_5" }}\n',
    BoxSpar: f'kind = "box"\nstock = "balsa_1_5"\nwidth = 20\n{RUN}',
    UprightSpar: f'kind = "sheet"\nstock = "balsa_1_5"\n{RUN}',
}
LONG, RIBS, RIB = 580.0, len(PLAIN_RIBS), 3.0  # length of the blade, its ribs, and how thick they are [mm]
DEEP = 2 * half_depth(90.75)  # of an upright sheet 1.5 mm thick [mm]
MASSES = {  # by hand [g]: of boxes and webs, whose heights need more, the length and breadth of what is plane
    Spar: np.pi * 9.0 * LONG * 1550e-6,
    CapSpar: 2 * 6 * 2 * LONG * 420e-6,
    BoxSpar: 2 * 17.0 * 1.5 * LONG * 160e-6,
    UprightSpar: (DEEP * LONG - DEEP / 2 * (4 * 3.1 + 2 * 3.05)) * 1.5 * 160e-6,
}
PLAIN_PARTS: dict[type[Run], Callable[[Part], bool]] = {
    Spar: lambda part: True,
    CapSpar: lambda part: part.role == Role.SPAR,
    BoxSpar: lambda part: part.mark in (("top",), ("bottom",)),
    UprightSpar: lambda part: True,
}
HELD = {  # area glued to ribs, by hand [mm2]; of a box its notch is as deep as it is high, which `heights` gives
    Spar: RIBS * RIB * np.pi * 6.1,
    CapSpar: RIBS * RIB * 2 * (6.1 + 2 * 2.0),
    UprightSpar: RIBS * RIB * 4 * DEEP / 2,
}
STAGES = {
    Spar: [Phase.THREAD],
    CapSpar: [Phase.LAY, Phase.WEB],
    BoxSpar: [Phase.PREPARE, Phase.LET_IN],
    UprightSpar: [Phase.SLOT],
}


@pytest.fixture(scope="module", params=KINDS, ids=lambda schema: schema.__name__)
def built(request: pytest.FixtureRequest, spar_craft: Callable[..., Craft]) -> tuple[type[Run], Craft]:
    schema = request.param
    return schema, spar_craft(f"[blade.spar.own]\n{TABLES[schema]}")


def test_it_fits_and_cuts_each_rib(built: tuple[type[Run], Craft]) -> None:
    """What is cut of a rib holds what the spar takes there, but for a sheet, of which a rib holds half."""
    _, craft = built
    assert craft.outcome(Craft.misfits).faults == ()
    own = member(craft, "own")
    for blank in craft.bare_ribs:
        cuts = cuts_in(craft, "own", blank)
        holes = [shapely.Polygon(hole.loop.flattened(0.001)) for hole in cuts.openings]
        holes += [shapely.Polygon(notch.corners(0.01)) for notch in cuts.notches]
        at = craft.layout.inside([blank.place.r_mm], "")[0]
        assert at is not None
        taken = shapely.union_all(kind_of(own).shapes(own, at))
        left = taken.difference(shapely.union_all(holes)).area
        assert left == pytest.approx(taken.area / 2 if own.spar.kind == "sheet" else 0.0, abs=0.02)


def test_it_is_told_where_it_leaves_the_section(
    built: tuple[type[Run], Craft], spar_craft: Callable[..., Craft]
) -> None:
    schema, _ = built
    craft = spar_craft(f"[blade.spar.own]\n{TABLES[schema]}".replace("chord = 0.5", "chord = 0.99"))
    paths = {fault.path for fault in craft.outcome(Craft.misfits).faults}
    assert paths <= {"blade.spar.own", "blade.spar.own.chord"} and paths


def test_parts_and_joints(built: tuple[type[Run], Craft]) -> None:
    """Keys tell parts apart; every part holds on to a rib or to one that does; areas by hand."""
    schema, craft = built
    made = joined(craft)
    parts = [part for part in made.parts if part.path.startswith("blade.spar.own")]
    keys = [part.key for part in parts]
    assert len(set(keys)) == len(keys) > 0
    joints = [joint for joint in made.joints if joint.a in keys]
    assert {joint.bond for joint in joints} <= {Bond.LET_IN, Bond.GLUED, Bond.BUTTED, Bond.LAPPED}
    held = {joint.a for joint in joints if joint.b.role == Role.RIB}
    for _ in keys:
        held |= {end for joint in joints if {joint.a, joint.b} & held for end in (joint.a, joint.b)}
    assert set(keys) <= held
    area = sum(joint.area_mm2 for joint in joints if joint.b.role == Role.RIB)
    if schema in HELD:
        assert area == pytest.approx(HELD[schema], rel=2e-3)
    else:
        high = sum(cuts_in(craft, "own", blank).notches[0].depth_mm for blank in craft.bare_ribs)
        assert area == pytest.approx(RIB * (2 * high + RIBS * 20.1))


def test_masses_by_hand(built: tuple[type[Run], Craft]) -> None:
    schema, craft = built
    own = [part for part in joined(craft).parts if part.path == "blade.spar.own" and PLAIN_PARTS[schema](part)]
    grams = sum(line.set_g[1] for line in weigh(own, craft.design, {}).lines)
    assert grams == pytest.approx(MASSES[schema], rel=2e-3)


def test_steps_take_every_part_once(built: tuple[type[Run], Craft]) -> None:
    schema, craft = built
    parts = [part for part in joined(craft).parts if part.path.startswith("blade.spar.own")]
    tasks = spar_tasks(craft.layout, parts)
    assert [task.phase for task in tasks] == STAGES[schema]
    assert {key for task in tasks for key in task.keys} == {part.key for part in parts}


def test_every_kind_has_its_own_word() -> None:
    words = [schema.model_fields["kind"].annotation for schema in KINDS]
    assert len(set(map(str, words))) == len(KINDS) == len(TABLES)

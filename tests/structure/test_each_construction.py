"""Every way of building a blade walked through all that the house asks of one, and its joints against hand sums."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import shapely

from geomgen.craft import Craft
from geomgen.design.schema import Folded, Ribbed
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.part import Shaped
from geomgen.model.role import Role
from geomgen.structure.constructions import CONSTRUCTIONS, construction

CraftOf = Callable[..., Craft]

STOCKS = """
[stock.covering]
kind = "sheet"
of = "polyester covering film"
thickness = 0.05
[stock.bar]
kind = "length"
of = "balsa"
width = 30
height = 40
length = 1000
[stock.balsa_1]
kind = "sheet"
of = "balsa"
thickness = 1.0
grain = "long"
[stock.block]
kind = "volume"
of = "extruded polystyrene"

[stock.foam_sheet_2]"""
EDGES = 'nose = { stock = "bar", width = 8 }\ntail = { stock = "bar", width = 25 }'
BUILT = {  # kind in the design -> its table, and roles of the parts that it makes
    "ribbed": ('kind = "ribbed"', {Role.SKIN}),
    "sheeted": (
        f'kind = "sheeted"\nstock = "balsa_1"\nto = 0.35\ncover = "covering"\n{EDGES}\n'
        'caps = { stock = "balsa_1", width = 8 }',
        {Role.SHEETING, Role.NOSE_STRIP, Role.TAIL_STRIP, Role.CAP_STRIP, Role.FILM},
    ),
    "covered": (f'kind = "covered"\nstock = "covering"\n{EDGES}', {Role.NOSE_STRIP, Role.TAIL_STRIP, Role.FILM}),
    "folded": ("", {Role.FOLDED_SKIN}),  # the demo's own
    "core": ('kind = "core"\nstock = "block"\ntemplate = "ply_2"\ncover = "covering"', {Role.CORE, Role.FILM}),
}
KINDS = sorted(BUILT)


@pytest.fixture(scope="session")
def craft(craft_of: CraftOf) -> Callable[[str], Craft]:
    """The starter built another way, each made once."""
    made: dict[str, Craft] = {}

    def get(kind: str) -> Craft:
        if kind == "folded":
            made[kind] = made.get(kind) or craft_of("lantern", option="foam_board")
        if kind not in made:
            bare = () if kind == "ribbed" else (('[blade.skin.all]\nstock = "foam_sheet_2"\n', ""),)
            table = ('kind       = "ribbed"', BUILT[kind][0])
            made[kind] = craft_of("starter", table, *bare, ("[stock.foam_sheet_2]", STOCKS))
        return made[kind]

    return get


def joints(craft: Craft, bond: Bond, a: Role, b: Role) -> list[Joint]:
    return [each for each in craft.covering.joints if each.bond is bond and {each.a.role, each.b.role} == {a, b}]


def area(some: list[Joint]) -> float:
    return sum(joint.area_mm2 for joint in some)


def test_every_construction_is_known_and_tried() -> None:
    named = {kind.model_fields["kind"].annotation.__args__[0] for kind in CONSTRUCTIONS}
    assert named == set(BUILT)


@pytest.mark.parametrize("kind", KINDS)
def test_it_is_walked_through_the_house(craft: Callable[[str], Craft], kind: str) -> None:
    """Cover, parts, joints, gauges and steps: each answers, and its parts carry what tells them apart."""
    made = craft(kind)
    built = construction(made.design)
    covers = [built.cover(rib.r_mm) for rib in made.rib_places]
    assert all(cover.ahead_mm > 0 and cover.behind_mm > 0 for cover in covers)
    assert [blank.cover for blank in made.blanks] == covers
    assert made.design.blade.construction.closed_first(bool(made.design.blade.skin)) in ("upper", "lower", None)
    assert made.covering.faults == ()
    parts = made.covering.parts
    assert {part.role for part in parts} == BUILT[kind][1]
    assert len({part.key for part in parts}) == len(parts)
    assert all(isinstance(part.spread, np.ndarray) and part.spread[:, 0].sum() == pytest.approx(1) for part in parts)
    assert made.order and made.mass.blade


@pytest.mark.parametrize("kind", KINDS)
def test_joints_name_parts_that_are_there(craft: Callable[[str], Craft], kind: str) -> None:
    made = craft(kind)
    ribs = {Key(Role.RIB, f"blade.ribs.{rib.run}", (rib.number,)) for rib in made.rib_places}
    there = {part.key for part in made.covering.parts} | ribs
    named = {key for joint in made.covering.joints for key in (joint.a, joint.b)}
    assert named <= there
    assert ribs <= named  # every rib is covered
    assert {part.key for part in made.covering.parts} <= named


@pytest.mark.parametrize("kind", KINDS)
def test_faults_are_told_without_ribs_too(craft: Callable[[str], Craft], kind: str) -> None:
    """What needs no rib's edge is there without them."""
    made = craft(kind)
    bare = construction(made.design).made(made.layout, ())
    assert {part.role for part in bare.parts} == BUILT[kind][1] - {Role.CAP_STRIP}


def test_a_wrapped_skin_is_glued_to_each_rib_by_its_edge(craft: Callable[[str], Craft]) -> None:
    made = craft("ribbed")
    assert isinstance(made.design.blade.construction, Ribbed)
    for blank in made.blanks:
        edge = blank.outline.upper.length_mm + blank.outline.lower.length_mm
        own = [each for each in joints(made, Bond.GLUED, Role.SKIN, Role.RIB) if each.b.mark == (blank.place.number,)]
        assert area(own) == pytest.approx(edge * blank.place.thickness_mm)
        assert own[0].contact[0, 1] == pytest.approx(blank.place.r_mm)
    seam = area(joints(made, Bond.SEAMED, Role.SKIN, Role.SKIN))
    gaps = [blank.station.chord_mm - blank.outline.tail_mm for blank in made.blanks]
    assert seam == pytest.approx(np.trapezoid(gaps, [blank.place.r_mm for blank in made.blanks]))


def test_film_is_sealed_and_wants_no_glue(craft: Callable[[str], Craft]) -> None:
    made = craft("covered")
    glued = [each for each in made.covering.joints if each.bond.wants_glue and each.area_mm2 > 0]
    assert {each.a.role for each in glued} == {Role.NOSE_STRIP, Role.TAIL_STRIP}  # film brings its own
    film = joints(made, Bond.SEALED, Role.FILM, Role.RIB)
    edges = [blank.outline.upper.length_mm + blank.outline.lower.length_mm for blank in made.blanks]
    thick = [blank.place.thickness_mm for blank in made.blanks]
    assert area(film) == pytest.approx(sum(a * b for a, b in zip(edges, thick, strict=True)))
    for role in (Role.NOSE_STRIP, Role.TAIL_STRIP):
        assert len(joints(made, Bond.SEALED, Role.FILM, role)) == 2
        ends = joints(made, Bond.GLUED, role, Role.RIB)
        assert area(ends) == pytest.approx(end_faces(made, role), rel=1e-6) and len(ends) == len(made.blanks)


def end_faces(made: Craft, role: Role) -> float:
    """Of all ribs, by the outlines that are cut: thickness times the height of what ends upright at a strip [mm2]."""
    total = 0.0
    for rib in made.blanks:
        x0, _, x1, _ = rib.edge.bounds()
        x = x0 + 1e-5 if role is Role.NOSE_STRIP else x1 - 1e-5
        upright = shapely.LineString([(x, -99.0), (x, 99.0)])
        total += rib.place.thickness_mm * shapely.Polygon(rib.edge.flattened(1e-3)).intersection(upright).length
    return total


def test_strips_of_a_sheeted_blade(craft: Callable[[str], Craft]) -> None:
    """The nose strip holds both sheets' edges (1 mm) and the ribs' ends; behind it ribs hold the tail strip."""
    made = craft("sheeted")
    length = {part.role: part.shape.length_mm for part in made.covering.parts if isinstance(part.shape, Shaped)}
    nose = joints(made, Bond.GLUED, Role.NOSE_STRIP, Role.SHEETING)
    assert {each.a.mark for each in nose} == {("upper",), ("lower",)}
    assert area(nose) == pytest.approx(2.0 * length[Role.NOSE_STRIP] * 1.0)
    assert not joints(made, Bond.GLUED, Role.TAIL_STRIP, Role.SHEETING)
    for role in (Role.NOSE_STRIP, Role.TAIL_STRIP):
        assert area(joints(made, Bond.GLUED, role, Role.RIB)) == pytest.approx(end_faces(made, role), rel=1e-6)
    caps = joints(made, Bond.GLUED, Role.CAP_STRIP, Role.RIB)
    for joint in caps:
        (part,) = [part for part in made.covering.parts if part.key == joint.a]
        (blank,) = [blank for blank in made.blanks if (blank.place.number,) == joint.b.mark]
        assert joint.area_mm2 == pytest.approx(part.facts["length_mm"] * blank.place.thickness_mm)
    assert len(joints(made, Bond.SEALED, Role.FILM, Role.CAP_STRIP)) == len(caps)


def test_a_folded_board_is_lapped_and_a_core_glued_face_to_face(craft: Callable[[str], Craft]) -> None:
    board = craft("folded")
    (lap,) = joints(board, Bond.LAPPED, Role.FOLDED_SKIN, Role.FOLDED_SKIN)
    built, span = board.design.blade.construction, board.design.frame_end - board.design.rotor.root
    assert isinstance(built, Folded)
    assert lap.area_mm2 == pytest.approx(built.flap * span, rel=0.02)  # from root to tip, along the tail
    foam = craft("core")
    faces = joints(foam, Bond.GLUED, Role.CORE, Role.RIB)
    assert area(faces) == pytest.approx(sum(abs(blank.region.area()) for blank in foam.blanks))

"""What bends as one is decided by joints along the blade; every construction is stiff along all of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

import numpy as np
import pytest
from made_up_strengths import cut, one, strengths

from geomgen.craft import Craft
from geomgen.model.joint import Bond, Joint, Key, over
from geomgen.model.made import Made
from geomgen.model.role import Role
from geomgen.strength.cross_section import CrossSection
from geomgen.strength.sections.cross_sections import cross_sections
from geomgen.strength.sections.stiffness import stiffness
from geomgen.strength.sections.ties import ties

ALL = [
    ("lantern", None), ("lantern", "foam_on_ply"), ("lantern", "balsa"), ("lantern", "film"), ("lantern", "foam_board"),
    ("kite_day", None), ("kite_day", "foam_core"), ("kite_day", "upright"), ("starter", None),
]  # fmt: skip


def without(craft: Craft, unwanted: Callable[[Joint], bool]) -> Made:
    made = craft.flying
    return replace(made, joints=tuple(joint for joint in made.joints if not unwanted(joint)))


def numbers(section: CrossSection, keys: Iterable[str]) -> list[int]:
    """Numbers of the pieces whose path ends so."""
    return [p.bends_with for p in section.pieces if p.key.path.split(".")[-1] in keys]


@pytest.fixture(scope="module")
def film(craft_of: Callable[..., Craft]) -> Craft:
    """Caps with webs to 70 % under film alone."""
    return craft_of("lantern", option="film")


def test_caps_bend_as_one_where_a_web_is_glued_to_both(film: Craft) -> None:
    inside, beyond = cut(film, 300.0), cut(film, 650.0)
    assert len(set(numbers(inside, ["caps", "web"]))) == 1
    assert len(set(numbers(beyond, ["caps"]))) == 2  # beyond the webs each by itself
    assert {p.bends_with for p in inside.pieces if p.key.path == "blade.spar.main"} == {0}


def test_a_web_that_isnt_glued_to_the_lower_caps_holds_the_upper_alone(film: Craft) -> None:
    def below(joint: Joint) -> bool:
        return {joint.a.role, joint.b.role} == {Role.WEB, Role.SPAR} and "lower" in (*joint.a.mark, *joint.b.mark)

    section = cut(film, 300.0, joints_of=without(film, below))
    upper, lower = one(section, "spar", "upper", 1), one(section, "spar", "lower", 1)
    web = one(section, "web")
    assert upper.bends_with == web.bends_with != lower.bends_with
    whole = stiffness([cut(film, 300.0)]).ei_nm2[0, 1, 1]
    assert stiffness([section]).ei_nm2[0, 1, 1] < 0.5 * whole


def test_laminations_that_arent_glued_on_one_another_slide(film: Craft) -> None:
    loose = without(film, lambda j: j.a.role is Role.SPAR is j.b.role or Role.WEB in (j.a.role, j.b.role))
    section = cut(film, 300.0, joints_of=loose)
    assert len(set(numbers(section, ["caps"]))) == 4


def test_a_skin_of_foam_doesnt_make_a_strip_of_balsa_bend_with_it(craft_of: Callable[..., Craft]) -> None:
    """The same joints: through balsa the strip bends with the skin, through foam it doesn't."""
    craft = craft_of("kite_day")
    assert len({p.bends_with for p in cut(craft, 500.0).pieces}) == 2  # the tube, and all else
    foam = strengths(craft_of("lantern"))["foam_sheet_2"]
    known = {**strengths(craft), **dict.fromkeys([p.stock for p in craft.parts if p.role is Role.SKIN], foam)}
    (section,) = cross_sections(craft.layout, craft.flying, known, [500.0])
    skins, strip = {one(section, "skin", half).bends_with for half in ("upper", "lower")}, one(section, "nose strip")
    assert strip.bends_with not in skins and len(skins) == 1  # foam holds foam


@pytest.mark.parametrize(
    ("option", "bond", "role"),
    [(None, Bond.SEAMED, Role.SKIN), ("balsa", Bond.GLUED, Role.WEB), ("balsa", Bond.GLUED, Role.NOSE_STRIP),
     ("foam_board", Bond.LAPPED, Role.SPAR)],
)  # fmt: skip
def test_what_a_joint_closes_is_open_without_it(
    craft_of: Callable[..., Craft], option: str | None, bond: Bond, role: Role
) -> None:
    craft = craft_of("lantern", option=option)
    before = len(cut(craft, 300.0).cells)
    open_ = without(craft, lambda j: j.bond is bond and role in (j.a.role, j.b.role))
    assert len(cut(craft, 300.0, joints_of=open_).cells) == before - 1


def test_a_seam_that_is_missing_in_one_bay_opens_that_bay_only(lantern: Craft) -> None:
    def there(joint: Joint) -> bool:
        return joint.bond is Bond.SEAMED and abs(joint.contact[0, 1] - 400.0) < 35.0

    torn = without(lantern, there)
    assert len(torn.joints) == len(lantern.flying.joints) - 1
    ribs = [p.r_mm for p in lantern.rib_places]
    inner = max(r for r in ribs if r < 400.0)
    cells = [len(cut(lantern, r, joints_of=torn).cells) for r in (inner - 30.0, inner + 30.0, inner + 90.0)]
    assert cells == [1, 0, 1]


def test_sheets_edge_to_edge_are_no_seam_at_the_tail(craft_of: Callable[..., Craft]) -> None:
    """A skin made up of several sheets meets itself; that closes nothing. As the joint there says how, not by count."""
    craft = craft_of("lantern")
    skin = next(part for part in craft.flying if part.role is Role.SKIN)
    edges = Joint(skin.key, skin.key, Bond.BUTTED, skin.path, over(900.0, skin.spread))
    seamless = without(craft, lambda j: j.bond is Bond.SEAMED)
    assert cut(craft, 400.0, joints_of=replace(seamless, joints=(*seamless.joints, edges))).cells == ()


def test_a_glue_line_runs_where_its_area_lies() -> None:
    """300 mm2 evenly over 100 mm of r: by its two Gauss points; a point has no length and ties nothing."""
    a, b = Key(Role.SPAR, "a"), Key(Role.WEB, "b")
    rows = np.array([[150.0, 500.0 + sign * 50.0 / np.sqrt(3.0), 0.0, 0.0] for sign in (-1.0, 1.0)])
    lies = np.diag([100.0**2 / 12.0, 0.0, 0.0])[None]
    for joint in (
        Joint(a, b, Bond.GLUED, "p", rows),
        Joint(a, b, Bond.GLUED, "p", np.array([[300.0, 500.0, 0.0, 0.0]]), second=lies),
    ):
        (tie,) = ties([joint])
        assert (*tie.ends_mm, tie.wide_mm) == pytest.approx((450.0, 550.0, 3.0))
        assert [tie.at(r) for r in (430.0, 455.0, 545.0, 570.0)] == [False, True, True, False]
    assert ties([Joint(a, b, Bond.GLUED, "p", rows[:1]), Joint(a, b, Bond.PINNED, "p", rows)]) == []
    assert ties([Joint(a, Key(Role.RIB, "r", (1,)), Bond.LET_IN, "p", rows)]) == []


@pytest.mark.parametrize(("name", "option"), ALL)
def test_every_construction_is_stiff_all_along(craft_of: Callable[..., Craft], name: str, option: str | None) -> None:
    """From the hub to the end; finite, never less than the tube's own; moduli at their low end are less, high more."""
    craft = craft_of(name, option=option)
    spar = craft.layout.spars[craft.design.main_spar]
    r = np.linspace(spar.start[0] + 1.0, craft.layout.blade.radius_mm - 0.5, 23)
    sections = cross_sections(craft.layout, craft.flying, strengths(craft), r)
    low, found, high = (stiffness(sections, column) for column in (0, 1, 2))
    tube = stiffness(sections[:1])
    for k in range(len(r)):
        assert np.linalg.eigvalsh(found.ei_nm2[k])[0] >= 0.999 * tube.ei_nm2[0, 0, 0] > 0.0
    assert (found.gj_nm2 >= 0.999 * tube.gj_nm2[0]).all() and (found.ea_n >= 0.999 * tube.ea_n[0]).all()
    assert low.gj_nm2 == pytest.approx(0.8 * found.gj_nm2) and high.ei_nm2 == pytest.approx(1.5 * found.ei_nm2)
    assert {section.pieces[0].bends_with for section in sections} == {0}
    for k, section in enumerate(sections):
        bodies = {p.bends_with: found.share[p.key][k] for p in section.pieces}
        assert sum(bodies.values()) == pytest.approx(1.0)


@pytest.mark.parametrize(("name", "option"), [("lantern", None), ("lantern", "foam_board"), ("kite_day", None)])
def test_a_cell_tapers_as_its_outline_does(craft_of: Callable[..., Craft], name: str, option: str | None) -> None:
    """A wall of one thickness: 4 A^2/s goes with the cube of the chord, and with the square of how deep it is by it."""
    craft = craft_of(name, option=option)
    r = [0.35 * craft.design.rotor.radius, 0.9 * craft.design.rotor.radius]
    inner, outer = cross_sections(craft.layout, craft.flying, strengths(craft), r)
    wide = craft.blade.chord.at(np.array(r))
    deep = [s.cells[0].area_mm2 / c**2 for s, c in zip((inner, outer), wide, strict=True)]
    expected = (wide[1] / wide[0]) ** 3 * (deep[1] / deep[0]) ** 2
    twisted = [4 * s.cells[0].area_mm2 ** 2 / sum(w[1] for w in s.cells[0].walls) for s in (inner, outer)]
    assert twisted[1] / twisted[0] == pytest.approx(expected, rel=0.05)


def test_a_clockwise_craft_is_as_stiff(craft_of: Callable[..., Craft]) -> None:
    """All is told of the anticlockwise twin."""
    turned = craft_of("lantern", ('turn   = "anticlockwise"', 'turn   = "clockwise"'), option="balsa")
    craft = craft_of("lantern", option="balsa")
    r = np.array([200.0, 500.0])
    one_way, other = (stiffness(cross_sections(c.layout, c.flying, strengths(c), r)) for c in (craft, turned))
    assert other.ei_nm2 == pytest.approx(one_way.ei_nm2, rel=1e-12)
    assert other.centre == pytest.approx(one_way.centre, rel=1e-12)


def test_what_nothing_is_known_of_carries_nothing(lantern: Craft) -> None:
    known = {name: of for name, of in strengths(lantern).items() if name != "spruce_3x6"}
    (section,) = cross_sections(lantern.layout, lantern.flying, known, [400.0])
    assert {p.key.path for p in section.pieces} == {"blade.spar.main", "blade.skin.all"}
    assert cross_sections(lantern.layout, lantern.flying, {}, [400.0])[0].pieces == ()
    assert stiffness(cross_sections(lantern.layout, lantern.flying, {}, [400.0])).ei_nm2 == pytest.approx(0.0)

"""Stress at the rim against closed forms, a model of fibres, and beams that are joined at ribs only."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from made_up_strengths import cut, loads, one, strengths

from geomgen.craft import Craft
from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.strength.cross_section import Cell, CrossSection, Piece
from geomgen.strength.sections.cross_sections import cross_sections
from geomgen.strength.sections.shapes import Shape, solid, tube
from geomgen.strength.sections.stiffness import gj_nm2, stiffness
from geomgen.strength.sections.stress import OVER, flow_n_mm, handed_on_n, stress_at_rim, to_rotor, twist_share

MAIN = "blade.spar.main"


def piece(shape: Shape, path: str, modulus: float, number: int) -> Piece:
    three = (0.5 * modulus, modulus, 2.0 * modulus)
    shear = (0.02 * modulus, 0.04 * modulus, 0.08 * modulus)
    return Piece(
        key=Key(Role.SPAR, path), stock="s", area_mm2=shape.area_mm2, centre=shape.centre, second=shape.second,
        torsion_mm4=shape.torsion_mm4, rim=shape.rim, modulus_mpa=three, shear_mpa=shear, bends_with=number,
    )  # fmt: skip


def rectangle(middle: tuple[float, float], wide: float, high: float) -> Shape:
    return solid(np.array(middle) + np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * [wide / 2, high / 2])


TUBE = piece(tube(np.zeros(2), 10.0, 8.0), MAIN, 100e3, 0)
ALONE = CrossSection(300.0, (TUBE,), ())


def at(section: CrossSection, of: Piece, pitch_deg: float = 0.0, **told: float) -> tuple[float, float]:
    """Greatest tension and compression of a piece."""
    pulled, pressed = stress_at_rim(section, of, loads(**told), pitch_deg=pitch_deg, main_spar=MAIN)
    assert pulled.shape == pressed.shape == (2, 1)
    return float(pulled[0, 0]), float(pressed[1, 0])


def test_a_tube_pulled_and_bent_by_closed_forms() -> None:
    """The references' case: 34.8 N m on 10 x 8 is 600 MPa; 130 N over its area is 4.6. Bent askew no otherwise."""
    pull = 130.0 / (np.pi / 4 * (100.0 - 64.0))
    assert at(ALONE, TUBE, flap=34.8) == pytest.approx((600.4, 600.4), abs=0.5)
    assert at(ALONE, TUBE, pull=130.0) == pytest.approx((pull, 0.0))
    assert at(ALONE, TUBE, pull=130.0, flap=-20.88, lag=27.84, pitch_deg=8.0) == pytest.approx(
        (600.4 + pull, 600.4 - pull), rel=0.01
    )


def test_which_side_is_pulled() -> None:
    """A moment that bends the tip up pulls what lies below, one that bends it forward what lies behind."""
    up, down = (piece(rectangle((0.0, z), 5.0, 2.0), "caps", 10e3, 1) for z in (14.0, -14.0))
    ahead, behind = (piece(rectangle((y, 0.0), 2.0, 5.0), "caps", 10e3, 1) for y in (60.0, -60.0))
    section = CrossSection(300.0, (up, down, ahead, behind), ())
    for told, pulled, pressed in (({"flap": 5.0}, down, up), ({"lag": 5.0}, behind, ahead)):
        assert at(section, pulled, **told)[1] == 0.0 < at(section, pulled, **told)[0]
        assert at(section, pressed, **told)[0] == 0.0 < at(section, pressed, **told)[1]


def test_two_caps_by_hand() -> None:
    """5 x 2 at +-14 of E 10 GPa, no web counted: I = 2 (10 14^2 + 5 8/12); M 5 N m; outer fibre at 15."""
    up, down = (piece(rectangle((0.0, z), 5.0, 2.0), "caps", 10e3, 1) for z in (14.0, -14.0))
    inertia = 2.0 * (10.0 * 14.0**2 + 5.0 * 8.0 / 12.0)
    assert at(CrossSection(0.0, (up, down), ()), down, flap=5.0)[0] == pytest.approx(5000.0 * 15.0 / inertia)


def test_the_pitch_turns_the_moment_into_the_blades_frame() -> None:
    """Nose up by 90 deg, what bends the tip up in the rotor's axes bends it forward in the blade: y' = -z, z' = y."""
    assert to_rotor(90.0) @ [1.0, 0.0] == pytest.approx([0.0, 1.0])
    deep = piece(rectangle((0.0, 0.0), 3.0, 12.0), MAIN, 10e3, 0)
    section = CrossSection(300.0, (deep,), ())
    level, turned = 6e3 / (3.0 * 144.0), 6e3 / (12.0 * 9.0)
    assert at(section, deep, flap=1.0)[0] == pytest.approx(level)
    assert at(section, deep, flap=1.0, pitch_deg=90.0)[0] == pytest.approx(turned)
    p = np.radians(20.0)
    assert at(section, deep, flap=1.0, pitch_deg=20.0)[0] == pytest.approx(level * np.cos(p) + turned * np.sin(p))
    leaning = piece(solid(rectangle((0.0, 0.0), 3.0, 12.0).rim @ to_rotor(20.0)), MAIN, 10e3, 0)
    assert at(CrossSection(0.0, (leaning,), ()), leaning, flap=1.0, pitch_deg=20.0)[0] == pytest.approx(level)


def test_unsymmetrical_bending_of_two_bodies_by_fibres() -> None:
    """Each body in 40 x 40 fibres a piece, plane by itself, both with one curvature: curvature and strains solved for
    that no force and just the two moments go through."""
    pieces = (
        piece(rectangle((0.0, 0.0), 6.0, 8.0), MAIN, 100e3, 0),
        piece(rectangle((30.0, 9.0), 9.0, 2.0), "caps", 10e3, 1),
        piece(rectangle((20.0, -8.0), 3.0, 4.0), "caps", 30e3, 1),
    )
    section, pitch, flap, lag = CrossSection(0.0, pieces, ()), 11.0, 7.0, -4.0
    spots, stiff, body = [], [], []
    for one_, (w, h) in zip(pieces, ((6.0, 8.0), (9.0, 2.0), (3.0, 4.0)), strict=True):
        u = (np.arange(40) + 0.5) / 40 - 0.5
        grid = np.array([[one_.centre[0] + a * w, one_.centre[1] + b * h] for a in u for b in u])
        spots.append(grid)
        stiff.append(np.full(1600, one_.modulus_mpa[1] * w * h / 1600))
        body.append(np.full(1600, one_.bends_with))
    p, e, b = np.vstack(spots), np.concatenate(stiff), np.concatenate(body)
    shape = np.column_stack([b == 0, b == 1, -p])  # stretch of either body, then both curvatures
    matrix = shape.T @ (e[:, None] * shape)
    c, s = np.cos(np.radians(pitch)), np.sin(np.radians(pitch))
    moment = 1e3 * np.array([c * lag + s * flap, -s * lag + c * flap])
    solved = np.linalg.solve(matrix, np.array([0.0, 0.0, *moment]))
    for one_ in pieces:
        away = np.column_stack([np.full(4, one_.bends_with == 0), np.full(4, one_.bends_with == 1), -one_.rim])
        stress = one_.modulus_mpa[1] * away @ solved
        expected = (max(stress.max(), 0.0), max(-stress.min(), 0.0))
        assert at(section, one_, pitch, flap=flap, lag=lag) == pytest.approx(expected, rel=2e-3, abs=0.02)


def test_pull_goes_down_the_main_spar_and_elsewhere_where_that_has_ended() -> None:
    strip = piece(rectangle((30.0, 0.0), 3.0, 6.0), "rear", 10e3, 1)
    both = CrossSection(300.0, (TUBE, strip), ())
    assert at(both, strip, pull=100.0) == (0.0, 0.0)
    assert at(both, TUBE, pull=100.0)[0] == pytest.approx(100.0 / TUBE.area_mm2)
    assert at(CrossSection(300.0, (strip,), ()), strip, pull=100.0)[0] == pytest.approx(100.0 / 18.0)


def test_twist_is_shared_by_stiffness() -> None:
    """A tube and a cell: 4 A^2/(s/(G t)) for 60 x 15 of 1.5 and 100 MPa is 3.24 N m2, its flow for 1 N m .556 N/mm."""
    key = Key(Role.SKIN, "skin")
    cell = Cell(60.0 * 15.0, ((key, 150.0, 1.5, (50.0, 100.0, 200.0)),))
    alone, both = CrossSection(0.0, (), (cell,)), CrossSection(0.0, (TUBE,), (cell,))
    assert gj_nm2(alone) == pytest.approx(3.24)
    assert flow_n_mm(alone, cell, np.array([1.0, -2.0])) == pytest.approx([0.556, 1.111], abs=1e-3)
    tube_gj = 4000.0 * np.pi / 32 * (10.0**4 - 8.0**4) * 1e-6
    assert twist_share(both, TUBE) == pytest.approx(tube_gj / (tube_gj + 3.24))
    assert flow_n_mm(both, cell, np.array([1.0])) == pytest.approx(0.5556 * 3.24 / (3.24 + tube_gj), rel=1e-3)


def joined_at_ribs(tube_nm2: float, skin_nm2: float, ribs: int = 11, bay: float = 60.0, fine: int = 4) -> np.ndarray:
    """Share of the moment that a tube has beside a skin that is evenly pushed. The tube is held 40 mm inboard of the
    first rib; two rows of cubic beam elements, whose heights are one at each rib.

    returns : (m, 2) place from the first rib on in bays, share
    """
    skin_x = np.linspace(0.0, bay * (ribs - 1), (ribs - 1) * fine + 1)
    tube_x = np.concatenate([[-40.0], skin_x])
    size = 2 * (len(tube_x) + len(skin_x))
    matrix, push, weights = np.zeros((size, size)), np.zeros(size), np.ones(len(skin_x))
    for first, x, ei in ((0, tube_x, tube_nm2), (len(tube_x), skin_x, skin_nm2)):
        for k in range(len(x) - 1):
            h, d = x[k + 1] - x[k], 2 * (first + k) + np.arange(4)
            rows = [12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h]
            element = np.array([*rows, -np.array(rows[0]), [6 * h, 2 * h * h, -6 * h, 4 * h * h]])
            matrix[np.ix_(d, d)] += ei / h**3 * element
    weights[[0, -1]] = 0.5
    push[2 * len(tube_x) :: 2] = weights
    one_height, kept = np.eye(size), np.ones(size, dtype=bool)
    kept[:2] = False
    for k in range(ribs):
        of_skin = 2 * (len(tube_x) + k * fine)
        one_height[of_skin, 2 * (1 + k * fine)], kept[of_skin] = 1.0, False
    free = one_height[:, kept]
    moved = free @ np.linalg.solve(free.T @ matrix @ free, free.T @ push)
    found = []
    for k in range(1, 2 + fine):
        h = tube_x[k + 1] - tube_x[k]
        moment = tube_nm2 / h**2 * np.array([-6.0, -4.0 * h, 6.0, -2.0 * h]) @ moved[2 * k : 2 * k + 4]
        found.append([tube_x[k] / bay, moment / (weights @ np.maximum(skin_x - tube_x[k], 0.0))])
    return np.array(found)


@pytest.mark.parametrize("share", [0.9, 0.5, 0.1])
def test_at_the_root_the_tube_carries_all_of_it(share: float) -> None:
    """A skin begins there and has no moment; ribs can only push it. What we take for the tube is never less than the
    beams say out to the second rib, and little more up to the middle of the bay."""
    square = rectangle((0.0, 0.0), 10.0, 10.0)
    other = piece(square, "skin", 100e3 * 289.8 * (1.0 / share - 1.0) / square.second[0, 0], 1)
    found = joined_at_ribs(share, 1.0 - share)
    assert len(found) == 5 and found[0, 1] == pytest.approx(1.0, abs=0.01)
    for x, beams in found:
        section = CrossSection(0.0, (TUBE, other), (), taken_up=x)
        ours = at(section, TUBE, flap=34.8)[0] / 600.4
        assert ours >= beams - 0.01
        assert x > 0.5 or ours == pytest.approx(beams, abs=0.15)
        assert stiffness([section]).share[TUBE.key][0] == pytest.approx(ours, rel=2e-3)
        all_of_it = at(CrossSection(0.0, (other,), ()), other, flap=34.8)[0]
        skin = at(replace(section, over=OVER), other, flap=34.8)[0] / all_of_it
        assert skin >= 1.0 - beams - 0.01 and (x < 1.0 or skin == pytest.approx(1.0 - beams, rel=0.05))
        bent = 34.8 / stiffness([section]).ei_nm2[0, 1, 1]
        assert 100e3 * 5e-3 * bent == pytest.approx(600.4 * ours, rel=2e-3)
    second = CrossSection(0.0, (TUBE, other), (), taken_up=1.0, over=OVER)
    force = handed_on_n(second, loads(flap=3.0, lag=-4.0), pitch_deg=5.0, bay_mm=60.0)
    assert force == pytest.approx(np.full((2, 1), 5e3 * (1.0 - beams) / 60.0), rel=0.05)


def test_what_ribs_hand_on_grows_from_the_root_rib_to_the_next(craft_of: Callable[..., Craft]) -> None:
    craft = craft_of("kite_day")
    first, second = (rib.r_mm for rib in craft.rib_places[:2])
    r = [first - 30.0, first, (first + second) / 2, second, second + 10.0]
    sections = cross_sections(craft.layout, craft.flying, strengths(craft), r)
    assert [s.taken_up for s in sections] == pytest.approx([0.0, 0.0, 0.5, 1.0, 1.0])
    third = craft.rib_places[2].r_mm
    assert [s.over for s in sections[:4]] == [OVER] * 4
    assert sections[4].over == pytest.approx(OVER - (OVER - 1.0) * 10.0 / (third - second))
    assert at(sections[3], one(sections[3], "skin", "upper"), flap=3.0)[1] > 0.0
    spar = sections[1].pieces[0]
    of_itself = craft.design.stock["carbon_tube_5_16"]
    d, i = of_itself.outside, np.pi / 64 * (of_itself.outside**4 - of_itself.inside**4)  # type: ignore[union-attr]
    assert at(sections[1], spar, flap=3.0)[0] == pytest.approx(3e3 * d / 2 / i, rel=1e-6)
    skin = one(sections[1], "skin", "upper")
    assert at(sections[1], skin, flap=3.0) == pytest.approx((0.0, 0.0))
    assert at(sections[4], sections[4].pieces[0], flap=3.0)[0] < 0.2 * 3e3 * d / 2 / i


def test_upper_caps_of_the_demo_are_pressed_by_lift(craft_of: Callable[..., Craft]) -> None:
    section = cut(craft_of("lantern", option="balsa"), 300.0)
    upper, lower = one(section, "spar", "upper", 1), one(section, "spar", "lower", 1)
    assert at(section, upper, 8.0, flap=4.0)[0] == 0.0 < at(section, upper, 8.0, flap=4.0)[1]
    assert at(section, lower, 8.0, flap=4.0)[1] == 0.0 < at(section, lower, 8.0, flap=4.0)[0]

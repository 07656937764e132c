"""Fittings' screw holes: sizes from ISO 273, places in the blade frame; the screws; the sheet of a fitting's rib."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from geomgen.blade.doubler_places import DoublerPlace
from geomgen.blade.rib_places import rib_places
from geomgen.craft import Craft
from geomgen.design.schema import Design, Mount
from geomgen.errors import MakeError
from geomgen.frames import applied
from geomgen.model.joint import Bond, Key
from geomgen.model.layout import rib_key
from geomgen.model.part import Bought, Flat
from geomgen.model.role import Role
from geomgen.plane.path import Circle
from geomgen.structure.ribs.blank import Blank, with_holes
from geomgen.structure.ribs.mount import mount_openings, mounts
from geomgen.structure.ribs.rib import ribs

MEDIUM = {"M2": 2.4, "M2.5": 2.9, "M3": 3.4}  # ISO 273, medium series [mm]
NORMAL = {"#2-56": 0.1015 * 25.4, "#4-40": 0.1285 * 25.4}  # ASME B18.2.8, normal: drills 38 and 30 [mm]
HOLES = MEDIUM | NORMAL


def fitted(design: Design, **keys: object) -> Design:
    fan = design.fitting["fan"].model_copy(update={"rib": True, **keys})
    return design.model_copy(update={"fitting": {**design.fitting, "fan": fan}})


def mounted(craft: Craft, mount: dict[str, object], **keys: object) -> Craft:
    made = Mount.model_construct(**mount)
    design = fitted(craft.design, mount=made, **keys)
    blade = design.blade.model_copy(update={"jig": None})
    return Craft(design.model_copy(update={"blade": blade}), craft.folder, craft.cache)


def rib_of_fan(craft: Craft) -> Blank:
    return next(blank for blank in craft.bare_ribs if "fan" in blank.place.fittings)


@pytest.mark.parametrize("name", ["lantern", "kite_day"])
@pytest.mark.parametrize("screw", list(HOLES))
def test_holes_stand_on_the_circle(craft_of: Callable[..., Craft], name: str, screw: str) -> None:
    asked = {"screw": screw, "count": 3, "circle": 7.0, "first": 30.0, "bore": 5.0}
    craft = mounted(craft_of(name), asked, chord=0.5, height=1.0)
    blank = rib_of_fan(craft)
    found = mount_openings(craft.layout, blank)
    assert {opening.path for opening in found} == {"fitting.fan.mount"}
    loops = [opening.loop for opening in found]
    assert all(isinstance(loop, Circle) for loop in loops)
    assert [2 * loop.radius for loop in loops] == pytest.approx([HOLES[screw]] * 3 + [5.0])  # type: ignore[union-attr]
    station = blank.station
    at = station.to_blade(np.array([loop.center for loop in loops]))[:, 1:]  # type: ignore[union-attr]
    middle = at[3]
    a = np.radians(station.angle_deg)
    nose, up = np.array((np.cos(a), np.sin(a))), np.array((-np.sin(a), np.cos(a)))  # y forward, z up
    place = station.to_blade(np.array([(0.5 * station.chord_mm, 1.0)]))[0, 1:]
    np.testing.assert_allclose(middle, place, atol=1e-9)
    for k, hole in enumerate(at[:3]):
        turn = np.radians(30.0 + 120.0 * k)  # from the leading edge upwards
        np.testing.assert_allclose(hole - middle, 7.0 * (np.cos(turn) * nose + np.sin(turn) * up), atol=1e-9)


def test_holes_are_in_the_cut_rib_and_the_screws_in_the_holes(craft_of: Callable[..., Craft]) -> None:
    asked = {"screw": "M2", "count": 2, "circle": 6.0, "first": 0.0, "bore": 0.0}
    craft = mounted(craft_of("kite_day"), asked, chord=0.65, height="camber")  # clear of spar and wires
    blank = rib_of_fan(craft)
    (part,) = ribs(craft.layout, [with_holes(blank, mount_openings(craft.layout, blank))]).read().parts
    assert isinstance(part.shape, Flat)
    circles = [hole for hole in part.shape.region.holes if isinstance(hole, Circle) and hole.radius == 1.2]
    assert len(circles) == 2
    holes = np.array([applied(part.places[0], (*hole.center, 0.0)) for hole in circles])
    made = mounts(craft.layout, craft.bare_ribs)
    (screws,) = made.parts
    fan = Key(Role.FITTING, "fitting.fan")
    assert [(joint.a, joint.b, joint.bond) for joint in made.joints] == [
        (screws.key, part.key, Bond.SCREWED),
        (fan, part.key, Bond.SCREWED),
    ]
    assert all(joint.area_mm2 == 0.0 and len(joint.contact) == 2 for joint in made.joints)
    assert screws.count == 2 and screws.assembly == "blade" and screws.path == "fitting.fan.mount"
    np.testing.assert_allclose(screws.spread[:, 1:], holes, atol=1e-9)
    assert screws.spread[:, 0].sum() == pytest.approx(1.0)
    assert isinstance(screws.shape, Bought)
    low, typical, high = screws.shape.mass_g
    assert 0.2 < low < typical < high < 0.5  # an M2 x 10 with its nut; makers' tables say 0.3 to 0.4 g, from memory


def test_a_thicker_pack_takes_longer_screws(craft_of: Callable[..., Craft]) -> None:
    asked = {"screw": "M3", "count": 4, "circle": 8.0, "first": 45.0, "bore": 0.0}
    craft = mounted(craft_of("lantern"), asked)
    blank = rib_of_fan(craft)
    (alone,) = mounts(craft.layout, craft.bare_ribs).parts
    doublers = tuple(DoublerPlace(name, blank.place.name, True, blank.place) for name in ("one", "other"))
    (more,) = mounts(replace(craft.layout, doublers=doublers), craft.bare_ribs).parts
    lengths = [float(part.name.rsplit(" ", 1)[1]) for part in (alone, more)]
    thick = blank.place.thickness_mm
    for length, through in zip(lengths, (thick, 3 * thick), strict=True):
        assert length >= through + 3.0 + 2.4 + 1.0  # the fitting's foot, an M3 nut by ISO 4032, a thread beyond it
    assert lengths[1] > lengths[0]


def test_no_mount_no_holes(craft_of: Callable[..., Craft]) -> None:
    craft = craft_of("kite_day")
    assert [mount_openings(craft.layout, blank) for blank in craft.bare_ribs] == [[]] * len(craft.bare_ribs)
    assert mounts(craft.layout, craft.bare_ribs).parts == ()


def test_a_fitting_without_mount_lies_against_its_rib(craft_of: Callable[..., Craft]) -> None:
    craft = craft_of("kite_day")
    joints = mounts(craft.layout, craft.bare_ribs).joints
    on_ribs = [(name, rib_key(place)) for place in craft.rib_places for name in place.fittings]
    assert on_ribs and [(joint.a.path, joint.b) for joint in joints] == [(f"fitting.{n}", key) for n, key in on_ribs]
    for joint in joints:
        (fitting,) = [part for part in craft.parts if part.key == joint.a]
        assert joint.bond is Bond.BEARING and joint.area_mm2 == 0.0
        np.testing.assert_allclose(joint.contact[0, 2:], fitting.spread[0, 2:], atol=1e-9)


def test_a_fitting_chooses_the_sheet_of_its_rib(craft_of: Callable[..., Craft]) -> None:
    design = craft_of("kite_day").design
    plain = {place.name: place for place in rib_places(fitted(design, rib_stock=None))}
    thick = {place.name: place for place in rib_places(fitted(design, rib_stock="ply_eighth"))}
    changed = [name for name in plain if plain[name] != thick[name]]
    (name,) = changed
    assert thick[name].fittings == ("fan",)
    assert (thick[name].stock, thick[name].thickness_mm) == ("ply_eighth", pytest.approx(25.4 / 8))
    assert plain[name].stock == "balsa_3_32"
    own = thick[name].r_mm
    shared = rib_places(fitted(design, rib_stock="ply_eighth", at=type(design.fitting["fan"].at)(mm=plain["R08"].r_mm)))
    (at,) = [place for place in shared if place.fittings]
    assert at.stock == "ply_eighth" and at.r_mm == pytest.approx(plain["R08"].r_mm) and own != at.r_mm
    assert len(shared) == len(plain) - 1  # a rib that was there takes the fitting, and its sheet


def test_two_fittings_can_not_have_one_rib_of_two_sheets(craft_of: Callable[..., Craft]) -> None:
    design = fitted(craft_of("kite_day").design, rib_stock="ply_eighth")
    other = design.fitting["fan"].model_copy(update={"rib_stock": "balsa_3_32"})
    design = design.model_copy(update={"fitting": {**design.fitting, "other": other}})
    with pytest.raises(MakeError, match=r"fitting\.other\.rib_stock = balsa_3_32: it shares the rib"):
        rib_places(design)

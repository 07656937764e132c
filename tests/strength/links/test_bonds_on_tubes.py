"""Which glue a joint is judged by: what the design names for tubes where it sits on one, else that for all."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from root_build import build_of

from geomgen.craft import Craft
from geomgen.model.joint import Joint
from geomgen.model.role import Role
from geomgen.strength.build import Build
from geomgen.strength.links.bonds import Bonded, bond

CraftOf = Callable[..., Craft]
# mean shear of a glue line, low and typical [MPa]
EPOXY = (2.0, 5.0)  # on sanded carbon, to design with, from memory; a real fin joint, read, failed at 2.25
PLY = (1.5, 2.5)  # on a face of ply, by its rolling shear: from memory, 1.5 to 3.5
LINE = 'on_tube = "epoxy"                   # wood glue doesn\'t hold on carbon\n'


def built(craft: Craft) -> Build:
    """All that links are made from, but for loads, which a bond doesn't ask for."""
    return build_of(craft, object())


def held(build: Build, stock: str, role: Role = Role.SPAR, of: str = "carbon_tube_8") -> Bonded:
    """What glue does between the first rib of a stock and what is let into it or lies on it."""

    def wanted(one: Joint) -> bool:
        here = {build.part(key).role: build.part(key).stock for key in (one.a, one.b)}
        return one.bond.wants_glue and here.get(Role.RIB) == stock and here.get(role) == of

    found = next(one for one in build.flying.joints if wanted(one))
    return bond(build, found.a, found.b)


def test_a_rib_on_a_tube_by_the_glue_for_tubes(lantern: Craft) -> None:
    """Ply on carbon: the least of epoxy on either and of the ply's own rolling shear."""
    shear = held(built(lantern), "ply_2").shear
    assert shear is not None and shear.source.startswith("epoxy")
    assert (shear.low, shear.typical) == tuple(map(min, zip(EPOXY, PLY, strict=True)))


def test_without_it_by_the_glue_for_all(craft_of: CraftOf) -> None:
    """Wood glue isn't known to hold on carbon, and which key would mend it is told."""
    found = held(built(craft_of("lantern", (LINE, ""))), "ply_2")
    assert found.shear is None and found.pulled is None
    assert "wood glue" in found.why_not_shear and "glue.on_tube" in found.why_not_shear


def test_wood_in_wood_by_the_glue_for_all(lantern: Craft, craft_of: CraftOf) -> None:
    """A strip of spruce in its ribs carries the same, whatever holds on the tube, and by wood glue."""
    one, other = (
        held(built(craft), "balsa_3", of="spruce_3x6") for craft in (lantern, craft_of("lantern", (LINE, "")))
    )
    assert one.shear is not None and one.shear == other.shear
    worst = craft_of("lantern", ('kind = "wood glue"', 'kind = "hot glue"'))
    assert held(built(worst), "balsa_3", of="spruce_3x6").shear is None  # no figure was found for it
    assert held(built(worst), "ply_2").shear is not None


def test_another_glue_is_told_at_the_key_that_names_it(craft_of: CraftOf) -> None:
    """The low end of cyanoacrylate on a tube is 1 MPa (from memory), that of epoxy 2, and ply bears 1.5."""
    for edits in ((('on_tube = "epoxy"', 'on_tube = "CA"'),), (('kind = "wood glue"', 'kind = "CA"'), (LINE, ""))):
        build = built(craft_of("lantern", *edits, option="balsa"))  # in which there is no foam to melt
        helps = {one.to: one for one in held(build, "ply_2").helps}
        assert helps["epoxy"].path == "glue.on_tube" and helps["epoxy"].times == pytest.approx(1.5)
        assert helps["epoxy"].was == "CA"


def test_beside_a_coverage_it_counts_for_strength_alone(kite_day: Craft) -> None:
    """The kite day states what its glue weighs, and names what holds wood, and ribs on the tube."""
    build = built(kite_day)
    shear = held(build, "ply_eighth", of="carbon_tube_5_16").shear
    assert shear is not None and shear.low == pytest.approx(min(EPOXY[0], PLY[0]))
    skin = held(build, "ply_eighth", Role.SKIN, "balsa_1_16")
    assert skin.shear is not None and skin.shear.low < PLY[0]  # the balsa's own
    assert "glue on tubes" not in {part.name for part in kite_day.glue}

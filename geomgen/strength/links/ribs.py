"""How each rib is held on its spar: glue, wood pressed in, the tube's wall."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import LengthStock
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property
from geomgen.model.joint import Bond, Key
from geomgen.model.role import Role
from geomgen.strength.build import Build
from geomgen.strength.formulas.glue import ring_glue_twist_mpa
from geomgen.strength.formulas.pin import bearing_mpa
from geomgen.strength.formulas.ring import Pressed, crushing_mpa
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.bays import Bay, across_each_n, across_n, bays, handed_n, of_its_sheet, turning_nm
from geomgen.strength.links.bonds import Bonded, bond, glue_link, kind_of, stock_of
from geomgen.strength.links.choose import closer, denser, more_wall, thicker, weakest
from geomgen.strength.shares import Areas

BONDED = (
    0.5  # of what presses a rib on a tube that is glued in all round: the rest pulls on the other side, by symmetry
)


def ribs_on_spars(build: Build) -> Iterator[Link]:
    """Of ribs of one run and sheet the weakest: its glue, what presses it on the tube, and the tube beneath it."""
    every = bays(build)
    pulls = Areas(build.flying.joints, build.held).on_ribs(build.loads.pulls_n)
    for maker in (_glue, _pressed, _crushed):
        links = (link for bay in every for link in maker(build, bay, pulls))
        yield from weakest(links, lambda link: (link.path, build.part(link.between[0]).stock))


def _glue(build: Build, bay: Bay, pulls: dict[Key, FloatArray]) -> Iterator[Link]:
    """Sheared along the blade by the pull of all that hangs on the rib, round by what twist it hands to the spar."""
    spar = build.held.get(bay.key)
    joints = [each for each in build.joints(bay.key, spar) if each.bond is Bond.LET_IN] if spar else []
    if spar is None or not joints:
        return
    bonded, tube = bond(build, bay.key, spar), _tube(build, spar)
    own = bay.blank.place.thickness_mm
    thick = own + _doubled_mm(build, bay, spar, bonded)
    area = sum(each.area_mm2 for each in joints) * thick / own
    stress = pulls[bay.key] / area
    if tube is not None:
        twist = ring_glue_twist_mpa(1e3 * turning_nm(build, bay, spar), tube.outside or 0.0, thick)
        stress = np.hypot(stress, twist)
    yield glue_link(
        bonded,
        f"glue of {bay.rib.name} on {build.part(spar).name}",
        Fails.UNSTUCK,
        stress,
        path=bay.key.path,
        r_mm=bay.r_mm,
        between=(bay.key, spar),
        helps=(*_thicker_rib(build, bay, thick - own), *bonded.helps),
        note="pull of the rib, of what is fixed to it and of its share of the cover by area, with what of the twist "
        "goes over to the spar there, by stiffness; doublers count, by what their glue stands; other spars, which hang "
        "on the ribs themselves, aren't counted",
    )


def _doubled_mm(build: Build, bay: Bay, spar: Key, bonded: Bonded) -> float:
    """By how much more of its own sheet a rib were as well glued on a spar as it is by its doublers, which are cut and
    glued round it alike [mm]; one whose glue isn't known counts for nothing."""
    found = 0.0
    for each in build.layout.doublers:
        if each.place.number == bay.blank.place.number and bonded.shear is not None:
            other = bond(build, Key(Role.DOUBLER, f"blade.doubler.{each.name}"), spar).shear
            found += each.place.thickness_mm * other.low / bonded.shear.low if other is not None else 0.0
    return found


def _pressed(build: Build, bay: Bay, pulls: dict[Key, FloatArray]) -> Iterator[Link]:
    """The wood of its hole, pressed by all that comes in across from its bay."""
    spar, of = build.held.get(bay.key), stock_of(build, bay.key)
    tube = _tube(build, spar) if spar else None
    if spar is None or of is None or tube is None:
        return
    wood = kind_of(build, bay.key) == "wood"  # lift presses it across its grain
    wanted, place = Property.BEARING_ACROSS if wood else Property.BEARING, bay.blank.place
    strength, along = of.of(wanted), of.of(Property.BEARING)
    forward, up = across_each_n(build, bay)
    if wood and strength and along:  # forward it presses along the grain
        forward = forward * strength.typical / along.typical
    glued = bond(build, bay.key, spar).shear is not None
    force = (np.hypot(forward, up) + handed_n(build, bay)) * (BONDED if glued else 1.0)
    yield Link(
        name=f"{bay.rib.name} under {build.part(spar).name}",
        fails=Fails.PRESSED,
        path=bay.key.path,
        r_mm=bay.r_mm,
        between=(bay.key, spar),
        stress=bearing_mpa(force, tube.outside or 0.0, place.thickness_mm),
        unit="MPa",
        strength=strength,
        unpublished="" if strength else of.why_not(wanted),
        helps=(*closer(build.design, place.run), *_thicker_rib(build, bay), *denser(build.design, place.stock, wanted)),
        note="what the bay brings across, over the tube's width"
        + ("; half of it pulls on the glue behind the tube" if glued else "; no glue is known to hold behind it"),
    )


def _crushed(build: Build, bay: Bay, pulls: dict[Key, FloatArray]) -> Iterator[Link]:
    """The tube's wall where the rib lies round it."""
    spar = build.held.get(bay.key)
    tube, of = (_tube(build, spar), stock_of(build, spar)) if spar else (None, None)
    if spar is None or of is None or tube is None or not tube.inside:
        return
    outside, inside, thick = tube.outside or 0.0, tube.inside, build.layout.through_mm(bay.blank.place)

    def stress(within: float) -> FloatArray:
        return crushing_mpa(across_n(build, bay), thick, outside, within, Pressed.IN_A_SNUG_BED)

    wanted = Property.TENSION_ACROSS if kind_of(build, spar) == "fibre" else Property.TENSION
    strength: Figure | None = of.of(wanted)
    name = build.part(spar).stock
    yield Link(
        name=f"{build.part(spar).name} in {bay.rib.name}",
        fails=Fails.CRUSHED,
        path=spar.path,
        r_mm=bay.r_mm,
        between=(bay.key, spar),
        stress=stress(inside),
        unit="MPa",
        strength=strength,
        unpublished="" if strength else of.why_not(wanted),
        helps=tuple(more_wall(build.design, name, lambda to: _ratio(stress(inside), stress(to)))),
        note="as if only the rib and its doublers bore on it, glued all round: a snug half-round bed",
    )


def _tube(build: Build, spar: Key) -> LengthStock | None:
    """A round spar's stock."""
    stock = build.design.stock.get(build.part(spar).stock)
    return stock if isinstance(stock, LengthStock) and stock.outside is not None else None


def _thicker_rib(build: Build, bay: Bay, more_mm: float = 0.0) -> Iterator[Help]:
    """more_mm : what of doublers counts beside the rib's own sheet [mm]; none where it alone does"""
    own, sheets = bay.blank.place.thickness_mm, of_its_sheet(build, bay) if more_mm else 1
    yield from thicker(build.design, bay.blank.place.stock, lambda to: 1.0 + sheets * (to - own) / (own + more_mm))


def _ratio(was: FloatArray, then: FloatArray) -> float:
    """Margin after a change over what it is, of two greatest stresses."""
    least = float(np.abs(then).max())
    return float(np.abs(was).max()) / least if least > 0.0 else 1.0

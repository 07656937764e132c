"""What is fixed to a blade: fans on their screws, wires on their ties, what sticks, the tip, doublers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from geomgen.design.schema import Mount
from geomgen.materials.figure import Figure
from geomgen.materials.screws import SCREWS
from geomgen.materials.strength import Property
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.strength.build import Build
from geomgen.strength.formulas.bar import rectangle_bending_mpa
from geomgen.strength.formulas.pin import bearing_mpa, shear_out_mpa
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.bays import Bay, bays, of_its_sheet
from geomgen.strength.links.bonds import bond, glue_link, kind_of, stock_of
from geomgen.strength.links.choose import sized, thicker, weakest
from geomgen.strength.links.rib_cuts import rib_cuts

HEAD = 1.8  # a screw's head and its nut are at least so many diameters wide where they bear: from memory
NO_MOUNT = "unpublished: no mount is stated that fixes it to its rib"
OWN_GLUE = "unpublished: what its own adhesive holds on this cover isn't known"


def fittings(build: Build) -> Iterator[Link]:
    """What holds each thing that is fixed to the blade."""
    every = {bay.key: bay for bay in bays(build)}
    for part in build.flying:
        if part.assembly is not Assembly.BLADE:
            continue
        if part.role is Role.FITTING:
            yield from _fitting(build, part, every)
        elif part.role is Role.TIP:
            yield from _tip(build, part)
    yield from weakest(_ties(build, every), lambda link: link.path)
    yield from weakest(_doublers(build), lambda link: link.path)


def _fitting(build: Build, part: Part, every: dict[Key, Bay]) -> Iterator[Link]:
    """By its mount, by its own adhesive, or by nothing that is known."""
    held = build.held[part.key]
    fitting = build.design.fitting[part.path.removeprefix("fitting.")]
    r_mm, pull = float(part.spread[:, 0] @ part.spread[:, 1]), build.loads.pull_of(part.key)
    if held in every and fitting.mount is not None:
        yield from _mounted(build, part, fitting.mount, every[held])
        return
    stuck = held not in every
    yield Link(
        name=f"{part.name} on {build.part(held).name}",
        fails=Fails.PEELED if stuck else Fails.PULLED_APART,
        path=f"{part.path}.stuck" if stuck else part.path,
        r_mm=r_mm,
        between=(part.key, held),
        stress=pull,
        unit="N",
        strength=None,
        unpublished=OWN_GLUE if stuck else NO_MOUNT,
        alone=True,
    )


def _mounted(build: Build, part: Part, mount: Mount, bay: Bay) -> Iterator[Link]:
    """Screws along the blade through a rib's sheet: its pull draws them through, what it pushes with presses on their
    holes."""
    of, screw, thick = stock_of(build, bay.key), SCREWS[mount.screw], build.layout.through_mm(bay.blank.place)
    if of is None:
        return
    screws = next((one for one in build.flying if one.role is Role.SCREW and one.path == f"{part.path}.mount"), None)
    pull = build.loads.pull_of(part.key, *([screws.key] if screws else []))
    push = np.abs(build.loads.fan_n) if build.design.fitting[part.path.removeprefix("fitting.")].fan else 0.0 * pull
    each, head = push / mount.count, HEAD * screw.diameter
    wood = kind_of(build, bay.key) == "wood"
    bears = of.of(Property.BEARING_ACROSS if wood else Property.BEARING)
    helps = (*_more_screws(part, mount), *_thicker(build, bay))
    drawn = pull / (mount.count * np.pi * head * thick)
    shear = of.of(Property.SHEAR)
    found = [
        ("screws drawn through the rib", Fails.SHEARED, drawn, shear, of.why_not(Property.SHEAR)),
        (
            "holes of screws in the rib",
            Fails.BEARING,
            bearing_mpa(each, screw.diameter, thick),
            bears,
            of.why_not(Property.BEARING),
        ),
    ]
    edge = _edge_mm(build, bay, f"{part.path}.mount")
    if edge > screw.diameter / 2.0:
        out = shear_out_mpa(each, screw.diameter, thick, edge)
        found.append(("wood beside screws in the rib", Fails.SHEARED_OUT, out, shear, of.why_not(Property.SHEAR)))
    for name, fails, stress, figure, why in found:
        yield Link(
            name=f"{name} of {part.name}",
            fails=fails,
            path=f"{part.path}.mount",
            r_mm=bay.r_mm,
            between=(part.key, bay.key),
            stress=stress,
            unit="MPa",
            strength=figure,
            unpublished="" if figure else why,
            helps=helps,
            note=f"all screws alike; heads and nuts {HEAD:g} diameters wide; the screws' own steel isn't judged",
        )


def _edge_mm(build: Build, bay: Bay, path: str) -> float:
    """Least wood from the middle of a mount's screw to anything that is cut of the rib [mm]."""
    cuts = rib_cuts(build, bay)
    if cuts is None:
        return 0.0
    own = [one.loop for one in bay.blank.openings if one.path == path]
    shape = cuts.flat.weighed.to_shapely(0.02)
    rims = [shape.exterior, *shape.interiors]
    least = np.inf
    for hole in own:
        x, y = hole.centroid()
        reach = max(hole.bounds()[2] - hole.bounds()[0], hole.bounds()[3] - hole.bounds()[1]) / 2.0
        away = [float(ring.distance(shapely.Point(x, y))) for ring in rims]
        least = min([least, *(one for one in away if one > 1.05 * reach)])
    return float(least)


def _more_screws(part: Part, mount: Mount) -> Iterator[Help]:
    yield Help(f"{part.path}.mount.count", str(mount.count), str(mount.count + 2), (mount.count + 2) / mount.count)


def _thicker(build: Build, bay: Bay) -> Iterator[Help]:
    through, own = build.layout.through_mm(bay.blank.place), bay.blank.place.thickness_mm
    sheets = of_its_sheet(build, bay)
    yield from thicker(build.design, bay.blank.place.stock, lambda to: 1.0 + sheets * (to - own) / through)


def _ties(build: Build, every: dict[Key, Bay]) -> Iterator[Link]:
    """The bridge of wood that a tie goes round, sheared off at both its ends: wires hang from their innermost tie."""
    tied = dict[Key, list[Joint]]()
    for joint in build.flying.joints:
        if joint.a.role is Role.WIRE and joint.bond is Bond.CLAMPED and joint.b in every:
            tied.setdefault(joint.a, []).append(joint)
    hang = dict[tuple[Key, str], list[Key]]()
    for wire, joints in tied.items():
        innermost = min(joints, key=lambda one: every[one.b].r_mm)
        hang.setdefault((innermost.b, innermost.path), []).append(wire)
    for (rib, path), wires in hang.items():
        of, web = stock_of(build, rib), build.design.blade.construction.web
        if of is not None:
            yield _tie(build, every[rib], path, wires, of.of(Property.SHEAR) or of.why_not(Property.SHEAR), web)


def _tie(build: Build, bay: Bay, path: str, wires: Sequence[Key], shear: Figure | str, web: float) -> Link:
    return Link(
        name=f"wood of {bay.rib.name} that a tie of wires goes round",
        fails=Fails.SHEARED,
        path=path,
        r_mm=bay.r_mm,
        between=(wires[0], bay.key),
        stress=build.loads.pull_of(*wires) / (2.0 * web * build.layout.through_mm(bay.blank.place)),
        unit="MPa",
        strength=None if isinstance(shear, str) else shear,
        unpublished=shear if isinstance(shear, str) else "",
        helps=(*sized(build.design, "blade.construction.web", web, 1.5, lambda to: to / web), *_thicker(build, bay)),
        note="all of the wires' pull, for a wire can't push, on rib and doublers; the tie itself isn't judged",
    )


def _tip(build: Build, part: Part) -> Iterator[Link]:
    """The tip piece: pulled off the last rib, and bent by the air on it, its glue as high as its sheet."""
    held, flat = build.held[part.key], part.shape
    joints = list(build.joints(part.key, held))
    if not joints or not isinstance(flat, Flat):
        return
    area, thick = sum(one.area_mm2 for one in joints), flat.thickness_mm
    deep, end = part.facts.get("depth_mm", flat.region.bounds()[3]), build.design.rotor.radius
    lift = np.abs(build.loads.air_between(end - deep, end)[0])
    pull = build.loads.pull_of(part.key, *build.hanging_on(part.key))
    stress = pull / area + rectangle_bending_mpa(lift * deep / 2.0, area / thick, thick)
    bonded = bond(build, part.key, held)
    helped = tuple(thicker(build.design, part.stock, lambda to: to / thick))
    note = "edge on a rib's face; a cover that reaches over it isn't counted"
    yield glue_link(bonded, "glue of the tip piece", Fails.PULLED_APART, stress, path=part.path, r_mm=end - deep,
                    between=(part.key, held), helps=helped, note=note)  # fmt: skip


def _doublers(build: Build) -> Iterator[Link]:
    """A doubler's face on its rib, pulled off."""
    for part in build.flying:
        if part.role is not Role.DOUBLER:
            continue
        joint: Joint | None = next((one for one in build.joints(part.key) if one.a == part.key), None)
        if joint is None or joint.area_mm2 <= 0.0:
            continue
        bonded = bond(build, joint.a, joint.b)
        stress = build.loads.pull_of(part.key, *build.hanging_on(part.key)) / joint.area_mm2
        yield glue_link(bonded, f"glue of {part.name}", Fails.PULLED_APART, stress, path=part.path, r_mm=part.r_mm,
                        between=(joint.a, joint.b), helps=(), note="pulled off by its face")  # fmt: skip

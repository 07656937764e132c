"""The hub's exact solid: all that adds fused at once, all that takes away cut at once."""

from __future__ import annotations

from typing import Any

import numpy as np

from geomgen.plane.arcs import arc_slot
from geomgen.plane.path import Circle, Loop, Path
from geomgen.plane.polar import on_circle
from geomgen.plane.region import Region
from geomgen.printing.booleans import cut, fused
from geomgen.printing.faces import located, prism
from geomgen.printing.kernel import kernel
from geomgen.root.hub_mass import arms_to_hub
from geomgen.root.hub_spec import Duct, HubSpec

BEYOND_MM = 1.0  # cuts run this much past a face they break through


def hub_solid(spec: HubSpec) -> Any:
    """The hub of the anticlockwise twin in its own frame."""
    cq = kernel()
    cup = cq.Solid.makeCylinder(spec.bay_radius + spec.wall, spec.rim)
    arms, tools = _arm(spec), _arm_tools(spec)
    places = [located(place) for place in arms_to_hub(spec)]
    body = fused([cup, *(solid.moved(place) for place in places for solid in arms)])
    return cut(body, [*_cup_tools(spec), *(tool.moved(place) for place in places for tool in tools)])


def _cylinder(diameter: float, start: float, end: float, at: tuple[float, float] = (0.0, 0.0)) -> Any:
    """Along an arm from s to s, in the arm's frame."""
    cq = kernel()
    return cq.Solid.makeCylinder(diameter / 2, end - start, cq.Vector(*at, -start), cq.Vector(0.0, 0.0, -1.0))


def _arm(spec: HubSpec) -> list[Any]:
    """Thick root and its taper, the arm round socket and ducts, the flange."""
    cq = kernel()
    inside = spec.pocket_from / 2
    base, inward = cq.Vector(0.0, 0.0, -spec.boss_end), cq.Vector(0.0, 0.0, -1.0)
    taper = cq.Solid.makeCone(spec.boss / 2, spec.arm / 2, spec.taper_end - spec.boss_end, base, inward)
    solids = [_cylinder(spec.boss, inside, spec.boss_end), taper]
    solids += [_cylinder(spec.flange, spec.seat - spec.flange_thickness, spec.seat)]
    outlines: list[Loop] = [duct_shell(duct, spec.arm, spec.wall) for duct in spec.ducts]
    outlines = outlines or [Circle((0.0, 0.0), spec.arm / 2)]
    solids += [prism(Region(outline), -spec.seat, -inside) for outline in outlines]
    return solids


def duct_shell(duct: Duct, arm: float, wall: float) -> Path:
    """Outline round a socket's arm and a duct with its wall: arcs joined by the two outer tangents, anticlockwise.

    arm  : diameter round the socket [mm]
    wall : round the duct [mm]
    """
    a, b, rho = arm / 2, duct.width / 2 + wall, duct.radius
    lean = float(np.degrees(np.arccos((a - b) / rho)))  # a tangent's touching points, seen from the line of centres
    first, last = duct.from_deg, duct.to_deg
    ends = on_circle(np.full(2, rho), [first, last])
    leave, arrive = on_circle(1.0, first - lean), on_circle(1.0, last + lean)
    outer = on_circle(np.full(2, rho + b), [first, last])
    xy = np.stack((a * leave, ends[0] + b * leave, outer[0], outer[1], ends[1] + b * arrive, a * arrive))
    turns = np.radians([0.0, lean, last - first, lean, 0.0, 360.0 - (last - first) - 2 * lean])
    keep = np.array([True, True, True, last - first > 1e-6, True, True])
    return Path(xy[keep], np.tan(turns / 4)[keep], True)


def _arm_tools(spec: HubSpec) -> list[Any]:
    """Socket, spot face behind it, ducts, pilot holes."""
    out = spec.seat + BEYOND_MM
    tools = [_cylinder(spec.socket, spec.pocket_from, out), _cylinder(spec.pocket, spec.pocket_from, spec.collar_seat)]
    tools += [prism(Region(_slot(duct)), -out, -spec.duct_from(duct)) for duct in spec.ducts]
    tools += [_cylinder(spec.pilot, spec.seat - spec.pilot_depth, out, at) for at in spec.pilots]
    return tools


def _slot(duct: Duct) -> Loop:
    if duct.to_deg - duct.from_deg < 1e-6:
        x, y = on_circle(duct.radius, duct.from_deg)
        return Circle((float(x), float(y)), duct.width / 2)
    return arc_slot((0.0, 0.0), duct.radius, duct.width, duct.from_deg, duct.to_deg)


def _cup_tools(spec: HubSpec) -> list[Any]:
    """Bay, bore, holes for the bolts."""
    cq = kernel()
    tall = spec.rim + spec.boss + spec.seat  # whatever of an arm stands above the bay goes too
    tools = [cq.Solid.makeCylinder(spec.bay_radius, tall, cq.Vector(0.0, 0.0, spec.floor))]
    for diameter, (x, y) in [(spec.bore, (0.0, 0.0)), *((spec.bolt, at) for at in spec.bolts)]:
        tools.append(cq.Solid.makeCylinder(diameter / 2, spec.floor + 2 * BEYOND_MM, cq.Vector(x, y, -BEYOND_MM)))
    return tools

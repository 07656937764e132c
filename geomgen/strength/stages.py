"""Whether it holds: what each part hangs on and the pulls on the way; loads along a blade, links, margins, swinging."""

from __future__ import annotations

import math
from collections.abc import Mapping

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.mass.lines import Line
from geomgen.mass.measured import Measured
from geomgen.materials.strength import Strength
from geomgen.model.air_loads import AirLoads
from geomgen.model.element import Element
from geomgen.model.joint import Key
from geomgen.model.layout import Layout
from geomgen.model.made import Made
from geomgen.root.hub_spec import HubSpec
from geomgen.root.root import COLLAR, Root
from geomgen.stages import reads
from geomgen.strength import load_path as path
from geomgen.strength import loads as loading
from geomgen.strength import mass_points, places, run_up
from geomgen.strength import swings as swinging
from geomgen.strength.blade_loads import TYPICAL, BladeLoads, Case, State
from geomgen.strength.build import Build
from geomgen.strength.cross_section import CrossSection, Stiffness
from geomgen.strength.held import Crossing, Frequencies, Held
from geomgen.strength.link import Link
from geomgen.strength.links.every import every_link
from geomgen.strength.load_path import LoadPath, chain
from geomgen.strength.margins import judged
from geomgen.strength.mass_points import MassPoints
from geomgen.strength.places import Places
from geomgen.strength.sections.cross_sections import cross_sections
from geomgen.strength.sections.stiffness import stiffness
from geomgen.strength.stock_strength import stock_strength
from geomgen.structure.ribs.blank import Blank

STARTS = 12  # states of a start that loads are looked at in


@reads("blade.spar")
def hung(design: Design, flying: Made) -> Mapping[Key, Key]:
    """What each part hangs on; a part that nothing holds is a fault."""
    return path.hung(flying, main_spar=f"blade.spar.{design.main_spar}")


@reads("duty.rpm_max", "blade.spar")
def held(design: Design, hung: Mapping[Key, Key], lines: tuple[Line, ...]) -> LoadPath:
    """What holds one blade in, at the highest speed."""
    main_spar = f"blade.spar.{design.main_spar}"
    return path.load_path(lines, hung, main_spar=main_spar, rpm_max=design.duty.rpm_max)


@reads("stock")
def strengths(design: Design) -> Mapping[str, Strength]:
    """What each stock stands."""
    return {name: stock_strength(design, name) for name in design.stock}


@reads("blade.spar")
def placed(design: Design, layout: Layout, root: Root, hub: HubSpec) -> Places:
    """Where along a blade loads are told."""
    return places.places(layout, root, hub, main_spar=design.main_spar)


def carrying(
    layout: Layout, flying: Made, strengths: Mapping[str, Strength], placed: Places
) -> tuple[CrossSection, ...]:
    """What of a blade bends and twists, between the places."""
    return cross_sections(layout, flying, strengths, placed.middles_mm.tolist())


def stiff(carrying: tuple[CrossSection, ...]) -> Stiffness:
    """How stiff that is."""
    return stiffness(carrying)


def points(
    measured: tuple[Measured, ...], lines: tuple[Line, ...], elements: tuple[Element, ...], hung: Mapping[Key, Key]
) -> MassPoints:
    """One blade's masses, as far as they pull on its collar."""
    carried = [key for key in hung if COLLAR in (key, *chain(key, hung))]
    return mass_points.mass_points(measured, lines, elements, carried)


@reads("duty.rpm_max", "rotor.blades", "rotor.coning", "strength.run_up")
def cases(design: Design, air: AirLoads, about_axis_kg_m2: float) -> tuple[Case, ...]:
    """The states that loads are looked at in: at rest, in hover, at the highest speed, and on a start."""
    coning, most = math.radians(design.rotor.coning), design.duty.rpm_max * math.pi / 30.0
    steady = [] if air.carries is None else [(State.HOVER, air.carries[1])]
    found = [Case(State.REST, 0.0)]
    found += [
        Case(name, speed, fan_n=run_up.trim_n(air, speed, coning)) for name, speed in [*steady, (State.FASTEST, most)]
    ]
    found += run_up.run_up(
        air,
        inertia_kg_m2=about_axis_kg_m2,
        blades=design.rotor.blades,
        coning_rad=coning,
        run_up_s=design.strength.run_up,
        most_rad_s=most,
        cases=STARTS,
    )
    return tuple(found)


@reads("pitch.set", "rotor.coning", "hub.socket.fit")
def loads(
    design: Design, placed: Places, stiff: Stiffness, points: MassPoints, air: AirLoads, cases: tuple[Case, ...]
) -> BladeLoads:
    """All loads on one blade in each case."""
    hub = loading.InHub(design.pitch.set, design.rotor.coning, design.hub.socket.fit)
    return loading.blade_loads(placed, stiff, points, air, cases, hub)


@reads("duty.rpm_max", "duty.rpm", "pitch.set", "rotor.coning", "rotor.blades")
def frequencies(
    design: Design, placed: Places, stiff: Stiffness, points: MassPoints, air: AirLoads
) -> tuple[Frequencies, tuple[Crossing, ...]]:
    """How fast a blade swings at each speed, and where that meets its turning."""
    slowest = air.carries[0] if air.carries is not None else design.duty.rpm * math.pi / 30.0
    fastest = design.duty.rpm_max * math.pi / 30.0
    return swinging.swings(
        loading.beam_of(placed, stiff, design.pitch.set),
        loading.masses_of(points, TYPICAL, design.pitch.set),
        working=(min(slowest, fastest), fastest),
        blades=design.rotor.blades,
        coning_rad=math.radians(design.rotor.coning),
    )


@reads("pitch.set", "rotor.coning")
def divergence(design: Design, placed: Places, stiff: Stiffness, points: MassPoints, air: AirLoads) -> float | None:
    """Speed at which lift would twist a blade more than it stands against [rad/s]; None where it doesn't."""
    beam = loading.beam_of(placed, stiff, design.pitch.set)
    masses = loading.masses_of(points, TYPICAL, design.pitch.set)
    return swinging.diverges(beam, masses, stiff, air, coning_rad=math.radians(design.rotor.coning))


@reads(
    "rotor.blades", "rotor.root", "rotor.radius", "blade.spar", "blade.ribs.*.every", "blade.ribs.*.lighten",
    "blade.construction.web", "pitch.set", "pitch.pin", "pitch.fixing", "pitch.fixed_cap", "pitch.turning_cap",
    "pitch.wedge", "hub", "fitting", "glue.kind", "glue.on_tube", "stock", "printer.line", "units",
)  # fmt: skip
def links(
    design: Design,
    layout: Layout,
    blanks: tuple[Blank, ...],
    flying: Made,
    hung: Mapping[Key, Key],
    root: Root,
    hub: HubSpec,
    loads: BladeLoads,
    carrying: tuple[CrossSection, ...],
    strengths: Mapping[str, Strength],
) -> tuple[Link, ...]:
    """Every way in which some place can fail, and how it is loaded."""
    return every_link(Build(design, layout, blanks, flying, hung, root, hub, loads, carrying, strengths))


@reads("strength.factor")
def all_held(
    design: Design,
    links: tuple[Link, ...],
    loads: BladeLoads,
    stiff: Stiffness,
    swings: tuple[Frequencies, tuple[Crossing, ...]],
    diverges: float | None,
    air: AirLoads,
) -> Held:
    """Whether it holds, all of it."""
    fan = () if air.fans is None else (air.fans.spin_words,)
    words = (air.source, *fan, loading.WORDS)
    return Held(judged(links, design.strength.factor), loads, stiff, *swings, diverges, words)


def twist_in_hover(loads: BladeLoads) -> tuple[FloatArray, FloatArray]:
    """(k,) radii [mm], and how far the blade is turned there by its loads in hover [deg]; nothing where none is."""
    number = next((k for k, case in enumerate(loads.cases) if case.name == State.HOVER), None)
    twist = loads.twist_deg[TYPICAL, 0] * 0.0 if number is None else loads.twist_deg[TYPICAL, number]
    return loads.r_mm, twist

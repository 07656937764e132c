"""The stages of balance: inertia, the centre along the chord, what is out of balance, and what trims it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.balance import inertia as inertias
from geomgen.balance.before import Before, before
from geomgen.balance.chordwise import QUARTER, Chordwise, Moments, chordwise, moments
from geomgen.balance.inertia import Inertia
from geomgen.balance.trim import Pocket, Trim, trim
from geomgen.balance.unbalance import GRADES_MM_S, Unbalance, Vector, permissible_g_mm, two_planes, unbalance
from geomgen.blade.blade import Blade
from geomgen.blade.stages import PLACES
from geomgen.design.schema import BladePocket, Design, NoseWeight
from geomgen.frames import applied, blades_to_rotor
from geomgen.mass.elements import of_craft
from geomgen.mass.lines import Line
from geomgen.mass.statement import MassStatement
from geomgen.model.element import Element
from geomgen.root.hub_spec import HubSpec
from geomgen.stages import reads
from geomgen.stock.sharing import as_laid
from geomgen.stock.sheets import Layout

LOOKS = 41  # radii at which the quarter chord is looked up


@dataclass(frozen=True, eq=False)
class Balance:
    """What is known of a craft's balance.

    rpm       : at which forces are told: what carries it as hover has it, else the design's [1/min]
    by_hover  : whether hover says so
    rpm_max   : of the design, for pulls [1/min]
    blades    : [-]
    chordwise : of one blade
    unbalance : of all that turns, as designed
    grades    : grade of ISO 21940-11 [mm/s], and what it lets a stiff rotor of this mass have at that rpm [g mm]
    planes    : heights of the hub's floor and rim above where the feather axes meet [mm], and the unbalance as two, one
                in either
    aim_g_mm  : what the design would leave; None where it doesn't say
    trim      : None where there are no pockets
    """

    rpm: float
    by_hover: bool
    rpm_max: float
    blades: int
    chordwise: Chordwise
    unbalance: Unbalance
    grades: tuple[tuple[float, float], ...]
    planes: tuple[tuple[float, Vector], tuple[float, Vector]]
    aim_g_mm: float | None
    trim: Trim | None

    @property
    def by_one_g_mm(self) -> float:
        """What one blade that is heavier than the others by 1 g adds, its mass spread as it is [g mm]."""
        return self.chordwise.plain.r_mm

    @property
    def left(self) -> Unbalance:
        """What is left when all is trimmed that can be."""
        return self.unbalance if self.trim is None else self.trim.after


@reads("rotor.blades", "rotor.turn", "rotor.coning", "pitch.set")
def inertia(design: Design, elements: tuple[Element, ...]) -> Inertia:
    """Inertia of one blade and of all that turns."""
    return inertias.inertia(elements, design)


def about_axis_kg_m2(inertia: Inertia) -> float:
    """Inertia of all that turns, about the rotor's axis [kg m2]."""
    return inertia.craft.about_rotor_axis * 1e-9


@reads(*PLACES, "rotor.blades", "rotor.turn", "rotor.coning", "pitch.set", "duty.rpm", "duty.rpm_max", "balance",
       "blade.trim", "hub.trim")  # fmt: skip
def balance(
    design: Design,
    blade: Blade,
    elements: tuple[Element, ...],
    mass: MassStatement,
    spec: HubSpec,
    carries: float | None,
) -> Balance:
    """The centre along the chord, what is out of balance and what trims it.

    carries : the rpm that carries the craft, as hover has it; None where that isn't known [1/min]
    """
    found, rpm = unbalance(of_craft(elements, design)), carries or design.duty.rpm
    floor, rim = spec.floor - spec.axis_height, spec.rim - spec.axis_height
    low, high = two_planes(found, floor, rim)
    pockets, asked = tuple(_pockets(design, blade, floor)), design.balance
    return Balance(
        rpm=rpm,
        by_hover=carries is not None,
        rpm_max=design.duty.rpm_max,
        blades=design.rotor.blades,
        chordwise=chordwise(_moments(mass, elements), _quarter(blade), _nose_weight(design, blade)),
        unbalance=found,
        grades=tuple((grade, permissible_g_mm(grade, found.mass_g, rpm)) for grade in GRADES_MM_S),
        planes=((floor, low), (rim, high)),
        aim_g_mm=asked.aim,
        trim=trim(found, pockets, step_g=asked.step, aim_g_mm=asked.aim) if pockets else None,
    )


@reads("rotor.blades", "rotor.turn", "rotor.coning", "rotor.radius", "rotor.root", "blade.tip", "pitch.set")
def scatter(design: Design, lines: tuple[Line, ...], balance: Balance, layout: Layout) -> Before:
    """How far out of balance it will come out before anything is weighed, sheets shared as parts are laid."""
    pockets = () if balance.trim is None else balance.trim.pockets
    reach = max((float(np.hypot(*pocket.place[:2])) for pocket in pockets), default=design.frame_end)
    return before(lines, design, as_laid(layout), balance.unbalance, reach)


def _moments(mass: MassStatement, elements: tuple[Element, ...]) -> Moments:
    """The statement's own, so that the same figure is told everywhere; r2, which it hasn't, by elements."""
    blade, out = mass.blade, mass.blade.static_moment_g_mm.typical
    forward = blade.cg_chordwise_mm.typical * blade.mass_g.typical
    weighted = blade.cg_chordwise_r_weighted_mm.typical * out
    return replace(moments(elements), mass=blade.mass_g.typical, r=out, y=forward, ry=weighted)


def _quarter(blade: Blade) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Radii, places of the quarter chord + forward of the feather axis, and chords [mm]."""
    radii = np.unique([*blade.breaks(), *np.linspace(blade.root_mm, blade.radius_mm, LOOKS)])
    stations = blade.stations(radii)
    chords = np.array([station.chord_mm for station in stations])
    places = [station.to_blade(np.array([[QUARTER * station.chord_mm, 0.0]]))[0, 1] for station in stations]
    return radii, np.array(places), chords


def _nose_weight(design: Design, blade: Blade) -> tuple[float, float, float] | None:
    """Radius and place of a nose weight that is asked for, and where the centre is wanted [mm]."""
    asked = design.balance.nose_weight
    if asked is None:
        return None
    place = _on_blade(design, blade, asked)
    return float(place[0]), float(place[1]), asked.to


def _on_blade(design: Design, blade: Blade, table: NoseWeight | BladePocket) -> FloatArray:
    """(3,) where something sits on a blade, in the blade frame [mm]."""
    station = blade.station(design.r(table.at))
    if table.chord is None:
        return np.array([station.r_mm, 0.0, 0.0])
    return np.asarray(station.to_blade(np.array([station.place(table.chord, table.height)]))[0])


def _pockets(design: Design, blade: Blade, floor_mm: float) -> Iterator[Pocket]:
    """Every pocket: those of the blades, one after the other, then the hub's."""
    rotor, hub = design.rotor, design.hub.trim
    places = blades_to_rotor(rotor.blades, design.pitch.set, rotor.coning, rotor.turn == "clockwise")
    for name, table in design.blade.trim.items():
        at = _on_blade(design, blade, table)
        for number, matrix in enumerate(places, start=1):
            yield Pocket(f"blade.trim.{name}", number, applied(matrix, at), table.most)
    if hub is not None:
        for k in range(hub.count):
            angle = np.radians(hub.azimuth + 360.0 * k / hub.count)
            place = np.array([hub.circle * np.cos(angle), hub.circle * np.sin(angle), floor_mm + hub.height])
            yield Pocket("hub.trim", k + 1, place, hub.most)

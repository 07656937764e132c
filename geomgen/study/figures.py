"""The figures by which one way of building is laid beside another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from geomgen.cost.bill import Due
from geomgen.craft import Craft
from geomgen.design.schema import Design, VolumeStock
from geomgen.judging.verdict import Weakest
from geomgen.mass.band import Band, Triple
from geomgen.mass.lines import Line
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.stock.copies import times
from geomgen.stock.need import Need, needs
from geomgen.strength.load_path import pull_n


@dataclass(frozen=True)
class KindMass:
    """What all parts of one kind weigh in one blade.

    role   : what they are
    mass_g : (low, typical, high) [g]
    """

    role: Role
    mass_g: Triple


@dataclass(frozen=True)
class Figures:
    """One option in figures. A pair of (low, typical, high) goes with the low, typical and high masses.

    blade_g            : mass of one blade [g]
    craft_g            : mass of all parts [g]
    lift_g             : the same with the payload: what the rotor has to lift [g]
    cg_out_mm          : a blade's centre of gravity from the rotor axis along the feather axis [mm]
    cg_forward_mm      : the same from the feather axis, + forward, at the reference pitch [mm]
    static_moment_g_mm : a blade's mass times the radius of its centre [g mm]
    rpm                : speed that carries it at the pitch to fly at: low to high hold nine of ten [1/min]
    mean_lift_rpm      : the same by the mean-lift formula, with the low, typical and high mass [1/min]
    air_w              : power in the air there, nine of ten [W]; None where hover finds no rpm
    minutes            : from a full pack [min]; None where fans or pack aren't known, or are too weak
    lift_left          : over the weight at full throttle [-]; None likewise
    tip_speed_m_s      : at that speed [m/s]
    root_pull_n        : what holds one blade in at that speed: sum of m r Omega^2 of all that lies on the blade [N]
    lift_coefficient   : mean lift coefficient taken [-]
    air_density_kg_m3  : density of the air taken [kg/m3]
    weakest            : the link with the least margin; None where loads aren't worked out
    kinds              : one blade by kind of part, in the order of the statement
    needs              : sheets, lengths and so on of each stock
    cut_mm             : outlines and holes of all that is cut from sheet, all blades; no aids to build by [mm]
    parts, pieces      : different parts, and how many there are in the craft; without glue and building aids [-]
    bench_pieces       : aids to build by [-]
    glue_g             : (low, typical, high) mass of glue in the craft [g]
    notes              : parts with something to know of them [-]
    bill               : what it takes of each stock and bought thing, aids to build by and spares among it
    money              : what its prices are in; "" where that isn't said
    """

    blade_g: Band
    craft_g: Band
    lift_g: Band
    cg_out_mm: Band
    cg_forward_mm: Band
    static_moment_g_mm: Band
    rpm: Triple
    mean_lift_rpm: Triple
    air_w: Triple | None
    minutes: Triple | None
    lift_left: float | None
    tip_speed_m_s: Triple
    root_pull_n: Triple
    lift_coefficient: float
    air_density_kg_m3: float
    weakest: Weakest | None
    kinds: tuple[KindMass, ...]
    needs: tuple[Need, ...]
    cut_mm: float
    parts: int
    pieces: int
    bench_pieces: int
    glue_g: Triple
    notes: int
    bill: tuple[Due, ...]
    money: str


def figures(craft: Craft) -> Figures:
    """The figures of one craft.

    raises : GeomgenError where it can't be made or weighed
    """
    design, parts, blade = craft.design, craft.on_sheets, craft.mass.blade
    low, typical, high = craft.lifts
    found, hover = craft.verdict, craft.verdict.hover
    slow, usual, fast = rpm = found.carrying_rpm
    tip = [typical.tip_speed_m_s * each / typical.rpm for each in rpm]
    made = [part for part in parts if part.assembly != Assembly.BENCH and part.role != Role.GLUE]
    volumes = {key: solid.volume_mm3 for key, solid in craft.solids.items()}
    shares = {key: share.typical for key, share in (*craft.print_shares.items(), *craft.bench_print_shares.items())}
    return Figures(
        blade_g=blade.mass_g,
        craft_g=craft.mass.craft.mass_g,
        lift_g=craft.mass.craft.lift_g,
        cg_out_mm=blade.cg_radius_mm,
        cg_forward_mm=blade.cg_chordwise_mm,
        static_moment_g_mm=blade.static_moment_g_mm,
        rpm=(slow, usual, fast),
        mean_lift_rpm=(low.rpm, typical.rpm, high.rpm),
        air_w=hover.air_w if hover is not None else None,
        minutes=hover.minutes if hover is not None else None,
        lift_left=hover.lift_left if hover is not None else None,
        tip_speed_m_s=(tip[0], tip[1], tip[2]),
        root_pull_n=root_pull_n(blade.static_moment_g_mm, rpm),
        lift_coefficient=typical.lift_coefficient,
        air_density_kg_m3=typical.air_density_kg_m3,
        weakest=found.weakest,
        kinds=by_kind(craft.mass.lines),
        needs=needs(parts, design, craft.laid, volumes, shares),
        cut_mm=cut_mm(parts, design),
        parts=len(made),
        pieces=sum(times(part, design) for part in made),
        bench_pieces=sum(part.count for part in parts if part.assembly == Assembly.BENCH),
        glue_g=_sum(craft.mass.lines, Role.GLUE, design.rotor.blades),
        notes=sum(bool(part.notes) for part in parts),
        bill=craft.bill,
        money=design.money.of if design.money is not None else "",
    )


def root_pull_n(moment_g_mm: Band, rpm: Triple) -> Triple:
    """Pull of one blade at the root, (low, typical, high) [N]: r along the feather axis, coning left out.

    moment_g_mm : static moment of the blade, which is the sum of m r [g mm]
    rpm         : low, typical and high [1/min]
    source      : equilibrium of a body carried round, F = sum of m r Omega^2
    """
    moments = (moment_g_mm.low, moment_g_mm.typical, moment_g_mm.high)
    low, typical, high = (pull_n(moment, 1.0, each) for moment, each in zip(moments, rpm, strict=True))
    return low, typical, high


def by_kind(lines: Sequence[Line]) -> tuple[KindMass, ...]:
    """What each kind of part weighs in one blade."""
    kinds = dict.fromkeys(line.role for line in lines if line.assembly == Assembly.BLADE)
    mine = [line for line in lines if line.assembly == Assembly.BLADE]
    return tuple(KindMass(role, _sum(mine, role, 1)) for role in kinds)


def cut_mm(parts: Sequence[Part], design: Design) -> float:
    """Length of all edges that are cut from sheet, outlines and holes, all blades [mm]; no prints, no building aids."""
    return sum(
        times(part, design) * part.shape.region.length()
        for part in parts
        if isinstance(part.shape, Flat) and part.assembly != Assembly.BENCH and not _printed(part, design)
    )


def _printed(part: Part, design: Design) -> bool:
    return part.stock in design.stock and isinstance(design.stock[part.stock], VolumeStock)


def _sum(lines: Sequence[Line], role: Role, sets: int) -> Triple:
    """(low, typical, high) of all lines of a kind [g], those on a blade so many times over."""
    mine = [(line.set_g, sets if line.assembly == Assembly.BLADE else 1) for line in lines if line.role == role]
    low, typical, high = (sum(grams[end] * count for grams, count in mine) for end in range(3))
    return low, typical, high

"""The verdict: the few figures that a maker came for, before any table."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.hover.flight import Flight
from geomgen.hover.hovering import Hovering, carrying_rpm
from geomgen.hover.mean_lift import MeanLift, chord_moment
from geomgen.hover.power.chain import Beyond, Working
from geomgen.hover.rotor import NoSetting, Setting
from geomgen.judging.bonds import Hold
from geomgen.mass.band import Triple
from geomgen.mass.statement import MassStatement
from geomgen.strength.load_path import LoadPath
from geomgen.strength.margins import Judged


class Lifts(Enum):
    """Whether it lifts at the pitch to fly at."""

    YES = "it lifts"
    SHORT = "it lifts with less left over than wanted"
    IN_AIR = "it would lift; whether fans and pack hold that isn't known"
    TOO_WEAK = "fans and pack are too weak"
    NO = "no rpm carries it"

    @property
    def enough(self) -> bool:
        """Whether it lifts as wanted, as far as that is known."""
        return self in (Lifts.YES, Lifts.IN_AIR)


@dataclass(frozen=True)
class Better:
    """A pitch that takes least power with the reserve wanted, or has most lift left where none has that.

    pitch_deg : [deg]
    rpm       : [1/min]
    cost_w    : from the cells; in the air where that isn't known [W]
    lift_left : at full throttle [-]; None where that isn't known
    """

    pitch_deg: float
    rpm: float
    cost_w: float
    lift_left: float | None


@dataclass(frozen=True)
class HoverVerdict:
    """What hover says at the pitch to fly at.

    lifts       : whether it lifts
    pitch_deg   : [deg]
    rpm         : (low, typical, high) nine of ten; None where nothing carries [1/min]
    air_w       : power that blades and housings take, likewise [W]
    cells_w     : from the cells [W]; None where fans or pack aren't known, or don't reach
    throttle    : [-]; above 1 where it is more than there is; None where it isn't known
    minutes     : from a full pack, nine of ten; None likewise
    lift_left   : over the weight at full throttle [-]; None likewise
    lift_wanted : what the design wants left [-]
    full_rpm    : at full throttle [1/min]; None likewise
    why         : in words, where it isn't carried or not for any time; what lacks first where something does
    best_pinned, best_of_all : pitches that would do best
    """

    lifts: Lifts
    pitch_deg: float
    rpm: Triple | None
    air_w: Triple | None
    cells_w: float | None
    throttle: float | None
    minutes: Triple | None
    lift_left: float | None
    lift_wanted: float
    full_rpm: float | None
    why: str
    best_pinned: Better | None
    best_of_all: Better | None


@dataclass(frozen=True)
class Weakest:
    """The link with the least margin, and what is to be said beside it.

    name, fails  : what fails, and how
    path, r_mm   : key path of the table it comes from; where it lies, None on the hub's middle [mm]
    factor       : what the greatest load is taken times [-]
    margin       : at its worst, at that factor [-]
    typical      : the same with typical load and strength [-]
    help, helped : the change that does most, (key path, from, to), and the margin after it; None where none is known
    judged, below, unknown : how many links have a margin, have one below 1, and have none for want of a figure [-]
    gives_way    : nothing is broken by it, so that half the factor is asked
    """

    name: str
    fails: str
    path: str
    r_mm: float | None
    factor: float
    margin: float
    typical: float
    help: tuple[str, str, str] | None
    helped: float | None
    judged: int
    below: int
    unknown: int
    gives_way: bool = False


@dataclass(frozen=True)
class Verdict:
    """What is known of the craft as a whole.

    lift_g             : (low, typical, high) mass to lift, payload included [g]
    guess_g            : the design's guess of it [g]; None where it makes none
    blade_area_mm2     : of all blades, seen from above, from root to tip [mm2]
    disc_area_mm2      : of the circle that the tips go round, as if they didn't rise [mm2]
    disc_loading_kg_m2 : typical mass to lift over disc area [kg/m2]
    carrying_rpm       : (low, typical, high) rpm that carries it at the pitch to fly at: nine of ten, as hover has it;
                         where that finds none, by mean lift at the low, typical and high mass [1/min]
    by_hover           : whether hover says so
    mean_lift_rpm      : what mean lift says, (low, typical, high) with the mass [1/min]
    rpm, rpm_max       : of the design [1/min]
    lifted_g           : what is carried at `rpm`, by the square of it [g]
    pull_n             : (low, typical, high) pull of one blade on the hub at `rpm_max` [N]
    hover              : what hover says; None where it can't be reckoned
    tightest           : of the glue lines that could be judged, the one that is used up most; None where none could
    weakest            : of all links; None where none could be judged, or loads aren't worked out
    """

    lift_g: Triple
    guess_g: float | None
    blade_area_mm2: float
    disc_area_mm2: float
    disc_loading_kg_m2: float
    carrying_rpm: Triple
    by_hover: bool
    mean_lift_rpm: Triple
    rpm: float
    rpm_max: float
    lifted_g: float
    pull_n: Triple
    tightest: Hold | None
    hover: HoverVerdict | None = None
    weakest: Weakest | None = None

    @property
    def off_the_guess(self) -> float | None:
        """How far the typical mass to lift is over the guess, as a share of it; None where there is no guess [-]."""
        return self.lift_g[1] / self.guess_g - 1.0 if self.guess_g else None

    @property
    def carries(self) -> bool:
        """Whether the typical mass is carried at the design's rpm."""
        return self.rpm >= self.carrying_rpm[1]


def verdict(
    design: Design,
    *,
    plan: tuple[FloatArray, FloatArray],
    mass: MassStatement,
    lifts: Sequence[MeanLift],
    hover: Hovering | None,
    path: LoadPath,
    used_most: Hold | None,
    judged: Judged | None = None,
) -> Verdict:
    """The verdict on a craft.

    design : its guess, blades and speeds
    plan   : radii and chords between which the chord runs straight [mm]
    lifts  : mean lift at the low, typical and high mass to lift
    hover  : None where it can't be reckoned
    path   : load path of one blade, whose last link is the one to the hub
    used_most : of the glue lines that could be judged, the one that is used up most
    judged : every link's margin; None where loads aren't worked out
    """
    duty, rotor, lift = design.duty, design.rotor, mass.craft.lift_g
    disc = math.pi * rotor.radius**2
    by_mean_lift = lifts[0].rpm, lifts[1].rpm, lifts[2].rpm
    rpm, by_hover = carrying_rpm(hover, by_mean_lift)
    return Verdict(
        lift_g=(lift.low, lift.typical, lift.high),
        guess_g=duty.mass_guess,
        blade_area_mm2=rotor.blades * chord_moment(*plan, 0),
        disc_area_mm2=disc,
        disc_loading_kg_m2=lift.typical * 1e-3 / (disc * 1e-6),
        carrying_rpm=rpm,
        by_hover=by_hover,
        mean_lift_rpm=by_mean_lift,
        rpm=duty.rpm,
        rpm_max=duty.rpm_max,
        lifted_g=lift.typical * (duty.rpm / rpm[1]) ** 2,
        pull_n=path.links[-1].pull_n,
        tightest=used_most,
        hover=hover_verdict(hover) if hover is not None else None,
        weakest=weakest(judged) if judged is not None else None,
    )


def weakest(judged: Judged) -> Weakest | None:
    """The least margin of all, in few figures; None where nothing has one."""
    if (least := judged.least) is None:
        return None
    link, change = least.link, least.help
    return Weakest(
        name=link.name,
        fails=link.fails.value,
        path=link.path,
        r_mm=link.r_mm,
        factor=judged.factor,
        margin=least.worst,
        typical=least.typical,
        help=None if change is None else (change.path, change.was, change.to),
        helped=least.helped,
        judged=len(judged.margins),
        below=len(judged.below),
        unknown=len(judged.unknown),
        gives_way=link.gives_way,
    )


def hover_verdict(hover: Hovering) -> HoverVerdict:
    """What hover says, in few figures."""
    flown = hover.flown
    working = flown.working if isinstance(flown.working, Working) else None
    beyond = flown.working.throttle if isinstance(flown.working, Beyond) else None
    bands = {name: (band.low, band.typical, band.high) for name, band in hover.bands.items()}
    return HoverVerdict(
        lifts=_lifts(hover),
        pitch_deg=flown.pitch_deg,
        rpm=bands.get("rpm"),
        air_w=bands.get("air_w"),
        cells_w=working.taken_w if working else None,
        throttle=working.throttle if working else beyond,
        minutes=bands.get("minutes") if working else None,
        lift_left=flown.full.lift_left if flown.full else None,
        lift_wanted=hover.lift_left,
        full_rpm=flown.full.rpm if flown.full else None,
        why=_why(hover),
        best_pinned=_better(hover.best_pinned),
        best_of_all=_better(hover.best_of_all),
    )


def _why(hover: Hovering) -> str:
    flown = hover.flown
    if isinstance(flown.setting, NoSetting):
        return flown.setting.why
    if flown.at_floor and flown.lasts is not None:
        return flown.lasts.stop.value
    return next(iter(hover.lacks), "")


def _lifts(hover: Hovering) -> Lifts:
    flown = hover.flown
    if isinstance(flown.setting, NoSetting):
        return Lifts.NO
    if flown.working is None:
        return Lifts.IN_AIR
    if isinstance(flown.working, Beyond) or flown.at_floor:
        return Lifts.TOO_WEAK
    return Lifts.YES if flown.reaches(hover.lift_left) else Lifts.SHORT


def _better(flight: Flight | None) -> Better | None:
    if flight is None or not isinstance(flight.setting, Setting):
        return None
    left = flight.full.lift_left if flight.full else None
    return Better(flight.pitch_deg, flight.setting.rpm, flight.cost_w, left)

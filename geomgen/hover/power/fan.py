"""A ducted fan: what it does at full throttle at rest, measured or by its class, and what of its power the air gets."""

from __future__ import annotations

import math
from dataclasses import dataclass

from geomgen.errors import DesignError, Fault
from geomgen.figures import newton
from geomgen.hover.air import Air
from geomgen.hover.power.duct import annulus_m2, static_power_w, static_thrust_n
from geomgen.hover.power.nacelle import DRAG_COEFFICIENT, frontal_area_m2
from geomgen.materials.fans import find_fan
from geomgen.materials.figure import Figure

PLUS_MINUS = 0.15  # of the efficiency of a fan with a good datum: from memory
DOUBTED, REFUSED = 0.70, 0.75  # efficiency above which a claim is doubted, and not believed: from claims read
WASTED = 0.25  # efficiency below which a figure is more likely a slip; the weakest class has 0.35


@dataclass(frozen=True)
class Fan:
    """One ducted fan with motor and controller.

    name           : in words
    inside_mm      : of the duct [mm]
    exit_area_m2   : the annulus [m2]
    efficiency     : power that the air takes up over electrical power, at full throttle at rest [-]
    static_power_w : electrical, at full throttle at rest [W]
    static_thrust_n: the same, at typical efficiency [N]
    density_kg_m3  : of the air that these hold for [kg/m3]
    voltage_v      : at its controller, that these hold for [V]; None where it isn't known
    drag_area_m2   : of its housing: drag coefficient times frontal area [m2]
    inertia_kg_m2  : of what turns, about its axis [kg m2]; None where nothing is known
    source         : in words
    caution        : what a reader should doubt, in words; "" where nothing
    """

    name: str
    inside_mm: float
    exit_area_m2: float
    efficiency: Figure
    static_power_w: float
    static_thrust_n: float
    density_kg_m3: float
    voltage_v: float | None
    drag_area_m2: float
    inertia_kg_m2: Figure | None
    source: str
    caution: str = ""

    @property
    def static_jet_m_s(self) -> float:
        """Speed of its jet at full throttle at rest [m/s]."""
        return math.sqrt(self.static_thrust_n / (self.density_kg_m3 * self.exit_area_m2))


def ideal_share(inside_mm: float, centre_mm: float, thrust_n: float, power_w: float, density_kg_m3: float) -> float:
    """Power that a static thrust leaves in the air at least, over the electrical power it is claimed for [-]."""
    return static_power_w(thrust_n, density_kg_m3, annulus_m2(inside_mm, centre_mm)) / power_w


def measured_fan(
    inside_mm: float,
    centre_mm: float,
    thrust_n: float,
    power_w: float,
    voltage_v: float | None,
    air: Air,
    plus_minus: float = PLUS_MINUS,
    path: str = "",
) -> Fan:
    """A fan from one point at full throttle at rest: a maker's scale and watt meter, or a seller's figures.

    inside_mm, centre_mm : of the duct, and the body in its middle [mm]
    thrust_n, power_w    : [N], electrical [W], both > 0
    voltage_v            : at the controller [V]; None where it wasn't read
    air                  : in which it was
    plus_minus           : of the efficiency, as a share of it [-]
    path                 : key path of the design that states it, for the fault
    raises               : DesignError where the air alone would need more than REFUSED of the power
    """
    area = annulus_m2(inside_mm, centre_mm)
    share = ideal_share(inside_mm, centre_mm, thrust_n, power_w, air.density_kg_m3)
    told = f"the air alone takes {share * 100:.0f} % of its electrical power"
    if share > REFUSED:
        raise DesignError(
            Fault(
                path,
                newton(thrust_n),
                f"is not to be believed of this duct: {told}",
                f"{REFUSED * 100:g} % at most",
                "state thrust and power as a scale and a watt meter show them",
            )
        )
    source = "thrust and power as stated; exit taken to be the annulus"
    caution = f"{told}, more than {DOUBTED * 100:g} %: doubtful" if share > DOUBTED else ""
    if share < WASTED:
        caution = f"{told}, less than the {WASTED * 100:g} % of the weakest fan read of: a slip of the pen?"
    return Fan(
        "fan as stated",
        inside_mm,
        area,
        Figure(share * (1 - plus_minus), share, share * (1 + plus_minus), "-", source),
        power_w,
        thrust_n,
        air.density_kg_m3,
        voltage_v,
        DRAG_COEFFICIENT.typical * frontal_area_m2(inside_mm),
        None,
        source,
        caution,
    )


def class_fan(name: str, air: Air, power_w: float | None = None, voltage_v: float | None = None, path: str = "") -> Fan:
    """A fan of a class of which nothing is measured.

    name      : "40 mm", as materials.fans has it
    air       : in which it is to give its power
    power_w   : electrical, at full throttle at rest [W]; None for what is typical
    voltage_v : at the controller, that this is had at [V]; None where it isn't known
    raises    : DesignError where there is no such class
    """
    kind = find_fan(name, path)
    power = kind.power.typical if power_w is None else power_w
    area = annulus_m2(kind.inside_mm, kind.centre_mm)
    return Fan(
        f"{kind.name} class",
        kind.inside_mm,
        area,
        kind.efficiency,
        power,
        static_thrust_n(kind.efficiency.typical * power, air.density_kg_m3, area),
        air.density_kg_m3,
        voltage_v,
        DRAG_COEFFICIENT.typical * frontal_area_m2(kind.inside_mm),
        kind.inertia,
        f"by class: efficiency {kind.efficiency.source}; power {kind.power.source}",
    )

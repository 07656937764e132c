"""One rotor at one pitch by both theories, so that none of its figures is told without what the other says."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from geomgen.hover.blade_element import TEXTBOOK, blade_element_point
from geomgen.hover.point import HoverPoint
from geomgen.hover.wake.influence import Wake
from geomgen.hover.wake.lifting_line import hover_point
from geomgen.section.polar.forces import SectionPolar

FAR_APART = 0.15  # share of thrust; measured thrust lies within 12 % of the lifting line's
_NOTHING = 1e-12  # of a coefficient


@dataclass(frozen=True, eq=False)
class TwoTheories:
    """What two theories say of one rotor in hover at one pitch; each point has its theory's name.

    lifting_line : the one whose figures count
    annuli       : textbook annuli, which are known to be high on broad blades
    """

    lifting_line: HoverPoint
    annuli: HoverPoint

    @property
    def apart(self) -> float:
        """Thrust by annuli less that by the lifting line, as a share of the latter [-]."""
        return _more(self.annuli.thrust, self.lifting_line.thrust)

    @property
    def torque_apart(self) -> float:
        """The same of torque, which at one pitch and rpm is power [-]."""
        return _more(self.annuli.torque, self.lifting_line.torque)

    @property
    def warn(self) -> bool:
        """Whether they are further apart in thrust than measurements are from the first."""
        return abs(self.apart) > FAR_APART


def two_theories(
    wake: Wake, pitch_rad: ArrayLike, polar: SectionPolar, reynolds_at_tip: float, ground: float = 1.0
) -> TwoTheories:
    """A rotor in hover at one pitch, by the lifting line and by textbook annuli; arguments as in `hover_point`.

    ground : on the annuli's induced speed too, and then in the theory's name [-]
    """
    form = TEXTBOOK
    if ground != 1.0:
        form = replace(form, name=f"{form.name}, inflow over ground times {ground:.3f}", inflow=ground)
    return TwoTheories(
        hover_point(wake, pitch_rad, polar, reynolds_at_tip, ground),
        blade_element_point(wake.blade, pitch_rad, polar, reynolds_at_tip, form),
    )


def _more(other: float, one: float) -> float:
    if abs(other - one) < _NOTHING:
        return 0.0
    return (other - one) / abs(one) if one else float(np.sign(other)) * np.inf

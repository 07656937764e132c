"""Caps and a web that bend as one body: neutral line, stiffness, stress, shear flow."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.bar import rectangle_second_mm4
from geomgen.strength.formulas.values import Values, array


@dataclass(frozen=True, eq=False)
class Strips:
    """Rectangles stacked over one another that bend as one body, lowest first; (..., n) each.

    width, height : [mm]
    middle        : heights of their middles above any line [mm]
    modulus_mpa   : along them [MPa]
    """

    width: FloatArray
    height: FloatArray
    middle: FloatArray
    modulus_mpa: FloatArray

    @property
    def ea_n(self) -> FloatArray:
        """(...,) stretching stiffness [N]."""
        return array(self._each_n.sum(axis=-1))

    @property
    def neutral(self) -> FloatArray:
        """(...,) height of the line that isn't stretched by bending [mm]."""
        return array((self._each_n * self.middle).sum(axis=-1) / self.ea_n)

    @property
    def ei_nmm2(self) -> FloatArray:
        """(...,) bending stiffness, each rectangle's own and by Steiner [N mm2]."""
        own = self.modulus_mpa * rectangle_second_mm4(self.width, self.height)
        return array((own + self._each_n * (self.middle - self.neutral[..., None]) ** 2).sum(axis=-1))

    @property
    def _each_n(self) -> FloatArray:
        return self.modulus_mpa * self.width * self.height

    def stress_mpa(self, moment_nmm: Values) -> FloatArray:
        """(..., n, 2) stress at each rectangle's lower and upper face; a moment that stretches the lowest is positive.

        moment_nmm : (...,) [N mm]
        source     : closed form, E M z / EI
        """
        half = np.stack((-self.height, self.height), axis=-1) / 2.0
        up = self.middle[..., None] + half - self.neutral[..., None, None]
        curved = array(moment_nmm) / self.ei_nmm2
        return array(-curved[..., None, None] * self.modulus_mpa[..., None] * up)

    def flow_n_mm(self, force_n: Values) -> FloatArray:
        """(..., n - 1) shear flow between each rectangle and the next: what their glue carries.

        force_n : (...,) shear force [N]
        returns : [N/mm]
        source  : closed form, V sum(E A z) / EI of all that lies above
        """
        first = np.cumsum(self._each_n * (self.middle - self.neutral[..., None]), axis=-1)[..., :-1]
        return array(np.abs(array(force_n)[..., None] * first / self.ei_nmm2[..., None]))


def caps_and_web(cap: tuple[float, float], web: tuple[float, float], cap_mpa: float, web_mpa: float) -> Strips:
    """Two equal caps on the edges of a web.

    cap     : width and thickness [mm]
    web     : thickness, and height between the caps [mm]
    cap_mpa : modulus of the caps [MPa]
    web_mpa : modulus of the web along the blade; 0 to leave it out [MPa]
    source  : closed form
    """
    apart = (web[1] + cap[1]) / 2.0
    return Strips(
        np.array([cap[0], web[0], cap[0]]),
        np.array([cap[1], web[1], cap[1]]),
        np.array([-apart, 0.0, apart]),
        np.array([cap_mpa, web_mpa, cap_mpa]),
    )


def web_flow_n_mm(strips: Strips, web: int, force_n: Values) -> FloatArray:
    """Greatest shear flow within one of the rectangles: over its width it is the shear stress.

    strips  : (n,) [-]
    web     : which one; the neutral line is looked for in it, else its nearer face counts [-]
    force_n : (...,) shear force [N]
    returns : (...,) [N/mm]
    source  : closed form, V Q / I with Q of all that lies above the neutral line
    """
    line = strips.neutral
    top = strips.middle[web] + strips.height[web] / 2.0
    cut = float(np.clip(line, top - strips.height[web], top))
    above = slice(web + 1, None)
    rest = (strips.modulus_mpa * strips.width * strips.height * (strips.middle - line))[above].sum()
    within = strips.modulus_mpa[web] * strips.width[web] * (top - cut) * ((top + cut) / 2.0 - line)
    return array(np.abs(array(force_n) * (rest + within) / strips.ei_nmm2))

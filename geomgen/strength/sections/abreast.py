"""Spars side by side that a closed sheet ties in the plane of the blade: bent forward or back, they act together as far
as the sheet's shear lets them."""

from __future__ import annotations

from geomgen.model.groups import is_cover
from geomgen.strength.cross_section import CrossSection
from geomgen.strength.sections.stiffness import TYPICAL, apart_nm2


def together(section: CrossSection, span_mm: float, column: int = TYPICAL) -> float:
    """How much of that there is: 0 where no sheet closes the section, up to 1 [-].

    span_mm : of the blade beyond its root [mm]
    source  : two bars that a sheet ties, pushed at the tip: their couple bends by P L3/(3 dEI) and shears the sheet by
              P L/S, one after the other; S = sum of G t times length of the sheet's walls. Closed form
    """
    walls = [wall for cell in section.cells for wall in cell.walls if is_cover(wall[0].role)]
    shear_n = sum(long * thick * shear[column] for _, long, thick, shear in walls)
    more, _ = apart_nm2(section, column)
    if shear_n <= 0.0 or more <= 0.0:
        return 0.0
    return 1.0 / (1.0 + 3.0 * more / (shear_n * (span_mm * 1e-3) ** 2))

"""The mass statement's stage."""

from __future__ import annotations

from collections.abc import Mapping

from geomgen.design.schema import Design
from geomgen.mass.statement import MassStatement, SolidProperties, weigh
from geomgen.model.made import Made
from geomgen.stages import reads


@reads(
    "stock", "wire", "glue", "duty.payload", "rotor.blades", "rotor.turn", "rotor.coning", "pitch.set",
)  # fmt: skip
def weighed(design: Design, flying: Made, solids: Mapping[str, SolidProperties]) -> MassStatement:
    """Mass statement of a blade and the craft."""
    return weigh(flying.parts, design, solids)

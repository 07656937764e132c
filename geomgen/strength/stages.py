"""What holds a blade in."""

from __future__ import annotations

from geomgen.design.schema import Design
from geomgen.mass.statement import MassStatement
from geomgen.stages import reads
from geomgen.strength.load_path import LoadPath, load_path


@reads("duty.rpm_max", "blade.spar")
def held(design: Design, mass: MassStatement) -> LoadPath:
    """What holds one blade in, at the highest speed."""
    return load_path(mass.lines, f"blade.spar.{design.main_spar}", design.duty.rpm_max)

"""What holds a blade in."""

from __future__ import annotations

from geomgen.design.schema import Design
from geomgen.mass.lines import Line
from geomgen.model.made import Made
from geomgen.stages import reads
from geomgen.strength.load_path import LoadPath, load_path


@reads("duty.rpm_max", "blade.spar")
def held(design: Design, flying: Made, lines: tuple[Line, ...]) -> LoadPath:
    """What holds one blade in, at the highest speed."""
    main_spar = f"blade.spar.{design.main_spar}"
    return load_path(lines, flying.joints, main_spar=main_spar, rpm_max=design.duty.rpm_max)

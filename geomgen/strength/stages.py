"""What holds a blade in: what each part hangs on, and the pulls on the way."""

from __future__ import annotations

from collections.abc import Mapping

from geomgen.design.schema import Design
from geomgen.mass.lines import Line
from geomgen.model.joint import Key
from geomgen.model.made import Made
from geomgen.stages import reads
from geomgen.strength import load_path as path
from geomgen.strength.load_path import LoadPath


@reads("blade.spar")
def hung(design: Design, flying: Made) -> Mapping[Key, Key]:
    """What each part hangs on; a part that nothing holds is a fault."""
    return path.hung(flying, main_spar=f"blade.spar.{design.main_spar}")


@reads("duty.rpm_max", "blade.spar")
def held(design: Design, hung: Mapping[Key, Key], lines: tuple[Line, ...]) -> LoadPath:
    """What holds one blade in, at the highest speed."""
    main_spar = f"blade.spar.{design.main_spar}"
    return path.load_path(lines, hung, main_spar=main_spar, rpm_max=design.duty.rpm_max)

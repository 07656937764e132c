"""Marking's stage: everything in the craft's own hand, lettered."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen.cache import Cache
from geomgen.design.schema import Design
from geomgen.marking import finish
from geomgen.model.part import Part
from geomgen.stages import reads


@reads("rotor.turn", "units")
def finished(design: Design, parts: Sequence[Part], *, cache: Cache) -> tuple[Part, ...]:
    """Every part as it is cut, in the craft's own hand, lettered."""
    return finish.finished(parts, clockwise=design.rotor.turn == "clockwise", units=design.units, cache=cache)

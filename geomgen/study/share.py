"""What the options of one file have in common is worked out once."""

from __future__ import annotations

import pathlib
from collections.abc import Sequence
from typing import Any

from geomgen.craft import Craft
from geomgen.design.reader import DesignFile
from geomgen.design.schema import Design, Folded


def crafts(files: Sequence[DesignFile], keep: pathlib.Path | None) -> tuple[Craft, ...]:
    """A craft of each design: one and the same for designs that are equal, one and the same blade for blades that are.

    keep : folder in which solids are kept by content; a hub that two options share is built once
    """
    made: list[Craft] = []
    for file in files:
        twin = next((craft for craft in made if craft.design == file.design), None)
        made.append(twin or Craft(file.design, file.source.folder, keep))
    return tuple(made)


def share_blade(craft: Craft, others: Sequence[Craft]) -> None:
    """Give a craft the blade of another whose planform and sections are equal, with all that its sections remember.

    others : crafts that have been worked out; one without a blade, as its sections couldn't be had, is passed over
    """
    lofted = [other for other in others if "blade" in vars(other) and _lofted_from(other) == _lofted_from(craft)]
    if lofted and "blade" not in vars(craft):
        vars(craft)["blade"] = lofted[0].blade  # where a cached property keeps it


def _lofted_from(craft: Craft) -> tuple[Any, ...]:
    """All that a blade is lofted from."""
    design: Design = craft.design
    radii = tuple(design.r(entry.at) for entry in design.blade.along)
    zero, built = design.r(design.pitch.zero_at), design.blade.construction
    fold = (built.folds, built.nose_radius) if isinstance(built, Folded) else None
    ends = design.rotor.root, design.frame_end
    return craft.folder, ends, zero, radii, design.blade.along, design.blade.feather, fold

"""Glue as a view of joints: every place where two parts are glued, as an area and where it lies, one line for each kind
of joint; or one stated mass spread over them all.

An area is that of the two faces that meet, counted once. Film brings its own glue and counts with its overlaps. Wood
glue doesn't hold on carbon or metal: a design may name another kind for what sits on these, which is a line of its own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import StrEnum

import numpy as np

from geomgen.design.schema import BoxSpar, Design
from geomgen.model.joint import Bond, Joint, Key, touching
from geomgen.model.made import Made
from geomgen.model.part import Area, Bought, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import second_of
from geomgen.structure.glue_kind import ON_TUBE, glue_key, melts, melts_on_tube


class GlueLine(StrEnum):
    """One line of glue, in the order in which they are listed. Its value stands after "glue" in the part's name."""

    SKIN_TO_RIBS = "skin to ribs"
    CAP_STRIPS = "cap strips to ribs"
    SPARS_TO_RIBS = "spars to ribs"
    ON_TUBES = "on tubes"
    CAPS = "caps"
    WEBS = "webs to caps"
    BOXES = "boxes"
    EDGES = "strips along the edges"
    TAIL_SEAM = "tail seam"
    FLAP = "flap"
    DOUBLERS = "doublers"
    TIP = "tip"
    SHEETS = "between sheets"
    CORE = "core"


def glue(design: Design, parts: Sequence[Part], joints: Sequence[Joint]) -> Made:
    """One part for each kind of joint, which hangs on what it joins; none where the design has no [glue].

    parts  : every other part of one blade
    joints : theirs
    faults : the glue would melt the foam it is meant for

    What sits on tubes has its own line where the design names both kinds; a stated coverage or mass is that of all.
    """
    if design.glue is None:
        return Made()
    stocks = {part.key: part.stock for part in parts}
    if faults := (*melts(design, parts), *melts_on_tube(design, parts, joints)):
        return Made(faults=faults)
    weighed = design.glue.coverage is None and design.glue.mass is None  # by its kinds
    both = weighed and design.glue.kind is not None and design.glue.on_tube is not None
    found: dict[GlueLine, list[Joint]] = {line: [] for line in GlueLine}
    for joint in joints:
        if joint.bond.wants_glue and joint.area_mm2 > 0.0 and (line := glue_line(design, joint)) is not None:
            apart = both and _on_tube(design, joint, stocks)
            found[GlueLine.ON_TUBES if apart else line].append(joint)
    lots: list[tuple[str, tuple[str, ...], list[Joint]]]
    lots = [(f"glue {line}", (line,), some) for line, some in found.items() if some]
    if (mass := design.glue.mass) is not None and lots:
        lots = [("glue", (), [joint for *_, some in lots for joint in some])]
    made = [(_part(name, mark, some, mass), some) for name, mark, some in lots]
    held = (
        touching(lot.key, beneath, Bond.GLUED, lot.path)
        for lot, some in made
        for beneath in dict.fromkeys(joint.b for joint in some)
    )
    return Made(tuple(lot for lot, _ in made), tuple(held))


def glue_line(design: Design, joint: Joint) -> GlueLine | None:
    """Which line of glue a joint belongs to where all is glued alike, by what hangs on what; None where none counts."""
    match joint.a.role:
        case Role.SKIN | Role.SHEETING | Role.FOLDED_SKIN:
            return _of_cover(joint)
        case Role.SPAR:
            return _of_spar(design, joint)
        case Role.CAP_STRIP:
            return GlueLine.CAP_STRIPS
        case Role.WEB:
            return GlueLine.WEBS
        case Role.NOSE_STRIP | Role.TAIL_STRIP:
            return GlueLine.EDGES
        case Role.DOUBLER:
            return GlueLine.DOUBLERS
        case Role.TIP:
            return GlueLine.TIP
        case Role.CORE:
            return GlueLine.CORE
        case Role.RIB | Role.FILM | Role.SLEEVE | Role.WIRE | Role.TIE | Role.GLUE | Role.FITTING | Role.HUB:
            return None
        case Role.TURNING_CAP | Role.FIXED_CAP | Role.WEDGE | Role.COLLAR | Role.PIN | Role.CLIP | Role.SCREW:
            return None
        case Role.JIG_BOARD | Role.GAUGE | Role.WIRE_TEMPLATE | Role.COUPON:
            return None


def _of_cover(joint: Joint) -> GlueLine:
    match joint.bond:
        case Bond.SEAMED:
            return GlueLine.TAIL_SEAM
        case Bond.LAPPED:
            return GlueLine.FLAP
        case Bond.BUTTED:
            return GlueLine.SHEETS
    return GlueLine.SKIN_TO_RIBS if joint.b.role == Role.RIB else GlueLine.EDGES


def _of_spar(design: Design, joint: Joint) -> GlueLine:
    if joint.b.role == Role.RIB:
        return GlueLine.SPARS_TO_RIBS
    table = design.blade.spar.get(joint.a.path.removeprefix("blade.spar."))
    return GlueLine.BOXES if isinstance(table, BoxSpar) else GlueLine.CAPS


def _on_tube(design: Design, joint: Joint, stocks: Mapping[Key, str]) -> bool:
    return glue_key(design, stocks.get(joint.a, ""), stocks.get(joint.b, "")) == ON_TUBE


def _part(name: str, mark: tuple[str, ...], joints: Sequence[Joint], mass_g: float | None) -> Part:
    """Glue of some joints, by area; or its whole mass as stated [g]."""
    rows = np.vstack([joint.contact for joint in joints])
    lies = [np.zeros((len(joint.contact), 3, 3)) if joint.second is None else joint.second for joint in joints]
    area = float(rows[:, 0].sum())
    shape = Area(area) if mass_g is None else Bought.about(mass_g)
    spread = rows / [area, 1.0, 1.0, 1.0]
    return Part(
        name=name,
        role=Role.GLUE,
        stock="",
        path=ON_TUBE if mark == (GlueLine.ON_TUBES,) else "glue",
        shape=shape,
        assembly=Assembly.BLADE,
        count=1,
        spread=spread,
        mark=mark,
        second=second_of(spread, np.vstack(lies)),
    )

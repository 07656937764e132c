"""Which sheet lies over a spar let into the ribs' edges: what it is glued to."""

from __future__ import annotations

from typing import Literal

from geomgen.design.schema import Core, Covered, Design, Folded, Ribbed, Sheeted
from geomgen.model.joint import Key
from geomgen.model.role import Role

Half = Literal["upper", "lower"]

STOCK = "blade.construction.stock"


def sheet_over(design: Design, half: Half, *, r_mm: float, chord_share: float) -> Key | None:
    """The part that lies over a place of the ribs' edges; None under film, in foam, and where nothing lies over it.

    r_mm, chord_share : the place along the blade [mm] and along the chord from the nose [-]
    """
    match design.blade.construction:
        case Ribbed() as built:
            whole = built.pattern == "wrap"
            for name, run in design.blade.skin.items():
                if design.r(run.from_) - 1e-6 <= r_mm <= design.r(run.to) + 1e-6:
                    return Key(Role.SKIN, f"blade.skin.{name}", () if whole else (half,))
        case Sheeted() as built if built.to is None or chord_share < built.to:
            return Key(Role.SHEETING, STOCK, () if built.nose is None else (half,))
        case Folded():
            return Key(Role.FOLDED_SKIN, STOCK)
        case Sheeted() | Covered() | Core():
            pass
    return None

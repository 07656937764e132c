"""What the scale said: one reading a row of the form."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

WHOLE, ROOT, TIP, OUT, FORWARD = "whole", "on root scale", "on tip scale", "balances at", "balances forward"
STEP = "step"


class Kind(StrEnum):
    """What lies on the scale. Its value is the word in the form's first column."""

    SHEET = "sheet"
    LENGTH = "length"
    PART = "part"
    BLADE = "blade"
    HUB = "hub"
    CRAFT = "craft"


@dataclass(frozen=True)
class Reading:
    """One row that is filled in.

    line    : of the file, from 1
    kind    : what lies on the scale
    which   : its name there: a part's; a sheet's, "balsa_3 1"; a stock's; of a blade `WHOLE`, `ROOT`, `TIP`, `OUT` or
              `FORWARD`
    blade   : its number, from 1; None for what is of no one blade
    pieces  : how many lay there together; 0 where that isn't said
    mass_g  : as read; nan where the row has none [g]
    place   : where a support stands, or the blade balances; nan where the row has none [mm]
    step_g  : the least that the scale tells apart [g]
    step_mm : the least that the ruler tells apart [mm]
    """

    line: int
    kind: Kind
    which: str
    blade: int | None
    pieces: int
    mass_g: float
    place: float
    step_g: float
    step_mm: float

    @property
    def name(self) -> str:
        """What it is called on a page."""
        if self.kind == Kind.PART:
            return self.which if self.blade is None else f"{self.which}, blade {self.blade}"
        if self.kind in (Kind.SHEET, Kind.LENGTH):
            return f"{self.kind} {self.which}"
        if self.kind == Kind.BLADE:
            return f"blade {self.blade}" if self.which == WHOLE else f"blade {self.blade} {self.which}"
        return "all on the hub" if self.kind == Kind.HUB else "the whole craft"

    @property
    def is_edge(self) -> bool:
        """Whether it tells where something balances, not what it weighs."""
        return self.kind == Kind.BLADE and self.which in (OUT, FORWARD)

    @property
    def is_lever(self) -> bool:
        """Whether it is one of the two scales that a blade lies on."""
        return self.kind == Kind.BLADE and self.which in (ROOT, TIP)


UNIFORM = 1.0 / math.sqrt(12.0)  # standard deviation of what is rounded to a step of 1

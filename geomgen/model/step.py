"""What is to be done with parts as a blade is built, as data: each maker says it of its own parts."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

from geomgen.model.joint import Key


class Phase(IntEnum):
    """When something is done, first to last."""

    PREPARE = 1  # on the bench, before the ribs stand
    THREAD = 2  # through the holes of ribs, as they are stood up
    SLOT = 3  # up into ribs that stand
    LET_IN = 4  # into notches from below
    LAY = 5  # into notches, once ribs and spars are glued
    WEB = 6  # between what lies in its notches, bay by bay
    CLOSE = 7  # strips, sheet, film or foam round it
    FINISH = 8  # once it is closed


@dataclass(frozen=True)
class Task:
    """One thing to do, a step of the order of work; what several parts' makers say alike, phase and wording, is one.

    phase   : when
    does    : what to do; "" where the parts are only taken up by what is done to the ribs at that phase
    keys    : the parts it takes
    caution : what may hurt, or spoil the work; "" where nothing may
    """

    phase: Phase
    does: str
    keys: tuple[Key, ...] = ()
    caution: str = ""

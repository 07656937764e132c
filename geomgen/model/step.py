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
    MOUNT = 9  # on hub and mast, all blades


@dataclass(frozen=True)
class Task:
    """One thing to do, a step of the order of work; what several parts' makers say alike, phase and wording, is one.

    phase   : when
    does    : what to do; "" where the parts are only taken up by what is done to the ribs at that phase
    keys    : the parts it takes; makers name all that it works on, and the order of work leaves each where it is first
    caution : what may hurt, or spoil the work; "" where nothing may
    angles  : ribs, and the angle that each is set to against the board [deg]; none where something else sets it
    again   : the parts it works on that an earlier step took
    """

    phase: Phase
    does: str
    keys: tuple[Key, ...] = ()
    caution: str = ""
    angles: tuple[tuple[Key, float], ...] = ()
    again: tuple[Key, ...] = ()

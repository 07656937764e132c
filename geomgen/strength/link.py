"""A link: one way in which one place can fail, as data; and what changing one key of the design does to it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from geomgen.arrays import FloatArray
from geomgen.materials.figure import Figure
from geomgen.model.joint import Key


class Fails(StrEnum):
    """How a link fails. Its value is the word that pages show."""

    PULLED_APART = "pulled apart"
    PRESSED = "pressed in"
    BENT = "bent"
    SHEARED = "sheared"
    SHEARED_OUT = "sheared out to the edge"
    BEARING = "its hole drawn long"
    CRUSHED = "crushed across"
    BUCKLED = "buckled"
    WRINKLED = "wrinkled"
    SPLIT = "split along the grain or between layers"
    UNSTUCK = "glue sheared"
    PEELED = "peeled off"
    STRIPPED = "thread stripped"
    SLIPS = "slips"


@dataclass(frozen=True)
class Help:
    """What changing one key does to a link.

    path  : key path, "hub.wall"
    was   : as it is, in the words of the design file, "3"
    to    : what it would be changed to, "4"
    times : what the margin is then, over what it is [-]
    """

    path: str
    was: str
    to: str
    times: float


@dataclass(frozen=True, eq=False)
class Link:
    """One way in which one place can fail.

    name        : what fails, for people: "arm of the hub at its root"
    fails       : how
    path        : key path of the table it comes from
    r_mm        : where [mm]; None on the hub's middle
    between     : the part that hangs, and what it hangs on; one and the same within a part
    stress      : (2, c) in each case of the loads, by typical and by greatest masses and air [unit]
    unit        : "MPa", "N/mm", "N", or "N m"
    strength    : what it stands in that unit; None where no figure is published
    unpublished : why not, where it is None
    alone       : glue or a print is all that holds there: a third more than the maker's factor is asked
    gives_way   : it isn't broken then, as a sheet that goes into waves isn't while spars carry on: half of the maker's
                  factor is asked
    helps       : what would help, each by one key
    note        : what the figure rests on, or leaves out
    """

    name: str
    fails: Fails
    path: str
    r_mm: float | None
    between: tuple[Key, Key]
    stress: FloatArray
    unit: str
    strength: Figure | None
    unpublished: str = ""
    alone: bool = False
    gives_way: bool = False
    helps: tuple[Help, ...] = ()
    note: str = ""

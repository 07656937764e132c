"""What every published family of sections tells of itself."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from geomgen.section.section import Section


class Refused(ValueError):
    """Digits that a family reads, but for which no section was published.

    wrong, allowed : as in `geomgen.errors.Fault`
    """

    def __init__(self, wrong: str, allowed: str) -> None:
        self.wrong, self.allowed = wrong, allowed
        super().__init__(f"{wrong}; {allowed}")


@dataclass(frozen=True)
class Family:
    """One published family.

    name     : "four-digit"
    written  : how its digits are written, for a fault
    reads    : the digits it reads, without "naca" before them
    section  : the section that such digits name, its tail closed to a point or open as published; raises `Refused`
    examples : digits of sections it has
    refused  : digits it reads but refuses -> words of what is wrong with them
    """

    name: str
    written: str
    reads: re.Pattern[str]
    section: Callable[[re.Match[str], bool], Section]
    examples: tuple[str, ...]
    refused: Mapping[str, str]


def thickness_in(digits: re.Match[str]) -> float:
    """The greatest thickness [chord] that two digits give in percent; raises `Refused`."""
    if digits["thickness"] == "00":
        raise Refused("its last two digits, the thickness in percent, are 00", "01 to 99")
    return int(digits["thickness"]) / 100.0

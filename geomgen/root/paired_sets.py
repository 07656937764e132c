"""Two sets of evenly spaced holes that make every setting between them, as on a dividing plate.

Spacings are whole steps, so that wherever holes meet at all within the range a wanted pitch is set.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

FURTHER, APART = 6, 3  # steps that a spacing may be wider than it must, and that both may differ; common practice


@dataclass(frozen=True)
class Sets:
    """Holes for one pin, in steps of pitch: hole j of the turning cap stands at j * turning, hole k of the fixed cap at
    k * fixed, and j * turning - k * fixed - lowest is the number of the setting that they make.

    turning, fixed         : spacings [steps]
    turning_holes, fixed_holes : how many there are
    lowest                 : difference that makes the lowest setting [steps]
    """

    turning: int
    fixed: int
    turning_holes: int
    fixed_holes: int
    lowest: int

    @property
    def holes(self) -> int:
        """Of both caps."""
        return self.turning_holes + self.fixed_holes

    @property
    def wide(self) -> int:
        """How far the wider of both sets reaches [steps]."""
        return max((self.turning_holes - 1) * self.turning, (self.fixed_holes - 1) * self.fixed)

    def pairs(self, setting: int) -> list[tuple[int, int]]:
        """(j, k) of every two holes that make a setting."""
        found = []
        for k in range(self.fixed_holes):
            j, rest = divmod(setting + self.lowest + k * self.fixed, self.turning)
            if rest == 0 and 0 <= j < self.turning_holes:
                found.append((j, k))
        return found


def sets_for(settings: int, gap: int, most: int) -> list[Sets]:
    """Every two sets with as few holes as make all settings, narrowest first.

    settings : how many, >= 1
    gap      : least spacing of holes [steps]
    most     : how far a set may reach [steps]
    """
    spacings = range(gap, gap + FURTHER)
    found = [
        sets
        for turning in spacings
        for fixed in spacings
        if 0 < abs(turning - fixed) <= APART
        for sets in _fewest(settings, turning, fixed, most)
    ]
    return sorted(found, key=lambda sets: (sets.wide, sets.holes, sets.turning, sets.fixed))


def _fewest(settings: int, turning: int, fixed: int, most: int) -> Iterator[Sets]:
    """For each number of fixed holes the fewest turning ones, none where more fixed ones save nothing."""
    last = settings + 1
    for fixed_holes in range(1, min(settings, most // fixed + 1) + 1):
        zero = (fixed_holes - 1) * fixed  # difference 0 is this bit
        row = sum(1 << (zero - k * fixed) for k in range(fixed_holes))
        made = 0
        for turning_holes in range(1, min(last, most // turning + 2)):
            made |= row << ((turning_holes - 1) * turning)
            if (run := _run(made, settings)) is not None:
                last = turning_holes
                yield Sets(turning, fixed, turning_holes, fixed_holes, run - zero)
                break


def _run(bits: int, length: int) -> int | None:
    """The lowest place from which so many bits in a row are set."""
    have = 1
    while bits and have < length:
        more = min(have, length - have)
        bits &= bits >> more
        have += more
    return (bits & -bits).bit_length() - 1 if bits else None

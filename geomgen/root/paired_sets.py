"""Two sets of evenly spaced holes that make every setting between them, as on a dividing plate.

Spacings are whole steps, so that wherever holes meet at all within the range a wanted pitch is set.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

FURTHER = 6  # steps by which one set's spacing may be wider than the other's; common practice


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

    @cached_property
    def made(self) -> frozenset[int]:
        """Numbers of all the settings that the holes make, those that nobody wants among them."""
        turning = range(0, self.turning_holes * self.turning, self.turning)
        fixed = range(self.lowest, self.lowest + self.fixed_holes * self.fixed, self.fixed)
        return frozenset(one - other for one in turning for other in fixed)

    def pairs(self, setting: int) -> list[tuple[int, int]]:
        """(j, k) of every two holes that make a setting."""
        found = []
        for k in range(self.fixed_holes):
            j, rest = divmod(setting + self.lowest + k * self.fixed, self.turning)
            if rest == 0 and 0 <= j < self.turning_holes:
                found.append((j, k))
        return found


def sets_for(settings: int, gap: int, most: int) -> Iterator[Sets]:
    """Every two sets with as few holes as make all settings, one of them spaced just so.

    settings : how many, >= 1
    gap      : spacing of the closer set [steps]
    most     : how far a set may reach [steps]
    """
    yield from _fewest(settings, gap, gap, most)
    for wider in range(gap + 1, gap + 1 + FURTHER):
        yield from _fewest(settings, gap, wider, most)
        yield from _fewest(settings, wider, gap, most)


def _fewest(settings: int, turning: int, fixed: int, most: int) -> Iterator[Sets]:
    """For each number of fixed holes the fewest turning ones, none where more fixed ones save nothing."""
    last, row = min(settings, most // turning + 1) + 1, 0
    for fixed_holes in range(1, min(settings, most // fixed + 1) + 1):
        row = row << fixed | 1  # difference 0 is its highest bit
        zero = (fixed_holes - 1) * fixed
        fewest = -(-settings // fixed_holes)
        made = _repeated(row, turning, min(fewest, last) - 1)
        for turning_holes in range(fewest, last):
            made |= row << ((turning_holes - 1) * turning)
            if (run := _run(made, settings)) is not None:
                last = turning_holes
                yield Sets(turning, fixed, turning_holes, fixed_holes, run - zero)
                break


def _repeated(bits: int, by: int, times: int) -> int:
    """So many copies of some bits, each shifted by so much more."""
    made = 0
    for n in range(times):
        made |= bits << (n * by)
    return made


def _run(bits: int, length: int) -> int | None:
    """The lowest place from which so many bits in a row are set."""
    have = 1
    while bits and have < length:
        more = min(have, length - have)
        bits &= bits >> more
        have += more
    return (bits & -bits).bit_length() - 1 if bits else None

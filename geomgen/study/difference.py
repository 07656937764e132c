"""Where the difference between two ways of building comes from: kind by kind, and the lines that make it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from geomgen.mass.lines import Line
from geomgen.model.joint import Key
from geomgen.model.role import Assembly, Role

SAME_G = 5e-4  # no scale tells it

Weighed = dict[tuple[Assembly, Key], tuple[Line | None, float]]


@dataclass(frozen=True)
class LineChange:
    """One part in the base and in another option, whatever it is called there; masses are typical, of the whole craft.

    name, role, assembly : as in the base's statement; in the option's where the base has no such part
    base_stock, stock   : what it is made of there and here; None where it isn't there, or isn't here
    base_g, option_g    : mass there and here; 0 where it isn't [g]
    """

    name: str
    role: Role
    assembly: Assembly
    base_stock: str | None
    stock: str | None
    base_g: float
    option_g: float

    @property
    def difference_g(self) -> float:
        """By so much the option is heavier [g]."""
        return self.option_g - self.base_g

    @property
    def changed(self) -> bool:
        """Whether anything of it differs: its stock, or its mass by what a scale tells."""
        return self.base_stock != self.stock or abs(self.difference_g) > SAME_G


@dataclass(frozen=True)
class KindChange:
    """All lines of one kind of part, the largest difference first.

    role     : what they are
    lines    : every line of that kind in the base or in the option
    """

    role: Role
    lines: tuple[LineChange, ...]

    @property
    def base_g(self) -> float:
        """Mass in the base [g]."""
        return sum(line.base_g for line in self.lines)

    @property
    def option_g(self) -> float:
        """Mass in the option [g]."""
        return sum(line.option_g for line in self.lines)

    @property
    def difference_g(self) -> float:
        """By so much the option is heavier [g]."""
        return sum(line.difference_g for line in self.lines)

    @property
    def changed(self) -> bool:
        """Whether anything in it differs."""
        return any(line.changed for line in self.lines)


@dataclass(frozen=True)
class Difference:
    """What makes one option heavier or lighter than the base; no line is left out, so all of it adds up.

    option   : name of the option
    kinds    : kinds of part, the largest difference first
    """

    option: str
    kinds: tuple[KindChange, ...]

    @property
    def base_g(self) -> float:
        """Mass of all parts of the base's craft [g]."""
        return sum(kind.base_g for kind in self.kinds)

    @property
    def option_g(self) -> float:
        """Mass of all parts of the option's craft [g]."""
        return sum(kind.option_g for kind in self.kinds)

    @property
    def difference_g(self) -> float:
        """By so much the option's craft is heavier [g]."""
        return sum(kind.difference_g for kind in self.kinds)


def difference(option: str, base: tuple[Sequence[Line], int], other: tuple[Sequence[Line], int]) -> Difference:
    """Where the difference in the craft's mass comes from.

    option      : name of the other one
    base, other : lines of the mass statement, and how many blades the craft has
    """
    there, here = _by_key(*base), _by_key(*other)
    kinds: dict[Role, list[LineChange]] = {}
    for key in dict.fromkeys((*there, *here)):
        (was, base_g), (now, option_g) = (side.get(key, (None, 0.0)) for side in (there, here))
        if (line := was or now) is not None:
            stocks = (was.stock if was else None), (now.stock if now else None)
            change = LineChange(line.name, line.role, line.assembly, *stocks, base_g=base_g, option_g=option_g)
            kinds.setdefault(line.role, []).append(change)
    changes = [KindChange(role, tuple(sorted(lines, key=_size))) for role, lines in kinds.items()]
    return Difference(option, tuple(sorted(changes, key=_size)))


def _size(change: LineChange | KindChange) -> float:
    return -abs(change.difference_g)


def _by_key(lines: Sequence[Line], blades: int) -> Weighed:
    """Each line and its typical mass in the craft [g], by which part it is."""
    found: Weighed = {}
    for line in lines:
        found[line.assembly, line.key] = line, line.set_g[1] * (blades if line.assembly == Assembly.BLADE else 1)
    return found

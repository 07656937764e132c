"""Margins: how far each link is from what it stands, at the factor that the maker asks for; the weakest first.

A margin of 1 is the limit. It is of the low strength over the greatest stress, times the factor, and a third more where
glue or a print is all that holds. What has no published strength has no margin: it is kept apart, and never counts as
held.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.materials.figure import Figure
from geomgen.model.role import Role
from geomgen.strength.blade_loads import GREATEST, TYPICAL
from geomgen.strength.link import Fails, Help, Link

ALONE = 4.0 / 3.0
"""What is asked besides, where glue or a print is all that holds [-]. Source: from memory, common practice: a fitting
that no test has proved, and that nothing backs, is given more than what is beside it."""
GIVES_WAY = 0.5
"""What is asked, of the factor, where nothing is broken by it [-]. Source: from memory: sheets may go into waves above
the loads that are met, not below."""
NO_STRESS = "what it takes couldn't be worked out"
_Kind = tuple[str, Fails, str, tuple[Role, str], tuple[Role, str]]


@dataclass(frozen=True, eq=False)
class Margin:
    """A link held against what it stands.

    link      : it
    strength  : what it stands [link.unit]
    asked     : the maker's factor, a third more where the link stands alone, half where nothing is broken by it [-]
    stress    : (typical, greatest) over all cases, without the factor [link.unit]
    worst     : low strength / (greatest stress times `asked`) [-]
    typical   : typical strength / (typical stress times `asked`) [-]; inf where it typically carries nothing
    case      : number of the case with the greatest stress
    """

    link: Link
    strength: Figure
    asked: float
    stress: tuple[float, float]
    worst: float
    typical: float
    case: int

    @property
    def by_load(self) -> float:
        """How much of what lies between worst and typical is the load's doubt; the rest is the strength's. [-]

        Of the logarithms, so that both shares sum to 1; half each where nothing is in doubt.
        """
        load = math.log(self.stress[GREATEST] / self.stress[TYPICAL]) if self.stress[TYPICAL] > 0.0 else math.inf
        low, usual = self.strength.low, self.strength.typical
        strength = math.log(usual / low) if 0.0 < low < usual else 0.0 if low == usual else math.inf
        if math.isinf(load) or math.isinf(strength):
            return 0.5 if math.isinf(load) and math.isinf(strength) else float(math.isinf(load))
        return load / (load + strength) if load + strength > 0.0 else 0.5

    @property
    def help(self) -> Help | None:
        """The one change that does most for it; None where none is known."""
        best = max(self.link.helps, key=lambda each: each.times, default=None)
        return best if best is not None and best.times > 1.0 else None

    @property
    def helped(self) -> float | None:
        """The worst margin after that change."""
        return None if self.help is None else self.worst * self.help.times


@dataclass(frozen=True, eq=False)
class Kind:
    """Links that are alike: one way to fail of one table's parts, at several ribs or radii.

    weakest : the least margin among them
    others  : those of the others, least first
    """

    weakest: Margin
    others: tuple[Margin, ...]


@dataclass(frozen=True, eq=False)
class Judged:
    """All links.

    factor  : the maker's own, which the greatest load is taken times [-]
    margins : least first
    unknown : links of which no strength is published, or no stress could be worked out: nothing says that they hold
    idle    : links that carry nothing in any case
    """

    factor: float
    margins: tuple[Margin, ...]
    unknown: tuple[tuple[Link, str], ...]
    idle: tuple[Link, ...]

    @property
    def kinds(self) -> tuple[Kind, ...]:
        """Margins with those that are alike together, the weakest kind first."""
        alike: dict[_Kind, list[Margin]] = {}
        for each in self.margins:
            alike.setdefault(_kind(each.link), []).append(each)
        return tuple(Kind(first, tuple(rest)) for first, *rest in alike.values())

    @property
    def least(self) -> Margin | None:
        """The weakest of all; None where nothing could be judged."""
        return self.margins[0] if self.margins else None

    @property
    def below(self) -> tuple[Margin, ...]:
        """Those below 1: at the factor asked they don't hold."""
        return tuple(each for each in self.margins if each.worst < 1.0)

    def weakest(self, count: int = 3) -> tuple[Kind, ...]:
        """The weakest, of each kind the least."""
        return self.kinds[:count]


def judged(links: Iterable[Link], factor: float) -> Judged:
    """Every link held against what it stands.

    links  : in any order
    factor : what the greatest load is taken times, > 0 [-]
    """
    margins, unknown, idle = list[Margin](), list[tuple[Link, str]](), list[Link]()
    for link in links:
        if not np.isfinite(link.stress).all():
            unknown.append((link, NO_STRESS))
        elif not np.any(link.stress):
            idle.append(link)
        elif link.strength is None:
            unknown.append((link, link.unpublished or "unpublished"))
        elif not _finite(link.strength):
            unknown.append((link, "its strength is no number"))
        else:
            margins.append(margin(link, link.strength, factor))
    margins.sort(key=lambda each: (each.worst, each.typical))
    return Judged(factor, tuple(margins), tuple(unknown), tuple(idle))


def margin(link: Link, strength: Figure, factor: float) -> Margin:
    """The margin of a link that carries something.

    Stresses count by their size. The greatest is that of both rows: where more mass takes load off, the typical one.
    """
    asked = factor * (ALONE if link.alone else GIVES_WAY if link.gives_way else 1.0)
    size = np.abs(link.stress)
    usual, most = float(size[TYPICAL].max()), float(size.max())
    return Margin(
        link=link,
        strength=strength,
        asked=asked,
        stress=(usual, most),
        worst=strength.low / (most * asked),
        typical=strength.typical / (usual * asked) if usual > 0.0 else math.inf,
        case=int(size.max(axis=0).argmax()),
    )


def by_kind(links: Sequence[Link]) -> tuple[tuple[Link, int], ...]:
    """The first of links that are alike, and how many there are."""
    alike: dict[_Kind, list[Link]] = {}
    for link in links:
        alike.setdefault(_kind(link), []).append(link)
    return tuple((some[0], len(some)) for some in alike.values())


def _kind(link: Link) -> _Kind:
    """What is alike in links at several places: a part with a mark (its rib, its bay) is one of many."""
    hangs, on = link.between
    name = "" if hangs.mark or on.mark else link.name
    return name, link.fails, link.path, (hangs.role, hangs.path), (on.role, on.path)


def _finite(strength: Figure) -> bool:
    return math.isfinite(strength.low) and math.isfinite(strength.typical) and strength.low >= 0.0

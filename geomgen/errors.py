"""One family of errors: each says where, what stands there, what is wrong, and what would do."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from dataclasses import dataclass, replace

from geomgen.figures import spelled


@dataclass(frozen=True)
class Fault:
    """One thing wrong, told so that a maker can mend it.

    path    : key path in the design file, "blade.channel.power.diameter"; "" for a whole file
    value   : what stands there, as the maker would write it; "" where nothing does
    wrong   : what is wrong, with figures, marked as `geomgen.figures` has it until the rim spells them
    allowed : what is allowed; "" where `wrong` says it
    remedy  : what would do; "" where `allowed` says it
    file    : file name as the maker gave it; "" until the rim knows it
    line    : line in that file, from 1; None until the rim knows it
    """

    path: str
    value: str
    wrong: str
    allowed: str = ""
    remedy: str = ""
    file: str = ""
    line: int | None = None

    def at(self, file: str, line: int | None) -> Fault:
        """The same fault, with its file and line."""
        return replace(self, file=file, line=line)

    def __str__(self) -> str:
        where = self.file + (f":{self.line}" if self.line is not None else "")
        subject = f"{self.path} = {self.value}" if self.path and self.value else self.path or self.value
        head = " ".join(part for part in (where, subject) if part)
        tail = "; ".join(part for part in (self.wrong, self.allowed, self.remedy) if part)
        return spelled(f"{head}: {tail}" if head else tail)


class GeomgenError(Exception):
    """Something the maker can mend. Carries every fault found, never only the first."""

    exit_status = 1

    def __init__(self, faults: Fault | Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = (faults,) if isinstance(faults, Fault) else tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class DesignError(GeomgenError):
    """A value or a file is at fault; judged without geometry."""

    exit_status = 2


class MakeError(GeomgenError):
    """A part can't be made as asked; judged by geometry."""

    exit_status = 3


def told_once(found: Iterable[tuple[Hashable, str, float, Fault]]) -> list[Fault]:
    """One fault for each cause, where it is worst, with the other places at which the same is wrong.

    found : for each fault its cause, its place as people call it, "R01", how bad it is, and the fault
    """
    alike: dict[Hashable, list[tuple[str, float, Fault]]] = {}
    for cause, place, bad, fault in found:
        alike.setdefault(cause, []).append((place, bad, fault))
    told = []
    for some in alike.values():
        place, _, fault = max(some, key=lambda one: one[1])
        others = list(dict.fromkeys(other for other, _, _ in some if other != place))
        told.append(replace(fault, wrong=f"{fault.wrong}{_so_too(others)}"))
    return told


def _so_too(places: list[str]) -> str:
    if len(places) <= 3:
        return f"; the same on {' and '.join(places)}" if places else ""
    return f"; the same on {len(places)} more, between {places[0]} and {places[-1]}"

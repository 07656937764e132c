"""What a maker returns: parts, the joints it made, and what is wrong."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import overload

from geomgen.errors import Fault, MakeError
from geomgen.model.joint import Joint
from geomgen.model.part import Part


@dataclass(frozen=True, eq=False)
class Made(Sequence[Part]):
    """What a maker made of a design, and what is wrong; a sequence of its parts.

    parts  : different parts, each with its notes; those that could be made where there are faults
    joints : where they touch one another, or parts made elsewhere
    faults : why some of it can't be made; read nothing past them
    """

    parts: tuple[Part, ...] = ()
    joints: tuple[Joint, ...] = ()
    faults: tuple[Fault, ...] = ()

    def __len__(self) -> int:
        return len(self.parts)

    @overload
    def __getitem__(self, index: int) -> Part: ...
    @overload
    def __getitem__(self, index: slice) -> Sequence[Part]: ...
    def __getitem__(self, index: int | slice) -> Part | Sequence[Part]:
        return self.parts[index]

    def read(self) -> Made:
        """Itself. raises : MakeError where there are faults"""
        if self.faults:
            raise MakeError(dict.fromkeys(self.faults))
        return self


NOTHING = Made()


def together(*made: Made) -> Made:
    """Several as one, in order; a fault that is there twice is told once."""
    return Made(
        tuple(part for each in made for part in each.parts),
        tuple(joint for each in made for joint in each.joints),
        tuple(dict.fromkeys(fault for each in made for fault in each.faults)),
    )


def attempted(maker: Callable[[], Made]) -> Made:
    """What a maker made, or the faults that it raised instead."""
    try:
        return maker()
    except MakeError as error:
        return Made(faults=error.faults)

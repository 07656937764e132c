"""The main spar where it is held: a round tube or rod, and what of it is loaded."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from geomgen.arrays import FloatArray
from geomgen.design.schema import LengthStock
from geomgen.figures import mm
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property, Strength
from geomgen.model.joint import Key
from geomgen.strength.build import Build
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.helping import Change, Loaded, stepped


@dataclass(frozen=True)
class RootTube:
    """A round spar.

    key             : the part
    path            : key path of its table
    stock           : its stock's name
    outside, inside : diameters, 0 inside of a rod [mm]
    strength        : what is known of it
    """

    key: Key
    path: str
    stock: str
    outside: float
    inside: float
    strength: Strength

    @property
    def wall(self) -> float:
        """Thickness of its wall [mm]; of a rod, half its diameter."""
        return (self.outside - self.inside) / 2.0

    @property
    def of_fibres(self) -> bool:
        """Whether it is weaker across than along: what has a strength of its own there."""
        return Property.TENSION_ACROSS in self.strength.figures

    def across(self) -> Figure | None:
        """What its wall stands pulled round the tube: across its fibres, or a metal's own [MPa]."""
        return self.strength.of(Property.TENSION_ACROSS, Property.TENSION)

    def thicker(self, build: Build, of: Callable[[float], Loaded]) -> tuple[Change, ...]:
        """What a thicker wall would do; nothing in a rod.

        of : a link by the tube's inside diameter [mm]
        """
        to = stepped(build.design, self.inside, -1.0)
        if self.inside <= 0.0:
            return ()
        then = of(to) if to > 0.0 else None
        return (Change(f"stock.{self.stock}.inside", mm(self.inside), mm(to), then),)


def collar_mm(build: Build) -> float:
    """s of the collar's middle [mm]."""
    return build.hub.collar_seat - build.design.hub.collar.length / 2.0


def root_tube(build: Build) -> RootTube:
    """The main spar."""
    face, name = build.root.face, build.design.blade.spar[build.design.main_spar].stock
    stock = build.design.stock[name]
    assert isinstance(stock, LengthStock) and stock.outside is not None  # the rules see to a round one
    inside = stock.inside or 0.0
    return RootTube(face.spar, face.spar_path, name, stock.outside, inside, build.strengths[name])


def hanging_n(build: Build) -> FloatArray:
    """(2, c) pull of the main spar and of all that hangs on it [N]: what the collar's fixing holds."""
    spar = build.root.face.spar
    return build.loads.pull_of(spar, *build.hanging_on(spar))


def spar_link(
    tube: RootTube,
    r_mm: float,
    fails: Fails,
    now: Loaded,
    helped: tuple[Help, ...],
    *,
    name: str,
    why: str,
    note: str,
    unit: str = "MPa",
    path: str = "",
    between: tuple[Key, Key] | None = None,
    alone: bool = False,
) -> Link:
    """A link of the spar; within it where nothing else is said."""
    return Link(
        name=name,
        fails=fails,
        path=path or tube.path,
        r_mm=r_mm,
        between=between or (tube.key, tube.key),
        stress=now.stress,
        unit=unit,
        strength=now.strength,
        unpublished=why,
        alone=alone,
        helps=helped,
        note=note,
    )

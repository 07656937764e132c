"""Designs put together: each part of the blade as a body, and planes through all of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property
from itertools import pairwise

import numpy as np
import shapely
from bodies import Body, Plate, channel_lines, spar_bodies
from by_equations import OwnBlade
from hollow import Hollow, hollow

from geomgen.craft import Craft
from geomgen.design import example_path, read, read_text
from geomgen.design.schema import Design

# Of a rib's thickness, from its middle, where it is looked at: just inside its faces, where nothing else touches them
SHARES = (-0.5 + 1e-6, -0.25, 0.0, 0.25, 0.5 - 1e-6)
WEIGHTS = np.array([0.5, 1.0, 1.0, 1.0, 0.5]) / 4  # to mean over them
BETWEEN = (0.02, 0.5, 0.98)  # of a bay's clear length

# Options laid over the demo here, with stocks of their own.
MORE = """
[stock.own_sheet]
kind = "sheet"
of = "balsa"
thickness = 1.5
size = [1000, 100]
[stock.own_nose]
kind = "length"
of = "balsa"
width = 8
height = 24
length = 1000
[stock.own_tail]
kind = "length"
of = "balsa"
width = 20
height = 9
length = 1000
[stock.own_strip]
kind = "length"
of = "spruce"
width = 5
height = 2
length = 1000
[stock.own_film]
kind = "sheet"
of = "polyester film, light"
thickness = 0.03
size = [2000, 600]

[option.sheeted_all_round.blade.construction]
kind = "sheeted"
stock = "own_sheet"
nose = { stock = "own_nose", width = 8 }
tail = { stock = "own_tail", width = 20 }

[option.nose_box]
blade.spar.rear = { kind = "box", stock = "own_sheet", chord = 0.58, width = 20, from = 140, to = "70 %" }
[option.nose_box.blade.construction]
kind = "sheeted"
stock = "own_sheet"
to = 0.3
cover = "own_film"
nose = { stock = "own_nose", width = 8 }

[option.panels]
blade.doubler = { root = false, fan = false }
blade.spar.rear = { kind = "sheet", stock = "balsa_3", chord = 0.62, from = "root", to = "92 %" }
[option.panels.blade.construction]
pattern = "panels"
strip = { stock = "own_nose", width = 8 }
tail = { stock = "own_tail", width = 20 }

[option.webs_ahead]
blade.along = [
  { at = 130, chord = 210, twist = "12 deg", section = "naca 4415" },
  { at = "100 %", chord = 150, twist = "0 deg", section = "naca 4414" },
]
blade.doubler.root = { at = "root", stock = "ply_2" }
blade.doubler.tip = { at = "tip", stock = "ply_2" }
[option.webs_ahead.blade.spar]
rear = false
caps = { kind = "caps", stock = "own_strip", chord = 0.3, to = "90 %", layers = ["90 %", "60 %"], \
web = { stock = "own_sheet", side = "ahead", to = "75 %" } }
[option.webs_ahead.blade.construction]
kind = "covered"
stock = "own_film"
nose = { stock = "own_nose", width = 8 }
tail = { stock = "own_tail", width = 20 }
""".replace("\\\n", "")


def names() -> list[str]:
    """Both examples with each of their options, and the demo with each option laid over it here."""
    given = [(name, read(example_path(name)).options) for name in ("lantern", "kite_day")]
    own = [option for option in read_text(_lantern()).options if option not in given[0][1]]
    return [f"{name} {o}" for name, options in given for o in ("base", *options)] + [f"lantern {o}" for o in own]


def design_of(name: str) -> Design:
    """A design by name."""
    example, option = name.split()
    if example == "lantern":
        return read_text(_lantern(), option=option).design
    return read(example_path(example), option).design


def _lantern() -> str:
    return example_path("lantern").read_text(encoding="utf-8") + MORE


@dataclass(frozen=True, eq=False)
class Plane:
    """All that a plane square to the blade shows, in (forward, up) [mm].

    hollow   : the covers and what they leave
    rib      : the rib or doubler it cuts, if any
    wood     : that rib
    sections : of the other bodies, by name
    """

    r: float
    hollow: Hollow
    rib: Plate | None
    wood: shapely.Polygon | None
    sections: dict[str, shapely.Geometry]


@dataclass(frozen=True, eq=False)
class Assembled:
    """A blade put together.

    ribs     : ribs and doublers
    bodies   : what else has a place of its own
    channels : ways for wires: nothing may stand in them
    """

    design: Design
    own: OwnBlade
    ribs: tuple[Plate, ...]
    bodies: tuple[Body, ...]
    channels: tuple[Body, ...]

    def _plane(self, r: float, rib: Plate | None) -> Plane:
        every = {body.name: body.section(r) for body in (*self.bodies, *self.channels)}
        found = {name: section for name, section in every.items() if section is not None}
        wood = rib.section(r) if rib else None
        shapely.prepare([*found.values(), wood])
        return Plane(r, hollow(self.own, r, rib is not None), rib, wood, found)

    @cached_property
    def rib_planes(self) -> list[list[Plane]]:
        """Planes through each rib, from its root side to its tip side."""
        found = []
        for rib in self.ribs:
            thick = rib.part.shape.thickness_mm
            found.append([self._plane(rib.part.r_mm + share * thick, rib) for share in SHARES])
        return found

    @cached_property
    def bay_planes(self) -> list[list[Plane]]:
        """Planes through each bay between two ribs."""
        found = []
        for near, far in pairwise(self.ribs):
            low = near.part.r_mm + near.part.shape.thickness_mm / 2
            high = far.part.r_mm - far.part.shape.thickness_mm / 2
            if high - low > 0.1:
                found.append([self._plane(low + share * (high - low), None) for share in BETWEEN])
        return found


@cache
def assembled(name: str) -> Assembled:
    """A design put together."""
    craft = Craft(design_of(name), example_path(name.split()[0]).parent)
    design, own = craft.design, OwnBlade(craft.design)
    plates = ("rib", "doubler", "tip", "turning cap")
    blade = [part for part in craft.as_cut if part.role in plates or part.path.startswith("blade.spar.")]
    ribs = sorted((part for part in blade if part.role in ("rib", "doubler")), key=lambda part: part.r_mm or 0.0)
    held = [part for part in blade if part.path.startswith("blade.spar.")]
    others = [Plate(part) for part in blade if part not in held and part not in ribs]
    stand = [rib for rib in ribs if rib.role == "rib"]
    bodies = (*spar_bodies(own, stand, held), *others)
    return Assembled(design, own, tuple(Plate(r) for r in ribs), bodies, tuple(channel_lines(own).values()))

"""Blades to judge links by: an example as drawn, under loads and with strengths that are made up in round figures."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.design.schema import Design
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property, Strength
from geomgen.model.joint import Key
from geomgen.model.role import Assembly
from geomgen.strength.blade_loads import BladeLoads, Case, Resultants, SocketForces
from geomgen.strength.build import Build
from geomgen.strength.link import Fails, Link
from geomgen.strength.sections.cross_sections import cross_sections
from geomgen.strength.stock_strength import stock_strength

P = Property
CASES = (Case("at rest", 0.0), Case("at 270 rpm", 28.274), Case("at rpm_max", 36.128, fan_n=1.9))
LIFT = 5e-6  # upward force of the air by length for each square of the speed [N s2/mm]
DRAG = 4e-7  # backward [N s2/mm]
MORE = 1.2  # at the greatest
TURN = 1e-6  # moment about the feather axis by length likewise [N m s2/mm]


def figure(low: float, typical: float | None = None, unit: str = "MPa") -> Figure:
    typical = 1.5 * low if typical is None else typical
    return Figure(low, typical, 1.5 * typical, unit, "made up")


def of(name: str, **known: float) -> Strength:
    """A material by its low figures."""
    units = {P.WIDTH_TENSION: "N/mm", P.WIDTH_STIFFNESS: "N/mm"}
    return Strength(name, {P(key): figure(value, unit=units.get(P(key), "MPa")) for key, value in known.items()}, {})


WOODS = {
    "balsa": of(
        "balsa", tension=10, compression=5, bending=8, shear=1.0, bearing=4, tension_across=0.5, compression_across=0.4,
        bearing_across=0.4,
        modulus=1500, modulus_across=40, shear_modulus=80,
    ),
    "birch ply": of(
        "birch ply", tension=45, compression=30, bending=40, shear=8, bearing=40, tension_across=30, shear_across=1.5,
        compression_across=6, modulus=9000, modulus_across=5000, shear_modulus=500,
    ),
    "spruce": of(
        "spruce", tension=60, compression=30, bending=55, shear=5, tension_across=2, compression_across=3, modulus=9000,
        modulus_across=400, shear_modulus=500,
    ),
    "extruded polystyrene": of(
        "extruded polystyrene", tension=0.25, compression=0.2, bending=0.3, shear=0.15, modulus=9, shear_modulus=4
    ),
    "carbon tube": of(
        "carbon tube", tension=1200, compression=500, bending=500, shear=35, tension_across=25, compression_across=80,
        modulus=110000, modulus_across=7000, shear_modulus=3500,
    ),
    "foam board": of(
        "foam board", tension=8, shear=0.2, shear_modulus=2, width_stiffness=300, width_tension=0.9
    ),
    "polyester film, laminating": of("polyester film, laminating", width_tension=1.5, width_stiffness=39),
    "steel": of("steel", tension=240, compression=240, shear=140, bearing=300),
}  # fmt: skip


@lru_cache(maxsize=16)
def craft(example: str, option: str | None = None, changes: tuple[tuple[str, str], ...] = ()) -> Craft:
    """An example's craft, its text changed."""
    path = example_path(example)
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return Craft(read_text(text, option=option).design, path.parent, exact=False)


def strengths(design: Design) -> dict[str, Strength]:
    """Of each stock that is known here."""
    return {name: WOODS[stock.of] for name, stock in design.stock.items() if stock.of in WOODS}


def pulls(made: Craft, cases: tuple[Case, ...] = CASES) -> dict[Key, FloatArray]:
    """Pull of each part, by the test's own sum over the mass lines."""
    found: dict[Key, FloatArray] = {}
    squares = np.array([case.rad_s**2 for case in cases])
    for line in made.weighed:
        if line.assembly is Assembly.BLADE:
            grams = np.array([line.set_g[1], line.set_g[2]])
            found[line.key] = found.get(line.key, 0.0) + np.outer(grams, squares) * 1e-6 * line.place_mm[0]
    return found


def loads(made: Craft, cases: tuple[Case, ...] = CASES) -> BladeLoads:
    """Even lift, drag and twisting along the blade from its root on, a fifth more at the greatest; pulls by mass."""
    design = made.design
    r = np.linspace(design.rotor.root, design.rotor.radius, 81)
    pulled = pulls(made, cases)
    both = np.outer([1.0, MORE], np.array([case.rad_s**2 for case in cases]))
    left = (r[-1] - r)[None, None, :]
    even = both[..., None] * left
    pull = np.zeros((2, len(cases), len(r)))
    centres = {line.key: line.place_mm[0] for line in made.weighed if line.assembly is Assembly.BLADE}
    for key, amount in pulled.items():
        pull += amount[..., None] * (centres[key] >= r)
    pieces = both[..., None] * np.diff(r)
    along = Resultants(
        pull, -DRAG * even, LIFT * even, -DRAG * even * left / 2e3, LIFT * even * left / 2e3, TURN * even
    )
    none = np.zeros((2, len(cases)))
    socket = SocketForces(np.zeros((2, len(cases), 2)), np.zeros((2, len(cases), 2)), none, none)
    fan = np.tile([case.fan_n for case in cases], (2, 1))
    return BladeLoads(
        cases, r, along, socket, pulled, centres, LIFT * pieces, DRAG * pieces, fan, none, np.zeros_like(pull)
    )


@lru_cache(maxsize=16)
def build(example: str = "lantern", option: str | None = None, changes: tuple[tuple[str, str], ...] = ()) -> Build:
    """One blade to judge."""
    made = craft(example, option, changes)
    return made_of(made, strengths(made.design))


def catalogued(example: str, option: str | None = None, changes: tuple[tuple[str, str], ...] = ()) -> Build:
    """The same with the catalogue's strengths."""
    made = craft(example, option, changes)
    return made_of(made, {name: stock_strength(made.design, name) for name in made.design.stock})


def made_of(made: Craft, stand: Mapping[str, Strength]) -> Build:
    """A blade of such strengths."""
    r = np.linspace(made.design.rotor.root, made.design.rotor.radius, 40)
    sections = cross_sections(made.layout, made.flying, stand, r.tolist())
    return Build(
        made.design, made.layout, made.blanks, made.flying, made.hung, made.root, made.hub_spec, loads(made), sections,
        stand,
    )  # fmt: skip


def times(carried: BladeLoads, factor: float) -> BladeLoads:
    """All loads so many times as large."""

    def more(each: FloatArray) -> FloatArray:
        return factor * each

    return replace(
        carried,
        along=carried.along.each(more),
        pulls_n={key: factor * pull for key, pull in carried.pulls_n.items()},
        air_up_n=factor * carried.air_up_n,
        air_back_n=factor * carried.air_back_n,
        fan_n=factor * carried.fan_n,
    )


def one(links: Iterable[Link], name: str, fails: Fails) -> Link:
    """The one link whose name begins so."""
    (found,) = [link for link in links if link.name.startswith(name) and link.fails is fails]
    return found


def greatest(link: Link) -> float:
    """Its greatest stress, at the highest speed."""
    return float(np.abs(link.stress[1]).max())


def square() -> float:
    """Square of the highest speed, a fifth more [1/s2]."""
    return MORE * CASES[-1].rad_s ** 2

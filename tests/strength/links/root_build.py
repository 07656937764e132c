"""Builds of the examples under loads that are made up: what each link's stress is worked out from by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from known_options import bare

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.materials.strength import Property, Strength
from geomgen.strength.blade_loads import BladeLoads, Case, Resultants, SocketForces
from geomgen.strength.build import Build
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.root_links import ROOT_MAKERS
from geomgen.strength.load_path import pull_n
from geomgen.strength.stock_strength import stock_strength

MORE = 1.2  # greatest over typical in the loads that are made up
RPM = 345.0


CLOCKWISE = ('turn   = "anticlockwise"', 'turn   = "clockwise"')
ANTICLOCKWISE = ('turn   = "clockwise"', 'turn   = "anticlockwise"')
GLUED = 'fixing = { kind = "glued", length = 12 }'
PINNED = (
    (GLUED, 'fixing = { kind = "pinned", diameter = 2, stock = "steel_rod_2" }'),
    ("[stock.print_petg]", '[stock.steel_rod_2]\nkind = "length"\nof = "steel"\noutside = 2\n[stock.print_petg]'),
)
CLAMPED = ((GLUED, 'fixing = { kind = "clamped", screw = "M3", count = 2 }'),)
UNFIXED = ((f", {GLUED}", ""),)


def crafted(name: str, *edits: tuple[str, str], cache: Cache | None = None) -> Craft:
    """A craft from one of the examples with texts in it replaced, its hub weighed without the kernel."""
    path = example_path(name)
    text = bare(name)
    for old, new in edits:
        assert old in text, f"{old!r} is not in {name}"
        text = text.replace(old, new)
    return Craft(read_text(text, path.name).design, path.parent, cache, exact=False)


def made_up_loads(craft: Craft, *, times: float = 1.0) -> BladeLoads:
    """At rest, at a speed, and starting; the pulls are those of the mass lines, all else is made up."""
    cases = (Case("at rest", 0.0), Case("at rpm_max", RPM * np.pi / 30), Case("start", 5.0, 12.0, 1.9))
    share = np.array([0.0, 1.0, 0.02]) * times

    def rows(at_rest: float, at_speed: float, starting: float) -> np.ndarray:
        one = np.array([at_rest, at_speed, starting]) * times
        return np.array([one, MORE * one])

    pulls = {}
    for line in craft.weighed:
        if line.assembly.value == "blade":
            typical, most = (pull_n(line.set_g[end], line.place_mm[0], RPM) for end in (1, 2))
            each = np.array([typical * share, most * share])
            pulls[line.key] = pulls.get(line.key, 0.0) + each
    total = np.asarray(sum(pulls.values()))
    r = np.linspace(craft.hub_spec.collar_seat, craft.design.rotor.radius, 30)
    fall = (1.0 - np.linspace(0.0, 1.0, 30)) ** 2
    along = Resultants(
        pull_n=total[..., None] * fall,
        lag_n=rows(0.0, -0.9, 1.5)[..., None] * fall,
        flap_n=rows(-1.4, 3.1, -1.2)[..., None] * fall,
        lag_nm=rows(0.0, -0.21, 0.95)[..., None] * fall,
        flap_nm=rows(-0.62, 0.44, -0.6)[..., None] * fall,
        turn_nm=rows(0.01, -0.11, 0.02)[..., None] * fall,
    )
    socket = SocketForces(
        inner_n=np.stack([rows(0.0, 2.9, -13.0), rows(7.6, -6.1, 7.4)], axis=-1),
        outer_n=np.stack([rows(0.0, -3.8, 14.5), rows(-9.0, 9.2, -8.6)], axis=-1),
        collar_n=total,
        pins_nm=rows(0.02, -0.31, 0.05),
    )
    air = rows(0.0, 4.6, 0.1)[..., None] * np.full(29, 1 / 29)
    zero = np.zeros((2, 3))
    return BladeLoads(
        cases, r, along, socket, pulls, dict.fromkeys(pulls, 0.0), air, 0.1 * air, zero, zero, np.zeros((2, 3, 30))
    )  # fmt: skip


def build_of(craft: Craft, loads: BladeLoads | None = None, **changed: object) -> Build:
    """All that links are made from. changed : fields of `Build` in place of those drawn"""
    design = craft.design
    build = Build(
        design=design,
        layout=craft.layout,
        blanks=craft.blanks,
        flying=craft.flying,
        held=craft.hung,
        root=craft.root,
        hub=craft.hub_spec,
        loads=loads or made_up_loads(craft),
        sections=(),
        strengths={name: stock_strength(design, name) for name in design.stock},
    )
    return replace(build, **changed)


def root_links(build: Build) -> list[Link]:
    return [link for maker in ROOT_MAKERS for link in maker(build)]


def named(links: list[Link], name: str, fails: Fails | None = None) -> Link:
    """The one link of that name that fails so."""
    (found,) = (link for link in links if link.name == name and fails in (None, link.fails))
    return found


def summed(build: Build, *roles_left_out: object) -> np.ndarray:
    """(2, c) the test's own sum of pulls over the blade's mass lines, those of some roles left out."""
    return np.asarray(sum(each for key, each in build.loads.pulls_n.items() if key.role not in roles_left_out))


def margin(link: Link, factor: float = 3.0) -> float:
    """By the words of the record: low strength over the greatest stress times the factor, a third more if alone."""
    assert link.strength is not None
    asked = factor * (4.0 / 3.0 if link.alone else 1.0)
    return link.strength.low / (float(np.abs(link.stress).max()) * asked)


def without(strength: Strength, *properties: Property) -> Strength:
    """A stock of which some strengths aren't known."""
    figures = {one: figure for one, figure in strength.figures.items() if one not in properties}
    return replace(strength, figures=figures)

"""The spar in its socket, and the socket, against closed forms written here."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from root_build import CLOCKWISE, build_of, crafted, made_up_loads, named, root_links, without

from geomgen.cache import Cache
from geomgen.materials.strength import Property
from geomgen.strength.build import Build
from geomgen.strength.link import Fails

BY_SPEED = ("threads of the fixed cap's screws in the hub", "floor of the turning cap's blind holes")  # by own mass
SPAR = "spar at the socket's outer end"


@pytest.fixture(scope="module", params=["lantern", "kite_day", "starter", "clockwise"])
def build(request: pytest.FixtureRequest, cache: Cache) -> Build:
    if request.param == "clockwise":
        return build_of(crafted("lantern", CLOCKWISE, cache=cache))
    return build_of(crafted(request.param, cache=cache))


def tube_of(build: Build) -> tuple[float, float]:
    stock = build.design.stock[build.design.blade.spar["main"].stock]
    return stock.outside, stock.inside


def along(build: Build, fails: Fails):
    return next(one for one in root_links(build) if one.name == SPAR and one.fails is fails and one.between[0].path
                == one.between[1].path)  # fmt: skip


def test_the_spar_is_bent_most_where_it_leaves_the_socket(build: Build) -> None:
    outside, inside = tube_of(build)
    at = build.loads.at(build.hub.seat)
    moment = 1e3 * np.hypot(at.flap_nm, at.lag_nm)  # all falls from there outwards
    second = math.pi * (outside**4 - inside**4) / 64
    link = along(build, Fails.BENT)
    assert link.r_mm == build.hub.seat
    np.testing.assert_allclose(link.stress, moment * outside / 2 / second, rtol=1e-12)
    assert link.strength.low == 500.0  # bent against compression, never flexure: from memory
    area = math.pi * (outside**2 - inside**2) / 4
    pulled = along(build, Fails.PULLED_APART)
    np.testing.assert_allclose(pulled.stress, moment * outside / 2 / second + at.pull_n / area, rtol=1e-12)
    assert pulled.strength.low == 1100.0


def test_the_spar_is_sheared_by_what_goes_across_it(build: Build) -> None:
    outside, inside = tube_of(build)
    at = build.loads.at(build.hub.seat)
    force = np.hypot(at.flap_n, at.lag_n)
    second, first = math.pi * (outside**4 - inside**4) / 64, (outside**3 - inside**3) / 12
    thick = outside - inside
    link = along(build, Fails.SHEARED)
    plain = force * first / (second * thick)  # a thick wall's inside, and Poisson's share, besides
    assert (link.stress >= plain).all() and (link.stress <= 1.25 * plain).all()
    assert link.strength.low == 35.0


def test_the_worst_may_lie_outside_the_socket(build: Build) -> None:
    out = replace(build.loads, along=build.loads.along.each(lambda each: each * np.arange(1, 31)))
    bulged = replace(build, loads=out)
    end = build.root.face.r_mm + build.root.face.thickness_mm
    at = out.at(end)
    outside, inside = tube_of(build)
    second = math.pi * (outside**4 - inside**4) / 64
    link = along(bulged, Fails.BENT)
    least = 1e3 * np.hypot(at.flap_nm, at.lag_nm) * outside / 2 / second
    assert link.stress.max() >= least.max() - 1e-9
    assert build.hub.seat <= link.r_mm <= end


def test_the_wall_of_the_demos_tube_buckles_by_the_shell_rule(cache: Cache) -> None:
    link = along(build_of(crafted("lantern", cache=cache)), Fails.BUCKLED)
    r, t, along_, round_, shear, nu = 3.25, 1.5, 103e3, 7e3, 3.5e3, 0.3  # low ends; UD tube, NASA SP-8007's knock-down
    other = nu * round_ / along_
    perfect = t / r * math.sqrt(along_ * round_ / (3 * (1 - nu * other)))
    soft = math.sqrt(2 * shear * (1 + math.sqrt(nu * other)) / math.sqrt(along_ * round_))
    down = 1 - 0.901 * (1 - math.exp(-math.sqrt(r / t) / 16))
    assert link.strength.low == pytest.approx(down * perfect * min(1.0, soft), rel=1e-9)
    flat = named(root_links(build_of(crafted("lantern", cache=cache))), "spar flattened as it bends")
    brazier = 2 * math.sqrt(2) / 9 * math.pi * math.sqrt(along_ * round_ / (1 - nu * other)) * r * t**2
    assert flat.strength.low == pytest.approx(1e-3 * brazier, rel=1e-9)
    assert flat.unit == "N m"


def test_a_tube_without_moduli_has_no_margin_against_buckling(build: Build) -> None:
    name = build.design.blade.spar["main"].stock
    known = {**build.strengths, name: without(build.strengths[name], Property.MODULUS)}
    link = along(replace(build, strengths=known), Fails.BUCKLED)
    assert link.strength is None
    assert link.unpublished


@pytest.mark.parametrize("end", ["outer", "inner"])
def test_the_tube_is_crushed_along_a_line_in_a_loose_socket(build: Build, end: str) -> None:
    outside, inside = tube_of(build)
    socket = build.loads.socket
    if end == "inner":  # where it bears harder
        socket = replace(socket, inner_n=socket.outer_n, outer_n=socket.inner_n)
    other = replace(build, loads=replace(build.loads, socket=socket))
    force = np.hypot(*np.moveaxis(build.loads.socket.outer_n, -1, 0))
    r, t = (outside + inside) / 4, (outside - inside) / 2
    (link,) = (one for one in root_links(other) if one.name.endswith("end") and one.fails is Fails.CRUSHED)
    assert link.name == f"spar at the socket's {end} end"
    assert link.r_mm == (build.hub.seat if end == "outer" else build.hub.collar_seat)
    np.testing.assert_allclose(link.stress, 1.432 * force * r / (outside * t**2), rtol=1e-12)
    assert link.strength.low == 25.0
    snug = next(one for one in link.helps if one.path == "hub.socket.fit")
    assert snug.times == pytest.approx(1.432 / 0.284)


def test_a_snug_socket_presses_half_round(cache: Cache) -> None:
    build = build_of(crafted("lantern", ("socket = { fit = 0.3 }", "socket = { fit = 0.05 }"), cache=cache))
    link = next(one for one in root_links(build) if one.name == SPAR and one.fails is Fails.CRUSHED)
    force = np.hypot(*np.moveaxis(build.loads.socket.outer_n, -1, 0))
    np.testing.assert_allclose(link.stress, 0.284 * force * 3.25 / (8.0 * 1.5**2), rtol=1e-12)
    assert "hub.socket.fit" not in [one.path for one in link.helps]


def test_the_socket_bears_and_is_pulled_apart(build: Build) -> None:
    outside, _ = tube_of(build)
    force = np.hypot(*np.moveaxis(build.loads.socket.outer_n, -1, 0))
    bears = named(root_links(build), "socket at its outer end, under the spar")
    np.testing.assert_allclose(bears.stress, force / outside**2, rtol=1e-12)
    split = named(root_links(build), "socket's wall beside the spar")
    length = min(outside, build.hub.flange_thickness)
    np.testing.assert_allclose(split.stress, 2.5 * force / (2 * build.design.hub.wall * length), rtol=1e-12)
    assert split.strength.typical / split.strength.low == pytest.approx(
        _across(build) / (15.0 * 0.85)
    )  # across layers, walls alone, all of them; low end .85 of it


def _across(build: Build) -> float:
    """Typical tension across layers [MPa]."""
    return {"PETG, printed": 27.0, "PLA, printed": 23.0}[build.design.stock[build.design.hub.stock].of]


def test_stress_follows_the_loads(build: Build, cache: Cache) -> None:
    craft = crafted("lantern", cache=cache)
    once, twice = (root_links(build_of(craft, made_up_loads(craft, times=n))) for n in (1.0, 2.0))
    for one, other in zip(once, twice, strict=True):
        assert one.name == other.name
        if one.name not in BY_SPEED:
            np.testing.assert_allclose(other.stress, 2.0 * one.stress, rtol=1e-9, atol=1e-12)
        assert [each.times for each in one.helps] == pytest.approx([each.times for each in other.helps])

"""Margins move the right way with each input: 300 changes at random of loads, strengths, keys, the hub, and the factor.

Nothing is drawn again: loads, strengths, hub and keys are changed in the records that links are made from, so that one
thing moves at a time. What is asked of each change follows from the words of the records alone.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from planted import strong

from geomgen.arrays import FloatArray
from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.vary import vary
from geomgen.materials.strength import Property
from geomgen.strength.blade_loads import BladeLoads, SocketForces
from geomgen.strength.build import Build
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.blade import ALONG, PLACED
from geomgen.strength.links.rib_webs import rib_webs
from geomgen.strength.links.root_links import ROOT_MAKERS
from geomgen.strength.margins import judged
from geomgen.strength.stock_strength import stock_strength

Made = Callable[[Build], Iterable[Link]]
Sound = Callable[[], Build]
Least = Mapping[tuple[object, ...], float]  # of links that are alike, the least worst margin
RUN = settings(max_examples=60)
CLOSE = 1e-9
STIFF = {  # how far something gives, not what it stands: stiffer, it may take more
    Property.MODULUS, Property.MODULUS_ACROSS, Property.BENDING_MODULUS, Property.BENDING_MODULUS_ACROSS,
    Property.SHEAR_MODULUS, Property.WIDTH_STIFFNESS,
}  # fmt: skip
LOCAL = (Fails.PRESSED, Fails.BEARING, Fails.STRIPPED)
MAKERS: dict[str, tuple[Made, ...]] = {
    "cover, ribs, fittings": tuple(maker for maker in PLACED if maker is not rib_webs),
    "ribs in their plane": (rib_webs,),
    "what runs along": tuple(lambda build, along=along: along(build, None) for along in ALONG),
    "root": ROOT_MAKERS,
}
SOME = st.sampled_from(list(MAKERS))
MORE = st.floats(1.02, 2.0)
_kept: dict[str, Least] = {}


@pytest.fixture(scope="module")
def sound(cache: Cache) -> Sound:
    """The strong design, all that its links are made from; behind a call, so that little of it is shown."""
    craft = Craft(strong().design, None, cache, exact=False)
    build = Build(
        craft.design, craft.layout, craft.blanks, craft.flying, craft.hung, craft.root, craft.hub_spec, craft.loads,
        craft.carrying, craft.strengths,
    )  # fmt: skip
    return lambda: build


def least(build: Build, some: str, factor: float = 3.0) -> Least:
    found: dict[tuple[object, ...], float] = {}
    for each in judged([link for maker in MAKERS[some] for link in maker(build)], factor).margins:
        hangs, on = each.link.between
        alike = (each.link.fails, each.link.path, hangs.role, on.role, each.link.unit)
        found[alike] = min(found.get(alike, math.inf), each.worst)
    return found


def before(build: Build, some: str) -> Least:
    if some not in _kept:
        _kept[some] = least(build, some)
    return _kept[some]


def times(build: Build, changed: Build, some: str) -> dict[tuple[object, ...], float]:
    """How many times what it was each margin is."""
    was, now = before(build, some), least(changed, some)
    assert was.keys() == now.keys()
    return {alike: now[alike] / was[alike] for alike in was}


def scaled(loads: BladeLoads, by: float) -> BladeLoads:
    """All that acts, so many times as much."""

    def much(each: FloatArray) -> FloatArray:
        return np.asarray(by * each)

    names = SocketForces.__dataclass_fields__
    faster = [replace(case, rad_s=case.rad_s * by**0.5, gains=case.gains * by) for case in loads.cases]
    return replace(
        loads,
        cases=tuple(faster),
        along=loads.along.each(much),
        socket=SocketForces(*(much(getattr(loads.socket, name)) for name in names)),
        pulls_n={key: much(pull) for key, pull in loads.pulls_n.items()},
        air_up_n=much(loads.air_up_n),
        air_back_n=much(loads.air_back_n),
        fan_n=much(loads.fan_n),
    )


@RUN
@given(some=SOME, by=MORE)
def test_more_load_is_less_margin_by_as_much(sound: Sound, some: str, by: float) -> None:
    """But where film hangs deeper the more it is pulled: its pull grows with load to the power of two thirds."""
    build = sound()
    for alike, ratio in times(build, replace(build, loads=scaled(build.loads, by)), some).items():
        film = alike[0] is Fails.PULLED_APART and alike[-1] == "N/mm"
        assert ratio == pytest.approx(by ** (-2 / 3 if film else -1), rel=1e-6), alike


@RUN
@given(data=st.data(), some=SOME, by=MORE)
def test_a_stronger_stock_takes_nothing_off(sound: Sound, data: st.DataObject, some: str, by: float) -> None:
    """One strength of one stock: no margin falls, and none rises by more than it does."""
    build = sound()
    stock = data.draw(st.sampled_from(sorted(build.strengths)))
    known = build.strengths[stock]
    one = data.draw(st.sampled_from(sorted(set(known.figures) - STIFF)))
    figure = known.figures[one]
    more = replace(figure, low=by * figure.low, typical=by * figure.typical, high=by * figure.high)
    changed = {**build.strengths, stock: replace(known, figures={**known.figures, one: more})}
    for alike, ratio in times(build, replace(build, strengths=changed), some).items():
        assert 1.0 - CLOSE <= ratio <= by + CLOSE, (stock, one, alike)


BETTER = {  # key path -> what is written there, better the greater `by` is (1 to 2)
    "hub.collar.fixing.length": lambda by: f"{12.0 * by} mm",
    "hub.socket.fit": lambda by: f"{0.3 / by**4} mm",
    "stock.carbon_tube_10.inside": lambda by: f"{9.0 - 3.0 * (by - 1.0)} mm",
    "stock.print_petg.print.infill": lambda by: f"{50.0 * by} %",
    "stock.print_petg.print.walls": lambda by: round(4 * by),
    "blade.spar.main.joint.length": lambda by: f"{60.0 * by} mm",
    "hub.bolts": lambda by: round(3 * by),
    "fitting.fan.mount.count": lambda by: round(2 * by),
    "stock.film.areal": lambda by: f"{20.0 * by} g/m2",
}


@RUN
@given(data=st.data(), some=SOME)
def test_a_better_key_takes_nothing_off(sound: Sound, data: st.DataObject, some: str) -> None:
    path = data.draw(st.sampled_from(sorted(BETTER)))
    worse, better = sorted(data.draw(st.tuples(st.floats(1.0, 2.0), st.floats(1.0, 2.0))))

    def with_(by: float) -> Build:
        design = vary(strong(), {path: BETTER[path](by)}).design
        return replace(sound(), design=design, strengths={name: stock_strength(design, name) for name in design.stock})

    was, now = least(with_(worse), some), least(with_(better), some)
    for alike in was.keys() & now.keys():
        assert now[alike] >= was[alike] * (1.0 - CLOSE), (path, alike, worse, better)


@RUN
@given(field=st.sampled_from(["wall", "floor"]), walls=st.integers(2, 8), infill=st.integers(0, 100), by=MORE)
def test_a_thicker_hub_takes_nothing_off(sound: Sound, field: str, walls: int, infill: int, by: float) -> None:
    """Whatever lines and infill its print has; but what is pressed in one place stands by the share of plastic in its
    whole wall, so that it may fall with that, no faster than the wall grows."""
    design = vary(
        strong(), {"stock.print_petg.print.walls": walls, "stock.print_petg.print.infill": f"{infill} %"}
    ).design
    now = replace(sound(), design=design)
    thicker = replace(now, hub=replace(now.hub, **{field: by * getattr(now.hub, field)}))
    was, then = least(now, "root"), least(thicker, "root")
    for alike, margin in was.items():
        falls = by if alike[0] in LOCAL else 1.0
        assert then[alike] * falls >= margin * (1.0 - CLOSE), alike


@RUN
@given(some=SOME, factor=st.floats(0.5, 10.0))
def test_twice_the_factor_is_half_of_every_margin(sound: Sound, some: str, factor: float) -> None:
    one, two = (least(sound(), some, each) for each in (factor, 2.0 * factor))
    assert two.keys() == one.keys() and len(one) > 2
    assert [two[alike] for alike in one] == pytest.approx([margin / 2.0 for margin in one.values()], rel=1e-12)

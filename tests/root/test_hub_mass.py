"""A hub's mass from its figures, against its exact solid."""

from __future__ import annotations

import os
from dataclasses import replace

import numpy as np
import pytest
from root_faces import design_of, root_face

from geomgen.cache import Cache
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.errors import MakeError
from geomgen.printing.solid import properties
from geomgen.root.hub import hub_spec
from geomgen.root.hub_mass import STATED_SHARE, hub_mass
from geomgen.root.hub_spec import HubSpec
from geomgen.root.seat import seat

DRAWN = int(os.environ.get("GEOMGEN_HUBS_DRAWN", "4"))  # hubs drawn by lot; 24 have been tried
EXAMPLES = ("starter", "lantern", "kite_day")


def drawn(lot: int) -> HubSpec:
    """A hub of a design by lot, within what its rules allow."""
    dice = np.random.default_rng(lot)
    while True:
        sides = dice.permutation([1.0, -1.0])[: dice.integers(0, 3)]
        bay = float(dice.uniform(35.0, 75.0))
        face = root_face(
            at=tuple((float(dice.uniform(15.0, 32.0)) * side, float(dice.uniform(-8.0, 8.0))) for side in sides),
            diameter=float(dice.uniform(4.0, 9.0)),
            r_mm=bay + float(dice.uniform(40.0, 90.0)),
            spar_outside_mm=float(dice.uniform(6.0, 12.0)),
        )
        design = design_of(
            rotor__turn=str(dice.choice(["clockwise", "anticlockwise"])),
            rotor__blades=int(dice.integers(2, 7)),
            rotor__coning=float(dice.uniform(-4.0, 8.0)),
            hub__wall=float(dice.uniform(1.5, 4.0)),
            hub__floor=float(dice.uniform(2.0, 8.0)),
            hub__bay__radius=bay,
            hub__bay__height=float(dice.uniform(25.0, 50.0)),
            hub__bolt_circle=float(dice.uniform(12.0, 30.0)),
            pitch__fixing__count=int(dice.integers(2, 5)),
        )
        try:
            return hub_spec(design, face, seat=seat(design, face))
        except MakeError:
            continue


def off(spec: HubSpec, cache: Cache) -> float:
    """How far it is off the exact solid, in the measures of `STATED_SHARE` [-]."""
    found, exact = hub_mass(spec), properties(spec, cache)
    return max(
        abs(found.volume_mm3 / exact.volume_mm3 - 1.0),
        float(np.abs(found.centroid - exact.centroid).max()) / spec.rim,
        float(np.abs(found.inertia - exact.inertia).max() / np.trace(exact.inertia)),
    )


@pytest.mark.parametrize("lot", range(DRAWN))
def test_hubs_drawn_by_lot(lot: int, cache: Cache) -> None:
    assert off(drawn(lot), cache) < STATED_SHARE


@pytest.mark.parametrize("name", EXAMPLES)
def test_hubs_of_the_examples(name: str, craft_of, cache: Cache) -> None:
    path = example_path(name)
    options = [None, *read_text(path.read_text(encoding="utf-8"), path.name).options]
    for spec in dict.fromkeys(craft_of(name, option=option).hub_spec for option in options):
        assert off(spec, cache) < STATED_SHARE


def test_twin_is_the_mirror_image() -> None:
    spec = drawn(0)
    one, other = hub_mass(replace(spec, clockwise=False)), hub_mass(replace(spec, clockwise=True))
    across = np.array([1.0, -1.0, 1.0])
    assert other.volume_mm3 == one.volume_mm3 and other.centroid == pytest.approx(one.centroid * across)
    assert other.inertia == pytest.approx(one.inertia * np.outer(across, across))

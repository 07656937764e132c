"""A variant pays for what its change touches: told by what was run, not by a clock."""

from __future__ import annotations

from unittest import mock

import pytest

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import demo
from geomgen.design.vary import vary
from geomgen.stages import Stage

FILE = demo()
BENCH_AND_LETTERS = (
    "geomgen.marking.finish.letter", "geomgen.bench.stages.boards", "geomgen.bench.stages.gauges",
    "geomgen.bench.stages.footing", "geomgen.bench.stages.fit_notes", "geomgen.printing.solid.mesh_of",
    "geomgen.printing.stages.mesh_of", "geomgen.printing.hub_solid.kernel",
)  # fmt: skip


@pytest.fixture(scope="module")
def cache() -> Cache:
    """Holds all that the demo's mass, lift and load path need."""
    found = Cache(None)
    asked(Craft(FILE.design, None, found, exact=False))
    return found


def asked(craft: Craft) -> tuple[object, ...]:
    """What a sweep asks of each variant."""
    return craft.mass, craft.lifts, craft.load_path


def run_for(cache: Cache, **changes: object) -> set[str]:
    """The stages that were run for a variant of the demo."""
    ran: set[str] = set()
    worked = Stage.run

    def watched(self: Stage[object], *inputs: object, **given: object) -> object:
        ran.add(self.name.removeprefix("Craft."))
        return worked(self, *inputs, **given)

    paths = {key.replace("__", "."): value for key, value in changes.items()}
    with mock.patch.object(Stage, "run", watched):
        asked(Craft(vary(FILE, paths).design, None, cache, exact=False))
    return ran


def test_nothing_is_run_for_the_same_design(cache: Cache) -> None:
    assert run_for(cache) == set()


def test_a_payload_changes_sums_only(cache: Cache) -> None:
    assert run_for(cache, duty__payload="151 g") == {"mass", "lifts"}


def test_a_highest_speed_changes_pulls_only(cache: Cache) -> None:
    assert run_for(cache, duty__rpm_max=321) == {"load_path"}


def test_a_density_draws_nothing(cache: Cache) -> None:
    ran = run_for(cache, stock__balsa_3__density=["120 kg/m3", "140 kg/m3", "160 kg/m3"])
    weighing = {"measured", "computed", "weighed_in", "weighed", "mass", "print_factors", "print_shares"}
    assert {"weighed", "mass", "lifts"} <= ran <= {*weighing, "lifts", "load_path"}


def test_pins_leave_the_blade_alone(cache: Cache) -> None:
    ran = run_for(cache, pitch__pin__web="3.4 mm")
    assert "pattern" in ran and not {"blade", "layout", "bare_ribs", "spars", "tip"} & ran


@pytest.mark.parametrize("changes", [{"blade.along.1.twist": "0.5 deg"}, {"blade.along.1.chord": "151 mm"}])
def test_another_twist_or_chord_asks_for_no_letters_no_jig_no_mesh_and_no_kernel(changes: dict[str, object]) -> None:
    refused = [mock.patch(name, side_effect=AssertionError(name)) for name in BENCH_AND_LETTERS]
    craft = Craft(vary(FILE, changes).design, None, Cache(None), exact=False)
    for each in refused:
        each.start()
    try:
        asked(craft)
    finally:
        mock.patch.stopall()
    with (
        mock.patch("geomgen.marking.finish.letter", side_effect=AssertionError("letter")),
        pytest.raises(AssertionError),
    ):
        _ = craft.finished  # or the patches would see nothing


def test_the_hub_weighed_without_its_solid_is_as_near_as_stated(cache: Cache) -> None:
    from geomgen.root.hub_mass import STATED_SHARE

    rough, exact = (Craft(FILE.design, exact=e).mass.craft.mass_g.typical for e in (False, True))
    assert rough == pytest.approx(exact, rel=STATED_SHARE)

"""Stages: paid for once, shared where slices agree, never read past their faults, and blind to what they don't name."""

from __future__ import annotations

import pathlib
from collections.abc import Callable

import numpy as np
import pytest

from geomgen.cache import Cache
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.design.schema import Design
from geomgen.errors import DesignError, Fault, MakeError
from geomgen.stages import Outcome, Staged, narrowed, reads, stage

CALLS: list[str] = []
TEXT = example_path("lantern").read_text(encoding="utf-8")


def design(*edits: tuple[str, str]) -> Design:
    text = TEXT
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    return read_text(text).design


@reads("rotor.radius", "rotor.root")
def span(design: Design) -> float:
    CALLS.append("span")
    if design.rotor.radius > 820:
        raise DesignError(Fault("rotor.radius", "", "long"))
    return design.rotor.radius - design.rotor.root


@reads("rotor.blades")
def blades(design: Design) -> Outcome[int]:
    CALLS.append("blades")
    some = (Fault("rotor.blades", "", "few"), Fault("rotor", "", "odd"))
    return Outcome(design.rotor.blades, some if design.rotor.blades == 3 else ())


@reads("stock.*.thickness")
def whole(design: Design, span_mm: float, count: int) -> float:
    CALLS.append("whole")
    if not design.stock:
        raise MakeError(Fault("stock", "", "none"))
    return span_mm * count


@reads("rotor.radius")
def greedy(design: Design) -> int:
    return design.rotor.blades


def narrow(span_mm: float, count: int) -> float:
    if count == 3:
        raise ValueError("not made for that")
    return span_mm / count


class Craft(Staged):
    span = stage(span)
    blades = stage(blades)
    narrow = stage(narrow, span, blades)
    whole = stage(whole, span, blades)
    greedy = stage(greedy)


def craft(store: Cache, *edits: tuple[str, str]) -> Craft:
    CALLS.clear()
    return Craft(design(*edits), {}, store)


RADIUS, BLADES, PAYLOAD = "radius = 800", "blades = 2", 'payload    = "150 g"'


def test_a_stage_runs_once_and_is_shared_where_its_slice_agrees() -> None:
    store = Cache(None)
    one = craft(store)
    assert one.whole == one.whole == 2 * one.span
    assert CALLS == ["span", "blades", "whole"]
    assert craft(store, (PAYLOAD, PAYLOAD.replace("150", "160"))).whole == one.whole and CALLS == []
    other = craft(store, (BLADES, BLADES.replace("2", "4")))
    assert other.whole == 4 * other.span and CALLS == ["blades", "whole"]


@pytest.fixture
def dear(monkeypatch: pytest.MonkeyPatch) -> None:
    """Everything is dear enough to be kept on disk."""
    monkeypatch.setattr("geomgen.stages.DEAR_S", -1.0)


@pytest.mark.usefixtures("dear")
def test_what_was_dear_is_kept_for_later_runs(tmp_path: pathlib.Path) -> None:
    found = craft(Cache(tmp_path)).whole
    assert CALLS == ["span", "blades", "whole"] and len(list(tmp_path.iterdir())) == 3
    assert craft(Cache(tmp_path)).whole == found and CALLS == []
    other = craft(Cache(tmp_path), (BLADES, BLADES.replace("2", "4")))
    assert other.whole == 2 * found and CALLS == ["blades", "whole"]


def test_what_was_cheap_is_not(tmp_path: pathlib.Path) -> None:
    assert craft(Cache(tmp_path)).whole > 0 and list(tmp_path.iterdir()) == []


@pytest.mark.usefixtures("dear")
def test_what_is_at_fault_is_not_kept(tmp_path: pathlib.Path) -> None:
    for _ in range(2):
        bad = craft(Cache(tmp_path), (BLADES, BLADES.replace("2", "3")))
        with pytest.raises(MakeError):
            _ = bad.whole
        assert "whole" in CALLS and len(list(tmp_path.iterdir())) == 1  # the span, which rests on nothing at fault


@pytest.mark.usefixtures("dear")
@pytest.mark.parametrize("harm", [lambda data: b"", lambda data: data[:-40], lambda data: b"cos\nsystem\n."])
def test_what_is_damaged_on_disk_is_worked_out_anew(tmp_path: pathlib.Path, harm: Callable[[bytes], bytes]) -> None:
    found = craft(Cache(tmp_path)).whole
    for entry in tmp_path.iterdir():
        arrays = Cache(tmp_path).fetch(entry.stem)
        assert arrays is not None
        Cache(tmp_path).store(entry.stem, {"value": np.frombuffer(harm(arrays["value"].tobytes()), np.uint8)})
    assert craft(Cache(tmp_path)).whole == found and CALLS == ["span", "blades", "whole"]


@pytest.mark.usefixtures("dear")
def test_other_code_finds_nothing_kept(tmp_path: pathlib.Path, monkeypatch: pytest.MonkeyPatch) -> None:
    found = craft(Cache(tmp_path)).whole
    monkeypatch.setattr("geomgen.digest._code_of", lambda name: f"another {name}".encode())
    assert craft(Cache(tmp_path)).whole == found and CALLS == ["span", "blades", "whole"]


def test_no_result_is_read_past_its_faults() -> None:
    bad = craft(Cache(None), (BLADES, BLADES.replace("2", "3")))
    for _ in range(2):  # kept faults are told again
        with pytest.raises(MakeError) as caught:
            _ = bad.whole
        assert [fault.wrong for fault in caught.value.faults] == ["few", "odd"]
    assert CALLS == ["span", "blades", "whole"]  # it went on, to find what else is wrong
    assert bad.outcome(Craft.whole).value == 3 * bad.span
    assert bad.span > 0


def test_a_stage_without_its_inputs_is_not_run() -> None:
    bad = craft(Cache(None), (RADIUS, RADIUS.replace("800", "830")), (BLADES, BLADES.replace("2", "3")))
    with pytest.raises(DesignError) as caught:
        _ = bad.whole
    assert [fault.wrong for fault in caught.value.faults] == ["long", "few", "odd"]
    assert "whole" not in CALLS


def test_what_breaks_on_something_at_fault_tells_the_faults() -> None:
    """A box through the main spar leaves a rib that no notch can be cut from: the box is what is told."""
    bad = craft(Cache(None), (BLADES, BLADES.replace("2", "3")))
    with pytest.raises(MakeError) as caught:
        _ = bad.narrow
    assert [fault.wrong for fault in caught.value.faults] == ["few", "odd"]


def test_what_a_stage_does_not_name_is_not_there() -> None:
    with pytest.raises(AttributeError, match="blades"):
        _ = craft(Cache(None)).greedy


def test_a_slice_holds_what_its_paths_name() -> None:
    full = design()
    bare = narrowed(full, ("rotor", "rotor.radius", "stock.*.thickness", "blade.ribs", "not.there"))
    assert bare.rotor == full.rotor and bare.blade.ribs == full.blade.ribs and list(bare.stock) == list(full.stock)
    assert type(bare.stock["balsa_3"]) is type(full.stock["balsa_3"])
    for value, name in ((bare, "duty"), (bare.stock["balsa_3"], "density"), (bare.blade, "along")):
        with pytest.raises(AttributeError, match=name):
            getattr(value, name)

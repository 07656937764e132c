"""What a fault says would do does: written into the file, it is gone, and the file passes or another one is told."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from mend import edited, faults_of
from remedies import file_of, put, rename, said_to_do
from test_bounds import TOO_MANY
from test_malformed import CASES
from test_unit_slips import SLIPS
from test_words import TOLD

from geomgen.design.keypath import parsed

TEXTS = {
    **{f"malformed: {case['name']}": tuple((old, new) for old, new in case["edits"]) for case in CASES},
    **{f"bounds: {name}": ((old, new.replace("'", '"')),) for name, ((old, new), *_) in TOO_MANY.items()},
    **{f"slips: {name}": ((old, new),) for name, (old, new, *_) in SLIPS.items()},
    **{f"words: {name}": ((old, new),) for name, (old, new, *_) in TOLD.items()},
    "a bundle's bound": (("outside = 2.6", "outside = 5.31"),),
    "a bundle's bound in inches": (("outside = 2.6", 'outside = "0.19 in"'), ('units  = "mm"', 'units = "mm" ')),
}
LEAST = 110  # values and bounds are tried at least


def _mended(raw: dict[str, Any], fault: Any) -> list[tuple[str, dict[str, Any]]]:
    """The file with each remedy of a fault applied."""
    path, done = parsed(fault.path), []
    if fault.wrong == "is a key we don't know":
        names = fault.remedy.split('"')[1::2]
        return [(name, rename(raw, path, name)) for name in names[:1]]
    if fault.path.startswith("option.") and fault.remedy.startswith("do you mean") and "take away" in fault.wrong:
        return [(fault.remedy, rename(raw, path, fault.remedy.split('"')[1]))]
    for at, value in said_to_do(fault):
        changed = put(raw, at, tomllib.loads(f"x = {value}")["x"])
        if changed is not None:
            done.append((f"{at} = {value}", changed))
    return done


def stays_after(text: str) -> tuple[int, list[str]]:
    """How many remedies were applied, and those after which the same fault is told."""
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return 0, []
    count, stays = 0, []
    for fault in faults_of(text):
        for remedy, changed in _mended(raw, fault):
            count += 1
            after = {(other.path, other.wrong) for other in faults_of(file_of(changed))}
            told = [wrong for path, wrong in after if path == fault.path and wrong == fault.wrong]
            if told or any(path == fault.path and wrong == "is out of bounds" for path, wrong in after):
                stays.append(f"{fault}\n  after {remedy}: {after}")
    return count, stays


@pytest.mark.parametrize("name", TEXTS)
def test_each_remedy_is_one(name: str) -> None:
    _, stays = stays_after(edited(*TEXTS[name]))
    assert not stays, "\n".join(stays)


def test_many_remedies_are_tried() -> None:
    assert sum(stays_after(edited(*TEXTS[name]))[0] for name in TEXTS) >= LEAST

"""The committed comparison of the demo's options against a fresh one, by its figures."""

from __future__ import annotations

import csv
import json
import pathlib
import re

import pytest

from geomgen.making import compare_files
from geomgen.study.comparison import Comparison

COMMITTED = pathlib.Path(__file__).parents[2] / "outputs" / "lantern" / "compare"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e-?\d+)?")


def test_the_same_files(shipped: Comparison) -> None:
    fresh = compare_files(shipped).files
    assert {path.name for path in COMMITTED.iterdir()} == {*fresh, "manifest.json"}
    assert set(json.loads((COMMITTED / "manifest.json").read_text(encoding="utf-8"))["files"]) == set(fresh)


def test_the_same_figures(shipped: Comparison) -> None:
    fresh = compare_files(shipped).files
    was = list(csv.DictReader((COMMITTED / "compare.csv").read_text(encoding="utf-8").splitlines()))
    now = list(csv.DictReader(fresh["compare.csv"].decode().splitlines()))
    assert len(was) == len(now)
    for a, b in zip(was, now, strict=True):
        for key in a:
            if NUMBER.fullmatch(a[key] or ""):
                assert float(a[key]) == pytest.approx(float(b[key]), rel=1e-4, abs=2e-3), (a, key)
            else:
                assert a[key] == b[key]
    page, pages = (COMMITTED / "compare.txt").read_text(encoding="utf-8"), fresh["compare.txt"].decode()
    assert NUMBER.sub("#", page).split() == NUMBER.sub("#", pages).split()

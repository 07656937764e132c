"""`geomgen loads` as a maker meets it: a page, data, files; the same weakest link wherever it is told."""

from __future__ import annotations

import csv
import json
import math
import pathlib
import re

import pytest

from geomgen.cli import main
from geomgen.design.library import example_path

STARTER = str(example_path("starter"))


@pytest.fixture(autouse=True)
def _own_store(keep: pathlib.Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GEOMGEN_KEEP", str(keep))


def test_page_data_and_files_say_the_same(tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["loads", STARTER, "--json", "--out", str(tmp_path)]) == 0
    told = json.loads(capsys.readouterr().out)
    folder = tmp_path / "starter" / "loads"
    assert {file.name for file in folder.iterdir()} == {
        "loads.txt", "loads.json", "loads.csv", "loads.svg", "manifest.json",
    }  # fmt: skip
    assert json.loads((folder / "loads.json").read_text(encoding="utf-8")) == told
    assert main(["loads", STARTER]) == 0
    page = capsys.readouterr().out
    assert page == (folder / "loads.txt").read_text(encoding="utf-8")
    least = told["loads"]["links"][0]
    worst = math.floor(100 * least["margin"]["worst"] + 1e-9) / 100
    flat = " ".join(page.split())
    assert f"Weakest: {least['name']}, {least['fails']}, margin {worst:.2f} at the factor of 3" in flat
    assert f"1. {least['name']}" in flat and told["verdict"]["weakest"]["margin"] == least["margin"]["worst"]
    margins = [one["margin"]["worst"] for one in told["loads"]["links"]]
    assert margins == sorted(margins) and len(margins) > 30
    assert told["verdict"]["weakest"]["below"] == sum(margin < 1.0 for margin in margins)
    rows = list(csv.DictReader((folder / "loads.csv").open(encoding="utf-8")))
    assert len(rows) == 2 * len(told["loads"]["cases"]) * len(told["loads"]["r_mm"])


def test_the_pull_on_the_collar_is_the_load_paths(capsys: pytest.CaptureFixture[str]) -> None:
    """By elements on a coned blade, against sums of m r w2 of the mass statement, which leave coning out."""
    assert main(["loads", STARTER, "--json"]) == 0
    loads = json.loads(capsys.readouterr().out)["loads"]
    (fast,) = (case for case in loads["cases"] if case["case"] == "at rpm_max")
    assert main(["weigh", STARTER, "--json"]) == 0
    (link,) = (
        one for one in json.loads(capsys.readouterr().out)["load_path"]["links"] if one["held_by"] == "collar"
    )  # fmt: skip
    assert fast["hub"]["collar_n"]["typical"] == pytest.approx(link["pull_n"][1], rel=0.01)
    assert max(fast["pull_n"]["typical"]) == pytest.approx(fast["hub"]["collar_n"]["typical"], rel=0.01)


def test_check_tells_the_weakest_and_where_there_is_more(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", STARTER, "--json"]) == 0
    weakest = json.loads(capsys.readouterr().out)["verdict"]["weakest"]
    assert main(["check", STARTER]) == 0
    line = re.search(r"Weakest: .*?\(geomgen loads\)", " ".join(capsys.readouterr().out.split()))
    assert line is not None and weakest["name"] in line[0] and weakest["fails"] in line[0]


def test_an_option_that_is_not_there_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["loads", STARTER, "--option", "nothing"]) == 2
    assert "nothing" in capsys.readouterr().err

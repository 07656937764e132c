"""`geomgen compare` as a maker meets it: page, JSON, folder, exit status, faults."""

from __future__ import annotations

import json
import pathlib

import pytest

from geomgen.cli import main
from geomgen.design.library import demo, example_path

STARTER = example_path("starter").read_text(encoding="utf-8").split("[option.")[0]
FEWER = '\n[option.fewer]\nblade.ribs.outer.every = "130 mm"\n'
HOLED = "\n[option.holed]\nblade.channel.power.chord = 0.97\n"


@pytest.fixture(autouse=True)
def _own_store(keep: pathlib.Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GEOMGEN_KEEP", str(keep))


def design(folder: pathlib.Path, more: str, name: str = "mine.toml") -> pathlib.Path:
    file = folder / name
    file.write_text(STARTER + more, encoding="utf-8")
    return file


def test_page_of_the_demo(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", "--options", f"base,{demo().options[0]}"]) == 0
    told = capsys.readouterr()
    assert "side by side" in told.out and "against base" in told.out and "What to have at hand" in told.out
    assert not told.err


def test_json_of_some_options(capsys: pytest.CaptureFixture[str]) -> None:
    last = demo().options[-1]
    assert main(["compare", "--options", f"{last}, base", "--base", "base", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["base"] == "base" and [one["option"] for one in told["options"]] == ["base", last]


def test_an_option_that_fails_is_told_and_the_status_is_3(
    tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = design(tmp_path, HOLED + FEWER)
    assert main(["compare", str(file), "--out", str(tmp_path / "out")]) == 3
    told = capsys.readouterr()
    assert "holed: not buildable" in told.out and "fewer against base" in told.out and "Traceback" not in told.err
    lines = file.read_text(encoding="utf-8").split("\n")
    line = 1 + next(k for k, text in enumerate(lines) if text.startswith("[blade.channel.power]"))
    entry = json.loads((tmp_path / "out/mine/compare/compare.json").read_text(encoding="utf-8"))["options"][1]
    assert entry["buildable"] is False
    assert any(fault.startswith(f"{file}:{line} blade.channel.power") for fault in entry["faults"])
    assert "holed can't be built" in told.err


def test_faults_of_values_refuse_the_whole_file(tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = design(tmp_path, '\n[option.bad]\nblade.ribs.outer.every = "-3 mm"\n')
    assert main(["compare", str(file), "--out", str(tmp_path / "out")]) == 2
    assert "option.bad" in capsys.readouterr().err and not (tmp_path / "out").exists()


def test_unknown_names(tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = design(tmp_path, FEWER)
    for asked in (["--options", "fever"], ["--options", ""], ["--options", "fewer,fewer"], ["--base", "fever"]):
        assert main(["compare", str(file), *asked, "--out", str(tmp_path / "out")]) == 2
        told = capsys.readouterr().err
        assert "fewer" in told and "Traceback" not in told
    assert not (tmp_path / "out").exists()


def test_writes_four_files_twice_the_same(tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = design(tmp_path, FEWER, "Flügel.toml")
    folder = tmp_path / "out" / "Flügel" / "compare"
    assert main(["compare", str(file), "--out", str(tmp_path / "out")]) == 0
    page = capsys.readouterr().out
    first = {path.name: path.read_bytes() for path in folder.iterdir()}
    assert set(first) == {"compare.txt", "compare.csv", "compare.json", "compare.svg", "manifest.json"}
    assert page.startswith(first["compare.txt"].decode())
    (folder / "mine.txt").write_text("mine")
    assert main(["compare", str(file), "--out", str(tmp_path / "out"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == json.loads(first["compare.json"])
    second = {path.name: path.read_bytes() for path in folder.iterdir()}
    assert second == first | {"mine.txt": b"mine"}
    assert str(tmp_path).encode() not in b"".join(first.values())


def test_nothing_is_worked_out_for_a_folder_that_can_not_be_written(
    tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = design(tmp_path, FEWER)
    (tmp_path / "out").write_text("a file")
    assert main(["compare", str(file), "--out", str(tmp_path / "out")]) == 2
    told = capsys.readouterr()
    assert not told.out and "can't be written" in told.err


def test_an_option_called_compare_keeps_its_folder(tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = design(tmp_path, FEWER.replace("fewer", "compare"))
    assert main(["compare", str(file), "--out", str(tmp_path / "out")]) == 2
    assert "another name" in capsys.readouterr().err and not (tmp_path / "out").exists()
    assert main(["compare", str(file)]) == 0


def test_a_file_without_options(tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", str(design(tmp_path, ""))]) == 0
    page = capsys.readouterr().out.split("What to have")[0]
    assert page.count("Told besides: no warnings.") == 1  # of the verdict
    assert "against" not in page.replace("held against", "")


def test_help_reads_like_a_page(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        main(["compare", "--help"])
    page = capsys.readouterr().out
    assert stop.value.code == 0 and "--options" in page and max(map(len, page.splitlines())) <= 120

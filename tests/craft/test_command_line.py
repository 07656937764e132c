"""The commands as a maker meets them: pages, exit status, faults with file and line, nothing written at a fault."""

from __future__ import annotations

import json
import math
import pathlib
import re
import subprocess
import sys
from typing import NamedTuple

import pytest

from geomgen.cli import main
from geomgen.design.library import example_path

STARTER = example_path("starter").read_text(encoding="utf-8")


@pytest.fixture(autouse=True)
def _own_store(keep: pathlib.Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GEOMGEN_KEEP", str(keep))


def edited(folder: pathlib.Path, *edits: tuple[str, str], name: str = "mine.toml") -> pathlib.Path:
    text = STARTER
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new)
    file = folder / name
    file.write_text(text, encoding="utf-8")
    return file


def line_of(file: pathlib.Path, piece: str) -> int:
    lines = file.read_text(encoding="utf-8").splitlines()
    return 1 + next(i for i, line in enumerate(lines) if piece in line)


CHANNEL = "blade.channel.power"
CHORD = "chord    = 0.38\n"
TIP_SECTION = 'chord = 150, twist = "0 deg", section = "naca 4415"'
REAR_SPAR = """[blade.spar.rear]
stock = "strip"
chord = 0.5
height = ["camber", "25 mm"]
to = "60 %"
[blade.channel.power]"""
STRIP = """[stock.strip]
kind = "length"
of = "spruce"
width = 3
height = 3
[stock.carbon_tube_8]"""


class Case(NamedTuple):
    """Edits of the starter; exit status; key path told, a piece of the line it must name, and words of the fault."""

    edits: list[tuple[str, str]]
    status: int
    path: str
    piece: str
    words: str


def section(name: str) -> tuple[str, str]:
    return TIP_SECTION, TIP_SECTION.replace("naca 4415", name)


# What is wrong only once geometry is drawn
GEOMETRY = {
    "hole outside the section": Case(
        [(CHORD, "chord    = 0.97\n")], 3, CHANNEL, "[blade.channel.power]", "leaves the section"
    ),
    "channel through the spar": Case(
        [(CHORD, "chord    = 0.27\n")], 3, CHANNEL, "[blade.channel.power]", "runs into blade.spar.main"
    ),
    "thin ligament": Case(
        [("web        = 2.0", "web        = 9.0")], 3, "blade.spar.main", "[blade.spar.main]", "9 mm needed"
    ),
    "spar that leaves the section between ribs": Case(
        [("[blade.channel.power]", REAR_SPAR), ("[stock.carbon_tube_8]", STRIP)],
        3,
        "blade.spar.rear",
        "[blade.spar.rear]",
        "leaves the section",
    ),
    "skins that leave nothing": Case(
        [("thickness = 2\n[stock.carbon", "thickness = 14\n[stock.carbon")],
        3,
        "blade.ribs.root",
        "[blade.ribs.root]",
        "leave nothing",
    ),
    "missing file of a profile": Case(
        [section("nowhere.dat")], 2, "blade.along[1].section", "nowhere.dat", "nowhere.dat"
    ),
    "profile that crosses itself": Case([section("crossed.dat")], 2, "", "", "crosses"),
    "no plain pattern": Case(
        [('step    = "6 deg"', 'step    = "1 deg"\npattern = "plain"')], 3, "pitch.step", "step    =", "finest step"
    ),
    "no paired pattern": Case([('step    = "6 deg"', 'step    = "0.1 deg"')], 3, "pitch.step", "step    =", "fits"),
    "wedge thinner than a printed line": Case(
        [('step    = "6 deg"', 'step = "1 deg"\npattern = "wedge"\nwedge = { thickness = 0.3 }')],
        3,
        "pitch.wedge.thickness",
        "wedge = ",
        "at least 1 mm",
    ),
    "wedge step within the play": Case(
        [('step    = "6 deg"', 'step    = "0.1 deg"\npattern = "wedge"')], 3, "pitch.step", "step    =", "fits"
    ),
    "rim too small": Case([('step    = "6 deg"', 'step = "6 deg"\nrim = 30')], 3, "pitch.rim", "rim = 30", "at least"),
    "pitch that isn't a setting": Case([('set     = "8 deg"', 'set = "9 deg"')], 3, "pitch.set", '"9 deg"', "8 or 14"),
    "collar that doesn't fit": Case(
        [("outside = 18, length = 12", "outside = 9, length = 12")], 3, "hub.collar.outside", "collar = ", "mm"
    ),
    "spar that doesn't reach its collar": Case(
        [("from  = 30 ", "from  = 60 ")], 3, "blade.spar.main.from", "from  = 60", "collar"
    ),
    "ribs in one another where runs meet": Case(
        [("from  = 180\n", "from  = 180.5\n")],
        3,
        "blade.ribs.outer.from",
        "from  = 180.5",
        "180.0 and 180.5 mm stand in one another, 2.5 mm needed",
    ),
    **{
        f"{cap} cap thinner than its screws' heads": Case(
            [
                (
                    f'{cap}_cap{gap}= {{ stock = "print_petg", thickness = 4',
                    f'{cap}_cap = {{ stock = "print_petg", thickness = 2',
                )
            ],
            3,
            f"pitch.{cap}_cap.thickness",
            f"{cap}_cap = ",
            "countersunk heads are 1.65 mm high",
        )
        for cap, gap in (("turning", " "), ("fixed", "   "))
    },
}


@pytest.mark.parametrize("name", GEOMETRY)
def test_faults_of_geometry(name: str, tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]) -> None:
    edits, status, path, piece, words = GEOMETRY[name]
    file = edited(tmp_path, *edits)
    x = [1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.1, 0.05]
    upper = [0.1 * math.sqrt(a) * (1 - a) * (-1 if 0.35 < a < 0.65 else 1) for a in x]
    loop = [*zip(x, upper, strict=False), (0, 0), *[(a, -0.05 * math.sqrt(a) * (1 - a)) for a in x[::-1]]]
    (tmp_path / "crossed.dat").write_text("crossed\n" + "".join(f"{x} {y}\n" for x, y in loop))
    before = sorted(tmp_path.rglob("*"))
    for command in (["check", str(file)], ["make", str(file), "--out", str(tmp_path / "out")]):
        assert main(command) == status
        told = capsys.readouterr().err
        assert "Traceback" not in told
        assert words in told and path in told
        if piece:
            assert f"{file}:{line_of(file, piece)} {path}" in told
        else:
            assert re.search(r"crossed\.dat:\d+", told)
    assert sorted(tmp_path.rglob("*")) == before


def test_several_faults_of_geometry_at_once(tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = edited(
        tmp_path, ("chord    = 0.38\n", "chord    = 0.97\n"), ("outside = 18, length = 12", "outside = 9, length = 12")
    )
    assert main(["check", str(file)]) == 3
    told = capsys.readouterr().err
    assert "blade.channel.power" in told and "hub.collar" in told


@pytest.mark.parametrize("like", ["starter", "lantern", "kite_day"])
def test_new_builds_as_it_stands_and_never_overwrites(
    like: str, tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "Flügel und Nabe"
    folder.mkdir()
    monkeypatch.chdir(folder)
    assert main(["new", "mine.toml", "--like", like]) == 0
    assert main(["check", "mine.toml"]) == 0
    assert "every flat part can be drawn" in capsys.readouterr().out
    (folder / "mine.toml").write_text("# mine now\n", encoding="utf-8")
    assert main(["new", "mine.toml", "--like", like]) == 2
    assert (folder / "mine.toml").read_text(encoding="utf-8") == "# mine now\n"
    assert "nothing is overwritten" in capsys.readouterr().err


def test_schema_for_editors(tmp_path: pathlib.Path) -> None:
    """The schema by the JSON Schema standard's own validator, and the examples by the schema."""
    import tomllib

    import jsonschema

    assert main(["new", str(tmp_path / "design.schema.json"), "--schema"]) == 0
    schema = json.loads((tmp_path / "design.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    for name in ("starter", "lantern", "kite_day"):
        jsonschema.validate(tomllib.loads(example_path(name).read_text(encoding="utf-8")), schema)


def test_every_option_of_the_demo_passes(capsys: pytest.CaptureFixture[str]) -> None:
    from geomgen.design.library import demo

    for option in demo().options:
        assert main(["check", "--option", option]) == 0, capsys.readouterr().err


def test_make_writes_the_same_bytes_twice_and_keeps_a_stranger(
    tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = edited(tmp_path, name="Flügel.toml")
    assert main(["make", str(file), "--out", str(tmp_path / "out")]) == 0
    folder = tmp_path / "out" / "Flügel" / "base"
    first = {path.relative_to(folder): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    (folder / "cut" / "notes.txt").write_text("mine")
    capsys.readouterr()
    assert main(["make", str(file), "--out", str(tmp_path / "out"), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert not told["changes"]["new"] and not told["changes"]["changed"] and not told["changes"]["gone"]
    assert (folder / "cut" / "notes.txt").read_text() == "mine"
    second = {
        path.relative_to(folder): path.read_bytes()
        for path in folder.rglob("*")
        if path.name != "notes.txt" and path.is_file()
    }
    assert second == first
    assert str(tmp_path).encode() not in b"".join(first.values())
    assert {str(name.parent) for name in first} == {
        ".", "cut/knife", "cut/laser", "cut/laser/fit", "cut/laser/sheets",
        "paper", "pictures", "pictures/sheets", "print",
    }  # fmt: skip


def test_make_tells_which_parts_changed(tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = edited(tmp_path)
    assert main(["make", str(file), "--out", str(tmp_path)]) == 0
    edited(tmp_path, ("every = 60\n", "every = 130\n"))
    capsys.readouterr()
    assert main(["make", str(file), "--out", str(tmp_path), "--json"]) == 0
    changes = json.loads(capsys.readouterr().out)["changes"]
    assert changes["gone"] and "hub" in changes["same"] and "turning cap" in changes["same"]


def test_weigh_json_has_stable_keys(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["weigh", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert {"title", "option", "parts", "blade", "craft", "mean_lift", "load_path", "not_weighed"} <= set(told)
    assert {"mass_g", "cg_radius_mm", "cg_chordwise_mm", "static_moment_g_mm"} <= set(told["blade"])
    assert told["blade"]["mass_g"]["low"] < told["blade"]["mass_g"]["typical"] < told["blade"]["mass_g"]["high"]


def test_cautions_stand_where_the_work_is_done(tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]) -> None:
    for command in (["weigh"], ["make", "--out", str(tmp_path)]):
        assert main(command) == 0
        told = capsys.readouterr().out
        assert "Spinning" in told and "Lithium" in told and "local rules" in told
        assert re.search(r"\bsafe", told, re.IGNORECASE) is None


def test_help_reads_like_a_page(capsys: pytest.CaptureFixture[str]) -> None:
    for command in (["--help"], ["new", "--help"], ["check", "--help"], ["make", "--help"], ["weigh", "--help"]):
        with pytest.raises(SystemExit) as stop:
            main(command)
        assert stop.value.code == 0
        page = capsys.readouterr().out
        assert len(page.splitlines()) > 8 and max(map(len, page.splitlines())) <= 120


def test_run_as_a_module() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "geomgen", "check"], capture_output=True, text=True, timeout=120, check=False
    )
    assert done.returncode == 0, done.stderr
    assert "Lantern-night rotor" in done.stdout

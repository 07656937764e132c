"""What is refused at once, or ends in seconds: control characters, enormous chords, a file where a folder must go."""

from __future__ import annotations

import pathlib
import subprocess
import sys

import pytest

from geomgen.cli import main
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.errors import DesignError, Fault, MakeError

STARTER = example_path("starter").read_text(encoding="utf-8")


def run(*arguments: str, keep: pathlib.Path) -> subprocess.CompletedProcess[str]:
    """One command in an interpreter of its own, ended after a minute."""
    code = (
        "import os, sys; os.environ['GEOMGEN_KEEP'] = sys.argv.pop(1); from geomgen.cli import main; sys.exit(main())"
    )
    command = [sys.executable, "-c", code, str(keep), *arguments]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)


@pytest.mark.parametrize("escape", [r"\u0007", r"\u001b[31m", r"\n", r"\t", r"\u007f", r"\u0000"])
def test_a_title_with_control_characters_is_refused(
    escape: str, tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A bell, a colour, a new line ...: they would act on the terminal, and break lines of lists."""
    file = tmp_path / "mine.toml"
    file.write_text(STARTER.replace("My first rotor", f"My {escape} rotor"), encoding="utf-8")
    line = 1 + next(i for i, text in enumerate(STARTER.splitlines()) if text.startswith("title"))
    assert main(["check", str(file)]) == 2
    told = capsys.readouterr()
    assert told.err.startswith(f"{file}:{line} title = ") and not told.out
    assert len(told.err.splitlines()) == 1 and "\x1b" not in told.err and "\a" not in told.err


@pytest.mark.parametrize("escape", [r"\u0007", r"\u007f"])
def test_a_title_is_refused_in_words_that_fit(escape: str) -> None:
    with pytest.raises(DesignError) as caught:
        read_text(STARTER.replace("My first rotor", f"My {escape} rotor"))
    (fault,) = caught.value.faults
    assert str(fault).isprintable() and "section" not in str(fault)


@pytest.mark.parametrize("escape", [r"\u0085", r"\u009b31m", r"\u2028", r"\u2029"])
def test_a_title_with_later_control_characters_is_refused(escape: str) -> None:
    with pytest.raises(DesignError):
        read_text(STARTER.replace("My first rotor", f"My {escape} rotor"))


@pytest.mark.parametrize("letters", ["Flügel und Nabe, 2. Stück", "ローター", 'with "quotes" and # signs'])
def test_a_title_with_any_other_letters_is_read(letters: str) -> None:
    escaped = letters.replace('"', r"\"")
    assert read_text(STARTER.replace("My first rotor", escaped)).design.title == letters


@pytest.mark.parametrize("entries", [("chord = 180",), ("chord = 180", "chord = 150")], ids=["root", "root and tip"])
def test_a_chord_of_90_m_ends_in_seconds(entries: tuple[str, ...], tmp_path: pathlib.Path, keep: pathlib.Path) -> None:
    text = STARTER
    for entry in entries:
        assert entry in text
        text = text.replace(entry, 'chord = "90 m"')
    file = tmp_path / "mine.toml"
    file.write_text(text, encoding="utf-8")
    done = run("check", str(file), keep=keep)
    assert done.returncode in (0, 2, 3) and "Traceback" not in done.stderr
    told = done.stderr.splitlines()
    assert (done.returncode == 0) == (not told)
    assert all(f"{file}:" in words for words in told if not words.endswith(" faults"))


@pytest.mark.parametrize("below", [(), ("further",)], ids=["the file", "below it"])
def test_make_onto_a_file_refuses_before_it_builds(
    below: tuple[str, ...], tmp_path: pathlib.Path, keep: pathlib.Path
) -> None:
    there = tmp_path / "mine.txt"
    there.write_text("my own words")
    done = run("make", "--out", str(there.joinpath(*below)), keep=keep)
    assert done.returncode == 2 and not done.stdout
    (told,) = done.stderr.splitlines()  # no line of progress before it
    assert told.startswith(str(there)) and "another folder with --out" in told
    assert there.read_text() == "my own words" and list(tmp_path.iterdir()) == [there]


def test_progress_is_told_where_there_is_a_folder(tmp_path: pathlib.Path, keep: pathlib.Path) -> None:
    """Or the test above could not fail."""
    done = run("make", "--out", str(tmp_path), keep=keep)
    assert done.returncode == 0 and "  ribs: 14 outlines" in done.stderr.splitlines()


def test_a_fault_of_no_key_carries_no_line_of_the_design() -> None:
    file = read_text(STARTER, "mine.toml")
    whole = Fault("", "out/mine/base", "can't be written")
    (there,) = file.located(DesignError(whole))
    assert there == whole and (there.file, there.line) == ("", None)
    profile = Fault("", "", "crosses itself").at("crossed.dat", 7)
    assert file.located(MakeError([profile])) == [profile]
    (keyed,) = file.located(MakeError([Fault("rotor.radius", "", "too much")]))
    line = 1 + next(i for i, text in enumerate(STARTER.splitlines()) if text.startswith("radius"))
    assert (keyed.file, keyed.line) == ("mine.toml", line)


def test_a_missing_file_and_a_missing_option_carry_no_line(
    tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "mine.toml"
    file.write_text(STARTER, encoding="utf-8")
    assert main(["check", str(tmp_path / "none.toml")]) == 2
    assert capsys.readouterr().err == f"{tmp_path / 'none.toml'}: there is no such file\n"
    assert main(["check", str(file), "--option", "none"]) == 2
    assert capsys.readouterr().err.startswith(f'{file} "none": ')

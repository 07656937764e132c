"""Everything that a design can ask for has a limit, which is told; and a file that is none is not waited for."""

from __future__ import annotations

import os
import pathlib
import subprocess
import sys

import pytest
from mend import NAME, edited, faults_of

from geomgen.craft import Craft
from geomgen.design import example_path, read, starter_text
from geomgen.design.source import LARGEST
from geomgen.design.syntax import DEEPEST, MOST_KEYS
from geomgen.errors import DesignError, Fault, GeomgenError

STARTER = starter_text()
LAST = STARTER.count("\n") + 1


def refused(path: pathlib.Path) -> Fault:
    with pytest.raises(DesignError) as caught:
        read(path)
    (fault,) = caught.value.faults
    return fault


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_a_pipe_is_told_and_not_waited_for(tmp_path: pathlib.Path) -> None:
    os.mkfifo(tmp_path / "rotor.toml")
    fault = refused(tmp_path / "rotor.toml")
    assert fault.file == str(tmp_path / "rotor.toml") and "it is a pipe" in fault.wrong


@pytest.mark.skipif(not os.path.exists("/dev/null"), reason="no devices here")
def test_a_device_is_told() -> None:
    assert "it is a device" in refused(pathlib.Path("/dev/null")).wrong


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_a_pipe_for_a_section_is_told_with_the_designs_line(tmp_path: pathlib.Path) -> None:
    """In a process of its own: a test that waits for ever is no test."""
    old = 'chord = 150, twist = "0 deg", section = "naca 4415"'
    text = edited((old, old.replace("naca 4415", "pipe.dat")))
    (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
    os.mkfifo(tmp_path / "pipe.dat")
    command = [sys.executable, "-m", "geomgen", "check", str(tmp_path / "mine.toml")]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    line = 1 + next(i for i, row in enumerate(text.split("\n")) if "pipe.dat" in row)
    assert done.returncode == 2, done.stderr
    assert done.stderr.startswith(f"{tmp_path / 'mine.toml'}:{line} blade.along[1].section = ")
    assert "pipe.dat: can't be read: it is a pipe" in done.stderr


def test_a_fault_in_a_section_file_has_the_lines_of_both(tmp_path: pathlib.Path) -> None:
    old = 'chord = 150, twist = "0 deg", section = "naca 4415"'
    (tmp_path / "mine.toml").write_text(edited((old, old.replace("naca 4415", "bad.dat"))), encoding="utf-8")
    (tmp_path / "bad.dat").write_text("title\n1 0\n0.5 0.1\nx y\n", encoding="utf-8")
    file = read(tmp_path / "mine.toml")
    with pytest.raises(GeomgenError) as caught:
        _ = Craft(file.design, tmp_path).blade
    (fault,) = file.located(caught.value)
    line = 1 + next(i for i, row in enumerate(file.source.text.split("\n")) if "bad.dat" in row)
    assert (fault.file, fault.line, fault.path) == (str(tmp_path / "mine.toml"), line, "blade.along[1].section")
    assert fault.wrong.startswith("bad.dat:4: ") and file.locate(fault) == fault


MONSTERS = {
    "a dotted key": ("a" + ".a" * 20_000 + " = 1", 1, f"at most {DEEPEST}"),
    "a dotted header": (STARTER + "\n[" + ".".join(["a"] * 20_000) + "]\n", LAST + 1, f"at most {DEEPEST}"),
    "open lists": (STARTER + "\na = " + "[" * 3000, LAST + 1, f"at most {DEEPEST}"),
    "lists in lists": (STARTER + "\na = " + "[" * 900 + "]" * 900, LAST + 1, f"at most {DEEPEST}"),
    "an integer of 5000 digits": (edited(("radius = 700", "radius = " + "7" * 5000)), 14, "5000 digits"),
    "nested tables": (STARTER + "\n" + "\n".join(f"[t{i}.a]" for i in range(7000)), None, f"at most {MOST_KEYS}"),
    "a chain of 3000 options": (
        STARTER + "\n" + "\n".join(f'[option.o{i}]\nlike="o{i + 1}"' for i in range(3000)),
        None, f"at most {MOST_KEYS}",
    ),
    "a chain of 100 options": (
        STARTER + "\n" + "\n".join(f'[option.o{i}]\nlike = "o{i + 1}"' for i in range(100)), LAST + 99, "at most 50",
    ),
    "a large file": (STARTER + "\n# " + "x" * LARGEST, None, "larger than 100 kB"),
}  # fmt: skip


@pytest.mark.parametrize("name", MONSTERS)
def test_monsters_are_told_in_our_words_with_a_line(name: str) -> None:
    text, line, words = MONSTERS[name]
    (fault,) = faults_of(text)
    assert fault.file == NAME and fault.line == line, fault
    assert words in str(fault) and "sys." not in str(fault) and len(fault.value) <= 60


def test_dots_in_texts_and_remarks_are_no_steps() -> None:
    assert faults_of(edited(('"My first rotor"', '"' + "a." * 80 + '"')) + "\n# " + "a." * 80) == ()


def test_no_more_than_so_many_faults_are_told() -> None:
    text = edited(("blades = 2", "blades = 2\n" + "\n".join(f"k{i} = {i}" for i in range(400))))
    faults = faults_of(text)
    assert len(faults) == 101 and faults[-1].wrong == "300 more faults"


TOO_MANY = {  # what is written instead, path, words
    "screws of the cap": (("count = 4 }", "count = 1000 }"), "pitch.fixing.count", "at most 24"),
    "pins": (("count = 2, stock", "count = 1000, stock"), "pitch.pin.count", "at most 12"),
    "bolts": (("bolts = 4", "bolts = 1000"), "hub.bolts", "at most 24"),
    "wires of a kind": (("count   = 3", "count = 1000"), "wire.fan.count", "at most 50"),
    "a hub's height": (("height = 32 }", "height = 32000 }"), "hub.bay.height", "to 500 mm"),
    "a wall": (("wall  = 4.5", "wall  = 20000"), "hub.wall", "to 100 mm"),
    "a cap": (('turning_cap = { stock = "print_petg", ', 'turning_cap = { stock = "print_petg", thickness = 999 } # '),
              "pitch.turning_cap.thickness", "to 100 mm"),
    "a chord": (("chord = 150", "chord = 90000"), "blade.along[1].chord", "to 2000 mm"),
    "ribs of a run": (("every = 60", "every = 0.4"), "blade.ribs.outer.every", "at least 0.52 mm"),
    "ribs": (("every = 30\n", "every = 0.0602\n"), "blade.ribs", "at most 1000"),
    "entries": (('{ at = "root",', '{ at = 200 },' * 100 + '{ at = "root",'), "blade.along", "at most 100"),
    "wires of a channel": (('wires = ["fan"]', f'wires = {["fan"] * 101}'), "blade.channel.power.passes.wires",
                           "at most 100"),
    "stocks": (("[stock.balsa_3] ", "".join(f'[stock.s{i}]\nkind = "piece"\nmass = "1 g"\n' for i in range(100)) +
                "[stock.balsa_3] "), "stock", "at most 100"),
    "channels": (("[pitch]", "".join(f"[blade.channel.c{i}]\nchord = 0.5\ndiameter = 3\npasses = {{ largest = 1 }}\n"
                                     for i in range(20)) + "[pitch]"), "blade.channel", "at most 20"),
    "spars": (("[pitch]", "".join(f'[blade.spar.c{i}]\nchord = 0.5\nstock = "steel_rod_3"\n' for i in range(20)) +
               "[pitch]"), "blade.spar", "at most 20"),
    "laminations": (("[pitch]", f'[blade.spar.c]\nkind = "caps"\nstock = "strip"\nchord = 0.5\nlayers = {["tip"] * 9}\n'
                     '[stock.strip]\nkind = "length"\nof = "spruce"\nwidth = 5\nheight = 2\n[pitch]'),
                    "blade.spar.c.layers", "at most 8"),
    "score lines": (('kind       = "ribbed"', 'kind = "folded"\nstock = "balsa_3"\nnose_radius = 6\n'
                     f"folds = {{ upper = {[0.2] * 21} }}"), "blade.construction.folds.upper", "at most 20"),
    "settings": (('step    = "6 deg"', 'step = "0.01 deg"'), "pitch.step", "at most 200"),
}  # fmt: skip


@pytest.mark.parametrize("name", TOO_MANY)
def test_counts_and_sizes_have_limits_that_are_told(name: str) -> None:
    (old, new), path, words = TOO_MANY[name]
    faults = {fault.path: fault for fault in faults_of(edited((old, new.replace("'", '"'))))}
    assert path in faults, faults
    assert words in f"{faults[path].allowed}; {faults[path].remedy}", str(faults[path])


def test_a_main_spar_that_ends_just_past_the_root_is_refused() -> None:
    hub = "# reaches into the hub\n"
    (fault,) = faults_of(edited((f'{hub}to    = "tip"', f"{hub}to = 133")))
    assert (fault.path, fault.allowed) == ("blade.spar.main.to", "at least 265 mm")
    assert faults_of(edited((f'{hub}to    = "tip"', f"{hub}to = 265"))) == ()


def test_examples_are_far_inside_the_limits() -> None:
    for name in ("starter", "lantern", "kite_day"):
        assert len(example_path(name).read_bytes()) < LARGEST / 5

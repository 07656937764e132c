"""What a light command must not load, asserted on the module list of a fresh interpreter; and what is kept."""

from __future__ import annotations

import os
import pathlib
import subprocess
import sys

import pytest

HEAVY = ("cadquery", "OCP", "trimesh", "matplotlib", "scipy")
LOADED = f"print([name for name in {HEAVY!r} if name in sys.modules])"
LIGHT = f"""
import sys, geomgen
from geomgen.design.library import demo
design = demo().design
print('numpy' in sys.modules)
{LOADED}
from geomgen.cli import main
assert main(['check']) == 0
{LOADED}
from geomgen.craft import Craft
from geomgen.mass.statement import weigh
c = Craft(design)
s = weigh(c.parts, c.design, {{}})
assert s.unweighed == ('hub',) and s.blade.mass_g.typical > 100
{LOADED}
"""
COMMANDS = f"""
import sys
from geomgen.cli import main
for command in sys.argv[1:]:
    assert main(command.split('|')) == 0
    {LOADED}
"""


def run(code: str, *words: str, **environ: str) -> list[str]:
    """What a fresh interpreter prints on lines of lists and truths."""
    done = subprocess.run(
        [sys.executable, "-c", code, *words],
        capture_output=True,
        text=True,
        timeout=300,
        env={**os.environ, **environ},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return [line for line in done.stdout.splitlines() if line in ("True", "False") or line[:1] == "["]


@pytest.fixture(scope="module")
def light() -> list[str]:
    """What is loaded after reading, after checking, and after weighing what is flat."""
    return run(LIGHT)


def test_importing_and_reading_is_light(light: list[str]) -> None:
    assert light[:2] == ["False", "[]"]


def test_check_builds_no_solid(light: list[str]) -> None:
    assert light[2] == "[]"


def test_flat_masses_build_no_solid(light: list[str]) -> None:
    assert light[3:] == ["[]"]


def test_a_second_weigh_and_make_build_no_solid(tmp_path: pathlib.Path) -> None:
    keep, make = str(tmp_path / "keep"), f"make|--out|{tmp_path / 'out'}"
    assert "cadquery" in run(COMMANDS, "weigh", GEOMGEN_KEEP=keep)[-1]
    again, first = run(COMMANDS, "weigh", make, GEOMGEN_KEEP=keep)
    assert again == "[]" and "cadquery" in first  # for the mesh
    assert run(COMMANDS, make, GEOMGEN_KEEP=keep) == ["[]"]

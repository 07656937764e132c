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
KEPT = f"""
import pathlib, sys
from geomgen.cli import main
kept = lambda: print(len(list(pathlib.Path(sys.argv[1]).glob('*'))))
assert main(['weigh']) == 0
{LOADED}
kept()
assert main(['make', '--out', sys.argv[2]]) == 0
{LOADED}
kept()
"""


def run(code: str, *words: str, **environ: str) -> list[str]:
    """What a fresh interpreter prints on lines of lists, truths and numbers."""
    done = subprocess.run(
        [sys.executable, "-c", code, *words],
        capture_output=True,
        text=True,
        timeout=300,
        env={**os.environ, **environ},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return [line for line in done.stdout.splitlines() if line in ("True", "False") or line[:1] == "[" or line.isdigit()]


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
    """The first weighing builds the hub; making then keeps more of it, the mesh."""
    keep, out = str(tmp_path / "keep"), str(tmp_path / "out")
    weighed, few, made, more = run(KEPT, keep, out, GEOMGEN_KEEP=keep)
    assert "cadquery" in weighed and "cadquery" in made and 0 < int(few) < int(more)
    assert run(KEPT, keep, out, GEOMGEN_KEEP=keep) == ["[]", more, "[]", more]

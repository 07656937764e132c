"""What a light command must not load, asserted on the module list of a fresh interpreter; and what is kept."""

from __future__ import annotations

import ast
import os
import pathlib
import re
import subprocess
import sys
import tomllib

import pytest

TOP = pathlib.Path(__file__).parents[2]
HEAVY = ("cadquery", "OCP", "trimesh", "matplotlib", "scipy", "reportlab", "rtree")
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
import tomllib
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


def test_nothing_of_the_house_imports_what_only_tests_need() -> None:
    """Read from the source, also inside functions: what the package doesn't ask for isn't there for whoever uses it."""
    asked = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    ours = {re.split(r"[^\w-]", each)[0] for each in asked} | {"geomgen", "OCP"} | sys.stdlib_module_names
    named = {(name, file.name) for file in sorted((TOP / "geomgen").rglob("*.py")) for name in imported(file)}
    assert ("shapely", "laying.py") in named and ("reportlab", "pdf.py") in named
    assert {each for each in named if each[0] not in ours | {"pydantic_core"}} == set()


def imported(file: pathlib.Path) -> set[str]:
    """The first word of every module that a file imports."""
    nodes = list(ast.walk(ast.parse(file.read_text(encoding="utf-8"))))
    names = [alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names]
    names += [node.module or "geomgen" for node in nodes if isinstance(node, ast.ImportFrom)]
    return {name.partition(".")[0] for name in names}

"""What a light command must not load, asserted on the module list of a fresh interpreter; and what is kept."""

from __future__ import annotations

import os
import pathlib
import subprocess
import sys

HEAVY = ("cadquery", "OCP", "trimesh", "matplotlib", "scipy")


def run(code: str, **environ: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        timeout=300,
        env={**os.environ, **environ},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.strip().splitlines()[-1]


LOADED = f"print([name for name in {HEAVY!r} if name in sys.modules])"


def test_importing_and_reading_is_light() -> None:
    code = f"import sys, geomgen\nfrom geomgen.design.library import demo\ndemo()\n{LOADED}"
    assert run(code) == "[]"
    code = "import sys, geomgen\nfrom geomgen.design.library import demo\ndemo()\nprint('numpy' in sys.modules)"
    assert run(code) == "False"


def test_check_builds_no_solid() -> None:
    code = f"import sys\nfrom geomgen.cli import main\nassert main(['check']) == 0\n{LOADED}"
    assert run(code) == "[]"


def test_flat_masses_build_no_solid() -> None:
    code = (
        "import sys\nfrom geomgen.craft import Craft\nfrom geomgen.design.library import demo\n"
        "from geomgen.mass.statement import weigh\nc = Craft(demo().design)\n"
        "s = weigh(c.parts, c.design, {})\nassert s.unweighed == ('hub',) and s.blade.mass_g.typical > 100\n" + LOADED
    )
    assert run(code) == "[]"


def test_a_second_weigh_and_make_build_no_solid(tmp_path: pathlib.Path) -> None:
    keep = {"GEOMGEN_KEEP": str(tmp_path / "keep")}
    first = f"import sys\nfrom geomgen.cli import main\nassert main(['weigh']) == 0\n{LOADED}"
    assert "cadquery" in run(first, **keep)
    assert run(first, **keep) == "[]"
    out = str(tmp_path / "out")
    make = f"import sys\nfrom geomgen.cli import main\nassert main(['make', '--out', {out!r}]) == 0\n{LOADED}"
    assert "cadquery" in run(make, **keep)  # for the mesh
    assert run(make, **keep) == "[]"

"""The README's Python, run as it stands in a fresh process; and what `import geomgen` offers and loads."""

from __future__ import annotations

import os
import pathlib
import re
import subprocess
import sys

import pytest

import geomgen

README = pathlib.Path(__file__).parent.parent / "README.md"
HEAVY = ("numpy", "pydantic", "cadquery", "OCP", "shapely", "ezdxf", "matplotlib", "scipy")


def run(code: str, folder: pathlib.Path, keep: pathlib.Path) -> str:
    environ = {**os.environ, "GEOMGEN_KEEP": str(keep)}
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=300, env=environ, cwd=folder, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_the_readmes_python_runs_and_says_what_its_remarks_say(tmp_path: pathlib.Path, keep: pathlib.Path) -> None:
    section = README.read_text(encoding="utf-8").partition("## From Python")[2].partition("\n## ")[0]
    (code,) = re.findall(r"```python\n(.*?)```", section, re.DOTALL)
    (tmp_path / "mine.toml").write_text(geomgen.read().source.text, encoding="utf-8")
    said = run(code, tmp_path, keep).split()
    mass, rpm, *masses = (float(figure) for figure in said if re.fullmatch(r"[0-9.]+", figure))
    assert 175 < mass < 210 and 200 < rpm < 400
    assert len(masses) == 2 and masses[0] < masses[1]


def test_importing_geomgen_loads_nothing_heavy(tmp_path: pathlib.Path, keep: pathlib.Path) -> None:
    loaded = f"print([name for name in {HEAVY!r} if name in sys.modules])"
    assert run(f"import sys, geomgen\ndir(geomgen), geomgen.Fault\n{loaded}", tmp_path, keep).strip() == "[]"
    assert "numpy" not in run(f"import sys, geomgen\ngeomgen.vary(geomgen.read(), {{}})\n{loaded}", tmp_path, keep)


def test_what_is_listed_is_there_and_told_in_words() -> None:
    assert set(dir(geomgen)) == {
        "DesignError", "Fault", "GeomgenError", "MakeError", "__version__", "compare", "craft_of", "read", "vary",
    }  # fmt: skip
    for name in dir(geomgen):
        assert getattr(geomgen, name).__doc__
    with pytest.raises(AttributeError, match="no attribute 'raed'"):
        geomgen.raed  # type: ignore[attr-defined]  # noqa: B018
    assert (pathlib.Path(geomgen.__file__).parent / "py.typed").is_file()


def test_a_path_does_for_a_file(tmp_path: pathlib.Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(geomgen.read().source.text, encoding="utf-8")
    assert geomgen.vary(str(path), {"duty.rpm": 250}).design == geomgen.vary(geomgen.read(), {"duty.rpm": 250}).design
    with pytest.raises(geomgen.DesignError) as caught:
        geomgen.vary(path, {"duty.rmp": 250})
    assert caught.value.faults[0].remedy == 'do you mean "rpm"?'

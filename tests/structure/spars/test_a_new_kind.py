"""The guide's new kind of spar, word for word: put into a copy of the house, a blade is built with it."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import geomgen

HOME = Path(geomgen.__file__).parent
GUIDE = HOME.parent / "DEVELOPERS.md"

BUILD = """
import sys, pytest
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.mass.statement import weigh
from geomgen.structure.spars.all import spar_tasks, spars
from spar_blades import PLAIN, STOCKS

text = example_path("starter").read_text(encoding="utf-8")
keel = ("[blade.channel.power]", sys.argv[1] + "[blade.channel.power]")
for old, new in (*PLAIN, keel, ("\\n[option.stiffer]", STOCKS)):
    assert old in text
    text = text.replace(old, new)
craft = Craft(read_text(text, "keel.toml", None).design)
assert craft.outcome(Craft.misfits).faults == ()
made = spars(craft.layout)
assert not made.faults
(keel,) = [part for part in made.parts if part.path == "blade.spar.keel"]
(line,) = weigh([keel], craft.design, {}).lines
assert line.set_g[1] == pytest.approx(6 * 2 * 580 * 420e-6)
assert keel.spread[:, 0] @ keel.spread[:, 1] == pytest.approx(410.0)
joints = [joint for joint in made.joints if joint.a == keel.key]
assert [joint.b.mark for joint in joints] == [(n,) for n in range(1, len(craft.rib_places) + 1)]
assert sum(joint.area_mm2 for joint in joints) == pytest.approx(6 * 3.0 * (6.1 + 2 * 2))
assert all(len(rib.notches) == 1 for rib in craft.bare_ribs)
assert [task.does for task in spar_tasks(craft.layout, made.parts)] == ["", "Lay the keel into its notches."]
"""


def test_the_guide_adds_a_kind(tmp_path: Path) -> None:
    """In four files: its table, what it does, an example, a test."""
    guide = GUIDE.read_text(encoding="utf-8")
    section = guide[guide.index("**A kind of spar**") : guide.index("**What a material")]
    (table, kind), (example,) = (re.findall(rf"```{of}\n(.*?)```", section, re.DOTALL) for of in ("python", "toml"))
    (line,) = re.findall(r"`(\| Annotated.*?)`", section)
    shutil.copytree(HOME, tmp_path / "geomgen", ignore=shutil.ignore_patterns("__pycache__"))
    schema = tmp_path / "geomgen/design/schema/spar.py"
    text = schema.read_text(encoding="utf-8")
    before, after = text.split("AnySpar = Annotated[", 1)
    union = after.replace(",\n    Discriminator", f"\n    {line},\n    Discriminator", 1)
    schema.write_text(f"{before}{table}\n\nAnySpar = Annotated[{union}", encoding="utf-8")
    (tmp_path / "geomgen/structure/spars/kinds/keel.py").write_text(kind, encoding="utf-8")
    paths = f"{tmp_path}:{Path(__file__).parent}"
    done = subprocess.run(
        [sys.executable, "-c", BUILD, example],
        env={"PYTHONPATH": paths, "PATH": ""},
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr

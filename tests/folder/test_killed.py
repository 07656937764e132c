"""A run that is killed leaves the old folder or the new one, never a mixture."""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from geomgen.folder import write_folder
from geomgen.folder.swap import exchange

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT)}

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="kills a forked child")


def killed_at_every_step(work: Path, how: str) -> list[tuple[int, bool, str, bool, bool]]:
    done = subprocess.run(
        [sys.executable, HERE / "kill_at_every_step.py", work, how],
        env=ENVIRONMENT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return [tuple(row) for row in json.loads(done.stdout)]


def can_swap(folder: Path) -> bool:
    for name in "ab":
        (folder / name).mkdir()
    return exchange(folder / "a", folder / "b")


def test_killed_before_any_call_to_the_system(tmp_path: Path) -> None:
    if not can_swap(tmp_path):
        pytest.skip("this file system can't swap two folders in one step")
    rows = killed_at_every_step(tmp_path / "runs", "swap")
    states = [state for _, _, state, _, _ in rows]
    assert len(rows) > 50  # the steps are really there: open, mkdir, link, rename, remove, ...
    assert set(states) == {"old", "new"}
    assert states == sorted(states, reverse=True)  # old up to the swap, new from then on
    assert rows[-1][1]
    assert all(kept for *_, kept, _ in rows), "a stranger's file was lost"
    assert all(healed for *_, healed in rows), "the next run did not put all right"


def test_killed_where_two_renames_are_needed(tmp_path: Path) -> None:
    """There the name can be missing for a moment, but never a mixture, and the next run finds what was there."""
    rows = killed_at_every_step(tmp_path / "runs", "renames")
    states = [state for _, _, state, _, _ in rows]
    assert set(states) == {"old", "missing", "new"}
    assert states.count("missing") == 1
    assert all(healed for *_, healed in rows)


def test_killed_from_outside_at_random_moments(tmp_path: Path) -> None:
    """The same with no knowledge of the steps: a process that writes two sets in turn, killed after a random while."""
    script = (
        "import sys, pathlib; from geomgen.folder import write_folder\n"
        "sets = [{f'cut/rib_{i}.dxf': b'%d' % k * 40000 for i in range(20)} for k in (1, 2)]\n"
        "print('ready', flush=True)\n"
        "while True:\n"
        "    for files in sets: write_folder(pathlib.Path(sys.argv[1]), files, {})\n"
    )
    target = tmp_path / "base"
    moments = random.Random(3)
    for _ in range(12):
        with subprocess.Popen(
            [sys.executable, "-c", script, target], env=ENVIRONMENT, stdout=subprocess.PIPE, text=True
        ) as run:
            assert run.stdout is not None and run.stdout.readline() == "ready\n"
            time.sleep(moments.uniform(0.0, 0.25))
            run.kill()
        if target.exists():
            whole = {file.name: file.read_bytes()[:1] for file in (target / "cut").iterdir()}
            assert len(whole) == 20
            assert len(set(whole.values())) == 1
            assert (target / "manifest.json").exists()
    write_folder(target, {"a.txt": b"a"}, {})
    assert sorted(path.name for path in tmp_path.iterdir()) == ["base"]
    assert sorted(path.name for path in target.iterdir()) == ["a.txt", "manifest.json"]

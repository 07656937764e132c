"""Plant small bugs one by one into a copy of the house, and see whether the tests that are to catch each one do.

    python tests/mutants/plant.py               all of them, some minutes
    python tests/mutants/plant.py payload tip   those whose name holds one of these words

Run by hand. The tests are first run as it is, and must pass. Nothing that is kept on disk is used: a result kept from
before would hide a bug. The exit status is 1 where one went through, or broke the tests otherwise than by failing one.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

HERE = Path(__file__).parent
TOP = HERE.parents[1]
COPIED = ("geomgen", "profiles", "tests", "pyproject.toml", "README.md", "DEVELOPERS.md")
PASSED, FAILED = 0, 1  # pytest's exit status where all tests passed, and where they ran and one failed


@dataclass(frozen=True)
class Mutant:
    """One small bug.

    name     : what it is called on the command line
    file     : where it is planted, under geomgen/
    old, new : the text that stands there once, and what takes its place
    wrong    : what is wrong with it, in words
    tests    : files under tests/ that are to catch it
    """

    name: str
    file: str
    old: str
    new: str
    wrong: str
    tests: tuple[str, ...]


def mutants() -> tuple[Mutant, ...]:
    """All of the table, in its order."""
    table = tomllib.loads((HERE / "mutants.toml").read_text(encoding="utf-8"))
    return tuple(Mutant(name, **{**row, "tests": tuple(row["tests"])}) for name, row in table.items())


def tried(tests: Sequence[str], mutant: Mutant | None = None) -> int:
    """Exit status of some tests in a copy of the house, with a bug planted or with none."""
    with tempfile.TemporaryDirectory(prefix="mutant_") as folder:
        top = Path(folder)
        for name in COPIED:
            copy = shutil.copytree if (TOP / name).is_dir() else shutil.copy2
            copy(TOP / name, top / name)
        if mutant is not None:
            path = top / "geomgen" / mutant.file
            path.write_text(path.read_text(encoding="utf-8").replace(mutant.old, mutant.new), encoding="utf-8")
        files = [f"tests/{test}" for test in tests]
        command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *files]
        env = {**os.environ, "PYTHONPATH": str(top), "GEOMGEN_KEEP": ""}
        said = subprocess.DEVNULL if mutant else None  # what is wrong with the house as it is should be seen
        return subprocess.run(command, cwd=top, env=env, stdout=said, stderr=said, check=False).returncode


def main(words: Sequence[str]) -> int:
    """Plant those that are asked for, say how each went, and sum up."""
    chosen = [each for each in mutants() if not words or any(word in each.name for word in words)]
    if status := tried(list(dict.fromkeys(test for each in chosen for test in each.tests))):
        print(f"these tests don't pass as it is: pytest ended with {status}")
        return 1
    through = 0
    for mutant in chosen:
        status = tried(mutant.tests, mutant)
        through += status != FAILED
        said = {FAILED: "caught", PASSED: "NOT caught"}.get(status, f"NOT caught, pytest ended with {status}")
        print(f"{said:10}  {mutant.name}: {mutant.wrong}", flush=True)
    print(f"{len(chosen) - through} of {len(chosen)} caught")
    return 1 if through or not chosen else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

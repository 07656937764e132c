"""The list of slow tests names what is there, and leaves tests in every room's folder."""

from __future__ import annotations

import ast
from pathlib import Path

HERE = Path(__file__).parent
SLOW = (HERE / "slow.txt").read_text(encoding="utf-8").split()


def names_in(file: Path) -> list[str]:
    """Names of the tests in a file, as the list has them."""
    functions = (
        node.name for node in ast.parse(file.read_text(encoding="utf-8")).body if isinstance(node, ast.FunctionDef)
    )
    return [f"{file.relative_to(HERE).as_posix()}::{name}" for name in functions if name.startswith("test_")]


EVERY = [name for file in sorted(HERE.rglob("test_*.py")) if "speed" not in file.parts for name in names_in(file)]


def test_every_line_of_the_list_names_tests() -> None:
    assert [line for line in SLOW if not any(name.startswith(line) for name in EVERY)] == []


def test_every_folder_has_tests_that_are_not_slow() -> None:
    fast = {name.rpartition("/")[0] for name in EVERY if not name.startswith(tuple(SLOW))}
    assert {name.rpartition("/")[0] for name in EVERY} == fast

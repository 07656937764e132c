"""Imports run one way: a room imports only from rooms above it in the table of rooms."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import geomgen

HOME = Path(geomgen.__file__).parent

# From the top. Rooms on one line are siblings and don't import each other.
TABLE = [
    {"errors"},
    {"units", "tolerances", "digest"},
    {"frames", "cache"},
    {"plane"},
    {"unroll"},
    {"materials"},
    {"design"},
    {"stages"},
    {"section"},
    {"blade"},
    {"model"},
    {"structure", "root", "bench", "marking", "stock"},
    {"cutting", "printing"},
    {"mass"},
    {"hover", "strength"},
    {"craft"},
    {"study"},
    {"folder"},
    {"views"},
    {"render"},
    {"report"},
    {"making"},
    {"cli"},
]
RANK = {room: rank for rank, rooms in enumerate(TABLE) for room in rooms}
OPEN = {"structure", "root", "bench", "marking", "stock"}  # being parted
FREE = {"__init__", "__main__"}


def room_of(file: Path) -> str:
    return file.relative_to(HOME).parts[0].removesuffix(".py")


def imports(file: Path) -> list[tuple[int, str]]:
    """Every import of geomgen in a file, inside functions too: (line, room)."""
    found = []
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file.name}:{node.lineno}: relative imports hide the room"
            names = (
                [node.module or ""] if node.module != "geomgen" else [f"geomgen.{alias.name}" for alias in node.names]
            )
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        else:
            continue
        found += [(node.lineno, name.split(".")[1]) for name in names if name.startswith("geomgen.")]
    return found


FILES = sorted(HOME.rglob("*.py"))


@pytest.mark.parametrize("file", FILES, ids=lambda f: str(f.relative_to(HOME)))
def test_imports_run_upward(file: Path) -> None:
    room = room_of(file)
    if room in FREE:
        return
    assert room in RANK, f"{room} has no place in the table of rooms"
    for line, other in imports(file):
        if other == "__version__":
            continue
        assert other == room or RANK[other] < RANK[room] or {other, room} <= OPEN, (
            f"{file.relative_to(HOME)}:{line}: {room} may not import {other}"
        )


def test_the_check_sees_imports_inside_functions(tmp_path: Path) -> None:
    source = tmp_path / "x.py"
    source.write_text("def f():\n    from geomgen.cli import main\n    import geomgen.craft\n")
    assert imports(source) == [(2, "cli"), (3, "craft")]

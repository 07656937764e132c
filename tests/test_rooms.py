"""Imports run one way, between rooms and inside them; the order is read from the plan of the house in DEVELOPERS.md."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

import pytest

import geomgen

HOME = Path(geomgen.__file__).parent
PLAN = HOME.parent / "DEVELOPERS.md"
FREE = {"__init__", "__main__"}

Graph = Mapping[str, Mapping[str, int]]  # module -> module it imports -> line


def tables(text: str) -> list[list[list[str]]]:
    """The tables of the plan: rows of cells, without their heads."""
    section = text.partition("## The plan of the house\n")[2].partition("\n## ")[0]
    blocks = re.findall(r"(?:^\|.*\n)+", section, re.MULTILINE)
    return [[row.strip("|\n ").split("|") for row in block.splitlines()[2:]] for block in blocks]


def named(cell: str) -> list[str]:
    """The rooms that a cell names."""
    return [name.rstrip("/").removesuffix(".py") for name in re.findall(r"`([^`]+)`", cell)]


ROOMS, INSIDE = tables(PLAN.read_text(encoding="utf-8"))
RANK = {room: rank for rank, row in enumerate(ROOMS) for room in named(row[0])}
ORDER = {named(row[0])[0]: named(row[1]) for row in INSIDE}


def graph(home: Path) -> Graph:
    """What every module imports of its own package, inside functions too, at any depth."""
    files = {".".join((home.name, *file.relative_to(home).with_suffix("").parts)): file for file in home.rglob("*.py")}
    modules = {name.removesuffix(".__init__"): file for name, file in files.items()}
    return {name: dict(_imports(file, modules, home.name)) for name, file in sorted(modules.items())}


def _imports(file: Path, modules: Mapping[str, Path], package: str) -> Iterator[tuple[str, int]]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        names = []
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file.name}:{node.lineno}: relative imports hide the room"
            deeper = [f"{node.module}.{alias.name}" for alias in node.names]
            names = [name if name in modules else node.module or "" for name in deeper]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        yield from ((name, node.lineno) for name in names if name in modules and name != package)


def circle(edges: Mapping[str, Mapping[str, int]]) -> list[str]:
    """A shortest circle, from a module back to itself; empty where there is none."""
    found: list[str] = []
    for start in edges:
        ways = [[start]]
        seen = {start}
        while ways and (not found or len(ways[0]) < len(found)):
            way = ways.pop(0)
            if start in edges.get(way[-1], {}):
                found = [*way, start]
                break
            ways += [[*way, each] for each in edges.get(way[-1], {}) if each not in seen]
            seen |= set(edges.get(way[-1], {}))
    return found


def against_order(edges: Graph) -> dict[tuple[str, str], list[str]]:
    """Imports that don't run upward, by the two rooms: between rooms by rank, inside a room by its own order."""
    found: dict[tuple[str, str], list[str]] = {}
    for name, imported in edges.items():
        for other, line in imported.items():
            (_, room, *mine), (_, its, *theirs) = name.split("."), other.split(".")
            own = ORDER.get(room, []) if room == its else []
            pair = (room, its)
            if mine[:1] != theirs[:1] and {*mine[:1], *theirs[:1]} <= {*own} and mine and theirs:
                pair = (f"{room}/{mine[0]}", f"{room}/{theirs[0]}")
                wrong = own.index(theirs[0]) > own.index(mine[0])
            else:
                wrong = room != its and RANK[its] >= RANK[room]
            if wrong:
                found.setdefault(pair, []).append(f"{name} line {line} imports {other}")
    return found


@cache
def modules() -> Graph:
    """Those of the house."""
    return graph(HOME)


@cache
def roomed() -> Graph:
    """Those in rooms."""
    return {name: edges for name, edges in modules().items() if "." in name and name.split(".")[1] not in FREE}


def test_every_room_has_its_place_in_the_plan_and_every_place_a_room() -> None:
    assert {name.split(".")[1] for name in roomed()} == set(RANK)
    for room in RANK:
        folders = {
            name.split(".")[2] for name in roomed() if name.startswith(f"geomgen.{room}.") and name.count(".") > 2
        }
        assert folders == set(ORDER.get(room, folders if len(folders) < 2 else ())), f"folders inside {room}/"


def test_imports_run_upward() -> None:
    found = against_order(roomed())
    assert not found, "\n".join(line for lines in found.values() for line in lines)


def test_no_modules_import_one_another_in_a_circle() -> None:
    assert not (found := circle(modules())), " -> ".join(found)


@pytest.mark.parametrize("room", sorted(RANK))
def test_inside_a_room_no_files_and_folders_need_one_another(room: str) -> None:
    edges: dict[str, dict[str, int]] = {}
    for name, imported in roomed().items():
        for other in imported:
            (mine, its) = (f"{'/'.join(each.split('.')[1:3])}" for each in (name, other))
            inside = name.split(".")[1] == other.split(".")[1] == room and mine != its != room != mine
            if inside:
                edges.setdefault(mine, {})[its] = 0
    assert not (found := circle(edges)), " -> ".join(found)


def test_the_checks_see_what_is_planted(tmp_path: Path) -> None:
    home = tmp_path / "geomgen"
    for name, text in {
        "errors.py": "def f():\n    from geomgen.craft import x\n",
        "craft.py": "import geomgen.design.rules.a\nfrom geomgen import errors\n",
        "design/__init__.py": "",
        "design/schema/b.py": "from geomgen.design.rules import a\n",
        "design/rules/__init__.py": "",
        "design/rules/a.py": "",
    }.items():
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        (home / name).write_text(text, encoding="utf-8")
    edges = graph(home)
    assert edges["geomgen.errors"] == {"geomgen.craft": 2}
    assert circle(edges) in (
        ["geomgen.craft", "geomgen.errors", "geomgen.craft"],
        ["geomgen.errors", "geomgen.craft", "geomgen.errors"],
    )
    assert against_order(edges) == {
        ("design/schema", "design/rules"): ["geomgen.design.schema.b line 1 imports geomgen.design.rules.a"],
        ("errors", "craft"): ["geomgen.errors line 2 imports geomgen.craft"],
    }
    assert circle({"a": {"b": 1}, "b": {"c": 1}, "c": {}}) == []

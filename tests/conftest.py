"""What many tests start from: the demo's craft, crafts from edited design files, comparisons of options."""

from __future__ import annotations

import os
import pathlib
import sys
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Any
from unittest import mock

import hypothesis
import pytest
from known_options import OPTIONS, bare

from geomgen.cache import MB, Cache, default
from geomgen.craft import Craft
from geomgen.design.library import demo, example_path
from geomgen.design.reader import DesignFile, read_text
from geomgen.study.comparison import Comparison, compare

hypothesis.settings.register_profile("same examples every time", derandomize=True, deadline=None)
hypothesis.settings.load_profile("same examples every time")

ROOM = 2048 * MB  # in memory: what is kept stays to the end
CraftOf = Callable[..., Craft]
HERE = pathlib.Path(__file__).parent
SLOW = (HERE / "slow.txt").read_text(encoding="utf-8").split()  # how the names of tests begin that take seconds
BROKEN = """
[option.holed]
blade.channel.power.chord = 0.97
"""


def pytest_configure() -> None:
    """Compiled modules are kept, whatever the environment says: the many fresh processes start faster."""
    sys.dont_write_bytecode = False
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what is slow: `pytest -m "not slow"` leaves it out. Files that hold some of it come first."""
    files = set()
    for item in items:
        if f"{item.path.relative_to(HERE).as_posix()}::{item.name}".startswith(tuple(SLOW)):
            item.add_marker(pytest.mark.slow)
            files.add(item.path)
    items.sort(key=lambda item: item.path not in files)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Who runs what, where pytest is given workers and no way of its own to share tests out."""
    if config.getoption("dist") != "load":
        return None
    from workers import ByFile

    config.option.loadscopereorder = False
    return ByFile(config, log)


@pytest.fixture(scope="session", autouse=True)
def keep(tmp_path_factory: pytest.TempPathFactory) -> Iterator[pathlib.Path]:
    """One store of solids for the whole run, empty at first, also for commands that tests run: never the user's own."""
    base = tmp_path_factory.getbasetemp()
    folder = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "keep"  # one for all workers
    with mock.patch.dict(os.environ, GEOMGEN_KEEP=str(folder)):
        yield folder


@pytest.fixture(scope="session")
def cache(keep: pathlib.Path) -> Cache:
    """One cache for all tests, also for commands that they run: what two of them ask for is worked out once."""
    found = default()
    found.memory_bytes = ROOM
    return found


@pytest.fixture(scope="session")
def craft_of(cache: Cache) -> CraftOf:
    """A craft from one of the examples with texts in it replaced, each of which must be there."""

    @lru_cache(maxsize=64)
    def make(name: str, *edits: tuple[str, str], option: str | None = None) -> Craft:
        path = example_path(name)
        text = path.read_text(encoding="utf-8")
        for old, new in edits:
            assert old in text, f"{old!r} is not in {name}"
            text = text.replace(old, new)
        return Craft(read_text(text, path.name, option).design, path.parent, cache)

    return make


@pytest.fixture(scope="session")
def lantern(craft_of: CraftOf) -> Craft:
    """The demo."""
    return craft_of("lantern")


@pytest.fixture(scope="session")
def kite_day(craft_of: CraftOf) -> Craft:
    """The second example: three blades, clockwise, inches."""
    return craft_of("kite_day")


@pytest.fixture(scope="session")
def file() -> Callable[[str | None], DesignFile]:
    """The demo with three options that differ in their ribs and spars, one of them laid over it."""
    return lambda option: read_text(bare("lantern") + OPTIONS, "mine.toml", option)


@pytest.fixture(scope="session")
def options(file: Callable[[str | None], DesignFile], cache: Cache) -> Comparison:
    """All of them."""
    return compare(file(None), cache=cache)


@pytest.fixture(scope="session")
def alone(file: Callable[[str | None], DesignFile], cache: Cache) -> dict[str, Craft]:
    """A craft of each of them that shares nothing with the others."""
    names = ("base", *file(None).options)
    return {name: Craft(file(name).design, None, cache) for name in names}


@pytest.fixture(scope="session")
def shipped(cache: Cache) -> Comparison:
    """The demo's own options."""
    return compare(demo(), cache=cache)


@pytest.fixture(scope="session")
def compared(cache: Cache) -> Callable[..., Comparison]:
    """compared("lantern", more, (old, new), ..., options=, base=): an example with text added and replaced."""

    def make(name: str, more: str, *edits: tuple[str, str], **asked: object) -> Comparison:
        text = bare(name)
        for old, new in edits:
            assert old in text, f"{old!r} is not in {name}"
            text = text.replace(old, new)
        return compare(read_text(text + more, "mine.toml"), cache=cache, **asked)  # type: ignore[arg-type]

    return make


@pytest.fixture(scope="session")
def with_broken(compared: Callable[..., Comparison]) -> Comparison:
    """The starter, an option that builds, and one whose channel leaves the section."""
    return compared("starter", BROKEN + '[option.fewer]\nblade.ribs.outer.every = "130 mm"\n')

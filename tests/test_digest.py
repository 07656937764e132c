"""Digests: every figure counts, however it is nested; the same in every run; as fast as there are figures."""

from __future__ import annotations

import os
import sys
from dataclasses import dataclass, replace
from pathlib import Path
from subprocess import run

import numpy as np
import pytest

from geomgen import digest as module
from geomgen.design.library import demo
from geomgen.digest import digest
from geomgen.tolerances import STANDARD


@dataclass(frozen=True)
class A:
    """A record."""

    x: object


@dataclass(frozen=True)
class B:
    """The same under another name."""

    x: object


DIFFERENT = [
    1, 1.0, True, "1", b"1", None, "", (), (1,), ((1,),), (1, 1), ("ab", "c"), ("a", "bc"), ("s1;a",), {}, {"a": 1},
    {1: "a"}, A(1), B(1), A(1.0), A(A(1)), np.arange(4), np.arange(4.0), np.arange(4).reshape(2, 2), np.zeros(0),
    np.zeros((0, 2)), np.array(1), Path("a", "b"), frozenset({1}), 1.0 + 1e-15, float("nan"), -1, 10**30,
]  # fmt: skip


def test_different_things_have_different_digests() -> None:
    assert len({digest(thing) for thing in DIFFERENT}) == len(DIFFERENT)


def test_equal_things_have_equal_digests() -> None:
    assert digest([1, 2]) == digest((1, 2)) and digest({"a": 1, "b": 2}) != digest(
        {"b": 2, "a": 1}
    )  # parts stand in order
    spaced = np.arange(8.0)[::2]
    assert digest(spaced) == digest(spaced.copy()) and digest(np.float64(0.1)) == digest(0.1)
    assert digest(np.int64(3)) == digest(3)
    design = demo().design
    assert digest(design) == digest(demo().design) != digest(demo("balsa").design)
    assert digest(STANDARD) != digest(replace(STANDARD, mesh_mm=0.03))


def test_what_it_does_not_know_it_refuses() -> None:
    for thing in (object(), [lambda: 1], A(object), np.array([object()])):
        with pytest.raises(TypeError, match="no digest"):
            digest(thing)
    with pytest.raises(TypeError, match="no code"):
        digest(1, code=("nowhere",))


def test_each_names_the_code_that_counts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "room" / "inner").mkdir(parents=True)
    (tmp_path / "one.py").write_text("1")
    deep = tmp_path / "room" / "inner" / "deep.py"
    deep.write_text("1")
    monkeypatch.setattr(module, "HOME", tmp_path)

    def both() -> tuple[str, str]:
        module._code_of.cache_clear()
        return digest(1, code=("room",)), digest(1, code=("one.py",))

    first = both()
    deep.write_text("2")
    second = both()
    assert second[0] != first[0] and second[1] == first[1] and digest(1) not in first


def test_the_same_in_every_run() -> None:
    script = (
        "import numpy as np\nfrom geomgen.design.library import demo\nfrom geomgen.digest import digest\n"
        "print(digest(demo().design, {'b': {1, 2}, 'a': np.eye(2)}, frozenset({'x', 'y', 'z'}), code=('plane',)))"
    )
    said = {
        run(
            [sys.executable, "-c", script],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(said) == 1

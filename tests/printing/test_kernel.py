"""One clear line where the kernel or a library of the system is missing."""

from __future__ import annotations

import sys

import pytest

from geomgen.errors import MakeError
from geomgen.printing.kernel import kernel


class Missing:
    """Stands in the way of an import as a missing library does."""

    def __init__(self, words: str) -> None:
        self.words = words

    def find_spec(self, name: str, path: object = None, target: object = None) -> None:
        if name == "cadquery":
            raise ImportError(self.words)


@pytest.mark.parametrize(
    ("words", "remedy"),
    [
        ("libGL.so.1: cannot open shared object file: No such file or directory", "libgl1"),
        ("No module named 'cadquery'", "install geomgen"),
    ],
)
def test_one_clear_line(monkeypatch, words: str, remedy: str) -> None:
    monkeypatch.setattr(sys, "meta_path", [Missing(words), *sys.meta_path])
    monkeypatch.delitem(sys.modules, "cadquery", raising=False)
    with pytest.raises(MakeError) as caught:
        kernel()
    assert remedy in str(caught.value) and "\n" not in str(caught.value)

"""How the tests of the design file break the starter, and what they expect to be told."""

from __future__ import annotations

from dataclasses import dataclass

from geomgen.design import DesignFile, read_text, starter_text
from geomgen.errors import DesignError, Fault

NAME = "my rotor.toml"


@dataclass(frozen=True)
class Case:
    """One malformed design.

    name   : what is wrong with it
    edits  : (text in the starter, what stands there instead); each old text is there exactly once
    faults : (key path, a text that is in the fault's line and in no other line) for every fault there is
    says   : words that must be in what is said
    """

    name: str
    edits: tuple[tuple[str, str], ...]
    faults: tuple[tuple[str, str], ...]
    says: tuple[str, ...] = ()


def edited(*edits: tuple[str, str]) -> str:
    """The starter with texts replaced."""
    text = starter_text()
    for old, new in edits:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the starter"
        text = text.replace(old, new)
    return text


def line_of(text: str, part: str) -> int:
    """The one line that holds a text, from 1."""
    lines = [number for number, line in enumerate(text.split("\n"), 1) if part in line]
    assert len(lines) == 1, f"{part!r} stands in lines {lines}"
    return lines[0]


def faults_of(text: str, option: str | None = None) -> tuple[Fault, ...]:
    """Every fault in a design; none where it can be read."""
    try:
        read_text(text, NAME, option)
    except DesignError as error:
        return error.faults
    return ()


def read_edited(*edits: tuple[str, str], option: str | None = None) -> DesignFile:
    """The starter with texts replaced, read."""
    return read_text(edited(*edits), NAME, option)

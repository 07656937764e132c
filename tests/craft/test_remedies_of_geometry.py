"""What a fault of geometry says would do does: written into the file, it passes or another fault is told."""

from __future__ import annotations

import re
import tomllib

import pytest
from other_system import metric_figures, other_system
from remedies import file_of, put, said_to_do
from test_command_line import GEOMETRY, STARTER
from test_faults_of_constructions import CASES, FEW, text_of

from geomgen.craft import Craft
from geomgen.design.keypath import parsed
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.errors import DesignError, Fault, GeomgenError

NUMBER = re.compile(r'"?-?[\d.]')  # begins a value that a bound can be written over
FILES = {name: (text_of(case.on, case.over), case.on[0], "t") for name, case in CASES.items()}
for _name, _case in GEOMETRY.items():
    _text = STARTER.replace("every = 60", "every = 250")
    for _old, _new in _case.edits:
        _text = _text.replace(_old, _new)
    FILES[_name] = _text, "starter", None


def faults_of(text: str, example: str, option: str | None) -> list[Fault]:
    """What is wrong with a file, drawn or not."""
    try:
        file = read_text(text, "mine.toml", option)
    except DesignError as error:
        return list(error.faults)
    try:
        Craft(file.design, example_path(example).parent).check()
    except GeomgenError as error:
        return file.located(error)
    return []


@pytest.mark.parametrize("inches", [False, True], ids=["mm", "inches"])
@pytest.mark.parametrize("name", FILES)
def test_each_bound_that_is_told_passes(name: str, inches: bool) -> None:
    text, example, option = FILES[name]
    text = other_system(text) if inches else text
    assert example in FEW
    raw, stays = tomllib.loads(text), []
    for fault in faults_of(text, example, option):
        assert not inches or metric_figures(f"{fault.wrong}; {fault.allowed}; {fault.remedy}") == [], fault
        for path, value in said_to_do(fault):
            new = tomllib.loads(f"x = {value}")["x"]
            changed = put(raw, path, new) if NUMBER.match(fault.value) and path == parsed(fault.path) else None
            if changed is not None:
                after = faults_of(file_of(changed), example, option)
                if any((other.path, other.wrong) == (fault.path, fault.wrong) for other in after):
                    stays.append(f"{fault}\n  after {path} = {value}: {[*map(str, after)]}")
    assert not stays, "\n".join(stays)

"""Designs that ship with geomgen, and the JSON Schema for editors."""

from __future__ import annotations

import pathlib
from typing import Any

from geomgen.design.reader import DesignFile, read
from geomgen.design.schema.design import Design

_EXAMPLES = pathlib.Path(__file__).parent / "examples"
DEMO = "lantern"
STARTER = "starter"


def example_path(name: str) -> pathlib.Path:
    """The file of a design that ships with geomgen: "lantern", "kite_day" or "starter".

    raises : KeyError where none has that name
    """
    path = _EXAMPLES / f"{name}.toml"
    if not path.is_file():
        raise KeyError(name)
    return path


def demo(option: str | None = None) -> DesignFile:
    """The built-in demo, an invented design."""
    return read(example_path(DEMO), option)


def starter_text() -> str:
    """The design file that a maker starts from."""
    return example_path(STARTER).read_text(encoding="utf-8")


def example_files(name: str, file_name: str) -> dict[str, str]:
    """An example as files for a maker to change: its design file under a name of their own, and what it reads.

    returns : file name -> text, the design file first
    raises  : KeyError where none has that name
    """
    path = example_path(name)
    beside = sorted(path.parent.glob(f"{name}_*.dat"))
    return {file_name: path.read_text(encoding="utf-8")} | {one.name: one.read_text(encoding="utf-8") for one in beside}


def json_schema() -> dict[str, Any]:
    """The JSON Schema of a design file, for editors: its keys and kinds of value, without the rules between them."""
    schema = Design.model_json_schema(by_alias=True, mode="validation")
    option = {"type": "object", "additionalProperties": {"type": "object"}}
    schema["properties"]["option"] = option | {"description": "tables laid over the design, by name of the option"}
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema, "title": "geomgen design file"}

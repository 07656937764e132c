"""The ways of building a blade: each module of this folder is one, its `BUILDS` the schema class and what builds it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module
from pkgutil import iter_modules
from typing import Any

from geomgen.design.schema import Design
from geomgen.structure.construction import Construction

_FOUND = [import_module(f"{__name__}.{module.name}").BUILDS for module in iter_modules(__path__)]
CONSTRUCTIONS: Mapping[type, Callable[[Design, Any], Construction]] = dict(_FOUND)


def construction(design: Design) -> Construction:
    """How a design's blade is built."""
    built = design.blade.construction
    return CONSTRUCTIONS[type(built)](design, built)

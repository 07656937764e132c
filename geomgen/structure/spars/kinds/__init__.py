"""The kinds of spar: each module of this folder is one, its `KIND` what it does, found by the class of its table."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from pkgutil import iter_modules
from typing import Any

from geomgen.design.schema.spar import Run
from geomgen.model.layout import Layout
from geomgen.structure.spars.kind import Member, SparKind

_FOUND: list[SparKind[Any]] = [import_module(f"{__name__}.{module.name}").KIND for module in iter_modules(__path__)]
KINDS: Mapping[type[Run], SparKind[Any]] = {kind.schema: kind for kind in _FOUND}


def members(layout: Layout) -> list[Member[Any]]:
    """Every spar of a blade."""
    tables = layout.design.blade.spar
    return [Member(layout, name, tables[name], route) for name, route in layout.spars.items()]


def kind_of(member: Member[Any]) -> SparKind[Any]:
    """What a member does."""
    return KINDS[type(member.spar)]

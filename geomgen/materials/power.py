"""Reads power.toml, and looks a class up by its name."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from typing import Any, TypeVar

from geomgen.errors import DesignError, Fault

_Entry = TypeVar("_Entry")


@cache
def power_table() -> dict[str, Any]:
    """All of power.toml, as it stands there."""
    return tomllib.loads(files(__package__).joinpath("power.toml").read_text(encoding="utf-8"))


def pick(table: Mapping[str, _Entry], name: str, path: str, sort: str) -> _Entry:
    """The class of this name; a size's number alone will do, and so does "40mm".

    table  : classes by name, "40 mm"
    path   : key path of the design that asks, for the fault
    sort   : "fan", "wire" ..., for the fault
    raises : DesignError with the near miss, or with the choice
    """
    found = [known for known in table if _plain(name) in (_plain(known), _plain(known.split()[0]))]
    if found:
        return table[found[0]]
    by_plain = {_plain(known): known for known in table}
    near = get_close_matches(_plain(name), by_plain, n=1, cutoff=0.6)
    allowed = "" if near else f"there are {'; '.join(table)}"
    remedy = f'do you mean "{by_plain[near[0]]}"?' if near else ""
    raise DesignError(Fault(path, f'"{name}"', f"no class of {sort} has this name", allowed, remedy))


def _plain(name: str) -> str:
    return re.sub(r"[\s_-]+", "", name.casefold())

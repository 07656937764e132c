"""Floor: a design file read by tomllib into a bare pydantic model of the same tables, with each of its options.

No line of a key, no bounds, no rules between tables, no near miss for a typo: values with their units become figures,
and that is all. Attributes have the names of geomgen's, so that the figures can be held against one another.
"""

from __future__ import annotations

import pathlib
import tomllib
from typing import Any

from floors.tables import Design


def read(path: pathlib.Path) -> dict[str | None, Design]:
    """The design under None, and with each of its options laid over it under the option's name."""
    raw = tomllib.loads(path.read_text(encoding="utf-8"))
    options = raw.pop("option", {})
    found = {None: Design.model_validate(raw)}
    return found | {name: Design.model_validate(_laid(raw, options, name)) for name in options}


def _laid(raw: dict[str, Any], options: dict[str, Any], name: str) -> dict[str, Any]:
    table = dict(options[name])
    like = table.pop("like", None)
    below = _laid(raw, options, like) if like else raw
    blade, built = below["blade"], table.get("blade", {}).get("construction", {})
    if built.get("kind", blade["construction"]["kind"]) != blade["construction"]["kind"]:  # skins go with it
        below = below | {"blade": {key: value for key, value in blade.items() if key != "skin"}}
    return _over(below, table)


def _over(below: dict[str, Any], above: dict[str, Any]) -> dict[str, Any]:
    """Key by key; `false` takes away what isn't true or false itself, and another `kind` replaces the whole table."""
    whole = dict(below)
    for key, value in above.items():
        old = below.get(key)
        both = isinstance(value, dict) and isinstance(old, dict)
        if both and value.get("kind", old.get("kind")) == old.get("kind"):
            whole[key] = _over(old, value)
        elif value is False and key in below and not isinstance(old, bool):
            del whole[key]
        else:
            whole[key] = value
    return whole

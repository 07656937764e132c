"""A design varied by key path, judged by the same rules as a file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from geomgen.design.faults import as_written, shown, tables_at
from geomgen.design.judge import judge
from geomgen.design.keypath import KeyPath, parsed, written
from geomgen.design.near import near
from geomgen.design.options import FIXED, Raw, lay_table
from geomgen.design.reader import DesignFile
from geomgen.errors import DesignError, Fault

Change = Any  # what TOML can say: text, a number, true or false, a list, a table; or None
_VALUES = (str, int, float, bool, type(None))


def vary(file: DesignFile, changes: Mapping[str, Change]) -> DesignFile:
    """A design with some values changed.

    file    : the design, with its option if it was read with one
    changes : key path ("rotor.radius", "blade.along[0].twist" or "blade.along.0.twist") -> value as the file would have
              it, "900 mm", or a bare number where the file may have one. As in an option a table is laid over key by
              key, and False takes a key away; so does None. Entries of a list are counted as they stand before.
    returns : the changed design; a fault found in it later has a line where it is about what stands in the file
    raises  : DesignError with every fault of the changes, and of the design they would make
    """
    tree: Raw = {}
    faults = []
    for text, value in changes.items():
        path = parsed(text)
        if found := _fault(file.laid.raw, path, text, value) or _put(tree, path, value):
            faults.append(found)
    laid = lay_table(file.laid, tree, ())
    verdict = judge(laid, (file.laid.raw, file.design))
    changed = replace(file, laid=laid)
    faults += [changed.locate(fault) for _, fault in verdict.faults]
    if faults or verdict.design is None:
        raise DesignError(dict.fromkeys(faults))
    return replace(changed, design=verdict.design)


def _fault(raw: Raw, path: KeyPath, text: str, value: Change) -> Fault | None:
    """What is wrong with one change before anything is read: its path leads along what is there."""
    if not path or not isinstance(path[0], str):
        return Fault("", as_written(text), "is no key path", 'as "rotor.radius" or "blade.along.0.twist"')
    if path[0] in FIXED:
        return Fault(written(path), as_written(value), "holds for a whole file", remedy="change it in the file")
    if not _is_value(value):
        return Fault(
            written(path), shown(str(value)), "is nothing a design file can say", "text, number, list or table"
        )
    here: Any = raw
    for end, step in enumerate(path, 1):
        at, last = path[:end], end == len(path)
        if not isinstance(here, dict | list):
            return Fault(written(path), as_written(value), f"{written(at[:-1])} has no keys of its own")
        if isinstance(here, list) and not (isinstance(step, int) and step < len(here)):
            return Fault(written(at), "", "is no entry of the list", f"0 to {len(here) - 1}")
        if isinstance(here, dict) and step not in here:
            gone = value is None if last else not tables_at(at[:-1], raw)  # a name that was given to nothing
            names = [str(key) for key in here]
            remedy = near(str(step), names)
            return Fault(written(at), "", "is not there", "" if remedy else _listed(names), remedy) if gone else None
        here = here[step]  # type: ignore[index]
    return None


def _listed(names: list[str]) -> str:
    return f"here: {', '.join(names)}" if names else "nothing is here"


def _is_value(value: Any) -> bool:
    if isinstance(value, list | tuple):
        return all(_is_value(item) for item in value)
    if isinstance(value, dict):
        return all(isinstance(key, str) and _is_value(item) for key, item in value.items())
    return isinstance(value, _VALUES)


def _as_read(value: Any) -> Any:
    """A value with lists for tuples, as TOML has them."""
    if isinstance(value, list | tuple):
        return [_as_read(item) for item in value]
    return {key: _as_read(item) for key, item in value.items()} if isinstance(value, dict) else value


def _put(tree: Raw, path: KeyPath, value: Change) -> Fault | None:
    """Put one change into a tree of changes; a fault where another stands there."""
    *way, last = path
    for step in way:
        tree = tree.setdefault(step, {})
        if not isinstance(tree, dict):
            return Fault(written(path), as_written(value), "lies inside of what another change replaces")
    if last in tree:
        return Fault(written(path), as_written(value), "is changed twice")
    tree[last] = _as_read(value)
    return None

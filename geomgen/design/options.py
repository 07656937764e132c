"""Options: tables laid over the design, key by key."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from geomgen.design.faults import as_written
from geomgen.design.keypath import KeyPath, written
from geomgen.design.near import near
from geomgen.errors import DesignError, Fault

Raw = dict[Any, Any]
FIXED = ("schema", "units", "option")
_GOES_WITH: Mapping[KeyPath, tuple[KeyPath, ...]] = {  # tables that go with another when its `kind` changes
    ("blade", "construction"): (("blade", "skin"),),
}


@dataclass(frozen=True)
class Laid:
    """A design's raw tables with an option laid over them.

    raw     : the tables as `tomllib` gives them, without `option`
    origins : key path in `raw` -> key path in the file, for all that an option brought or took away; itself, for what
              was changed since and is in no file
    """

    raw: Raw
    origins: Mapping[KeyPath, KeyPath] = field(default_factory=dict)

    def source(self, path: KeyPath) -> KeyPath:
        """The key path in the file of a key path in `raw`."""
        for end in range(len(path), 0, -1):
            if path[:end] in self.origins:
                return self.origins[path[:end]] + path[end:]
        return path

    def is_varied(self, path: KeyPath) -> bool:
        """Whether what stands at a key path in `raw` is as no file has it."""
        return any(self.origins.get(path[:end]) == path[:end] for end in range(1, len(path) + 1))


def option_names(raw: Raw) -> tuple[str, ...]:
    """The names of a design's options, in the file's order."""
    options = raw.get("option")
    return tuple(options) if isinstance(options, dict) else ()


def lay(raw: Raw, name: str | None) -> Laid:
    """Lay an option over a design.

    Tables are overlaid key by key; `false` takes a table or a key away, save a key that is true or false itself; a
    table whose `kind` changes is replaced whole; `like` names another option to lay first. Skins belong to the
    construction: where its kind changes they go too, save what the option itself brings.

    raw    : the whole file as `tomllib` gives it
    name   : an option's name; None for the design as it stands
    raises : DesignError where the option, or one it builds on, is not there or goes round in a circle
    """
    laid = Laid({key: value for key, value in raw.items() if key != "option"})
    for option in _chain(raw, name):
        table = {key: value for key, value in raw["option"][option].items() if key != "like"}
        laid = lay_table(laid, table, ("option", option))
    return laid


def lay_table(laid: Laid, table: Raw, source: KeyPath) -> Laid:
    """One table laid over a design, as `lay` says.

    table  : its tables may have numbers for keys, which are laid over a list's entries; None takes away, as false does
    source : key path in the file of the table
    """
    gone = [path for at, others in _GOES_WITH.items() if _another_kind(laid.raw, table, at) for path in others]
    result, origins = _over(_without(laid.raw, gone), table, (), source)
    return Laid(result, _forget(laid.origins, {**origins, **dict.fromkeys(gone, ())}) | origins)


def _another_kind(under: Raw, over: Raw, at: KeyPath) -> bool:
    """Whether a table is of another kind in an option than in what it is laid over."""
    old, new = (_at(raw, (*at, "kind")) for raw in (under, over))
    return new is not None and new != old


def _at(raw: Any, path: KeyPath) -> Any:
    for step in path:
        raw = raw.get(step) if isinstance(raw, dict) else None
    return raw


def _without(raw: Raw, paths: list[KeyPath]) -> Raw:
    """Raw tables less those at some key paths."""
    for path in paths:
        (first, *rest), inner = path, raw.get(str(path[0]))
        if not rest:
            raw = {key: value for key, value in raw.items() if key != first}
        elif isinstance(inner, dict):
            raw = raw | {str(first): _without(inner, [tuple(rest)])}
    return raw


def _chain(raw: Raw, name: str | None) -> list[str]:
    """The options to lay, first to last."""
    names, chain = option_names(raw), list[str]()
    path: KeyPath = ("option",)
    while name is not None:
        if name not in names:
            known = f"options here: {', '.join(names)}" if names else "this design has no options"
            raise DesignError(
                Fault(written(path), as_written(name), "no option has that name", known, near(name, names))
            )
        if name in chain:
            circle = " -> ".join([*chain[chain.index(name) :], name])
            raise DesignError(
                Fault(written(path), as_written(name), f"the options build on one another in a circle: {circle}")
            )
        chain.append(name)
        table, path = raw["option"][name], ("option", name, "like")
        _judge(table, name)
        name = table.get("like")
    return chain[::-1]


def _judge(table: Any, name: str) -> None:
    path = ("option", name)
    if not isinstance(table, dict):
        raise DesignError(Fault(written(path), as_written(table), "is not a table", f"a table, [option.{name}]"))
    if not isinstance(table.get("like", ""), str):
        raise DesignError(
            Fault(written((*path, "like")), as_written(table["like"]), "is not a name", "an option's name")
        )
    if fixed := [key for key in FIXED if key in table]:
        wrong = "can't differ between options of one file"
        raise DesignError(
            [Fault(written((*path, key)), as_written(table[key]), wrong, remedy="leave it out") for key in fixed]
        )


def _over(under: Raw, over: Raw, at: KeyPath, source: KeyPath) -> tuple[Raw, dict[KeyPath, KeyPath]]:
    result, origins = dict(under), dict[KeyPath, KeyPath]()
    for key, value in over.items():
        here, there, old = (*at, key), (*source, key), under.get(key)
        if isinstance(old, dict) and isinstance(value, dict) and value.get("kind", old.get("kind")) == old.get("kind"):
            result[key], more = _over(old, value, here, there)
            origins |= more
            continue
        if isinstance(old, list) and isinstance(value, dict) and all(isinstance(index, int) for index in value):
            entries, more = _over(dict(enumerate(old)), value, here, there)
            result[key] = list(entries.values())
            origins |= more if len(entries) == len(old) else {here: there}
            continue
        origins[here] = there
        if key in under and (value is None or (value is False and not isinstance(old, bool))):
            del result[key]
        else:
            result[key] = value
    return result, origins


def _forget(old: Mapping[KeyPath, KeyPath], new: Mapping[KeyPath, KeyPath]) -> dict[KeyPath, KeyPath]:
    """The old origins, without those inside of what has been replaced."""
    return {path: there for path, there in old.items() if not any(path[:end] in new for end in range(1, len(path) + 1))}

"""Stages: each result worked out once, kept by what it depends on, and never read past its faults.

A stage is a function from a slice of the design and the results of earlier stages to a result. It is given only what it
names of the design: what it doesn't name isn't there to be read, so a result can be shared by all designs that agree on
the slice and on what came before, whether options of one file or variants of a sweep.
"""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, Final, Generic, Self, TypeVar, cast, overload

import numpy as np

from geomgen.cache import MISSING, Cache, size_of
from geomgen.design.schema import Design
from geomgen.design.schema.table import Table
from geomgen.digest import digest
from geomgen.errors import DesignError, Fault, GeomgenError, MakeError
from geomgen.figures import spelled
from geomgen.packing import packed, unpacked

T = TypeVar("T")
Work = TypeVar("Work", bound=Callable[..., Any])
Tree = dict[str, "Tree"]

DEAR_S: Final = 0.01  # what took longer is kept on disk, for later runs [s of processor time]
ALL: Final = ("",)  # a result rests on any of the code


@dataclass(frozen=True, eq=False)
class Outcome(Generic[T]):
    """What came of a stage.

    value    : the result, also one that is at fault, for later stages to find more faults by; MISSING where there is
               none
    faults   : what is wrong with it and with all that it rests on, the earliest first
    refusal  : the error that reading it raises where there are faults
    """

    value: T
    faults: tuple[Fault, ...] = ()
    refusal: type[GeomgenError] = MakeError

    def read(self) -> T:
        """The result. raises : the refusal, with every fault, where there is any"""
        if self.faults:
            raise self.refusal(self.faults)
        return self.value


def reads(*paths: str) -> Callable[[Work], Work]:
    """Says which key paths of the design a stage's function reads; "*" stands for every name in a table of tables."""

    def marked(work: Work) -> Work:
        work.__dict__["reads"] = paths
        return work

    return marked


class Staged:
    """What has stages: a design, what else is given, and the cache that their results are kept in."""

    def __init__(self, design: Design, given: Mapping[str, Any], cache: Cache) -> None:
        self.design = design
        self.cache = cache
        self._given = given
        self._outcomes: dict[Stage[Any], Outcome[Any]] = {}
        self._keys: dict[Stage[Any], bytes] = {}
        self._slices: dict[str, bytes] = {}

    @classmethod
    def stages(cls) -> tuple[Stage[Any], ...]:
        """Every stage, in the order of its class."""
        return tuple(value for value in vars(cls).values() if isinstance(value, Stage))

    def outcome(self, stage: Stage[T]) -> Outcome[T]:
        """What came of a stage, faults and all, told in the design's own system."""
        found = self._outcome(stage)
        return replace(found, faults=spelled(found.faults, self.design.units)) if found.faults else found

    def _outcome(self, stage: Stage[T]) -> Outcome[T]:
        """The same as another craft or run has left it in the cache, or worked out."""
        if stage not in self._outcomes:
            self._outcomes[stage] = self._found(stage)
        return self._outcomes[stage]

    def _found(self, stage: Stage[T]) -> Outcome[T]:
        key = self._key(stage)
        found: Outcome[T] = self.cache.remembered(key)
        if found is MISSING:
            found = _kept(self.cache, key) or self._worked(stage, key)
            before = [self._outcomes[each].value for each in stage.after if each in self._outcomes]
            self.cache.remember(key, found, size_of(found, before))
        return found

    def _worked(self, stage: Stage[T], key: bytes) -> Outcome[T]:
        before = [self._outcome(each) for each in stage.after]
        given = {name: self.cache if name == "cache" else self._given[name] for name in stage.given}
        design = [narrowed(self.design, stage.reads)] if stage.reads else []
        began_s = time.thread_time()
        made = _attempted(stage, design, before, given)
        if time.thread_time() - began_s > DEAR_S:
            _keep(self.cache, key, made)
        return made

    def _key(self, stage: Stage[Any]) -> bytes:
        """Digest of all that a stage's outcome depends on: its slices of the design, what is given, earlier stages."""
        if stage not in self._keys:
            words = [stage.name.encode(), *(self._slice(path) for path in stage.reads), *map(self._key, stage.after)]
            words.append(digest({name: self._given[name] for name in stage.given if name != "cache"}).encode())
            self._keys[stage] = hashlib.sha256(b"\0".join(words)).digest()
        return self._keys[stage]

    def _slice(self, path: str) -> bytes:
        """Digest of what the design says at a key path."""
        if path not in self._slices:
            self._slices[path] = digest(list(_at(self.design, path.split(".")))).encode()
        return self._slices[path]


class Stage(Generic[T]):
    """One result of a `Staged`; read as an attribute it gives the result, or raises with every fault it rests on."""

    def __init__(self, work: Callable[..., Any], after: Iterable[Stage[Any]], given: tuple[str, ...]) -> None:
        self.work = work
        self.after = tuple(after)
        self.given = given
        self.reads: tuple[str, ...] = work.__dict__.get("reads", ())
        self.name = work.__qualname__
        self.__doc__ = work.__doc__

    def run(self, *inputs: Any, **given: Any) -> Any:
        """Work it out."""
        return self.work(*inputs, **given)

    def __set_name__(self, owner: type, name: str) -> None:
        self.name = f"{owner.__qualname__}.{name}"

    @overload
    def __get__(self, staged: None, owner: type) -> Self: ...
    @overload
    def __get__(self, staged: Staged, owner: type) -> T: ...
    def __get__(self, staged: Staged | None, owner: type) -> Self | T:
        return self if staged is None else staged.outcome(self).read()


@overload
def stage(work: Callable[..., Outcome[T]], /, *after: Stage[Any], given: tuple[str, ...] = ...) -> Stage[T]: ...
@overload
def stage(work: Callable[..., T], /, *after: Stage[Any], given: tuple[str, ...] = ...) -> Stage[T]: ...
def stage(work: Callable[..., Any], /, *after: Stage[Any], given: tuple[str, ...] = ()) -> Stage[Any]:
    """A stage that runs a function on its slice of the design, if it reads any, and on the results of earlier stages.

    work  : marked with what it `reads`, if it does; it raises GeomgenError, or returns an `Outcome` or a record with
            `faults`, where something is wrong
    after : stages whose results it takes, in its order
    given : names of what it takes besides, as keywords: folders, tolerances; "cache" for where to keep what is dear
    """
    return Stage(work, after, given)


# On disk, for later runs


def _kept(cache: Cache, key: bytes) -> Outcome[Any] | None:
    """A stage's outcome as an earlier run has left it on disk; None where none did."""
    if (arrays := cache.fetch(digest(key, code=ALL))) is None:
        return None
    try:
        return Outcome(unpacked(arrays["value"].tobytes()))
    except Exception:  # damaged: as good as none
        return None


def _keep(cache: Cache, key: bytes, made: Outcome[Any]) -> None:
    """Leave an outcome that was dear for later runs; not one at fault, which is about to be mended."""
    if made.faults or cache.folder is None or (data := packed(made.value)) is None:
        return
    cache.store(digest(key, code=ALL), {"value": np.frombuffer(data, np.uint8)})


def _attempted(
    made: Stage[T], design: Iterable[Design], before: Iterable[Outcome[Any]], given: Mapping[str, Any]
) -> Outcome[T]:
    outcomes = list(before)
    faults = tuple(dict.fromkeys(fault for each in outcomes for fault in each.faults))
    refusal = next((each.refusal for each in outcomes if each.refusal is DesignError), MakeError)
    if any(each.value is MISSING for each in outcomes):
        return Outcome(cast(T, MISSING), faults, refusal)
    try:
        value = made.run(*design, *(each.value for each in outcomes), **given)
    except GeomgenError as error:
        worse = DesignError if isinstance(error, DesignError) else refusal
        return Outcome(cast(T, MISSING), tuple(dict.fromkeys((*faults, *error.faults))), worse)
    except Exception:
        if not faults:
            raise
        return Outcome(cast(T, MISSING), faults, refusal)  # what is at fault need not be fit to work with
    own = tuple(getattr(value, "faults", ()))
    value = value.value if isinstance(value, Outcome) else value
    return Outcome(value, tuple(dict.fromkeys((*faults, *own))), refusal)


# Slices of a design


def narrowed(design: Design, paths: Iterable[str]) -> Design:
    """A design that holds nothing but what lies at some key paths; reading anything else of it raises AttributeError.

    paths : "rotor.radius", "blade.ribs", "stock.*.thickness"; a name that isn't there is passed over
    """
    found: Design = _narrowed(design, _tree(tuple(paths)))
    return found


@cache
def _tree(paths: tuple[str, ...]) -> Tree:
    """Key paths as nested tables of names; {} for all that lies at a name."""
    tree: Tree = {}
    for path in sorted(paths, key=lambda path: path.count(".")):
        at = tree
        for step in path.split("."):
            if step in at and not at[step]:
                break  # all of it is in already
            at = at.setdefault(step, {})
    return tree


def _narrowed(value: Any, tree: Tree) -> Any:
    if not tree:
        return value
    if isinstance(value, dict):
        every = tree.get("*")
        return {name: _narrowed(item, every if every is not None else tree[name])
                for name, item in value.items() if every is not None or name in tree}  # fmt: skip
    if not isinstance(value, Table):
        return value
    kept = {name: _narrowed(item, tree[name]) for name, item in value.__dict__.items() if name in tree}
    bare = type(value).__new__(type(value))
    for name, item in (("__dict__", kept), ("__pydantic_fields_set__", value.model_fields_set & kept.keys())):
        object.__setattr__(bare, name, item)
    object.__setattr__(bare, "__pydantic_extra__", None)
    object.__setattr__(bare, "__pydantic_private__", None)
    return bare


def _at(value: Any, steps: list[str]) -> Iterable[Any]:
    """What lies at a key path, each with the names that lead to it, in the design's order."""
    if not steps:
        yield value
        return
    first, rest = steps[0], steps[1:]
    if isinstance(value, dict):
        for name, item in value.items():
            if first in ("*", name):
                yield name, list(_at(item, rest))
    elif isinstance(value, Table) and first in value.__dict__:
        yield type(value).__name__
        yield from _at(value.__dict__[first], rest)

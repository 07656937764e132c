"""Digests by content: equal records give the same one in every run, and so does the same code."""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Callable, Iterable
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import Any

import numpy as np

PACKAGES = ("cadquery", "cadquery-ocp", "ezdxf", "numpy", "pydantic", "shapely")
HOME = Path(__file__).parent
KINDS = ("py", "toml")  # files that a result may depend on
SEQUENCES, SETS = (tuple, list), (set, frozenset)
WORDS, WHOLE = (str, Path, Enum), (bool, int, np.integer, np.bool_)


def digest(*things: Any, code: Iterable[str] = ()) -> str:
    """Digest of figures and of the code that makes something of them.

    things  : records, tables, sequences, arrays, numbers, words, bytes, in any nesting
    code    : rooms and files of geomgen whose change is a change of the result, "plane", "root/hub_spec.py", "" for all
              of it; with any, the versions of the libraries count too
    returns : 64 hexadecimal digits
    raises  : TypeError for anything else, for nothing may be left out unseen
    """
    found: list[bytes] = []
    _gather(things, found.append)
    if code := tuple(code):
        found += [*map(_code_of, code), _libraries()]
    return hashlib.sha256(b"".join(found)).hexdigest()


def _gather(value: Any, add: Callable[[bytes], None]) -> None:
    """The bytes of a value, each kind and each length told, so that different values can't run into one another."""
    if isinstance(value, float):
        add(b"f" + struct.pack("<d", value))
    elif isinstance(value, SEQUENCES):
        add(b"(%d" % len(value))
        for item in value:
            _gather(item, add)
    elif isinstance(value, np.ndarray) and not value.dtype.hasobject:
        add(f"a{value.dtype.str}{value.shape};".encode())
        add(value.tobytes())
    elif isinstance(value, WORDS):
        add(_word(str(value)) if not isinstance(value, Enum) else _word(f"{type(value).__qualname__}.{value.name}"))
    elif value is None or isinstance(value, WHOLE):
        add(f"i{value};".encode())
    elif isinstance(value, bytes):
        add(b"b%d;" % len(value) + value)
    elif isinstance(value, dict):
        add(b"{")
        _gather(list(value.items()), add)
    elif isinstance(value, SETS):
        add(b"<")
        _gather(sorted(value), add)
    else:
        kind: Any = type(value)
        name, names = _record(kind)
        add(name)
        for each in names:
            _gather(getattr(value, each), add)


def _word(text: str) -> bytes:
    data = text.encode()
    return b"s%d;" % len(data) + data


@cache
def _record(kind: type) -> tuple[bytes, tuple[str, ...]]:
    """A record's name and the names of its fields: of a dataclass, or of a model that lists its own."""
    if is_dataclass(kind):
        names = tuple(field.name for field in fields(kind))
    elif hasattr(kind, "model_fields"):
        names = tuple(kind.model_fields)
    else:
        raise TypeError(f"no digest of {kind.__qualname__}")
    return _word(f"{kind.__module__}.{kind.__qualname__}"), names


@cache
def _code_of(name: str) -> bytes:
    """Digest of a file, or of all modules and data of a room."""
    place = HOME / name
    modules = [place] if place.is_file() else sorted(file for kind in KINDS for file in place.rglob(f"*.{kind}"))
    if not modules:
        raise TypeError(f"geomgen has no code in {name}")
    each = hashlib.sha256()
    for module in modules:
        each.update(_word(module.relative_to(HOME).as_posix()) + hashlib.sha256(module.read_bytes()).digest())
    return each.digest()


@cache
def _libraries() -> bytes:
    """The versions of the libraries that build and write."""
    versions = []
    for package in PACKAGES:
        try:
            versions.append(f"{package} {metadata.version(package)}")
        except metadata.PackageNotFoundError:
            versions.append(f"{package} ?")
    return "\n".join(versions).encode()

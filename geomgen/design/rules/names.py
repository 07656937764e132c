"""Rules of the names that tables are given: they become names of parts and of files."""

from __future__ import annotations

import re
from functools import reduce
from typing import Any

from geomgen.design.keypath import KeyPath
from geomgen.design.rules.tools import Faults, fault, guarded
from geomgen.design.schema.design import Design
from geomgen.design.schema.place import NAMED_PLACES

_NAME = re.compile(r"[^\W\d_][\w -]{0,39}(?<! )")
NAMED_TABLES: tuple[KeyPath, ...] = (
    ("blade", "ribs"), ("blade", "skin"), ("blade", "spar"), ("blade", "channel"), ("blade", "doubler"),
    ("blade", "trim"),
    ("wire",), ("fitting",), ("fan",), ("pack",), ("stock",),
)  # fmt: skip
ALLOWED = "a letter, then letters, digits, _ and -, at most 40"


def name_is_good(name: str) -> bool:
    """Whether a name may be given to a table."""
    return _NAME.fullmatch(name) is not None


def names(design: Design) -> Faults:
    """Names are plain, and a fitting's is no place's."""
    yield from guarded(*(_plain(design, path) for path in NAMED_TABLES), _fittings(design))


def _plain(design: Design, path: KeyPath) -> Faults:
    tables: Any = reduce(getattr, map(str, path), design)
    for name in tables:
        if not name_is_good(name):
            yield fault((*path, name), "is no name for a table", ALLOWED)


def _fittings(design: Design) -> Faults:
    for name in NAMED_PLACES:
        if name in design.fitting:
            yield fault(
                ("fitting", name), "has the name of a place on the blade", f"any name but {', '.join(NAMED_PLACES)}"
            )

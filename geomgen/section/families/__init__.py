"""The published families of sections: each module of this folder is one, and tells of itself in its `FAMILY`."""

from __future__ import annotations

import re
from importlib import import_module
from pkgutil import iter_modules

from geomgen.errors import DesignError, Fault
from geomgen.section.family import Family, Refused
from geomgen.section.section import Section

_FOUND = [import_module(f"{__name__}.{module.name}").FAMILY for module in iter_modules(__path__)]
FAMILIES: tuple[Family, ...] = tuple(sorted(_FOUND, key=lambda family: len(family.examples[0])))  # short digits first

_BEFORE = re.compile(r"(?:naca)?[\s_-]*", re.I)


def naca(designation: str, tail: str = "open", path: str = "") -> Section:
    """The section that a designation names.

    designation : "4412", "0012-64", "23012", "23112" (reflexed), with or without "naca" before it
    tail        : "open" as published, "closed" to a point
    path        : key path in the design file, for a fault
    raises      : DesignError where no published section has that designation
    """
    digits = _BEFORE.sub("", designation.strip(), count=1)
    for family in FAMILIES:
        if match := family.reads.fullmatch(digits):
            try:
                return family.section(match, tail == "closed")
            except Refused as refused:
                raise DesignError(Fault(path, designation, refused.wrong, refused.allowed)) from None
    allowed = ", ".join(family.written for family in FAMILIES)
    raise DesignError(Fault(path, designation, "not a designation of the families known here", allowed))

"""Which designs are compared: the options of one file, each read once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from geomgen.design.judge import judge
from geomgen.design.near import near
from geomgen.design.options import lay
from geomgen.design.reader import BASE, DesignFile
from geomgen.design.syntax import tables
from geomgen.errors import DesignError, Fault


def chosen(file: DesignFile, options: Sequence[str] | None = None, base: str | None = None) -> tuple[str, ...]:
    """Names of the options to compare, the one that the others are held against first.

    options : names as asked for, "base" for the design as it stands; None for that one and all options of the file
    base    : name of the one that the others are held against; None for the first of them
    raises  : DesignError, every fault at once: a name that isn't there, or is there twice; none at all
    """
    known = (BASE, *file.options)
    names = known if options is None else tuple(options)
    allowed = f"options here: {', '.join(known)}"
    faults = [_unknown("--options", name, known) for name in dict.fromkeys(names) if name not in known]
    faults += [
        Fault("", f"--options {name}", "is named twice", remedy="name it once")
        for name in dict.fromkeys(names)
        if names.count(name) > 1
    ]
    if base is not None and base not in known:
        faults.append(_unknown("--base", base, known))
    if not names:
        faults.append(Fault("", "--options", "names no option", allowed))
    if faults:
        raise DesignError(faults)
    first = names[0] if base is None else base
    return (first, *(name for name in names if name != first))


def designs(file: DesignFile, names: Sequence[str]) -> tuple[DesignFile, ...]:
    """The file with each of these options laid over it.

    file  : the file as read, so that every option in it has been judged and found without fault
    names : options of the file, or "base"
    """
    raw = tables(file.source)
    read = []
    for name in names:
        option = None if name == BASE else name
        if option == file.option:
            read.append(file)
            continue
        laid = lay(raw, option)
        verdict = judge(laid)
        if verdict.design is None or verdict.faults:  # it was judged when the file was read
            raise DesignError([fault for _, fault in verdict.faults])
        read.append(replace(file, design=verdict.design, option=option, laid=laid))
    return tuple(read)


def _unknown(key: str, name: str, known: Sequence[str]) -> Fault:
    allowed = f"options here: {', '.join(known)}"
    return Fault("", f"{key} {name}", "no option has that name", allowed, near(name, known))

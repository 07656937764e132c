"""Read a design file: every fault at once, each with file and line, or a checked `Design`."""

from __future__ import annotations

import pathlib
from dataclasses import dataclass, replace
from typing import Any

from geomgen.design.faults import as_written, look_up
from geomgen.design.judge import Verdict, judge, own_unit
from geomgen.design.keypath import KeyPath, parsed, written
from geomgen.design.options import Laid, Raw, lay, option_names
from geomgen.design.rules.names import ALLOWED, name_is_good
from geomgen.design.schema.design import Design
from geomgen.design.source import Source, decoded, read_source
from geomgen.design.syntax import tables
from geomgen.design.unit_slips import told_as_slips
from geomgen.errors import DesignError, Fault, GeomgenError
from geomgen.figures import spelled

MOST_OPTIONS = 50  # in one file
MOST_TOLD = 100  # faults
MOST_OPTIONS_TRIED = 5  # options in which lengths of another unit are looked for
BASE = "base"  # what the design without an option is called


@dataclass(frozen=True)
class DesignFile:
    """A design file that has been read.

    design  : the checked design, with the option laid over it
    option  : the option's name; None for the design as it stands
    options : the names of all options in the file
    source  : the file's name as given, its text, and the folder its paths are taken from
    laid    : the raw tables, and where in the file each came from
    """

    design: Design
    option: str | None
    options: tuple[str, ...]
    source: Source
    laid: Laid

    def locate(self, fault: Fault) -> Fault:
        """A fault in the design's own system, with its file and line: of its key path, or of the table around it.

        Where an option brought the value, the fault's path becomes that of the option's key. A value is told as the
        file has it. A fault in another file that a key names is told at that key, with its place there. A fault of no
        key, or of a value that is in no file, keeps its path alone.
        """
        fault = spelled(fault, self.design.units)
        if not fault.path or fault.file == self.source.name:
            return fault
        if fault.file:
            place = fault.file + (f":{fault.line}" if fault.line is not None else "")
            fault = replace(fault, file="", line=None, wrong=f"{place}: {fault.wrong}")
        path = parsed(fault.path)
        written_there = look_up(self.laid.raw, path)
        if isinstance(written_there, str | int | float):
            fault = replace(fault, value=as_written(written_there))
        if self.laid.is_varied(path):
            return fault
        return _placed(self.source, self.laid, fault, path)

    def located(self, error: GeomgenError) -> list[Fault]:
        """All faults of an error, each located, none twice."""
        return list(dict.fromkeys(self.locate(fault) for fault in error.faults))


def read(path: pathlib.Path, option: str | None = None) -> DesignFile:
    """Read a design file.

    path    : the file
    option  : name of the option to lay over it; None or "base" for the design as it stands
    raises  : DesignError with every fault that can be judged without geometry, in the design and in all its options
    """
    return read_from(read_source(path), option)


def read_text(text: str, name: str = "design.toml", option: str | None = None) -> DesignFile:
    """Read a design from a text, as `read` does. name : stands for a file's name in faults."""
    return read_from(Source(name, decoded(text.encode("utf-8", "surrogatepass"), name)), option)


def read_from(source: Source, option: str | None = None) -> DesignFile:
    """Read a design from a source, as `read` does."""
    raw = tables(source)
    option = None if option == BASE else option
    names = option_names(raw)
    faults = list(_option_faults(raw, source))
    verdicts: dict[str | None, tuple[Laid, Verdict]] = {}
    tried = 0
    for name in (None, *(names if len(names) <= MOST_OPTIONS else ())):
        try:
            laid = lay(raw, name)
        except DesignError as error:
            faults += [source.place(fault, parsed(fault.path)) for fault in error.faults]
        else:
            verdict = judge(laid, _of_base(verdicts))
            if verdict.faults and name is None:
                laid, verdict, slips = told_as_slips(laid, verdict)
                faults += [source.place(fault, path) for path, fault in slips]
                raw = {**laid.raw, "option": raw["option"]} if slips and "option" in raw else raw
            elif verdict.faults and tried < MOST_OPTIONS_TRIED:
                tried += 1
                verdict = _with_slips(laid, verdict)
            verdicts[name] = laid, verdict
    faults += _all_faults(source, verdicts)
    if option is not None and option not in names:
        faults += _no_option(source, raw, option)
    if faults:
        raise DesignError(spelled(_told(source, _in_order(faults)), own_unit(raw)))
    laid, verdict = verdicts[option]
    assert verdict.design is not None
    return DesignFile(verdict.design, option, names, source, laid)


def _with_slips(laid: Laid, verdict: Verdict) -> Verdict:
    """An option's verdict, in which lengths that are off by a unit are told as that."""
    _, mended, slips = told_as_slips(laid, verdict)
    return Verdict(None, (*slips, *mended.faults)) if slips else verdict


def _of_base(verdicts: dict[str | None, tuple[Laid, Verdict]]) -> tuple[Raw, Design] | None:
    """The design without an option, if it could be read."""
    laid, verdict = verdicts.get(None, (None, None))
    return (laid.raw, verdict.design) if laid and verdict and verdict.design else None


def _option_faults(raw: dict[str, Any], source: Source) -> list[Fault]:
    options = raw.get("option", {})
    if not isinstance(options, dict):
        return [
            source.place(
                Fault("option", as_written(options), "is not a table", "options by name, [option.NAME]"), ("option",)
            )
        ]
    if len(options) > MOST_OPTIONS:
        fault = Fault("option", "", f"there are {len(options)} options", f"at most {MOST_OPTIONS}")
        return [source.place(fault, ("option", list(options)[MOST_OPTIONS]))]
    bad = [name for name in options if not name_is_good(name) or name == BASE]
    allowed = f'{ALLOWED}; "{BASE}" is the design itself'
    paths: list[KeyPath] = [("option", name) for name in bad]
    return [source.place(Fault(written(path), "", "is no name for an option", allowed), path) for path in paths]


def _all_faults(source: Source, verdicts: dict[str | None, tuple[Laid, Verdict]]) -> list[Fault]:
    """The design's faults, and those that each option adds."""
    faults: list[Fault] = []
    base = {(path, fault.wrong) for path, fault in verdicts[None][1].faults}
    for name, (laid, verdict) in verdicts.items():
        for path, fault in verdict.faults:
            if name is None:
                faults.append(source.place(fault, path))
            elif (path, fault.wrong) not in base:
                placed = _placed(source, laid, fault, path)
                with_option = replace(placed, wrong=f'{placed.wrong} (with option "{name}")')
                faults.append(with_option if laid.source(path) == path else placed)
    return faults


def _placed(source: Source, laid: Laid, fault: Fault, path: KeyPath) -> Fault:
    there = laid.source(path)
    return source.place(fault if there == path else replace(fault, path=written(there)), there)


def _no_option(source: Source, raw: dict[str, Any], name: str) -> list[Fault]:
    try:
        lay(raw, name)
    except DesignError as error:
        return [replace(fault, path="").at(source.name, None) for fault in error.faults]
    return []


def _told(source: Source, faults: list[Fault]) -> list[Fault]:
    """The first faults, and how many more there are."""
    if len(faults) <= MOST_TOLD:
        return faults
    more = Fault("", "", f"{len(faults) - MOST_TOLD} more faults", "mend these first").at(source.name, None)
    return [*faults[:MOST_TOLD], more]


def _in_order(faults: list[Fault]) -> list[Fault]:
    """Faults in the order of the file's lines, none twice."""
    return sorted(dict.fromkeys(faults), key=lambda fault: fault.line or 0)

"""Options of one design side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.reader import BASE, DesignFile
from geomgen.errors import Fault, GeomgenError
from geomgen.judging.verdict import Verdict
from geomgen.study.designs import chosen, designs
from geomgen.study.difference import Difference, difference
from geomgen.study.figures import Figures, figures


@dataclass(frozen=True)
class Column:
    """One option.

    name         : its name; "base" for the design as it stands
    title        : title of the design with the option laid over it
    construction : kind of construction
    figures      : its figures; None where it can't be built
    verdict      : on the craft; None where it can't be built
    warnings     : what a builder would shake their head at, each with file and line
    faults       : why it can't be built, each with file and line
    status       : 0, or the exit status of the error that says so
    """

    name: str
    title: str
    construction: str
    figures: Figures | None
    faults: tuple[Fault, ...] = ()
    status: int = 0
    verdict: Verdict | None = None
    warnings: tuple[Fault, ...] = ()


@dataclass(frozen=True)
class Comparison:
    """Options of one design, the base first.

    title       : title of the base
    units       : unit in which lengths are told
    blades      : of the base [-]
    columns     : every option that was asked for, buildable or not
    differences : where the difference of each other one from the base comes from; none where the base can't be built
    """

    title: str
    units: str
    blades: int
    columns: tuple[Column, ...]
    differences: tuple[Difference, ...]

    @property
    def base(self) -> str:
        """Name of the option that the others are held against."""
        return self.columns[0].name

    @property
    def status(self) -> int:
        """Exit status: 0 where every option can be built, else the worst of them."""
        return max(column.status for column in self.columns)


def compare(
    file: DesignFile, options: Sequence[str] | None = None, base: str | None = None, cache: Cache | None = None
) -> Comparison:
    """Lay options of a design side by side.

    file    : a design file that has been read
    options : names to compare; None for the design as it stands and all its options
    base    : name of the one that the others are held against; None for the first
    cache   : where results are kept, and shared by options that agree on what they depend on
    raises  : DesignError for names that no option has; an option that can't be built is no error, it is told
    """
    files = designs(file, chosen(file, options, base))
    made = [Craft(each.design, each.source.folder, cache) for each in files]
    columns = [_column(each, craft) for each, craft in zip(files, made, strict=True)]
    lines = [
        (craft.mass.lines, craft.design.rotor.blades) if column.figures else None
        for craft, column in zip(made, columns, strict=True)
    ]
    differences = [
        difference(column.name, lines[0], mine)
        for column, mine in zip(columns[1:], lines[1:], strict=True)
        if lines[0] is not None and mine is not None
    ]
    first = files[0].design
    return Comparison(first.title, first.units or "mm", first.rotor.blades, tuple(columns), tuple(differences))


def _column(file: DesignFile, craft: Craft) -> Column:
    name, design = file.option or BASE, file.design
    kind = design.blade.construction.kind
    try:
        found = figures(craft)
    except GeomgenError as error:
        faults = tuple(map(file.locate, craft.faults or error.faults))
        return Column(name, design.title, kind, None, faults, error.exit_status)
    warnings = tuple(map(file.locate, craft.warnings))
    return Column(name, design.title, kind, found, verdict=craft.verdict, warnings=warnings)

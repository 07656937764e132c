"""What a program of your own calls; `import geomgen` offers it. Lengths mm, angles deg, masses g, speeds rpm."""

from __future__ import annotations

import pathlib
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from geomgen.craft import Craft
    from geomgen.design.reader import DesignFile
    from geomgen.study.comparison import Comparison


def read(path: str | pathlib.Path | None = None, option: str | None = None) -> DesignFile:
    """Read a design file; its values are in `design`, lengths [mm], angles [deg], masses [g], speeds [rpm].

    path   : the file; None for the built-in demo
    option : name of the option to lay over it; None for the design as it stands
    raises : DesignError with every fault in the design and in all its options, each with its line
    """
    from geomgen.design.library import demo
    from geomgen.design.reader import read

    return demo(option) if path is None else read(pathlib.Path(path), option)


def vary(file: DesignFile | str | pathlib.Path, changes: Mapping[str, Any]) -> DesignFile:
    """A design with some values changed, judged as a file is.

    file    : what `read` gave, or a design file
    changes : key path -> value as the file would have it: {"duty.rpm": 250, "blade.along.0.chord": "22 cm"};
              a bare length is in the file's own unit, None takes a key away
    raises  : DesignError with every fault
    """
    from geomgen.design.vary import vary

    return vary(read(file) if isinstance(file, str | pathlib.Path) else file, changes)


def craft_of(file: DesignFile, *, exact: bool = True) -> Craft:
    """One design with all its results, each worked out when it is first asked for: `blade`, `parts`, `mass`, `lifts`.

    What two crafts have in common is worked out once. A result is never given past its faults: reading one that rests
    on a fault raises MakeError with every fault it rests on; `craft.faults` is all of them, `file.locate(fault)` gives
    one its line.

    exact : whether the hub is weighed by its solid, which loads the solid kernel unless the solid is kept already
            ($GEOMGEN_KEEP); else by sums of its figures, within 0.005 %: for many variants
    """
    from geomgen.craft import Craft

    return Craft(file.design, file.source.folder, exact=exact)


def compare(file: DesignFile, options: Sequence[str] | None = None, base: str | None = None) -> Comparison:
    """Options of a design side by side: a column of figures each, and which lines make the difference.

    file    : what `read` gave
    options : names, "base" for the design as it stands; None for that one and all options of the file
    base    : name of the one that the others are held against; None for the first
    raises  : DesignError for names that no option has; an option that can't be built is told in its column
    """
    from geomgen.study.comparison import compare

    return compare(file, options, base)

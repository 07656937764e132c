"""Rules of `blade.along`."""

from __future__ import annotations

from geomgen.design.keypath import KeyPath
from geomgen.design.rules.tools import EXACT, Faults, fault, guarded, known_place, r_of
from geomgen.design.schema.blade import Entry
from geomgen.design.schema.design import Design
from geomgen.design.schema.section import SectionSpec
from geomgen.figures import mm

ALONG: KeyPath = ("blade", "along")


def along(design: Design) -> Faults:
    """Entries from the root to the tip, in order, with whole columns."""
    entries = design.blade.along
    if len(entries) < 2:
        yield fault(ALONG, "needs at least two entries", "one at the root, one at the tip")
        return
    places = (known_place(design, (*ALONG, index, "at"), entry.at) for index, entry in enumerate(entries))
    sections = (_section((*ALONG, index, "section"), entry.section) for index, entry in enumerate(entries))
    columns = (_column(entries, column) for column in ("chord", "section", "twist", "offset"))
    order = (_order(design, index) for index in range(1, len(entries)))
    yield from guarded(*places, *sections, *order, _first(design), _last(design), *columns)


def _order(design: Design, index: int) -> Faults:
    before, here = (r_of(design, design.blade.along[i].at) for i in (index - 1, index))
    if here <= before + EXACT:
        wrong = f"r {mm(here)} is not beyond the entry before it, at {mm(before)}"
        yield fault((*ALONG, index, "at"), wrong, remedy="put the entries in order from root to tip")


def _first(design: Design) -> Faults:
    first, root = r_of(design, design.blade.along[0].at), design.rotor.root
    if abs(first - root) > EXACT:
        wrong = f"the first entry is at r {mm(first)}, the root at {mm(root)}"
        yield fault((*ALONG, 0, "at"), wrong, remedy='write at = "root"')


def _last(design: Design) -> Faults:
    last, index, radius = r_of(design, design.blade.along[-1].at), len(design.blade.along) - 1, design.rotor.radius
    if not design.frame_end - EXACT <= last <= radius + EXACT:
        wrong = f"the last entry is at r {mm(last)}, the tip at {mm(radius)}"
        yield fault((*ALONG, index, "at"), wrong, remedy='write at = "tip"')


def _column(entries: tuple[Entry, ...], column: str) -> Faults:
    optional = column in ("twist", "offset") and all(getattr(entry, column) is None for entry in entries)
    for index, where in ((0, "first"), (len(entries) - 1, "last")):
        if not optional and getattr(entries[index], column) is None:
            wrong = f"the {where} entry has no {column}"
            yield fault(
                (*ALONG, index, column),
                wrong,
                remedy=f"the first and last entry need their {column} to begin and end with",
            )


def _section(path: KeyPath, section: SectionSpec | None) -> Faults:
    if section is None:
        return
    given = [key for key in ("naca", "file", "profile") if getattr(section, key) is not None]
    if len(given) != 1:
        wrong = f"says {' and '.join(given)} at once" if given else "doesn't say which section"
        yield fault(path, wrong, "exactly one of naca, file, profile")

"""What a run changed in the output folder, and what to know of the parts, in words."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen.cost.bill import total
from geomgen.craft import Craft
from geomgen.errors import Fault
from geomgen.folder import Changes
from geomgen.model.part import Part
from geomgen.views.cautions import MAKE, cautions
from geomgen.views.cut_list import changed_since
from geomgen.views.page import Item, Page, Section
from geomgen.views.verdict import verdict_sections

_WHY = {"edited": "was edited since the last run", "found": "was not made here"}
_MOST_NAMES = 4


def made_page(changes: Changes, craft: Craft, warnings: Sequence[Fault] = (), *, notes: bool = False) -> Page:
    """What `geomgen make` says: the verdict, what became of the files, and cautions.

    warnings : those of the craft, each with its file and line
    notes    : whether what to know of the parts is told too
    """
    parts, unit = craft.finished, craft.design.units or "mm"
    verdict = verdict_sections(craft.verdict, warnings, len(noted(parts)))
    return Page(
        (*verdict, *sheets_to_cut(craft), changed(changes), *(to_know(parts) if notes else ()), cautions(MAKE)), unit
    )


def sheets_to_cut(craft: Craft) -> tuple[Section, ...]:
    """How many sheets, how long they take, what all costs, and what of them was cut already and has changed."""
    lines = craft.cut_list
    if not lines:
        return ()
    counted = [line for line in lines if not line.done]
    by = {tool: sum(line.cut_by is tool for line in counted) for tool in dict.fromkeys(line.cut_by for line in counted)}
    words = [", ".join(f"{number} by {tool}" for tool, number in by.items())]
    if minutes := sum(line.minutes or 0.0 for line in counted):
        part = " where a speed is stated" if any(line.untimed for line in counted) else ""
        words.append(f"{minutes:.0f} min of cuts on the laser{part}")
    costs, without = total(craft.bill, to_buy=False)
    if costs:
        of = f" {craft.design.money.of}" if craft.design.money is not None else ""
        words.append(f"material {costs:.2f}{of}" + (f", {without} without a price" if without else ""))
    where = "they lie as in the last run" if craft.sheets.kept else "newly laid, and kept so in layout.json"
    first = " Cut the fit coupons first (cut/laser/fit)." if craft.fit_coupons else ""
    sheets = "1 sheet" if len(counted) == 1 else f"{len(counted)} sheets"
    told = f"{sheets} to cut ({'; '.join(words)}): {where}.{first} All of it: cut_list.txt."
    return ((told,), *(tuple(section) for section in changed_since(craft)))


def changed(changes: Changes) -> Section:
    """A line for each kind of change that there is, parts named; unchanged parts only counted."""
    named = {"new": changes.new, "changed": changes.changed, "gone": changes.gone}
    items = [Item("change", ", ".join(parts), kind) for kind, parts in named.items() if parts]
    if changes.same:
        items.append(Item("change", f"{len(changes.same)} others" if items else f"all {len(changes.same)}", "same"))
    items += [Item("change", f"{kept.was} {_WHY[kept.why]}: it is now {kept.now}", "kept") for kept in changes.kept]
    return tuple(items)


def noted(parts: Sequence[Part]) -> dict[str, list[str]]:
    """Every different note, and the names of the parts that it is on."""
    found: dict[str, list[str]] = {}
    for part in parts:
        for note in part.notes:
            found.setdefault(note, []).append(part.name)
    return found


def to_know(parts: Sequence[Part]) -> tuple[Section, ...]:
    """Notes on parts, parts with the same note together; no section where there are none."""
    items = tuple(Item("note", f"{_names(names)}: {note}") for note, names in noted(parts).items())
    return (("To know", *items),) if items else ()


def _names(names: list[str]) -> str:
    return ", ".join(names) if len(names) <= _MOST_NAMES else f"{names[0]} to {names[-1]} ({len(names)} parts)"

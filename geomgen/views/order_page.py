"""The order of work as a page to lay beside the bench."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from geomgen.model.joint import Key
from geomgen.model.step import Phase, Task
from geomgen.views.file_names import place_of
from geomgen.views.page import Block, Item, Link, Page, Table, as_columns
from geomgen.views.quantity import Number

MOST_NAMES = 8  # parts named in full with a step; more are told as a range


def order_page(title: str, built: str, steps: Sequence[Task], *, names: Mapping[Key, str]) -> Page:
    """Steps numbered from 1, each with its parts and what may hurt.

    title : of the design
    built : its construction
    names : what each part is called
    """
    each, whole = list[Block](), list[Block]()
    for number, step in enumerate(steps, start=1):
        (whole if step.phase is Phase.MOUNT else each).extend(_step(number, step, names))
    told = (f"{title}: order of work, from cutting to a craft on its mast ({built})",)
    parts = (("From cutting to finished blades", *each), ("From the hub to a craft on its mast", *whole))
    return Page((told, *(section for section in parts if len(section) > 1)))


def _step(number: int, step: Task, names: Mapping[Key, str]) -> Iterator[Block]:
    yield Item("step", step.does, f"{number}")
    if step.keys:
        links, more = _links([names[key] for key in step.keys])
        yield Item("takes", f"[{', '.join([*(link.words for link in links), *more])}]", links=tuple(links))
    if step.caution:
        yield Item("beware", step.caution)
    if step.angles:
        rows = tuple((names[key], Number(angle, 2)) for key, angle in step.angles)
        yield Table(as_columns("rib", "leading edge up, deg"), rows)


def _links(names: Sequence[str]) -> tuple[list[Link], list[str]]:
    """Links to parts, numbered ones in a row as "rib R01 to R14" to the first of them; and how many more there are."""
    runs: list[list[str]] = []
    for name in names:
        if runs and _kind(runs[-1][0]) == _kind(name):
            runs[-1].append(name)
        else:
            runs.append([name])
    shown = [Link(words, f"#{place_of(name)}") for run in runs for words, name in _told(run)]
    if len(shown) > MOST_NAMES:
        return shown[: MOST_NAMES - 1], [f"and {len(shown) - MOST_NAMES + 1} more"]
    return shown, []


def _told(run: Sequence[str]) -> list[tuple[str, str]]:
    """What names of one kind are told as, each with the first name that is meant."""
    first, last = run[0], run[-1].rsplit(" ", 1)[-1]
    return [(f"{first} to {last}", first)] if len(run) > 2 and last[-1].isdigit() else [(name, name) for name in run]


def _kind(name: str) -> str:
    return name.rsplit(" ", 1)[0]


def step_data(step: Task, names: Mapping[Key, str]) -> dict[str, object]:
    """One step as plain data."""
    return {
        "does": step.does,
        "parts": [names[key] for key in step.keys],
        "again": [names[key] for key in step.again],
        "caution": step.caution,
        "angles": [{"rib": names[key], "angle_deg": angle} for key, angle in step.angles],
    }

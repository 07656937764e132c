"""The order of work as a page to lay beside the bench."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from geomgen.model.joint import Key
from geomgen.model.step import Task
from geomgen.views.file_names import place_of
from geomgen.views.page import Item, Link, Page

MOST_NAMES = 8  # parts named in full with a step; more are told as a range


def order_page(title: str, built: str, steps: Sequence[Task], *, names: Mapping[Key, str]) -> Page:
    """Steps numbered from 1, each with its parts and what may hurt.

    title : of the design
    built : its construction
    names : what each part is called
    """
    items = tuple(item for number, step in enumerate(steps, start=1) for item in _step(number, step, names))
    return Page(((f"{title}: order of work, one blade ({built})",), items))


def _step(number: int, step: Task, names: Mapping[Key, str]) -> Iterator[Item]:
    yield Item("step", step.does, f"{number}")
    if step.keys:
        links, more = _links([names[key] for key in step.keys])
        yield Item("takes", f"[{', '.join([*(link.words for link in links), *more])}]", links=tuple(links))
    if step.caution:
        yield Item("beware", step.caution)


def _links(names: Sequence[str]) -> tuple[list[Link], list[str]]:
    """Links to parts, those of one kind in a row as "rib R01 to R14" to the first; and how many more there are."""
    runs: list[list[str]] = []
    for name in names:
        if runs and _kind(runs[-1][0]) == _kind(name):
            runs[-1].append(name)
        else:
            runs.append([name])
    shown = [
        Link(words, f"#{place_of(name)}")
        for run in runs
        for words, name in (
            [(name, name) for name in run]
            if len(run) < 3
            else [(f"{run[0]} to {run[-1].rsplit(' ', 1)[-1]}", run[0])]
        )
    ]  # fmt: skip
    if len(shown) > MOST_NAMES:
        return shown[: MOST_NAMES - 1], [f"and {len(shown) - MOST_NAMES + 1} more"]
    return shown, []


def _kind(name: str) -> str:
    return name.rsplit(" ", 1)[0]


def step_data(step: Task, names: Mapping[Key, str]) -> dict[str, object]:
    """One step as plain data."""
    return {"does": step.does, "parts": [names[key] for key in step.keys], "caution": step.caution}

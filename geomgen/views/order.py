"""The order of work as a page to lay beside the bench."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from geomgen.bench.order import Step
from geomgen.views.page import Item, Page

MOST_NAMES = 8  # parts named in full with a step; more are told as a range


def order_page(title: str, built: str, steps: Sequence[Step]) -> Page:
    """Steps numbered from 1, each with its parts and what may hurt.

    title : of the design
    built : its construction
    """
    items = tuple(item for number, step in enumerate(steps, start=1) for item in _step(number, step))
    return Page(((f"{title}: order of work, one blade ({built})",), items))


def _step(number: int, step: Step) -> Iterator[Item]:
    yield Item("step", step.does, f"{number}")
    if step.parts:
        yield Item("takes", f"[{_names(step.parts)}]")
    if step.caution:
        yield Item("beware", step.caution)


def _names(names: Sequence[str]) -> str:
    """Names of one kind in a row are told as "rib R01 to R14"."""
    runs: list[list[str]] = []
    for name in names:
        if runs and _kind(runs[-1][0]) == _kind(name):
            runs[-1].append(name)
        else:
            runs.append([name])
    shown = [
        name
        for run in runs
        for name in (run if len(run) < 3 else [f"{run[0]} to {run[-1].rsplit(' ', 1)[-1]}"])
    ]  # fmt: skip
    if len(shown) > MOST_NAMES:
        shown = [*shown[: MOST_NAMES - 1], f"and {len(shown) - MOST_NAMES + 1} more"]
    return ", ".join(shown)


def _kind(name: str) -> str:
    return name.rsplit(" ", 1)[0]

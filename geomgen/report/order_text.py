"""The order of work as a page to lay beside the bench."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from geomgen.bench.order import Step

WIDTH = 100
MOST_NAMES = 8  # parts named in full with a step; more are told as a range


def order_text(title: str, built: str, steps: Sequence[Step]) -> str:
    """Steps numbered from 1, each with its parts and what may hurt; a newline at the end.

    title : of the design
    built : its construction
    """
    lines = [f"{title}: order of work, one blade ({built})", ""]
    for number, step in enumerate(steps, start=1):
        lines += textwrap.wrap(f"{number:2d}. {step.does}", WIDTH, subsequent_indent="    ")
        if step.parts:
            lines += textwrap.wrap(f"[{_names(step.parts)}]", WIDTH, initial_indent="    ", subsequent_indent="     ")
        if step.caution:
            lines += textwrap.wrap(f"! {step.caution}", WIDTH, initial_indent="    ", subsequent_indent="      ")
    return "\n".join(lines) + "\n"


def _names(names: Sequence[str]) -> str:
    """Names of one kind in a row are told as "rib R01 to R14"."""
    told: list[str] = []
    runs: list[list[str]] = []
    for name in names:
        kind = name.rsplit(" ", 1)[0]
        if runs and runs[-1][0].rsplit(" ", 1)[0] == kind:
            runs[-1].append(name)
        else:
            runs.append([name])
    for run in runs:
        told += run if len(run) < 3 else [f"{run[0]} to {run[-1].rsplit(' ', 1)[-1]}"]
    if len(told) > MOST_NAMES:
        told = [*told[: MOST_NAMES - 1], f"and {len(told) - MOST_NAMES + 1} more"]
    return ", ".join(told)

"""Designs with figures changed at random: drawn, or refused with faults that name a line; never anything else."""

from __future__ import annotations

import re

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.errors import DesignError, MakeError

FIGURE = re.compile(r"(?<![\w.#])\d+\.?\d*(?![\w.])")
TIMES = st.sampled_from([0.0, 0.01, 0.1, 0.5, 0.8, 0.95, 1.05, 1.3, 2.0, 5.0, 40.0])


@given(
    name=st.sampled_from(["starter", "lantern", "kite_day"]),
    changes=st.lists(st.tuples(st.floats(0.0, 1.0, exclude_max=True), TIMES), min_size=1, max_size=4),
)
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_drawn_or_refused(name: str, changes: list[tuple[float, float]]) -> None:
    path = example_path(name)
    text = path.read_text(encoding="utf-8")
    for share, times in changes:
        figures = [m for m in FIGURE.finditer(text) if "#" not in text[text.rfind("\n", 0, m.start()) + 1 : m.start()]]
        figure = figures[int(share * len(figures))]
        text = f"{text[: figure.start()]}{float(figure.group()) * times:.4g}{text[figure.end() :]}"
    try:
        file = read_text(text, path.name)
    except DesignError as error:
        assert all(fault.line is not None for fault in error.faults)
        return
    try:
        Craft(file.design, path.parent).check()
    except (DesignError, MakeError) as error:
        told = [file.locate(fault) for fault in error.faults]
        assert told and all(fault.line is not None and fault.path and fault.wrong for fault in told)

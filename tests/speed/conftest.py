"""A race between geomgen and a floor, turn by turn, so that whatever else the machine does slows both."""

from __future__ import annotations

import gc
import resource
import statistics
import time
from collections.abc import Callable
from typing import Any

import cases
import pytest

from geomgen.craft import Craft

Work = Callable[[], Any]
Times = list[tuple[float, float]]


def timed(work: Work) -> tuple[float, float]:
    """Seconds by the clock, and of processor time, child processes included."""
    gc.collect()
    clock, cpu = time.perf_counter(), _cpu()
    work()
    return time.perf_counter() - clock, _cpu() - cpu


def _cpu() -> float:
    children = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.process_time() + children.ru_utime + children.ru_stime


@pytest.fixture
def race(benchmark: Any) -> Callable[..., None]:
    """race(ours, floor, rounds, aim): one round of both unmeasured, then so many in turn.

    What `table.py` shows goes into the record: medians of both, and of the ratio of each round.
    """

    def run(ours: Work, floor: Work, rounds: int, aim: str, against: str = "floor") -> None:
        theirs: Times = []
        mine: Times = []
        floor()
        ours()
        benchmark.pedantic(
            lambda: mine.append(timed(ours)), setup=lambda: theirs.append(timed(floor)), rounds=rounds, iterations=1
        )
        benchmark.extra_info.update(aim=aim, against=against, rounds=rounds)
        for k, clock in enumerate(("clock", "cpu")):
            ratios = sorted(m[k] / t[k] for m, t in zip(mine, theirs, strict=True))
            benchmark.extra_info[clock] = {
                "ours_s": statistics.median(m[k] for m in mine),
                "floor_s": statistics.median(t[k] for t in theirs),
                "ratio": statistics.median(ratios),
                "least": ratios[0],
                "most": ratios[-1],
            }

    return run


@pytest.fixture(scope="session")
def blended(craft_of: Callable[..., Craft]) -> Craft:
    """The demo with another section at the tip, so that every rib between has one of its own."""
    return craft_of("lantern", cases.BLENDED)

"""Loads along r as a table to sort and plot: a row for each radius of each case."""

from __future__ import annotations

from collections.abc import Iterator

from geomgen.strength.blade_loads import GREATEST, TYPICAL
from geomgen.strength.held import Held, rpm_of
from geomgen.views.page import Record, Sheet

RESULTANTS = ("pull_n", "flap_n", "lag_n", "flap_nm", "lag_nm", "turn_nm")
KEYS = ("case", "time_s", "rpm", "masses_and_air", "r_mm", *RESULTANTS, "twist_deg")
ROWS = {TYPICAL: "typical", GREATEST: "greatest"}


def loads_list(found: Held) -> Sheet:
    """A sheet of all cases, typical and greatest."""
    return Sheet(KEYS, tuple(_rows(found)), digits=6)


def _rows(found: Held) -> Iterator[Record]:
    loads = found.loads
    for k, case in enumerate(loads.cases):
        for row, name in ROWS.items():
            for n, r in enumerate(loads.r_mm):
                each = {key: float(getattr(loads.along, key)[row, k, n]) for key in RESULTANTS}
                twist = float(loads.twist_deg[row, k, n])
                head: Record = {"case": case.name, "rpm": rpm_of(case.rad_s), "masses_and_air": name, "r_mm": float(r)}
                head |= {} if case.time_s is None else {"time_s": case.time_s}
                yield head | each | {"twist_deg": twist}

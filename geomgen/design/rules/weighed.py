"""Rules of the form that a weigh-in is read from."""

from __future__ import annotations

from geomgen.design.rules.tools import Faults, fault
from geomgen.design.schema.design import Design


def weighed(design: Design) -> Faults:
    """It is a CSV file."""
    if design.weighed is not None and not design.weighed.lower().endswith(".csv"):
        yield fault(("weighed",), "is no CSV file", '"as-built.csv" or the like', "save the form as CSV")

"""Figures in messages, rounded so that what is said to do does."""

from __future__ import annotations

import math


def at_least(value: float) -> str:
    """Rounded up to one decimal."""
    return f"{math.ceil(value * 10.0 - 1e-9) / 10.0:g}"


def at_most(value: float) -> str:
    """Rounded down to one decimal."""
    return f"{math.floor(value * 10.0 + 1e-9) / 10.0:g}"

"""What goes into a closed form and what comes out: numbers, or arrays that broadcast against one another."""

from __future__ import annotations

from typing import Any

import numpy as np

from geomgen.arrays import FloatArray

Values = float | FloatArray


def array(values: Any) -> FloatArray:
    """Values as an array; one number has no axes, and `float` takes it.

    values : numbers or arrays [any]
    """
    return np.asarray(values, dtype=np.float64)

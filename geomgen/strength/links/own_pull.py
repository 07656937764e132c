"""The pull of a part of the root by itself, where it doesn't hang on the spar: as if it were solid."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.mass.unit_mass import of_stock
from geomgen.model.joint import Key
from geomgen.model.part import Flat, Length
from geomgen.strength.blade_loads import GREATEST, TYPICAL
from geomgen.strength.build import Build
from geomgen.strength.load_path import pull_n


def own_pull_n(build: Build, key: Key) -> FloatArray:
    """(2, c) outward pull of one part, cut from a sheet, printed or cut from a length [N].

    source : mass of its stock by measure, radius of its middle, speed of each case
    """
    part = build.part(key)
    figure = of_stock(build.design, part.stock)
    match part.shape:
        case Flat() as flat:
            amount = flat.volume_mm3 / (1.0 if figure.per == "mm3" else flat.thickness_mm)
        case Length(length_mm=length):
            amount = length
        case _:
            raise TypeError(f"{part.name} is neither flat nor a length")
    assert part.r_mm is not None
    pulls = np.empty((2, len(build.loads.cases)))
    for row, grams in ((TYPICAL, figure.grams[1]), (GREATEST, figure.grams[2])):
        rpms = [case.rad_s * 30.0 / np.pi for case in build.loads.cases]
        pulls[row] = [pull_n(grams * amount, part.r_mm, rpm) for rpm in rpms]
    return pulls

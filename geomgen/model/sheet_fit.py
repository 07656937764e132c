"""Whether a flat part goes on the sheet it is cut from, and on the laser's bed."""

from __future__ import annotations

from geomgen.design.schema import Design, SheetStock
from geomgen.plane.region import Region


def too_large(design: Design, stock: str, region: Region) -> tuple[str, ...]:
    """Notes on what a part is too large for, either way round: the sheet as sold, the laser's bed.

    stock  : name of its [stock.*] table; only sheet is judged
    region : as it is cut [mm]
    """
    sheet = design.stock[stock]
    if not isinstance(sheet, SheetStock):
        return ()
    x0, y0, x1, y1 = region.bounds()
    long, short = sorted((x1 - x0, y1 - y0), reverse=True)
    places = {f"a sheet of {stock}": sheet.size, "the laser's bed": design.laser.bed}
    return tuple(
        f"{long:.0f} x {short:.0f} mm: too large for {name}, {max(size):g} x {min(size):g} mm"
        for name, size in places.items()
        if size is not None and (long > max(size) or short > min(size))
    )

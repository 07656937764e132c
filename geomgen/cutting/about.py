"""What the manifest says of a cutting file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from geomgen.cutting.drawing import copies, flat_of
from geomgen.parts.part import Flat, Part
from geomgen.tolerances import Tolerances

Entry = dict[str, str | float | int | list[str] | dict[str, float] | None]


def about_part(part: Part, blades: int, kerf_mm: float | None, tolerances: Tolerances) -> Entry:
    """Entry of one flat part's cutting file.

    blades  : in the craft [-]
    kerf_mm : width of the cut in this stock, as the design states it; None where it doesn't [mm]
    """
    flat = flat_of(part)
    entry: Entry = {
        "holds": part.what,
        "part": part.name,
        "from": part.path,
        "stock": part.stock,
        "thickness_mm": _figure(flat.thickness_mm),
        "count": copies(part, blades),
        "face": flat.face,
        "notes": list(part.notes),
        **{name: _figure(value) for name, value in part.facts.items()},
        **_exactness(kerf_mm, tolerances),
    }
    return entry if part.r_mm is None else {**entry, "r_mm": _figure(part.r_mm)}


def about_all(parts: Sequence[Part], kerf_mm: Mapping[str, float], tolerances: Tolerances) -> Entry:
    """Entry of the cutting file that shows all flat parts side by side.

    parts   : those that aren't flat are left out
    kerf_mm : stock -> width of the cut, as the design states it [mm]
    """
    flats = [part for part in parts if isinstance(part.shape, Flat)]
    stocks = {part.stock for part in flats}
    kerf = {stock: width for stock, width in kerf_mm.items() if stock in stocks}
    return {"holds": "all flat parts", "parts": [part.name for part in flats], **_exactness(kerf, tolerances)}


def _exactness(kerf_mm: dict[str, float] | float | None, tolerances: Tolerances) -> Entry:
    """Figures are in mm; the kerf is stated and never applied."""
    return {"unit": "mm", "chordal_error_mm": tolerances.chordal_mm, "kerf_mm": kerf_mm, "kerf_applied_mm": 0}


def _figure(value: float) -> float:
    return round(float(value), 6) + 0.0

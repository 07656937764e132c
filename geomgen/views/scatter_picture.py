"""A picture of the unbalance to expect before anything is weighed: craft as points, within rings."""

from __future__ import annotations

import math

from geomgen.balance.before import Before
from geomgen.figures import figure
from geomgen.views.drawing import Drawing, Drawn, Line, Ring, Words

ACROSS = 200.0  # of the picture, which has no scale of lengths
MARGIN = 8.0


def scatter_picture(of: Before, aim_g_mm: float | None, title: str, unit: str) -> Drawing:
    """x along blade 1, y anticlockwise of it, both in g mm."""
    found = of.chosen
    most = max(
        1.15 * found.ninety, 1.15 * (aim_g_mm or 0.0), float(abs(found.draws).max()) if len(found.draws) else 1.0
    )
    scale = ACROSS / 2.0 / most if most > 0.0 else 1.0
    reach = ACROSS / 2.0
    items: list[Drawn] = [
        Line([(-reach, 0.0), (reach, 0.0)], "faint", 0.2),
        Line([(0.0, -reach), (0.0, reach)], "faint", 0.2),
    ]
    items += [Ring((scale * x, scale * y), 0.7, "spar-fill", 0.0) for x, y in found.draws.tolist()]
    rings = [("half", found.median), ("nine of ten", found.ninety)]
    rings += [("aim", aim_g_mm)] if aim_g_mm is not None else []
    for k, (name, radius) in enumerate(rings):
        if radius <= 0.0:
            continue
        style = "mark" if name == "aim" else "ink"
        items.append(Ring((0.0, 0.0), scale * radius, style, 0.35, () if name != "half" else (2.0, 2.0)))
        angle = math.radians(60.0 - 15.0 * k)
        at = scale * radius * math.cos(angle) + 1.5, scale * radius * math.sin(angle) + 1.5
        items.append(Words(f"{name}: {figure('g mm', radius, 0)}", at, 4.0, style))
    items.append(Words("blade 1", (reach - 1.0, -7.0), 3.5, "faint", "end"))
    box = (-reach - MARGIN, -reach - MARGIN, reach + 4 * MARGIN, reach + MARGIN)
    half, ninety = (figure("g mm", radius, 0) for radius in (found.median, found.ninety))
    about = f"unbalance before anything is weighed: half of such craft have less than {half}, nine of ten {ninety}"
    return Drawing(box, title, about, tuple(items), width=520.0, unit=unit)

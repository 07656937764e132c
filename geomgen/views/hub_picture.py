"""The hub and what goes to it as a picture: faces by how they take the light, thin edges, heavier outlines."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen.printing.line_drawing import Shown
from geomgen.views.drawing import Drawing, Shape

# kind of body -> darkest and lightest of its faces
COLOURS = {
    "hub": ((118, 150, 184), (226, 236, 247)),
    "fixed-cap": ((216, 168, 98), (253, 237, 209)),
    "wedge": ((196, 120, 96), (250, 222, 210)),
    "turning-cap": ((140, 174, 112), (231, 243, 219)),
    "spar": ((92, 95, 104), (188, 191, 200)),
    "collar": ((180, 164, 128), (244, 238, 220)),
    "pin": ((144, 150, 162), (235, 238, 243)),
}
INK = "#1d2733"  # on faces, which are light on a dark page too
EDGE_MM, OUTLINE_MM, SEAM_MM = 0.22, 0.6, 0.1
MARGIN_MM, WIDTH_PX = 8.0, 900.0


def hub_view(bodies: Sequence[Shown], title: str) -> Drawing:
    """The picture of what is seen of some bodies."""
    boxes = [loop.bounds() for body in bodies for loop in body.outline]
    (x0, y0), (x1, y1) = ([end(box[i] for box in boxes) for i in at] for end, at in ((min, (0, 1)), (max, (2, 3))))
    tones = sorted({(body.kind, tone) for body in bodies for tone, _ in body.faces})
    colours = (("line", "", INK), *((_style(*tone), _mixed(*tone), _mixed(*tone)) for tone in tones))
    faces = [Shape(tuple(loops), _style(body.kind, tone), SEAM_MM) for body in bodies for tone, loops in body.faces]
    edges = Shape(tuple(edge for body in bodies for edge in body.edges), "line", EDGE_MM)
    outlines = Shape(tuple(loop for body in bodies for loop in body.outline), "line", OUTLINE_MM)
    box = x0 - MARGIN_MM, y0 - MARGIN_MM, x1 + MARGIN_MM, y1 + MARGIN_MM
    wedges = "wedges, " * any(body.kind == "wedge" for body in bodies)
    about = f"hub, fixed and turning caps, {wedges}spars, collars and pins, drawn apart along each arm"
    return Drawing(box, title, about, (*faces, edges, outlines), WIDTH_PX, colours)


def _style(kind: str, tone: float) -> str:
    return f"{kind}-{round(100 * tone)}"


def _mixed(kind: str, tone: float) -> str:
    dark, light = COLOURS[kind]
    return "#" + "".join(f"{round(a + tone * (b - a)):02x}" for a, b in zip(dark, light, strict=True))

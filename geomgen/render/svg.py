"""Drawings as SVG, readable on light and on dark pages: y is up going in and down coming out; figures in mm to 0.01.

A drawing is a file on its own paper, with its styles, or stands in a page that has the styles of all.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from html import escape

import numpy as np
from numpy.typing import ArrayLike

from geomgen.figures import spelled
from geomgen.plane.path import Circle, Loop, Path
from geomgen.views.drawing import Drawing, Drawn, Line, Quarters, Ring, Shape, Words

# style -> (what is drawn with it on a light page, the same on a dark one)
COLOURS = {
    "paper": ("#ffffff", "#14181d"),
    "ink": ("#1d2733", "#e8ebf0"),
    "faint": ("#5d6978", "#a3adba"),
    "wood": ("#f3e6ca", "#43371f"),
    "spar": ("#b23c17", "#ff9a70"),
    "channel": ("#1766ab", "#74bbff"),
    "fitting": ("#7a2f9e", "#d6a4ff"),
    "mark": ("#14703a", "#7fdc9c"),
}
# The same for charts: Okabe and Ito's set (from memory), which people of any colour vision can tell apart, its yellow
# darkened and its black made grey; letters on it are dark on either page, or light.
CHART_COLOURS = {
    "ribs": ("#e69f00", "#e69f00"),
    "skin": ("#56b4e9", "#56b4e9"),
    "edges": ("#d55e00", "#d55e00"),
    "spars": ("#009e73", "#009e73"),
    "wires": ("#cc79a7", "#cc79a7"),
    "glue": ("#c9b400", "#c9b400"),
    "fittings": ("#0072b2", "#0072b2"),
    "fasteners": ("#8d949c", "#8d949c"),
    "other": ("#3b4048", "#5a616b"),
    "on-light": ("#1d2733", "#1d2733"),
    "on-dark": ("#ffffff", "#ffffff"),
    "stripe": ("#f3f4f6", "#1e242b"),
    "base": ("#a9aeb6", "#5d6978"),
    "point": ("#1f4e79", "#8fb8e6"),
    "fault": ("#b03a00", "#ff9a70"),
}


_PLAIN = "fill:none;stroke-linecap:round;stroke-linejoin:round"
_HALO = "text.halo{paint-order:stroke;stroke-width:.3em}"


def svg(drawing: Drawing) -> str:
    """A whole picture on its own paper."""
    drawing = _spelled(drawing)
    used = {name.removesuffix("-fill") for item in drawing.items for name in item.style.split()}
    colours = COLOURS | {name: pair for name, pair in CHART_COLOURS.items() if name in used}
    light, dark = (_colours(colours, page) for page in (0, 1))
    plain = f"*{{{_PLAIN}}}text{{font-family:system-ui,sans-serif}}"
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" {_size(drawing)}>',
            f"<title>{escape(drawing.title)}</title>",
            f"<desc>{escape(drawing.about)}</desc>",
            f"<style>{plain}{light}{_HALO}@media(prefers-color-scheme:dark){{{dark}}}</style>",
            _paper(drawing),
            *([f"<style>{''.join(map(_rule, drawing.colours))}</style>"] if drawing.colours else []),
            *map(_element, drawing.items),
            "</svg>",
            "",
        )
    )


def inline(drawing: Drawing, name: str) -> str:
    """A picture to stand in a page that has `styles`, read out by its title and what it is about.

    name : of the picture, which no other on the page has
    """
    drawing, mine = _spelled(drawing), escape(f"picture-{name}".replace(" ", "_"))
    own = "".join(f'svg[id="{mine}"] {_rule(colours)}' for colours in drawing.colours)
    return "\n".join(
        (
            f'<svg id="{mine}" role="img" aria-labelledby="{mine}-title {mine}-about" {_size(drawing)}>',
            f'<title id="{mine}-title">{escape(drawing.title)}</title>',
            f'<desc id="{mine}-about">{escape(drawing.about)}</desc>',
            *([f"<style>{own}</style>"] if own else []),
            _paper(drawing),
            *map(_element, drawing.items),
            "</svg>",
        )
    )


def _spelled(drawing: Drawing) -> Drawing:
    """Its words in its own system."""
    unit = drawing.unit
    items = tuple(spelled(item, unit) if isinstance(item, Words) else item for item in drawing.items)
    return replace(drawing, title=spelled(drawing.title, unit), about=spelled(drawing.about, unit), items=items)


def styles() -> str:
    """Style rules of all drawings that stand in a page: dark on a dark screen, light on paper."""
    light, dark = (_colours(COLOURS | CHART_COLOURS, page) for page in (0, 1))
    return f":where(svg *){{{_PLAIN}}}{light}{_HALO}@media screen and (prefers-color-scheme:dark){{{dark}}}"


def _size(drawing: Drawing) -> str:
    x0, y0, x1, y1 = drawing.box
    scale, unit = (1.0, "mm") if drawing.width is None else (drawing.width / (x1 - x0), "")
    size = f'width="{number(scale * (x1 - x0))}{unit}" height="{number(scale * (y1 - y0))}{unit}"'
    return f'{size} viewBox="{number(x0)} {number(-y1)} {number(x1 - x0)} {number(y1 - y0)}"'


def _paper(drawing: Drawing) -> str:
    x0, y0, x1, y1 = drawing.box
    size = f'width="{number(x1 - x0)}" height="{number(y1 - y0)}"'
    return f'<rect class="paper-fill" x="{number(x0)}" y="{number(-y1)}" {size}/>'


def _colours(colours: Mapping[str, tuple[str, str]], page: int) -> str:
    """Rules of some styles; page 0 is light, 1 is dark."""
    rules = (
        f".{name}{{stroke:{pair[page]}}}.{name}-fill{{fill:{pair[page]}}}text.{name}{{fill:{pair[page]};stroke:none}}"
        for name, pair in colours.items()
    )
    return "".join(rules) + f"text.halo{{stroke:{COLOURS['wood'][page]}}}"


def _rule(colours: tuple[str, str, str]) -> str:
    name, fill, stroke = colours
    return f".{name}{{{f'fill:{fill};' if fill else ''}stroke:{stroke}}}"


def number(value: float) -> str:
    """A figure to 0.01, without needless zeros and never "-0"."""
    return f"{round(float(value), 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def _element(item: Drawn) -> str:
    match item:
        case Shape(loops=loops):
            data = "".join(path_data(loop) for loop in loops)
            return f'<path {_stroke(item)} fill-rule="evenodd" d="{data}"/>'
        case Line(points=points):
            return f'<polyline {_stroke(item)} points="{" ".join(_pair(point, ",") for point in np.asarray(points))}"/>'
        case Ring(center=(x, y), radius=radius):
            return f'<circle {_stroke(item)} cx="{number(x)}" cy="{number(-y)}" r="{number(radius)}"/>'
        case Quarters(center=(x, y), radius=r):
            data = "".join(
                f"M{_pair((x, y))}L{_pair((x + way * r, y))}A{number(r)} {number(r)} 0 0 1 {_pair((x, y - way * r))}Z"
                for way in (1.0, -1.0)
            )
            return f'<path class="{item.style}" d="{data}"/>'
        case Words():
            return _words(item)


def _stroke(item: Shape | Line | Ring) -> str:
    dashes = () if isinstance(item, Shape) else item.dashes
    dashed = f' stroke-dasharray="{" ".join(map(number, dashes))}"' if dashes else ""
    return f'class="{item.style}" stroke-width="{number(item.width)}"{dashed}'


def path_data(loop: Loop) -> str:
    """The `d` of a path, or of a circle as two half arcs."""
    path: Path = loop.as_path() if isinstance(loop, Circle) else loop
    parts = path.segments()
    steps = [f"M{_pair(path.xy[0])}"]
    rows = zip(parts.end.tolist(), parts.bulge.tolist(), parts.radius().tolist(), strict=True)
    for end, bulge, radius in rows:
        if bulge == 0.0:
            steps.append(f"L{_pair(end)}")
        else:
            large, clockwise_on_paper = int(abs(bulge) > 1.0), int(bulge < 0.0)
            steps.append(f"A{number(radius)} {number(radius)} 0 {large} {clockwise_on_paper} {_pair(end)}")
    return "".join(steps) + ("Z" if path.closed else "")


def _words(item: Words) -> str:
    x, y = number(item.at[0]), number(-item.at[1])
    turned = f' transform="rotate({number(-item.turn_deg)} {x} {y})"' if item.turn_deg else ""
    bold = ' font-weight="bold"' if item.bold else ""
    place = f'x="{x}" y="{y}" font-size="{number(item.size)}" text-anchor="{item.anchor}"'
    return f'<text class="{item.style}" {place}{bold}{turned}>{escape(item.text)}</text>'


def _pair(point: ArrayLike, between: str = " ") -> str:
    x, y = np.asarray(point, dtype=np.float64).tolist()
    return f"{number(x)}{between}{number(-y)}"

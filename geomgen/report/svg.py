"""Pieces of SVG from plane geometry: y is up going in and down coming out; figures in mm to 0.01."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

import numpy as np
from numpy.typing import ArrayLike

from geomgen.plane.path import Bounds, Circle, Loop, Path

# class -> (what is drawn with it on a light page, the same on a dark one)
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


def document(box: Bounds, title: str, about: str, body: Iterable[str], width: float | None = None) -> str:
    """A whole picture on its own paper, readable on light and on dark pages.

    box   : least x, least y, greatest x, greatest y [mm]
    title : read out and shown as a tool tip
    about : the same in a sentence, for those who can't see it
    body  : its pieces
    width : on the screen [px]; None for full size, as printed
    """
    x0, y0, x1, y1 = box
    scale, unit = (1.0, "mm") if width is None else (width / (x1 - x0), "")
    size = f'width="{number(scale * (x1 - x0))}{unit}" height="{number(scale * (y1 - y0))}{unit}"'
    light, dark = (
        "".join(
            f".{name}{{stroke:{pair[page]}}}.{name}-fill{{fill:{pair[page]}}}text.{name}{{fill:{pair[page]};stroke:none}}"
            for name, pair in COLOURS.items()
        )
        + f"text.halo{{stroke:{COLOURS['wood'][page]}}}"
        for page in (0, 1)
    )
    plain = "*{fill:none;stroke-linecap:round;stroke-linejoin:round}text{font-family:system-ui,sans-serif}"
    halo = "text.halo{paint-order:stroke;stroke-width:.3em}"
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" {size}'
            f' viewBox="{number(x0)} {number(-y1)} {number(x1 - x0)} {number(y1 - y0)}">',
            f"<title>{escape(title)}</title>",
            f"<desc>{escape(about)}</desc>",
            f"<style>{plain}{light}{halo}@media(prefers-color-scheme:dark){{{dark}}}</style>",
            f'<rect class="paper-fill" x="{number(x0)}" y="{number(-y1)}"'
            f' width="{number(x1 - x0)}" height="{number(y1 - y0)}"/>',
            *body,
            "</svg>",
            "",
        )
    )


def number(value: float) -> str:
    """A figure to 0.01, without needless zeros and never "-0"."""
    return f"{round(float(value), 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def line(points: ArrayLike, style: str, width: float, dashes: str = "") -> str:
    """Straight lines through (n, 2) points [mm], of a line width [mm]."""
    pairs = " ".join(f"{number(x)},{number(-y)}" for x, y in np.asarray(points, dtype=np.float64).tolist())
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'<polyline class="{style}" stroke-width="{number(width)}"{dashed} points="{pairs}"/>'


def ring(center: ArrayLike, radius: float, style: str, width: float, dashes: str = "") -> str:
    """A circle [mm]."""
    x, y = np.asarray(center, dtype=np.float64).tolist()
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    where = f'cx="{number(x)}" cy="{number(-y)}" r="{number(radius)}"'
    return f'<circle class="{style}" stroke-width="{number(width)}"{dashed} {where}/>'


def shape(loops: Iterable[Loop], style: str, width: float) -> str:
    """Loops and paths with their arcs as true arcs; a loop inside another is a hole in it."""
    data = "".join(path_data(loop) for loop in loops)
    return f'<path class="{style}" stroke-width="{number(width)}" fill-rule="evenodd" d="{data}"/>'


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


def words(
    text: str, at: tuple[float, float], size: float, style: str = "ink", anchor: str = "start", turn_deg: float = 0.0
) -> str:
    """Words with their base line at a point; size of the letters [mm], anchor "start" | "middle" | "end"."""
    x, y = number(at[0]), number(-at[1])
    turned = f' transform="rotate({number(-turn_deg)} {x} {y})"' if turn_deg else ""
    place = f'x="{x}" y="{y}" font-size="{number(size)}" text-anchor="{anchor}"'
    return f'<text class="{style}" {place}{turned}>{escape(text)}</text>'


def _pair(point: ArrayLike) -> str:
    x, y = np.asarray(point, dtype=np.float64).tolist()
    return f"{number(x)} {number(-y)}"

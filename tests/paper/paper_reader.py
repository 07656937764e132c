"""Pages of templates read back by MuPDF, which didn't write them: lines by their pens, words, pixels; mm, y up."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pymupdf
import shapely
from numpy.typing import NDArray

MM = 25.4 / 72.0
SEAM = re.compile(r"[A-Z]+\d+\|[A-Z]+\d+")


@dataclass(frozen=True)
class Stroke:
    """A line as drawn: its points (n, 2), curves in 24 chords, and its pen."""

    points: NDArray[np.float64]
    colour: tuple[float, ...]
    width: float
    dashed: bool

    @property
    def pen(self) -> str:
        """Which pen, by what the first page's key shows: black, grey or blue."""
        red, green, blue = self.colour
        colour = "blue" if blue > 0.5 > red else "black" if max(red, green, blue) == 0.0 else "grey"
        return f"{colour} {'dashed' if self.dashed else 'whole'}"

    @property
    def line(self) -> shapely.LineString:
        return shapely.LineString(self.points)


@dataclass(frozen=True)
class PageRead:
    """One page."""

    page: pymupdf.Page

    @property
    def size(self) -> tuple[float, float]:
        return self.page.rect.width * MM, self.page.rect.height * MM

    @property
    def text(self) -> str:
        return " ".join(self.page.get_text().split())

    @cached_property
    def strokes(self) -> tuple[Stroke, ...]:
        return tuple(self._strokes())

    def of(self, pen: str) -> list[Stroke]:
        return [stroke for stroke in self.strokes if stroke.pen == pen]

    def words(self) -> list[tuple[str, NDArray[np.float64]]]:
        """Each word and the middle of its box."""
        found = []
        for x0, y0, x1, y1, word, *_ in self.page.get_text("words"):
            found.append((word, np.array([(x0 + x1) / 2 * MM, self.size[1] - (y0 + y1) / 2 * MM])))
        return found

    def diamonds(self) -> dict[str, list[NDArray[np.float64]]]:
        """Joining marks by the name nearest to each, as a person would read them, along their seam."""
        names = [(word, at) for word, at in self.words() if SEAM.fullmatch(word)]
        found: dict[str, list[NDArray[np.float64]]] = {}
        for stroke in self.of("blue whole"):
            if len(stroke.points) == 5 and np.ptp(stroke.points[:, 0]) < 20.0:
                middle = stroke.points[:4].mean(axis=0)
                name = min(names, key=lambda each: float(np.hypot(*(each[1] - middle))))[0]
                found.setdefault(name, []).append(middle)
        return {name: sorted(marks, key=lambda at: (round(at[0], 1), at[1])) for name, marks in found.items()}

    def square(self) -> NDArray[np.float64]:
        """(4, 2) the square's corners: where two whole blue lines of one length meet at right angles."""
        corners = []
        for stroke in self.of("blue whole"):
            if len(stroke.points) == 3:
                corners.append(stroke.points[1])
            elif len(stroke.points) == 5 and np.ptp(stroke.points[:, 0]) > 50.0:
                corners += list(stroke.points[:4])
        order = np.array(corners)
        return order[np.lexsort((order[:, 0].round(1), order[:, 1].round(1)))]

    def pixels(self, dpi: int) -> NDArray[np.uint8]:
        """(high, wide, 3), row 0 at the top."""
        drawn = self.page.get_pixmap(dpi=dpi, alpha=False)
        return np.frombuffer(drawn.samples, np.uint8).reshape(drawn.height, drawn.width, 3)

    def _strokes(self) -> Iterator[Stroke]:
        for each in self.page.get_drawings():
            if each["type"] == "f":
                continue
            dashed = each["dashes"] not in (None, "", "[] 0")
            for points in self._runs(each["items"], closed=bool(each["closePath"])):
                yield Stroke(points, tuple(each["color"]), each["width"] * MM, dashed)

    def _runs(self, items: list[tuple], *, closed: bool) -> Iterator[NDArray[np.float64]]:
        """Lines and curves that go on from one another, each as points."""
        run: list[tuple[float, float]] = []
        for kind, *rest in items:
            if kind == "re":
                rect = rest[0]
                piece = [rect.tl, rect.tr, rect.br, rect.bl, rect.tl]
            elif kind == "qu":
                quad = rest[0]
                piece = [quad.ul, quad.ur, quad.lr, quad.ll, quad.ul]
            elif kind == "l":
                piece = rest
            else:
                piece = list(_bezier(*rest))
            points = [(p[0] * MM, self.size[1] - p[1] * MM) for p in piece]
            if run and np.hypot(run[-1][0] - points[0][0], run[-1][1] - points[0][1]) < 1e-3 and kind in "lc":
                run += points[1:]
            else:
                if run:
                    yield np.array(run)
                run = points
        if run:
            yield np.array(run if not closed else [*run, run[0]])


def _bezier(a: pymupdf.Point, b: pymupdf.Point, c: pymupdf.Point, d: pymupdf.Point) -> Iterator[tuple[float, float]]:
    for t in np.linspace(0.0, 1.0, 25):
        w = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
        yield tuple(sum(wk * p[k] for wk, p in zip(w, (a, b, c, d), strict=True)) for k in (0, 1))


def pages(data: bytes) -> list[PageRead]:
    """Every page of a file."""
    return [PageRead(page) for page in pymupdf.open(stream=data, filetype="pdf")]

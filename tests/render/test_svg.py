"""SVG pieces: arcs as the SVG specification reads them, colours that can be read, well-formed text."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from geomgen.plane.path import Circle, Loop, Path
from geomgen.render.svg import COLOURS, number, path_data, svg
from geomgen.views.drawing import Drawing, Quarters, Words, rectangle

QUARTER = math.tan(math.pi / 8)
BITTEN = Path(
    np.array([(12, 0), (148, 0), (160, 12), (160, 60), (120, 60), (100, 60), (0, 60), (0, 12)], float),
    np.array([0, QUARTER, 0, 0, -1, 0, 0, QUARTER]),
    True,
)
BITTEN_AREA = 160 * 60 - 2 * (1 - math.pi / 4) * 12**2 - 0.5 * math.pi * 10**2
HORSESHOE = Path(np.array([(10.0, 0.0), (0.0, 10.0)]), np.array([math.tan(math.radians(270) / 4), 0.0]), True)
HORSESHOE_AREA = 0.75 * math.pi * 100 + 0.5 * 100


def enclosed(data: str) -> float:
    """Area of an SVG path in mm2, y up.

    source : SVG 1.1, appendix F.6.5, from end points to centre and angles; then Green's theorem on chords of 0.05 deg
    """
    points: list[tuple[float, float]] = []
    for letter, figures in re.findall(r"([MLAZ])([^MLAZ]*)", data):
        values = [float(v) for v in figures.split()]
        if letter in "ML":
            points.append((values[0], values[1]))
        elif letter == "A":
            points += arc(points[-1], (values[5], values[6]), values[0], bool(values[3]), bool(values[4]))
    x, y = np.array(points).T
    return -0.5 * float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))


def arc(
    start: tuple[float, float], end: tuple[float, float], radius: float, large: bool, sweep: bool
) -> list[tuple[float, float]]:
    hx, hy = 0.5 * (start[0] - end[0]), 0.5 * (start[1] - end[1])
    radius = max(radius, math.hypot(hx, hy))
    root = math.sqrt(max(0.0, radius**2 / (hx**2 + hy**2) - 1.0)) * (-1.0 if large == sweep else 1.0)
    cx, cy = root * hy + 0.5 * (start[0] + end[0]), -root * hx + 0.5 * (start[1] + end[1])
    a, b = (math.atan2(p[1] - cy, p[0] - cx) for p in (start, end))
    turn = (b - a) % (2 * math.pi) if sweep else -((a - b) % (2 * math.pi))
    steps = max(2, int(abs(turn) / math.radians(0.05)))
    angles = a + turn * np.arange(1, steps + 1) / steps
    return list(zip(cx + radius * np.cos(angles), cy + radius * np.sin(angles), strict=True))


@pytest.mark.parametrize(
    ("loop", "area"),
    [
        (BITTEN, BITTEN_AREA),
        (BITTEN.reversed(), -BITTEN_AREA),
        (HORSESHOE, HORSESHOE_AREA),
        (Circle((3.0, -4.0), 7.5), math.pi * 7.5**2),
    ],
)
def test_arcs_enclose_what_they_should(loop: Loop, area: float) -> None:
    """Closed forms; figures are written to 0.01 mm."""
    assert enclosed(path_data(loop)) == pytest.approx(area, rel=5e-4)


def test_figures() -> None:
    assert [number(v) for v in (-0.001, 1.0, 1.005, 12.345678, -3.1, 1e6)] == [
        "0",
        "1",
        "1",
        "12.35",
        "-3.1",
        "1000000",
    ]


def test_any_words_make_a_well_formed_picture() -> None:
    title = "Größe <3 & \"más\" 'rotor'"
    text = svg(Drawing((0.0, 0.0, 10.0, 5.0), title, title, (Words(title, (1.0, 2.0), 3.0),), width=500.0))
    root = ET.fromstring(text)
    found = {element.tag.split("}")[1]: element.text for element in root.iter()}
    assert found["title"] == found["desc"] == found["text"] == title
    assert (root.get("viewBox"), root.get("width"), root.get("height")) == ("0 -5 10 5", "500", "250")


def test_at_full_size_a_millimetre_is_a_millimetre() -> None:
    root = ET.fromstring(svg(Drawing((-10.0, 0.0, 200.0, 50.0), "rib", "rib", ())))
    assert (root.get("viewBox"), root.get("width"), root.get("height")) == ("-10 -50 210 50", "210mm", "50mm")


def test_a_quartered_circle_is_filled_at_the_right_below_and_at_the_left_above() -> None:
    mark = svg(Drawing((0.0, 0.0, 9.0, 9.0), "", "", (Quarters((4.0, 5.0), 2.0, "ink-fill"),)))
    first, second = re.findall(r"M[^M]*Z", mark)
    assert first.startswith("M4 -5L6 -5A") and first.endswith(" 4 -3Z")
    assert second.startswith("M4 -5L2 -5A") and second.endswith(" 4 -7Z")


def test_colours_of_charts_come_with_charts_only() -> None:
    box = (0.0, 0.0, 9.0, 9.0)
    plain, chart = (
        svg(Drawing(box, "", "", (rectangle(1.0, 1.0, 2.0, 2.0, style),))) for style in ("wood-fill", "glue-fill")
    )
    assert ".glue" not in plain and ".glue-fill{fill:" in chart and ".ribs" not in chart


def contrast(a: str, b: str) -> float:
    """source : Web Content Accessibility Guidelines 2.1, relative luminance and contrast ratio."""

    def luminance(colour: str) -> float:
        parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    low, high = sorted((luminance(a), luminance(b)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("page", [0, 1])
def test_words_can_be_read_on_a_light_and_on_a_dark_page(page: int) -> None:
    """4.5 to 1, the guidelines' level AA for small letters."""
    for name in ("ink", "faint", "fitting", "spar", "channel"):
        assert contrast(COLOURS[name][page], COLOURS["paper"][page]) >= 4.5, name
    for name in ("ink", "spar", "channel", "mark"):
        assert contrast(COLOURS[name][page], COLOURS["wood"][page]) >= 4.5, name

"""Single-stroke letters: what a maker's eye and the engraver need of every glyph."""

from __future__ import annotations

import string
from itertools import combinations

import numpy as np
import pytest
import shapely

from geomgen.plane.letters import DESCENT, strokes, text_width
from geomgen.plane.path import Path

NEEDED = string.ascii_letters + string.digits + ".,-+/%°():#='"


def bounds(paths: list[Path]) -> tuple[float, float, float, float]:
    boxes = np.array([path.bounds() for path in paths])
    low, high = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def drawn(character: str) -> shapely.MultiLineString:
    return shapely.MultiLineString([path.flattened(0.005) for path in strokes(character, 6.0)])


@pytest.mark.parametrize("character", NEEDED)
def test_every_glyph_has_its_place(character: str) -> None:
    paths = strokes(character, 6.0)
    assert paths
    assert not any(path.closed for path in paths)
    x0, y0, x1, y1 = bounds(paths)
    assert -0.01 <= x0 <= 0.3
    assert x1 == pytest.approx(text_width(character, 6.0))
    assert y0 >= -6.0 * DESCENT - 0.01
    assert y1 <= 6.7
    if character in string.ascii_uppercase.replace("Q", "") + string.digits:
        assert (y0, y1) == pytest.approx((0.0, 6.0), abs=0.01)
    if character in "acemnorsuvwxz":
        assert (y0, y1) == pytest.approx((0.0, 4.0), abs=0.01)
    assert min(path.segments().chord.min() for path in paths) >= 0.5  # 0.2 mm in letters 2.5 mm high


def test_no_two_glyphs_can_be_mistaken() -> None:
    """Set on top of each other, any two letters differ somewhere by more than a twelfth of their height."""
    shapes = {character: drawn(character) for character in NEEDED}
    box = drawn("漢")
    for (a, one), (b, two) in combinations([*shapes.items(), ("box", box)], 2):
        assert shapely.hausdorff_distance(one, two, densify=0.05) > 0.5, (a, b)


def test_round_letters_are_smooth() -> None:
    for character in "OCSUGeo0368":
        for path in strokes(character, 6.0):
            begin, end = path.segments().directions()
            turn = np.degrees(np.abs((begin[1:] - end[:-1] + np.pi) % (2 * np.pi) - np.pi))
            smooth = turn < 0.5
            corner = np.isclose(turn, 90.0, atol=0.5) | np.isclose(turn, 180.0, atol=0.5)
            assert (smooth | corner).all(), (character, turn)


def test_text_runs_to_the_right_and_scales() -> None:
    text = "R3 r 640 mm"
    small, large = strokes(text, 3.0), strokes(text, 6.0)
    assert len(small) == len(large)
    for a, b in zip(small, large, strict=True):
        assert b.xy == pytest.approx(2 * a.xy)
        assert b.bulge == pytest.approx(a.bulge)
    assert bounds(small)[2] == pytest.approx(text_width(text, 3.0))
    assert text_width(text, 3.0) < text_width(text + ".", 3.0)
    assert text_width("mm", 3.0) > 2 * text_width("m", 3.0)
    assert text_width("", 3.0) == 0.0
    assert strokes("", 3.0) == strokes("  ", 3.0) == []
    assert text_width("a b", 3.0) > text_width("ab", 3.0)


def test_neighbours_do_not_touch() -> None:
    for one in NEEDED:
        alone, pair = strokes(one, 6.0), strokes(one + "H", 6.0)
        first = shapely.MultiLineString([path.flattened(0.01) for path in pair[: len(alone)]])
        second = shapely.MultiLineString([path.flattened(0.01) for path in pair[len(alone) :]])
        assert first.distance(second) >= 1.3, one


def test_accents_are_put_together() -> None:
    for marked, plain in zip("äöüÄÖÜéèàçñîå", "aouAOUeeacnia", strict=True):
        paths = strokes(marked, 6.0)
        assert len(paths) >= len(strokes(plain, 6.0))
        assert bounds(paths)[0] >= -0.01
        high, low = bounds(paths)[3], bounds(paths)[1]
        assert low < -1.0 if marked == "ç" else high > bounds(strokes(plain, 6.0))[3] + 0.3 or plain == "i"
    assert text_width("e\u0301", 6.0) == text_width("\u00e9", 6.0)  # the two ways to write one character


def test_unknown_characters_become_a_box() -> None:
    box = strokes("漢", 6.0)
    assert len(box) == 1
    assert box[0].bounds() == pytest.approx((0.0, 0.0, 3.0, 6.0))
    assert len(strokes("a\u20d7", 6.0)) >= 3  # a mark that is not known is a box of its own, not lost


@pytest.mark.parametrize("height", [0.0, -1.0, float("nan"), float("inf")])
def test_height_must_be_a_height(height: float) -> None:
    with pytest.raises(ValueError, match="higher"):
        strokes("a", height)
    with pytest.raises(ValueError, match="higher"):
        text_width("a", height)

"""How doubt adds up: by hand for a few lines, and by craft drawn with hidden errors, which the bands have to hold.

Errors add up by the root of squares and a normal figure lies within 1.645 standard deviations nine times of ten: both
are closed forms of the normal distribution, from memory.
"""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.design.library import demo
from geomgen.design.vary import vary
from geomgen.mass.band import mean_bands, sum_bands
from geomgen.mass.doubt import Doubts, sheets_of
from geomgen.materials.catalogue import find, names, split
from geomgen.model.joint import Key
from geomgen.model.role import Assembly, Role

DRAWN = 2000
SIGMA = 1.6448536269514722  # of a normal figure, nine of ten


def doubts(shares: list[tuple[float, float, float]], lots: list[str], sheets: np.ndarray, pieces: list[int]) -> Doubts:
    return Doubts(tuple(lots), np.array(shares), sheets, np.array(pieces, dtype=float))


def test_grade_sheet_and_own_by_hand() -> None:
    """Two lines of 10 g each, off by 1 g: all grade 2 g; all sheet on one sheet 2 g, on two the root of 2; all own the
    root of 2, and of four pieces each half of that."""
    grams = np.array([[9.0, 10, 11], [9.0, 10, 11]])
    one, two = np.array([[1.0], [1.0]]), np.eye(2)
    for shares, sheets, pieces, off in (
        ((1.0, 0, 0), one, 1, 2.0),
        ((0, 1.0, 0), one, 1, 2.0),
        ((0, 1.0, 0), two, 1, 2**0.5),
        ((0, 0, 1.0), one, 1, 2**0.5),
        ((0, 0, 1.0), one, 4, 2**-0.5),
        ((0.5, 0.3, 0.2), two, 1, (0.5 * 4 + 0.3 * 2 + 0.2 * 2) ** 0.5),
    ):
        (band,) = sum_bands(grams, np.ones((1, 2)), doubts([shares] * 2, ["a", "a"], sheets, [pieces] * 2))
        assert (band.likely_low, band.likely_high) == pytest.approx((20 - off, 20 + off))
        assert (band.low, band.high) == (18, 22)


def test_half_of_a_lines_pieces_on_either_sheet() -> None:
    """10 g off by 1 g, half of it on each of two sheets: each brings half a gram."""
    (band,) = sum_bands(
        np.array([[9.0, 10, 11]]), np.ones((1, 1)), doubts([(0, 1, 0)], ["a"], np.array([[0.5, 0.5]]), [2])
    )
    assert band.likely_high - 10 == pytest.approx((0.25 + 0.25) ** 0.5)


def test_which_sheets_lines_lie_on() -> None:
    a, b, c = (Key(Role.RIB, "x", (n,)) for n in range(3))
    table = sheets_of([a, b, c], {a: ("s 1", "s 2"), b: ("s 2", "s 2")})
    assert table.tolist() == [[0.5, 0.5, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]


@pytest.mark.parametrize("kind", sorted({find(name).kind for name in names()} | {"glue", "wire", "bought"}))
def test_every_kind_says_what_its_band_is_made_of(kind: str) -> None:
    found = split(kind)
    assert sum(found.shares) == pytest.approx(1.0) and min(found.shares) >= 0.0
    assert "from memory" in found.source or "read" in found.source


def test_a_stated_spread_takes_the_catalogues_place() -> None:
    """20 % from grade to grade, 15 % from sheet to sheet of balsa's 140 kg/m3; its own tenth is the catalogue's."""
    file = vary(demo(), {"stock.balsa_3.spread": {"grade": "20 %", "sheet": "15 %"}})
    line = next(line for line in Craft(file.design, exact=False).weighed if line.stock == "balsa_3")
    own = (240 - 80) / 2 / 140 * 0.1**0.5
    half = (0.2**2 + 0.15**2 + own**2) ** 0.5
    found = line.figure.figure
    assert (found.low, found.high) == pytest.approx((140 * (1 - half), 140 * (1 + half)))
    assert line.split.shares == pytest.approx([(each / half) ** 2 for each in (0.2, 0.15, own)])


@pytest.fixture(scope="module")
def drawn(lantern: Craft) -> tuple[Craft, np.ndarray]:
    """The demo's lines, and masses [draw, blade, line] with hidden errors: each grade's, each sheet's, each piece's."""
    random = np.random.default_rng(7)
    lines = [line for line in lantern.weighed if line.assembly == Assembly.BLADE]
    lots = {lot: random.standard_normal(DRAWN) for lot in dict.fromkeys(line.lot for line in lines)}
    sheets: dict[tuple[str, str], np.ndarray] = {}
    masses = np.zeros((DRAWN, 2, len(lines)))
    for k, line in enumerate(lines):
        sigma = (line.set_g[2] - line.set_g[0]) / 2 / SIGMA
        grade, sheet, own = np.sqrt(line.split.shares)
        on = lantern.sharing.get(line.key, ())
        for blade in range(2):
            here = on[blade * line.count : (blade + 1) * line.count] or (f"{line.key} {blade}",)
            shared = [sheets.setdefault((line.lot, name), random.standard_normal(DRAWN)) for name in here]
            pieces = random.standard_normal((line.count, DRAWN)).mean(axis=0)
            off = grade * lots[line.lot] + sheet * np.mean(shared, axis=0) + own * pieces
            masses[:, blade, k] = line.set_g[1] + sigma * off
    return lantern, masses


def test_bands_hold_nine_of_ten_craft(drawn: tuple[Craft, np.ndarray]) -> None:
    """Of a blade's mass, its centre, its static moment, and of how far two blades differ."""
    craft, masses = drawn
    blade, lines = craft.mass.blade, [line for line in craft.weighed if line.assembly == Assembly.BLADE]
    out, forward = (np.array([line.place_mm[axis] for line in lines]) for axis in (0, 1))
    mass, moment = masses.sum(axis=2), masses @ out
    for band, found in (
        (blade.mass_g, mass[:, 0]),
        (blade.static_moment_g_mm, moment[:, 0]),
        (blade.cg_radius_mm, moment[:, 0] / mass[:, 0]),
        (blade.cg_chordwise_mm, (masses[:, 0] @ forward) / mass[:, 0]),
    ):
        held = np.mean((found >= band.likely_low) & (found <= band.likely_high))
        assert 0.88 <= held <= 0.92, held
    for apart, found in ((blade.apart_g, mass), (blade.apart_g_mm, moment)):
        held = np.mean(np.abs(found[:, 0] - found[:, 1]) <= apart)
        assert 0.88 <= held <= 0.92, held


def test_what_to_weigh_first_takes_most_of_the_doubt_away(drawn: tuple[Craft, np.ndarray]) -> None:
    """Holding one lot's masses at what they should be, the first named leaves the least spread."""
    craft, masses = drawn
    lines = [line for line in craft.weighed if line.assembly == Assembly.BLADE]
    typical = np.array([line.set_g[1] for line in lines])
    left = {}
    for lot, _ in craft.mass.blade.weigh_first[:3]:
        known = masses[:, 0].copy()
        mine = [k for k, line in enumerate(lines) if line.lot == lot]
        known[:, mine] = typical[mine]
        left[lot] = known.sum(axis=1).var()
    assert min(left, key=left.__getitem__) == craft.mass.blade.weigh_first[0][0]
    share = dict(craft.mass.blade.weigh_first)
    whole = masses[:, 0].sum(axis=1).var()
    for lot, var in left.items():
        assert 1 - var / whole == pytest.approx(share[lot], abs=0.05)


def test_a_mean_has_no_doubt_where_all_is_one_grade() -> None:
    grams = np.outer([4.0, 6.0], [0.5, 1.0, 1.6])
    (band,) = mean_bands(grams, np.array([[100.0, 300]]), np.ones((1, 2)), Doubts.by_lot(["s", "s"]))
    assert band.likely_low == pytest.approx(band.typical) == pytest.approx(band.likely_high)

"""Panels between ribs, film and holes in wood, each held against another way to the same figure."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.linalg
import scipy.optimize

from geomgen.strength.formulas.short_panel import film_pull_n_mm, pressed_strip_nmm, short_panel_mpa
from geomgen.strength.formulas.split import hole_split_mpa

NODES = 400


def buckles(e1: float, e2: float, g: float, t: float, a: float, b: float, poisson: float = 0.3) -> float:
    """The plate's equation D1 w_xxxx + 2 D3 w_xxyy + D2 w_yyyy + N w_xx = 0 with one half wave across, by finite
    differences along: what depends on x is found, not put in."""
    cube, k2 = t**3 / 12.0, (np.pi / b) ** 2
    d1, d2, d3 = e1 * cube, e2 * cube, poisson * e2 * cube + 2.0 * g * cube
    h = a / NODES
    second = (
        np.diag(np.full(NODES - 1, -2.0)) + np.diag(np.ones(NODES - 2), 1) + np.diag(np.ones(NODES - 2), -1)
    ) / h**2
    stiff = d1 * second @ second - 2.0 * d3 * k2 * second + d2 * k2**2 * np.eye(NODES - 1)
    return float(scipy.linalg.eigh(stiff, -second, eigvals_only=True, subset_by_index=(0, 0))[0]) / t


@pytest.mark.parametrize(
    ("e1", "e2", "g", "t", "a", "b"),
    [
        (2413.0, 60.0, 112.0, 1.5, 60.0, 150.0),  # balsa between ribs, wider than long
        (2413.0, 60.0, 112.0, 1.5, 60.0, 30.0),
        (60.0, 2413.0, 112.0, 1.5, 200.0, 40.0),  # several waves
        (9.0, 9.0, 3.5, 2.0, 58.0, 190.0),  # foam
    ],
)
def test_panel_by_its_equation(e1: float, e2: float, g: float, t: float, a: float, b: float) -> None:
    found = float(short_panel_mpa(e1, e2, g, t, a, b))
    assert found == pytest.approx(buckles(e1, e2, g, t, a, b), rel=2e-3)


def test_a_wide_panel_is_a_row_of_columns() -> None:
    """Far wider than long: Euler's column of a strip, pi2 E t2 / (12 a2), twist adds nothing."""
    assert float(short_panel_mpa(2413.0, 60.0, 112.0, 1.5, 60.0, 1e5)) == pytest.approx(
        np.pi**2 * 2413.0 * 1.5**2 / (12.0 * 60.0**2), rel=1e-4
    )


def test_panels_broadcast() -> None:
    lengths = np.array([40.0, 60.0])
    both = short_panel_mpa(2413.0, 60.0, 112.0, 1.5, lengths, 150.0)
    each = [float(short_panel_mpa(2413.0, 60.0, 112.0, 1.5, long, 150.0)) for long in lengths]
    assert both.tolist() == pytest.approx(each)


def test_film_by_its_arc() -> None:
    """Sag w found so that the pull p l2 / (8 w) stretches the film to the parabola's length, 1 + 8/3 (w/l)2."""
    stiff, p, long = 39.0, 2e-4, 45.0

    def short_of(w: float) -> float:
        return p * long**2 / (8.0 * w) - stiff * 8.0 / 3.0 * (w / long) ** 2

    sag = scipy.optimize.brentq(short_of, 1e-3, 40.0)
    assert float(film_pull_n_mm(stiff, p, long)) == pytest.approx(p * long**2 / (8.0 * sag), rel=1e-9)


def test_strip_over_many_ribs() -> None:
    """Eight spans by three moments: M(i-1) + 4 M(i) + M(i+1) = -p l2 / 2. The greatest is at the rib next to the last,
    .106 p l2; most ribs have a twelfth."""
    p, long, inner = 1e-4, 60.0, 7
    three = np.diag(np.full(inner, 4.0)) + np.diag(np.ones(inner - 1), 1) + np.diag(np.ones(inner - 1), -1)
    moments = -np.linalg.solve(three, np.full(inner, -p * long**2 / 2.0))
    found = float(pressed_strip_nmm(p, long))
    assert moments[inner // 2] < found < moments.max() < 1.07 * found


def test_wood_beside_a_hole() -> None:
    """By hand: d/h .4: V 10 N pulls 10 x .1 x (3 - .16) = 2.84 N apart, M 200 N mm over 4 + 1.2 mm .3077 N more; over
    half of (.353 x 8 + .5 x 20) = 12.824 mm by 3 mm: 3.1477 / 19.236."""
    assert float(hole_split_mpa(10.0, 200.0, 20.0, 8.0, 4.0, 3.0)) == pytest.approx(0.16364, rel=1e-4)
    assert float(hole_split_mpa(-10.0, -200.0, 20.0, 8.0, 4.0, 3.0)) == pytest.approx(0.16364, rel=1e-4)

"""Unbalance before anything is weighed: against sums of errors written out, Rayleigh's closed form, and drawn craft."""

from __future__ import annotations

import os
import subprocess
import sys

import numpy as np
import pytest

from geomgen.balance.scatter import Uncertain, scattered, shared_out
from geomgen.craft import Craft
from geomgen.model.joint import Key
from geomgen.model.role import Assembly, Role

SIGMA = 1.6448536269514722  # of a normal figure, nine of ten
NONE = np.zeros(2)


def line(mark: int, half_g: float, places: list[tuple[float, float]], **more: object) -> Uncertain:
    given = {"lot": "stock.a", "on_blade": True, "count": 1, "shares": (0.0, 0.0, 1.0), "sheets": ()} | more
    return Uncertain(Key(Role.RIB, "x", (mark,)), half_g=half_g, places=np.array(places, dtype=float), **given)  # type: ignore[arg-type]


def test_equal_spreads_have_the_length_of_rayleigh() -> None:
    """Median s root(2 ln 2), nine of ten within s root(2 ln 10), from memory: own errors at 0 and 90 deg."""
    found = scattered([line(1, SIGMA * 2.0, [(300.0, 0.0)]), line(2, SIGMA * 2.0, [(0.0, 300.0)])], NONE)
    assert found.covariance == pytest.approx(np.eye(2) * 600.0**2)
    assert found.median == pytest.approx(600 * np.sqrt(2 * np.log(2)), rel=0.01)
    assert found.ninety == pytest.approx(600 * np.sqrt(2 * np.log(10)), rel=0.01)


def test_two_blades_in_one_line_are_half_a_normal() -> None:
    """Both blades' own errors at 300 mm either way: the length is that of one normal figure; nine of ten at 1.645 s."""
    found = scattered([line(1, SIGMA, [(300.0, 0.0), (-300.0, 0.0)])], NONE)
    assert found.covariance == pytest.approx(np.array([[2 * 300.0**2, 0], [0, 0]]))
    assert found.ninety == pytest.approx(SIGMA * 300 * 2**0.5, rel=0.01)


def test_a_grade_drops_out_of_alike_blades_and_stays_on_the_hub() -> None:
    pair = [(300.0, 0.0), (-300.0, 0.0)]
    assert scattered([line(1, 9.0, pair, shares=(1.0, 0, 0))], NONE).ninety == pytest.approx(0.0, abs=1e-9)
    hub = line(1, SIGMA * 4.0, [(15.0, 0.0)], shares=(1.0, 0, 0), on_blade=False)
    assert scattered([hub], np.array([0.0, 500.0])).covariance[0, 0] == pytest.approx((4 * 15.0) ** 2)


@pytest.mark.parametrize(("sheets", "variance"), [(("s 1", "s 1"), 0.0), (("s 1", "s 2"), 2.0)])
def test_blades_of_one_sheet_are_alike_and_of_two_are_not(sheets: tuple[str, str], variance: float) -> None:
    """One rib each: (1 - 1)^2 of one sheet's error, or 1 + 1 of two."""
    found = scattered([line(1, SIGMA, [(100.0, 0.0), (-100.0, 0.0)], shares=(0, 1.0, 0), sheets=sheets)], NONE)
    assert found.covariance[0, 0] == pytest.approx(variance * 100.0**2)


def test_copies_are_chosen_so_that_sheets_are_shared() -> None:
    """Two ribs, each with a copy on either sheet, both first copies on the first: as laid 2 (1 + 2)^2, crossed over
    2 (2 - 1)^2 of a sheet's error times 100 mm, by hand."""
    pair = [(100.0, 0.0), (-100.0, 0.0)]
    ribs = [line(n, SIGMA * n, pair, shares=(0, 1.0, 0), sheets=("s 1", "s 2")) for n in (1, 2)]
    assert scattered(ribs, NONE).covariance[0, 0] == pytest.approx(2 * 300.0**2)
    chosen, blades = shared_out(ribs)
    assert scattered(chosen, NONE).covariance[0, 0] == pytest.approx(2 * 100.0**2)
    one, two = (blades[each.key] for each in ribs)
    assert sorted(one) == sorted(two) == [1, 2] and one != two


def test_the_demo_against_craft_drawn_with_hidden_errors(lantern: Craft) -> None:
    """2,000 craft, each mass with its grade's, its sheet's and its own error, moments summed by hand."""
    random, found = np.random.default_rng(3), lantern.scatter.scatter
    turn = {0: 1.0, 1: -1.0}
    lots: dict[str, np.ndarray] = {}
    sheets: dict[tuple[str, str], np.ndarray] = {}
    moment = np.zeros((2000, 2))
    on = {laid.key: [] for sheet in lantern.laid.sheets for laid in sheet.laid}  # type: ignore[var-annotated]
    for sheet in lantern.laid.sheets:
        for laid in sheet.laid:
            on[laid.key].append((laid.copy, sheet.name))
    pitch, cone = np.radians(lantern.design.pitch.set), np.radians(lantern.design.rotor.coning)
    for one in lantern.weighed:
        sigma = (one.set_g[2] - one.set_g[0]) / 2 / SIGMA
        shares = np.sqrt(one.split.shares)
        grade = lots.setdefault(one.lot, random.standard_normal(2000))
        x, y, z = one.place_mm
        for blade in (0, 1) if one.assembly == Assembly.BLADE else (0,):
            ahead, up = y * np.cos(pitch) - z * np.sin(pitch), y * np.sin(pitch) + z * np.cos(pitch)
            flat = np.array([x * np.cos(cone) - up * np.sin(cone), ahead]) * turn[blade]
            if one.assembly != Assembly.BLADE:
                flat = np.array([x, y])
            names = [name for copy, name in sorted(on.get(one.key, [])) if (copy - 1) // one.count == blade]
            if one.assembly != Assembly.BLADE or not names:
                names = [f"{one.key} {blade}"]
            shared = np.mean([sheets.setdefault((one.lot, n), random.standard_normal(2000)) for n in names], axis=0)
            own = random.standard_normal((one.count, 2000)).mean(axis=0)
            off = sigma * (shares[0] * grade + shares[1] * shared + shares[2] * own)
            moment += off[:, None] * flat
    length = np.hypot(*(moment + found.mean).T)
    assert np.cov(moment.T)[0, 0] == pytest.approx(found.covariance[0, 0], rel=0.1)
    assert np.quantile(length, 0.9) == pytest.approx(found.ninety, rel=0.06)
    assert np.mean(length <= found.ninety) == pytest.approx(0.9, abs=0.02)


def test_the_same_on_any_number_of_threads() -> None:
    """Bytes of every figure, in processes of one thread and of four."""
    code = (
        "import numpy as np, hashlib; from geomgen.balance.scatter import Uncertain, scattered; "
        "from geomgen.model.joint import Key; from geomgen.model.role import Role; "
        "lines=[Uncertain(Key(Role.RIB,'x',(n,)),f'l{n%5}',True,1,1.0+n,(.5,.3,.2),"
        "np.array([[9.0*n,n],[-9.0*n,-n]]),('a','b')) for n in range(40)]; f=scattered(lines,np.zeros(2)); "
        "print(hashlib.sha256(f.draws.tobytes()+np.array([f.median,f.ninety]).tobytes()).hexdigest())"
    )
    told = set()
    for threads in ("1", "4"):
        env = os.environ | {"OMP_NUM_THREADS": threads, "OPENBLAS_NUM_THREADS": threads}
        told.add(
            subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True).stdout
        )
    assert len(told) == 1

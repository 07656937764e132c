"""500 made-up craft: what the readings fix lies where it is said to, as sharp as least squares can have it, and what
none bears on stays."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from made_up import NINE, MadeUp, Said, made_up, made_up_design, weighed

from geomgen.arrays import FloatArray
from geomgen.mass.statement import summed
from geomgen.mass.weigh_in.as_built import AsBuilt, Standing, as_built, rebuilt

DESIGN = made_up_design()
COUNT = 500


def craft_and_readings() -> Iterator[tuple[MadeUp, Said, AsBuilt]]:
    random = np.random.default_rng(20)
    found = 0
    while found < COUNT:
        craft = made_up(random, DESIGN)
        said = weighed(random, craft)
        if said.readings:
            found += 1
            yield craft, said, as_built(said.readings, craft.lines, DESIGN, craft.sharing)


ALL = list(craft_and_readings())


def own_least_squares(craft: MadeUp, said: Said) -> tuple[FloatArray, FloatArray]:
    """Masses and their covariance, by least squares of hidden errors and of what is left of each reading, each over its
    standard deviation; solved by numpy's lstsq."""
    white = np.linalg.inv(np.linalg.cholesky(said.noise))
    seen = said.rows @ craft.loads + said.bare
    stacked = np.vstack([np.eye(seen.shape[1]), white @ seen])
    ahead = np.concatenate([np.zeros(seen.shape[1]), white @ (said.said - said.base - said.rows @ craft.mean)])
    errors, *_ = np.linalg.lstsq(stacked, ahead, rcond=None)
    covariance = np.linalg.inv(stacked.T @ stacked)
    return craft.mean + craft.loads @ errors, craft.loads @ covariance @ craft.loads.T


def fixed_by_rank(rows: FloatArray) -> list[bool]:
    """Whether each unknown adds nothing to the rank of the equations, bare sheets being no equation of a part."""
    some = rows[np.any(rows != 0.0, axis=1)]
    if not len(some):
        return [False] * rows.shape[1]
    some = some / np.linalg.norm(some, axis=1)[:, None]
    rank = np.linalg.matrix_rank(some, tol=1e-9)
    return [np.linalg.matrix_rank(np.vstack([some, one]), tol=1e-9) == rank for one in np.eye(rows.shape[1])]


def test_what_the_readings_fix_lies_inside_its_nine_of_ten() -> None:
    fixed, followed = [], []
    for craft, said, built in ALL:
        truth = craft.mean + craft.loads @ craft.truth
        for part, mass, sure in zip(built.parts, truth.tolist(), fixed_by_rank(said.rows), strict=True):
            if part.standing != Standing.STAYS:
                (fixed if sure else followed).append(abs(part.mass_g - mass) <= part.half_g)
    assert len(fixed) > 1500 and 0.87 < np.mean(fixed) < 0.93
    assert len(followed) > 1500 and 0.87 < np.mean(followed) < 0.93


def test_what_is_fixed_is_named_and_what_no_reading_bears_on_stays_to_the_bit() -> None:
    stayed = 0
    for craft, said, built in ALL:
        seen = said.rows @ craft.loads + said.bare
        in_play = np.any(seen != 0.0, axis=0)
        for j, (part, sure) in enumerate(zip(built.parts, fixed_by_rank(said.rows), strict=True)):
            assert (part.standing == Standing.WEIGHED) == sure
            alone = not np.any(craft.loads[j, in_play])
            assert (part.standing == Standing.STAYS) == alone
            if alone:
                stayed += 1
                assert part.band == craft.lines[craft.which[j][0]].set_g
                assert part.mass_g == craft.mean[j]
    assert stayed > 100


def test_no_wider_than_least_squares_and_where_it_has_them() -> None:
    """By the readings alone, which know of no spread: (A^T R^-1 A)^+; and with the spread, the same masses too."""
    for craft, said, built in ALL:
        mine, covariance = own_least_squares(craft, said)
        half = np.array([part.half_g for part in built.parts])
        alone = said.rows.T @ np.linalg.inv(said.noise) @ said.rows
        bare = np.linalg.pinv(alone, rcond=1e-12, hermitian=True)
        sure = np.array(fixed_by_rank(said.rows))
        assert np.all(half[sure] <= NINE * np.sqrt(np.diag(bare)[sure]) * (1 + 1e-6))
        assert np.array([part.mass_g for part in built.parts]) == pytest.approx(mine, rel=1e-6, abs=1e-6)
        spread = np.sqrt(np.diag(covariance))
        assert np.all(half <= NINE * spread * (1 + 1e-6)) and np.all(half >= 1.55 * spread * (1 - 1e-6))


def test_blades_and_the_craft_lie_inside_theirs_too() -> None:
    blades, wholes, centres = [], [], []
    for craft, _, built in ALL:
        truth = craft.mean + craft.loads @ craft.truth
        found = summed(rebuilt(craft.lines, built), DESIGN, built=built)
        out = np.array([craft.lines[i].place_mm[0] for i, _ in craft.which])
        for number, blade in enumerate(found.each_blade, start=1):
            mine = np.array([float(b == number) for _, b in craft.which])
            blades.append(blade.mass_g.likely_low <= mine @ truth <= blade.mass_g.likely_high)
            radius = blade.cg_radius_mm
            centres.append(radius.likely_low <= (mine * out) @ truth / (mine @ truth) <= radius.likely_high)
        whole = found.craft.mass_g
        wholes.append(whole.likely_low <= truth.sum() <= whole.likely_high)
    assert 0.87 < np.mean(blades) < 0.93 and 0.86 < np.mean(wholes) < 0.94 and 0.87 < np.mean(centres) < 0.93


def test_stocks_are_what_their_parts_weigh_in_all() -> None:
    inside = []
    for craft, _, built in ALL:
        truth = craft.mean + craft.loads @ craft.truth
        for stock in built.stocks:
            mine = np.array([float(craft.lines[i].lot == stock.lot) for i, _ in craft.which])
            if stock.standing != Standing.STAYS:
                inside.append(abs(mine @ truth / (mine @ craft.mean) - stock.times) <= stock.half)
    assert 0.87 < np.mean(inside) < 0.93

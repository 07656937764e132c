"""What a sheet is asked to do and can't: refusals and notes, against radii, stretch and gaps worked out here."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import pytest
from skin_designs import ALL, BARE, DESIGNS, built, shape, sheets
from wing import HALVES, FloatArray, Wing

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.errors import Fault, MakeError
from geomgen.model.part import Flat
from geomgen.structure.covers import laid
from geomgen.unroll.unroll import Unrolled, unroll

CraftOf = Callable[..., Craft]
SKIN = '[blade.skin.all]\nstock = "foam_sheet_2"'
BALSA = (SKIN, SKIN.replace("foam_sheet_2", "balsa_1"))
PLY = (SKIN, SKIN.replace("foam_sheet_2", "ply_2"))


def foam(thickness: float) -> tuple[str, str]:
    of = 'of   = "extruded polystyrene"\nthickness = '
    return of + "2", of + f"{thickness:g}"


def refused(craft: Craft) -> tuple[Fault, ...]:
    """What the cover itself is refused for, besides what it rests on."""
    with pytest.raises(MakeError) as caught:
        craft.outcome(Craft.covering).read()
    before = craft.outcome(Craft.blanks).faults
    return tuple(fault for fault in caught.value.faults if fault not in before)


def bends(wing: Wing, half: str) -> FloatArray:
    """Radius of a section of chord 1 from the nose aft: length over angle turned, from its equations."""
    _, _, run, angle = wing.sides[half]
    return np.diff(run[:1500]) / np.diff(angle[:1500])


def nose_radius(wing: Wing, r: float) -> float:
    """Least radius of the section round the nose [mm]."""
    return float(min(bends(wing, half).min() for half in HALVES) * wing.chord_at(np.array([r]))[0])


def figure(text: str) -> float:
    return float(re.findall(r"(?:bends to|there is) ([\d.]+) mm", text)[0])


def test_own_radius_is_the_published_one() -> None:
    """NACA Report 460: 1.1019 t² at the nose of a symmetric section; a little behind it is a little less."""
    found = bends(Wing(m=0.0), "upper")
    assert found[0] == pytest.approx(1.1019 * 0.15**2, rel=1e-3)
    assert 0.95 * found[0] < found.min() < found[0]


def test_balsa_is_not_wrapped_round_a_tight_nose(craft_of: CraftOf) -> None:
    """1 mm at the tip's nose; the catalogue's least is 8 times the thickness at best."""
    (fault,) = refused(craft_of("starter", *ALL, BALSA))
    assert fault.path == "blade.skin.all"
    assert "at r 700 mm" in fault.wrong
    assert figure(fault.wrong) == pytest.approx(nose_radius(Wing(), 700.0) - 1.0, abs=0.06)
    assert "balsa of 1 mm" in fault.allowed and "8.0 at best" in fault.allowed
    assert "strip along the nose" in fault.remedy


def test_sheeting_all_round_is_judged_too_and_a_nose_strip_helps(
    craft_of: CraftOf, skin_craft: Callable[[str], Craft]
) -> None:
    (fault,) = refused(craft_of("starter", *ALL, BARE, built('kind = "sheeted"\nstock = "balsa_1"')))
    assert fault.path == "blade.construction.stock" and "round the nose" in fault.wrong
    for part in sheets(skin_craft("halves")):
        assert not any("bends to" in note for note in part.notes)


def test_balsa_between_good_and_best_is_told_not_refused(skin_craft: Callable[[str], Craft]) -> None:
    """A 30 % section: a nose of 14 mm; 15 mm to design to, 8 mm at best."""
    wing = DESIGNS["all round"][0]
    (note,) = [note for note in sheets(skin_craft("all round"))[0].notes if "bends to" in note]
    assert figure(note) == pytest.approx(nose_radius(wing, 700.0) - 1.0, abs=0.06)
    assert 8.0 < figure(note) < 15.0 and "15.0 mm" in note and "nose" in note


def test_foam_is_told_to_be_unpublished(skin_craft: Callable[[str], Craft]) -> None:
    wing = DESIGNS["wrap"][0]
    (note,) = [note for note in sheets(skin_craft("wrap"))[0].notes if "bends to" in note]
    assert "no figure is published" in note and "nose strip" in note
    assert figure(note) == pytest.approx(nose_radius(wing, 700.0) - 2.0, abs=0.06)


def test_a_skin_thicker_than_the_nose_is_round_is_refused(craft_of: CraftOf) -> None:
    radius = nose_radius(Wing(), 700.0)
    assert 3.5 < radius < 4.0
    for thickness in (4.0, 8.0):
        (fault,) = refused(craft_of("starter", *ALL, foam(thickness)))
        assert fault.path == "blade.skin.all"
        assert fault.wrong.startswith(f"its {thickness:g} mm are thicker than the nose is round at r 700 mm")
        assert float(re.findall(r"[\d.]+", fault.allowed)[0]) == pytest.approx(radius, abs=0.03)
        assert "nose" in fault.remedy
    assert sheets(craft_of("starter", *ALL, foam(3.4)))


def test_what_a_nose_takes_is_asked_only_where_the_skin_goes_round_it(craft_of: CraftOf) -> None:
    panels = DESIGNS["panels"][1]
    assert len(sheets(craft_of("starter", *ALL, *panels, foam(4.0)))) == 2


def test_ply_is_not_stretched_over_a_strong_twist(craft_of: CraftOf) -> None:
    """More than the catalogue's greatest for it, 0.4 %."""
    panels = DESIGNS["panels"][1][2:]
    found = refused(craft_of("starter", *ALL, *shape((300, 60), (45, -15)), *panels, PLY))
    faults = [fault for fault in found if fault.path == "blade.skin.all"]
    assert faults
    for fault in faults:
        assert float(re.findall(r"stretches by ([\d.]+) %", fault.wrong)[0]) > 0.4
        assert "birch ply" in fault.allowed and "0.4 %" in fault.allowed and "twist" in fault.remedy


def test_between_typical_and_most_it_is_told(craft_of: CraftOf) -> None:
    panels = DESIGNS["panels"][1][2:]
    upper, lower = sheets(craft_of("starter", *ALL, *shape((300, 60), (40, 0)), *panels, PLY))
    assert 0.2 < 100.0 * max(abs(lower.facts["stretch_least"]), lower.facts["stretch_most"]) < 0.4
    assert any("birch ply gives 0.2 %" in note for note in lower.notes)
    assert not any("birch ply gives" in note for note in upper.notes)


# Facts


@dataclass
class Kept:
    found: list[Unrolled] = field(default_factory=list)

    def __call__(self, grid: FloatArray) -> Unrolled:
        self.found.append(unroll(grid))
        return self.found[-1]


def test_stretch_and_mismatch_are_those_of_the_grid(craft_of: CraftOf, monkeypatch: pytest.MonkeyPatch) -> None:
    """Lengths of all edges and diagonals; gaps between bays each laid flat alone, which two rows are exactly, and
    fitted by the least-squares turn (from a matrix's singular values), points counting by the length they stand for."""
    kept = Kept()
    monkeypatch.setattr(laid, "unroll", kept)
    made = craft_of("starter", *ALL, *DESIGNS["wrap"][1])
    (part,) = sheets(Craft(made.design, made.folder, Cache(None)))  # laid flat anew, to be looked at
    (flat,) = kept.found
    change = []
    corners = [(slice(None), slice(1, None)), (slice(1, None), slice(None)), (slice(1, None), slice(1, None))]
    starts = [(slice(None), slice(-1)), (slice(-1), slice(None)), (slice(-1), slice(-1))]
    corners.append((slice(1, None), slice(-1)))
    starts.append((slice(-1), slice(1, None)))
    for end, start in zip(corners, starts, strict=True):
        space, plane = (np.linalg.norm(a[end] - a[start], axis=-1) for a in (flat.space, flat.xy))
        change.append((plane / space - 1.0).ravel())
    every = np.concatenate(change)
    assert part.facts["stretch_least"] == pytest.approx(every.min(), rel=1e-9)
    assert part.facts["stretch_most"] == pytest.approx(every.max(), rel=1e-9)

    step = np.linalg.norm(np.diff(flat.space, axis=1), axis=-1).sum(axis=0)
    weight = (np.append(0.0, step) + np.append(step, 0.0))[:, None]
    bays = [unroll(flat.space[k : k + 2]).xy for k in range(len(flat.space) - 1)]
    gaps = []
    for one, other in pairwise(bays):
        a, b = (row - (weight * row).sum(axis=0) / weight.sum() for row in (one[1], other[0]))
        u, _, v = np.linalg.svd((weight * b).T @ a)
        gaps.append(np.hypot(*(a - b @ u @ v).T).max())
    assert part.facts["mismatch_mm"] == pytest.approx(max(gaps), rel=0.02)
    told = next(note for note in part.notes if "laid flat" in note)
    assert f"{100.0 * abs(every).max():.3f} %" in told and f"{max(gaps):.2f} mm" in told


def test_a_board_too_narrow_to_be_folded_of_one_piece_is_refused(skin_craft: Callable[[str], Craft]) -> None:
    """Two boards side by side would be joined along the rolled nose; what is needed is the pattern's own width."""
    craft = skin_craft("folded")
    stocks = dict(craft.design.stock)
    stocks["foam_board_5"] = stocks["foam_board_5"].model_copy(update={"size": (1000.0, 300.0)})
    (fault,) = refused(Craft(craft.design.model_copy(update={"stock": stocks})))
    assert fault.path == "blade.construction.stock" and "300 mm wide" in fault.wrong
    flat = sheets(craft)[0].shape
    assert isinstance(flat, Flat)
    _, low, _, high = flat.region.bounds()
    assert float(re.findall(r"at least (\d+) mm", fault.allowed)[0]) == pytest.approx(high - low, abs=1.0)

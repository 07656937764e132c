"""Arrows on paper point where the makers' own letters on the part point; folds are those that are scored."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import numpy as np
import pytest
from paper_reader import pages

from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read
from geomgen.marking.finish import in_hand
from geomgen.model.label import Arrow
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.paper.pdf import paper_pdf
from geomgen.paper.sizes import roll
from geomgen.paper.template import FORWARD, TIP, UP, template

DESIGNS = [("lantern", "balsa"), ("lantern", "foam_board"), ("kite_day", None), ("kite_day", "foam_core")]
WORDS = {"FWD": FORWARD, "UP": UP, "OUT": TIP, "TIP": TIP}
WAYS = {"up": (0.0, 1.0), "down": (0.0, -1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}


@cache
def craft(name: str, option: str | None) -> Craft:
    found = read(example_path(name), option)
    return Craft(found.design, found.source.folder, exact=False)


def labelled(of: Craft) -> Iterator[tuple[Part, Flat]]:
    """Flat parts in their craft's hand, their letters still words."""
    for part in of.on_sheets:
        drawn = in_hand(part, clockwise=of.design.rotor.turn == "clockwise")
        if isinstance(drawn.shape, Flat):
            yield drawn, drawn.shape


@pytest.mark.parametrize("design", DESIGNS, ids=str)
def test_arrows_point_where_the_makers_letters_point(design: tuple[str, str | None]) -> None:
    of = craft(*design)
    seen = set()
    for part, flat in labelled(of):
        made = template(part, 1, clockwise=of.design.rotor.turn == "clockwise")
        shown = {each.word: each.way for each in made.ways}
        arrows = [item for group in flat.label.groups for item in group if isinstance(item, Arrow)]
        for arrow in arrows:
            if (word := WORDS.get(arrow.label)) is None:
                continue
            seen.add((part.role, word))
            assert shown[word] == pytest.approx(WAYS[arrow.towards], abs=1e-9), (part.name, arrow)
    assert (Role.RIB, FORWARD) in seen and (Role.RIB, UP) in seen
    assert any(word == TIP for _, word in seen)


def test_a_clockwise_crafts_skin_has_its_tip_at_the_left() -> None:
    """By the letters at its lines: the first rib is its root's; the bevel lies at the tail, which is behind."""
    for part in craft("kite_day", None).skins:
        ways = {each.word: each.way for each in template(part, 1, clockwise=True).ways}
        assert isinstance(part.shape, Flat)
        places = {text.text: text.at for text in part.shape.texts}
        ribs = [at[0] for name, at in places.items() if name.startswith("R")]
        assert ways[TIP] == (-1.0, 0.0) and places["R01"][0] == max(ribs)
        low, high = (part.shape.region.bounds()[k] for k in (1, 3))
        ahead = ways[FORWARD][1]
        assert ways[FORWARD][0] == 0.0 and ahead * (places["bevel"][1] - (low + high) / 2) < 0.0


@pytest.mark.parametrize(("role", "count"), [(Role.FOLDED_SKIN, None), (Role.SPAR, 4)])
def test_the_folds_of_a_board_are_dashed(role: Role, count: int | None) -> None:
    """As many as the lines that are lettered "fold 1" and so on; a box has three that are scored and one of paper."""
    part = next(part for part in craft("lantern", "foam_board").flat_parts if part.role is role)
    assert isinstance(part.shape, Flat)
    lettered = sum(text.text.startswith("fold ") for text in part.shape.texts)
    assert len(part.shape.folds) == (count or lettered) >= 4
    found = pages(paper_pdf([template(part, 2, clockwise=False)], roll(), title="Lantern"))[1]
    dashed = [stroke for stroke in found.of("black dashed") if stroke.points[:, 1].min() > 42.0]
    assert len(dashed) == len(part.shape.folds)
    long = sorted(float(np.ptp(stroke.points[:, 0])) for stroke in dashed)
    assert long == pytest.approx(sorted(float(np.ptp(fold.xy[:, 0])) for fold in part.shape.folds), abs=0.01)
    grey = [float(np.ptp(stroke.points[:, 0])) for stroke in found.of("grey whole") if stroke.points[:, 1].min() > 42.0]
    assert len(grey) >= len(part.shape.marks) - len(part.shape.folds)
    assert "dashed lines are folded" in found.text


@pytest.mark.parametrize("option", ["balsa", None])
def test_what_isnt_folded_has_no_folds(option: str | None) -> None:
    assert not any(part.shape.folds for part in craft("lantern", option).flat_parts if isinstance(part.shape, Flat))


def test_only_flat_parts_go_on_paper() -> None:
    hub = next(part for part in craft("lantern", None).finished if part.role is Role.HUB)
    with pytest.raises(TypeError, match="hub"):
        template(hub, 1, clockwise=False)

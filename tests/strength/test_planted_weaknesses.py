"""One weakness at a time in a design that is strong all over: it is named first, and mending its key moves it off."""

from __future__ import annotations

import pytest
from planted import LEAST, WEAK, changed, named, strong

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.root.root import COLLAR
from geomgen.strength.held import Held
from geomgen.strength.link import Fails

FACTOR = 3.0


@pytest.fixture(scope="module")
def sound(cache: Cache) -> Held:
    return Craft(strong().design, None, cache, exact=False).held


def test_nothing_is_weak_before(sound: Held) -> None:
    assert sound.judged.factor == FACTOR
    assert sound.judged.margins[0].worst > LEAST
    assert len(sound.judged.margins) > 60


@pytest.mark.parametrize("planted", WEAK)
def test_what_is_planted_is_named_first(planted: str, sound: Held, cache: Cache) -> None:
    weak = WEAK[planted]
    first = changed(weak.path, weak.to, cache).held.judged.margins[0]
    assert named(first) == (weak.fails, weak.at, weak.role)
    mended = sound.judged.margins[0]  # the strong design differs by that key alone
    assert named(mended) != named(first) and first.worst < 0.95 * mended.worst


def test_there_are_twelve_and_more() -> None:
    assert len({weak.path for weak in WEAK.values()}) >= 12
    assert len({(weak.fails, weak.at) for weak in WEAK.values()}) >= 12


def test_a_collar_that_nothing_fixes_is_never_held(sound: Held, cache: Cache) -> None:
    """It has no margin, so that no margin can say that it holds; fixed, it has one."""
    unfixed = changed("hub.collar.fixing", False, cache).held.judged
    apart = [link for link, _ in unfixed.unknown if COLLAR in link.between and link.path.startswith("hub.collar")]
    known = {(link.name, link.path) for link, _ in sound.judged.unknown}
    assert [link.fails for link in apart if (link.name, link.path) not in known] == [Fails.SLIPS]
    assert not any(margin.link.path == "hub.collar.fixing" for margin in unfixed.margins)
    assert any(margin.link.path == "hub.collar.fixing" for margin in sound.judged.margins)


def test_ribs_stuck_by_what_does_not_stick_are_never_held(sound: Held, cache: Cache) -> None:
    """Wood glue on a carbon tube: glue of ribs and of the sleeve have no margin."""
    apart = {link.path for link, _ in changed("glue.on_tube", "wood glue", cache).held.judged.unknown}
    assert {"blade.ribs.root", "blade.ribs.rest", "blade.spar.main.joint"} <= apart
    assert not {"blade.ribs.root", "blade.spar.main.joint"} & {link.path for link, _ in sound.judged.unknown}

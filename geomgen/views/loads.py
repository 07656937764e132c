"""What `geomgen loads` says: the weakest places by name, every margin, loads, swings, and what all that rests on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from geomgen.craft import Craft
from geomgen.errors import Fault
from geomgen.strength.held import Held
from geomgen.views.cautions import LOADS, cautions
from geomgen.views.loads_along import along, at_the_hub, shape, stiffness
from geomgen.views.page import Page, Section
from geomgen.views.swings import chordwise, divergence, frequencies
from geomgen.views.verdict import verdict_sections
from geomgen.views.weakest import margins, strengths, unpublished, weakest

UNKNOWN = "Loads aren't worked out: they rest on hover, which isn't reckoned for this rotor."
NO_FLUTTER = "No speed of flutter is told: nothing was found that such a figure could be held against."
NOT_IN = (
    "Not in here: fatigue and what thousands of turns do, gusts and what a hand or a fall does to it, landing, a fan "
    "or a tip that comes off, shaking, glue that is starved or joints that don't fit, knots and split grain, sun and "
    "heat beyond what a link's note says. Every load is steady but for the start. Which links there are is a list of "
    "this program's own: what isn't on it isn't judged."
)


def loads_page(craft: Craft, warnings: Sequence[Fault] = ()) -> Page:
    """The whole page: verdict, the three weakest, margins, what has none, loads, swings, doubts."""
    design, found = craft.design, craft.held
    title = f"{design.title}: will it hold?\nOne blade and its hub, in the cases told below."
    sections: tuple[Section, ...] = ((title,), *verdict_sections(craft.verdict, warnings))
    if found is None:
        return Page((*sections, (UNKNOWN,), cautions(LOADS)), design.units or "mm")
    return Page((*sections, *loads_sections(craft, found), cautions(LOADS)), design.units or "mm")


def loads_sections(craft: Craft, found: Held) -> Iterator[Section]:
    """All that is said below the verdict."""
    yield weakest(found)
    yield from (section for section in (margins(found), unpublished(found)) if section)
    yield along(found)
    yield at_the_hub(found)
    yield shape(found, craft.as_twisted)
    yield stiffness(found)
    yield frequencies(found)
    yield (divergence(found),)
    yield chordwise(craft.balance)
    yield ("What it rests on", *found.words, NOT_IN, NO_FLUTTER, *strengths(found))

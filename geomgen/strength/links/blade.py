"""Every link of one blade, from its cover to the main spar outside the root."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from geomgen.strength.build import Build
from geomgen.strength.link import Link
from geomgen.strength.links.box import boxes
from geomgen.strength.links.caps_and_web import caps_and_webs
from geomgen.strength.links.cover import covers_on_ribs
from geomgen.strength.links.film import films
from geomgen.strength.links.fittings import fittings
from geomgen.strength.links.panels import panels
from geomgen.strength.links.rib_webs import rib_webs
from geomgen.strength.links.ribs import ribs_on_spars
from geomgen.strength.links.running import Runs, running
from geomgen.strength.links.seams import cells
from geomgen.strength.links.spars import spars_along
from geomgen.strength.links.splices import splices

PLACED: tuple[Callable[[Build], Iterator[Link]], ...] = (
    covers_on_ribs,
    films,
    ribs_on_spars,
    rib_webs,
    cells,
    fittings,
)
ALONG: tuple[Callable[[Build, Runs | None], Iterator[Link]], ...] = (
    spars_along,
    panels,
    caps_and_webs,
    boxes,
    splices,
)


def blade_links(build: Build) -> Iterator[Link]:
    """All of them; the stress in what runs along the blade is worked out once."""
    for maker in PLACED:
        yield from maker(build)
    runs = running(build)
    for along in ALONG:
        yield from along(build, runs)

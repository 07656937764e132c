"""All links, from the blade's skin to the mast: a new one is a maker of its own and a line in one of these lists."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from geomgen.strength.build import Build
from geomgen.strength.link import Link
from geomgen.strength.links.cover import covers_on_ribs
from geomgen.strength.links.film import films
from geomgen.strength.links.panels import panels
from geomgen.strength.links.rib_webs import rib_webs
from geomgen.strength.links.ribs import ribs_on_spars
from geomgen.strength.links.root_links import ROOT_MAKERS
from geomgen.strength.links.seams import cells
from geomgen.strength.links.spars import spars_along

BLADE_MAKERS: tuple[Callable[[Build], Iterable[Link]], ...] = (
    covers_on_ribs,
    films,
    panels,
    cells,
    ribs_on_spars,
    rib_webs,
    spars_along,
)


def every_link(build: Build) -> tuple[Link, ...]:
    """Every way in which some place of a blade or of the hub can fail."""
    return tuple(link for maker in (*BLADE_MAKERS, *ROOT_MAKERS) for link in maker(build))

"""All links, from the blade's skin to the mast: a new one is a maker of its own and a line here."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from geomgen.strength.build import Build
from geomgen.strength.link import Link
from geomgen.strength.links.arm import arm_links
from geomgen.strength.links.caps import cap_links
from geomgen.strength.links.collar import collar_links
from geomgen.strength.links.cup import cup_links
from geomgen.strength.links.mast_bolts import mast_bolt_links
from geomgen.strength.links.pins import pin_links
from geomgen.strength.links.rib_webs import rib_webs
from geomgen.strength.links.ribs import ribs_on_spars
from geomgen.strength.links.socket import socket_links
from geomgen.strength.links.spar_root import spar_root_links
from geomgen.strength.links.spars import spars_along
from geomgen.strength.links.wedges import wedge_links

MAKERS: tuple[Callable[[Build], Iterable[Link]], ...] = (
    ribs_on_spars, rib_webs,
    spars_along, spar_root_links,
    collar_links, socket_links, arm_links, cup_links,
    pin_links, wedge_links, cap_links, mast_bolt_links,
)  # fmt: skip


def every_link(build: Build) -> tuple[Link, ...]:
    """Every way in which some place of a blade or of the hub can fail."""
    return tuple(link for maker in MAKERS for link in maker(build))

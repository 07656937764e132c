"""All makers of links at the root, from the spar inwards."""

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
from geomgen.strength.links.socket import socket_links
from geomgen.strength.links.spar_root import spar_root_links
from geomgen.strength.links.wedges import wedge_links

ROOT_MAKERS: tuple[Callable[[Build], Iterable[Link]], ...] = (
    spar_root_links,
    socket_links,
    collar_links,
    cup_links,
    arm_links,
    cap_links,
    pin_links,
    wedge_links,
    mast_bolt_links,
)

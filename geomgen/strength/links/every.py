"""All links, from the blade's skin to the mast: a new one is a maker of its own and a line in a list, of the blade's in
blade.py, of the root's in root_links.py."""

from __future__ import annotations

from geomgen.strength.build import Build
from geomgen.strength.link import Link
from geomgen.strength.links.blade import blade_links
from geomgen.strength.links.root_links import ROOT_MAKERS


def every_link(build: Build) -> tuple[Link, ...]:
    """Every way in which some place of a blade or of the hub can fail."""
    return (*blade_links(build), *(link for maker in ROOT_MAKERS for link in maker(build)))

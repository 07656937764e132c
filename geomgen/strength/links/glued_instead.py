"""A collar that is glued on the spar in place of what holds it: what that would do to a link of its fixing."""

from __future__ import annotations

from geomgen.figures import mm
from geomgen.materials.bond_strength import Surface, glue_strength
from geomgen.strength.build import Build
from geomgen.strength.formulas.glue import ring_glue_pull_mpa
from geomgen.strength.links.helping import Change, Loaded
from geomgen.strength.links.root_tube import hanging_n, root_tube
from geomgen.strength.margins import ALONE

USUAL_GLUE = "epoxy"


def glued_instead(build: Build, was: str) -> Change:
    """Glue along all of the collar takes the place of a pin or a clamp; a third more is asked of it, as it is alone.

    was : how the collar is fixed, in the design's word
    """
    length, tube = build.design.hub.collar.length, root_tube(build)
    strength, _ = glue_strength(USUAL_GLUE, Surface.TUBE)
    then = Loaded(ALONE * ring_glue_pull_mpa(hanging_n(build), tube.outside, length), strength)
    return Change("hub.collar.fixing", was, f"glued over {mm(length)} with {USUAL_GLUE}", then)

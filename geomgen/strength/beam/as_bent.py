"""How far a bent beam twists by what bends it: forces that are off its own line once it is bent another way too."""

from __future__ import annotations

import numpy as np

from geomgen.strength.beam.beam import TWIST, Beam, Masses, States
from geomgen.strength.beam.chain import solved
from geomgen.strength.beam.equilibrium import acting, resultants
from geomgen.strength.beam.matrices import elastic, spun
from geomgen.strength.beam.shapes import leaning
from geomgen.strength.beam.statics import Deflected

PLACES = 4  # of each piece, at which what goes through it is taken


def twisted_as_bent(beam: Beam, masses: Masses, states: States, deflected: Deflected) -> Deflected:
    """The same beam with the twist that its bending in both planes at once brings, which first order leaves out.

    source : each piece twists by the mean of the moment about itself, as it stands, over its stiffness; one step
    """
    length = np.diff(beam.x_m)
    x = (beam.x_m[:-1, None] + length[:, None] * (np.arange(PLACES) + 0.5) / PLACES).ravel()
    _, own = resultants(beam, acting(beam, masses, deflected, states), deflected, x)
    mean = own.reshape(len(own), -1, PLACES).mean(-1)
    turned = np.diff(deflected.nodes, axis=1) / length[:, None]
    more = mean - beam.gj_nm2 * np.einsum("ki,ski->sk", leaning(beam)[:, TWIST], turned)
    load = np.zeros_like(deflected.nodes)
    load[:, 1:, TWIST] += more
    load[:, :-1, TWIST] -= more
    stiffness = elastic(beam).plus(states.rad_s**2, spun(beam, masses, states.coning_rad).stiffness)
    return Deflected(deflected.nodes + solved(stiffness, beam.held, load))

"""A blade as points, against its lines and the tensor that balance sums from solids, triangles and plates."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.model.role import Role
from geomgen.root.root import COLLAR
from geomgen.strength.load_path import chain
from geomgen.strength.mass_points import MassPoints, mass_points


def all_points(craft: Craft) -> MassPoints:
    return mass_points(craft.measured, craft.weighed, craft.elements, [line.key for line in craft.weighed])


def test_mass_and_tensor_of_the_blade(lantern: Craft) -> None:
    """The inertia of `geomgen weigh`: another way through the same parts, which its own tests hold to solids."""
    found, blade = all_points(lantern), lantern.inertia.blade
    grams, place = found.grams[0], found.place
    assert grams.sum() == pytest.approx(blade.mass_g, rel=1e-9)
    assert grams @ place / grams.sum() == pytest.approx(blade.centre, abs=1e-6)
    square = (place * grams[:, None]).T @ place
    tensor = np.trace(square) * np.eye(3) - square
    assert tensor == pytest.approx(blade.reference, rel=2e-4, abs=2e-4 * float(np.trace(blade.reference)) * 0.02)


def test_what_hangs_on_the_hub_itself_is_left_out(lantern: Craft) -> None:
    """The fixed cap and its screws are each blade's, and pull on no collar."""
    held = lantern.hung
    carried = [key for key in held if COLLAR in (key, *chain(key, held))]
    found = mass_points(lantern.measured, lantern.weighed, lantern.elements, carried)
    assert Role.FIXED_CAP not in {key.role for key in found.keys}
    assert {Role.SKIN, Role.RIB, Role.SPAR, Role.COLLAR, Role.FITTING, Role.GLUE} <= {key.role for key in found.keys}
    mine = [line for line in lantern.weighed if line.key in carried and str(line.assembly) == "blade"]
    assert found.grams.sum(axis=1) == pytest.approx([sum(line.set_g[k] for line in mine) for k in (1, 2)])
    of_skin = found.of == [key.role for key in found.keys].index(Role.SKIN)
    skin = next(line for line in mine if line.role is Role.SKIN)
    assert found.grams[0, of_skin] @ found.place[of_skin, 0] == pytest.approx(skin.set_g[1] * skin.place_mm[0])

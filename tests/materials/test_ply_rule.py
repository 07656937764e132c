"""The ply rule against rows of a birch plywood handbook, and against stresses summed layer by layer another way."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.materials.ply import FIVE_UP_TO_MM, layers_mm
from geomgen.materials.strength import Property
from geomgen.materials.strength_table import strength_of

# Handbook of birch plywood, from memory: nominal thickness [mm] -> bending modulus, bending, tension, compression, each
# along and across the face grain [MPa]; compression of 6.5 mm across by the rule
HANDBOOK = {
    4.0: ((16471, 1029), (65.9, 10.6), (45.8, 29.2), (31.8, 20.2)),
    6.5: ((12737, 4763), (50.9, 29.0), (42.2, 32.8), (29.2, 22.75)),
}
PAIRS = (
    (Property.BENDING_MODULUS, Property.BENDING_MODULUS_ACROSS),
    (Property.BENDING, Property.BENDING_ACROSS),
    (Property.TENSION, Property.TENSION_ACROSS),
    (Property.COMPRESSION, Property.PLANE_COMPRESSION_ACROSS),
)


@pytest.mark.parametrize("thickness", HANDBOOK)
def test_the_rule_gives_the_handbooks_rows(thickness: float) -> None:
    figures = strength_of("birch ply", density=None, thickness_mm=thickness).figures
    for pair, row in zip(PAIRS, HANDBOOK[thickness], strict=True):
        for one, value in zip(pair, row, strict=True):
            assert figures[one].typical == pytest.approx(value, rel=2e-3), one


# thickness [mm] -> layers from face to face [mm], by what is sold: thin sheets of equal veneers, thick ones of 1.4 mm
# veneers with sanded faces, which come out at 3.6, 6.4 and 9.2 mm (handbook, from memory)
LAYERS = {
    0.4: (0.4 / 3,) * 3, 0.8: (0.8 / 3,) * 3, 1.5: (0.5,) * 3, 1.6: (0.32,) * 5, 2.0: (0.4,) * 5, 3.0: (0.6,) * 5,
    3.175: (0.635,) * 5, 4.0: (1.1, 1.4, 1.1), 6.5: (1.1, 1.4, 1.4, 1.4, 1.1), 9.0: (1.1, *(1.4,) * 5, 1.1),
    12.0: (1.1, *(1.4,) * 7, 1.1),
}  # fmt: skip


@pytest.mark.parametrize("thickness", LAYERS)
def test_sheets_have_so_many_layers(thickness: float) -> None:
    assert layers_mm(thickness) == pytest.approx(LAYERS[thickness])


@pytest.mark.parametrize(
    "thickness", [0.3, 1.0, 1.5, 1.51, 2.0, 3.0, FIVE_UP_TO_MM, 3.4, 4.0, 5.0, 6.5, 9.0, 12.0, 15.0]
)
def test_layers_are_odd_alike_from_both_faces_and_about_as_thick_as_the_sheet(thickness: float) -> None:
    layers = layers_mm(thickness)
    assert len(layers) % 2 == 1 and len(layers) >= 3 and layers == layers[::-1]
    assert sum(layers) == pytest.approx(thickness, abs=1e-9 if thickness <= FIVE_UP_TO_MM else 1.6)


@pytest.mark.parametrize("thickness", [0.8, 2.0, 4.0, 6.5, 9.0])
def test_moduli_and_strengths_are_sums_over_thin_slices(thickness: float) -> None:
    """By slices of the thickness: E is 17 500 MPa where a slice's grain runs along, nothing where it runs across; bent
    to its strength, the outermost such slice is at 70 MPa (strains are straight over the thickness)."""
    layers = np.array(layers_mm(thickness))
    total, count = float(layers.sum()), 200_000
    z = (np.arange(count) + 0.5) / count * total - total / 2
    layer = np.searchsorted(np.cumsum(layers) - total / 2, z)
    figures = strength_of("birch ply", density=None, thickness_mm=thickness).figures
    for way, parity in (("", 0), ("_ACROSS", 1)):
        modulus = np.where(layer % 2 == parity, 17500.0, 0.0)
        stiffness = float((modulus * z**2).mean() * total)
        curvature = 70.0 / 17500.0 / float(np.abs(z[modulus > 0]).max())
        assert figures[Property[f"MODULUS{way}"]].typical == pytest.approx(float(modulus.mean()), rel=1e-4)
        assert figures[Property[f"BENDING_MODULUS{way}"]].typical == pytest.approx(12 * stiffness / total**3, rel=1e-4)
        bent = stiffness * curvature / (total**2 / 6)
        assert figures[Property[f"BENDING{way}"]].typical == pytest.approx(bent, rel=1e-4)


def test_without_a_thickness_the_rule_says_nothing() -> None:
    ply = strength_of("birch ply", density=None)
    assert ply.of(Property.TENSION) is None and ply.of(Property.SHEAR) is not None

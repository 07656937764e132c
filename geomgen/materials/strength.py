"""How strong and how stiff things are: the records. The figures stand in strength.toml."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from geomgen.materials.figure import Figure


class Property(StrEnum):
    """What is known of a material; its value is the word of the catalogue and of a stock's own `strength` table.

    "Along" is the way it is strongest: along the grain, a tube's length, a print's layers. Stresses and moduli in MPa;
    what has no thickness worth naming (film) by width, in N/mm.

    A metal's tension, compression and bending are its yield: what must keep its shape; its shear is where it is cut
    through. A ply is told by its face grain, along it and across it in its plane; its shear is that of a web edgewise,
    `shear_across` the rolling shear under a face, `compression_across` what its face stands under a washer. Of a foam
    board, shear is the core's, and by width is one of its papers.
    """

    TENSION = "tension"
    COMPRESSION = "compression"
    BENDING = "bending"
    SHEAR = "shear"  # along: wood between its fibres, a web edgewise, a tube in torsion
    BEARING = "bearing"  # of a pin or screw in a hole
    BEARING_ACROSS = "bearing_across"  # of a pin in solid wood, pressing across its grain
    BENDING_ACROSS = "bending_across"  # a ply with its face grain across
    TENSION_ACROSS = "tension_across"  # across grain, fibres, layers
    COMPRESSION_ACROSS = "compression_across"
    PLANE_COMPRESSION_ACROSS = "plane_compression_across"  # a ply in its plane
    SHEAR_ACROSS = "shear_across"  # a ply's face (rolling shear), between a print's layers
    THREAD = "thread"  # shear of a thread that a screw cut itself
    MODULUS = "modulus"  # stretched or pressed
    BENDING_MODULUS = "bending_modulus"  # bent flat, where that differs
    BENDING_MODULUS_ACROSS = "bending_modulus_across"  # a ply with its face grain across
    MODULUS_ACROSS = "modulus_across"
    SHEAR_MODULUS = "shear_modulus"
    WIDTH_TENSION = "width_tension"  # [N/mm]
    WIDTH_STIFFNESS = "width_stiffness"  # [N/mm]
    PEEL = "peel"  # of a film's edge or a paper [N/mm]


BY_WIDTH = (Property.WIDTH_TENSION, Property.WIDTH_STIFFNESS, Property.PEEL)


def unit_of(one: Property) -> str:
    """The unit of its figures: "MPa" or "N/mm"."""
    return "N/mm" if one in BY_WIDTH else "MPa"


@dataclass(frozen=True)
class Strength:
    """All that is known of one stock.

    name    : of the material, "PETG, printed"
    figures : what is known, low, typical and high with a source [MPa], [N/mm] by width
    notes   : why a figure isn't there, in words that begin with "unpublished"; by property
    """

    name: str
    figures: Mapping[Property, Figure]
    notes: Mapping[Property, str]

    def of(self, *properties: Property) -> Figure | None:
        """The first of these that is known; None where none is."""
        return next((self.figures[one] for one in properties if one in self.figures), None)

    def why_not(self, one: Property) -> str:
        """Why a figure isn't there."""
        return self.notes.get(one, f"unpublished: no {one.value.replace('_', ' ')} of {self.name} was found")

"""[strength], and what a stock's maker knows of its strength: [stock.*] strength."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import Field

from geomgen.design.schema.table import Table
from geomgen.design.schema.values import Duration, ForceByWidth, LoadFactor, Modulus, Spread, Stress


class Holding(Table):
    """By how much it is to hold. factor [-], run_up [s]."""

    factor: LoadFactor = Field(3.0, description="greatest load times this; yours to answer for", examples=[3])
    run_up: Duration = Field(3.0, description="from rest to full throttle", examples=["3 s"])


class LengthStrength(Table):
    """What you tested of a stock, instead of the catalogue's figures. Stresses and moduli [MPa]."""

    tension: Stress | None = Field(
        None, description="pulled along grain, fibres or layers; of a metal its yield", examples=["1200 MPa"]
    )
    compression: Stress | None = Field(None, description="pressed along them", examples=["500 MPa"])
    bending: Stress | None = Field(None, description="bent, in its outer fibre", examples=["65 MPa"])
    shear: Stress | None = Field(
        None, description="sheared along them: a tube twisted, a web edgewise", examples=["40 MPa"]
    )
    bearing: Stress | None = Field(None, description="a pin or screw in a hole", examples=["65 MPa"])
    tension_across: Stress | None = Field(None, description="pulled across them", examples=["20 MPa"])
    compression_across: Stress | None = Field(
        None, description="pressed across them, as under a washer", examples=["4 MPa"]
    )
    shear_across: Stress | None = Field(
        None, description="sheared between a print's layers, or under a ply's face", examples=["12 MPa"]
    )
    bearing_across: Stress | None = Field(None, description="a pin that presses across the grain", examples=["20 MPa"])
    modulus: Modulus | None = Field(None, description="stiffness, stretched along them", examples=["125 GPa"])
    modulus_across: Modulus | None = Field(None, description="stretched across them", examples=["8 GPa"])
    shear_modulus: Modulus | None = Field(None, description="stiffness in shear", examples=["4 GPa"])

    def given(self) -> Iterator[tuple[str, Spread]]:
        """What is stated, by key: (low, typical, high) [MPa], by width [N/mm]."""
        for name in type(self).model_fields:
            if isinstance(value := getattr(self, name), Spread):
                yield name, value


class SheetStrength(LengthStrength):
    """The same of a sheet. Stresses and moduli [MPa], by width [N/mm]."""

    bending_across: Stress | None = Field(None, description="bent with its face grain across", examples=["20 MPa"])
    plane_compression_across: Stress | None = Field(
        None, description="pressed in its plane across its face grain", examples=["17 MPa"]
    )
    bending_modulus: Modulus | None = Field(
        None, description="stiffness, bent flat, where that differs", examples=["14 GPa"]
    )
    bending_modulus_across: Modulus | None = Field(
        None, description="bent flat with its face grain across", examples=["3 GPa"]
    )
    width_tension: ForceByWidth | None = Field(
        None, description="what a film, or one paper of a board, is pulled by at most, by width", examples=["1.5 N/mm"]
    )
    width_stiffness: ForceByWidth | None = Field(
        None, description="its modulus times its thickness", examples=["120 N/mm"]
    )
    peel: ForceByWidth | None = Field(None, description="what peels its edge off, by width", examples=["0.3 N/mm"])


class PrintStrength(LengthStrength):
    """The same of what is printed. Stresses and moduli [MPa]."""

    thread: Stress | None = Field(None, description="shear of a thread that a screw cut itself", examples=["10 MPa"])

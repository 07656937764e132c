"""[stock.*]: what parts are made of, in four kinds, by how it is sold."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Discriminator, Field, Tag, WrapValidator

from geomgen.design.schema.kinds import TAG, told_by_kind
from geomgen.design.schema.strength import LengthStrength, PrintStrength, SheetStrength
from geomgen.design.schema.table import Table, leave_gap
from geomgen.design.schema.values import (
    Areal,
    Beads,
    Count,
    Density,
    Layers,
    LinearSpread,
    Mass,
    Price,
    Share,
    Size,
    Small,
    Solidity,
    SomeMass,
    Spares,
    Thin,
    Words,
)
from geomgen.materials.figure import DESIGN_FILE, Figure
from geomgen.materials.prints import usual_share


class WeighedPrint(Table):
    """A print that has been on the scales. mass [g]."""

    part: Literal["hub", "turning_cap", "fixed_cap"] = Field(description="which part it is", examples=["hub"])
    mass: SomeMass = Field(description="what it weighs, without supports", examples=["104 g"])


class Print(Table):
    """How a stock is printed. infill [-]."""

    walls: Beads = Field(description="lines side by side along an outline", examples=[3])
    top: Layers = Field(description="solid layers under a face that looks up", examples=[4])
    bottom: Layers = Field(description="solid layers over a face that looks down", examples=[4])
    infill: Share = Field(description="share of what is within these that is filled", examples=["20 %"])
    weighed: WeighedPrint | None = Field(
        None, description="one print on the scales: all prints of the stock are as much heavier or lighter as it is"
    )

    @property
    def words(self) -> str:
        """As its maker would tell it."""
        walls = f"{self.walls} wall{'s' if self.walls > 1 else ''}"
        return f"{walls}, {self.top} top, {self.bottom} bottom, {100 * self.infill:g} % infill"


class VolumeStock(Table):
    """Sold by volume or weight: filament, resin, block. density [kg/m3], solid [-]."""

    kind: Literal["volume"]
    of: Words = Field(description="material, a name in the catalogue", examples=["PETG, printed"])
    density: Density | None = Field(None, description="your own density; left out: the catalogue's")
    print: Print | None = Field(
        None,
        description="walls, top, bottom and infill, as in your slicer: each print is weighed by its own slices; not "
        "beside `solid`",
        examples=[{"walls": 3, "top": 4, "bottom": 4, "infill": "20 %"}],
    )
    solid: Solidity | None = Field(
        None,
        description="printed mass over solid mass, at your walls and infill; left out: the usual share of a print",
        examples=["45 %"],
    )
    price: Price | None = Field(None, description="of one kilogram", examples=[25])
    strength: PrintStrength | None = Field(
        None, description="what you tested of it, printed solid; left out: the catalogue's"
    )

    @property
    def share(self) -> Figure:
        """Printed mass over solid mass of what isn't weighed by its slices, and where that is from [-]."""
        return usual_share(self.of) if self.solid is None else Figure(*self.solid, "-", DESIGN_FILE)


class Spread(Table):
    """How far what a stock weighs differs, to either side of typical, nine of ten. [-]."""

    grade: Share | None = Field(
        None, description="from grade to grade, or batch to batch; left out: the catalogue's", examples=["20 %"]
    )
    sheet: Share | None = Field(
        None, description="from sheet to sheet, or length to length; left out: the catalogue's", examples=["15 %"]
    )


class SheetStock(Table):
    """Sold as sheet. [mm], areal [g/m2], density [kg/m3]."""

    kind: Literal["sheet"]
    of: Words = Field(description="material, a name in the catalogue", examples=["balsa"])
    thickness: Thin = Field(description="thickness of the sheet", examples=["3 mm"])
    size: tuple[Size, Size] | None = Field(None, description="[length, width] of one sheet", examples=[[1000, 100]])
    grain: Literal["long", "across"] | None = Field(None, description="grain along the sheet's length, or across it")
    neutral: Share = Field(
        0.5, description="depth at which the sheet neither stretches nor shrinks as it bends, share of its thickness"
    )
    areal: Areal | None = Field(None, description="your own mass per area; not beside `density`")
    density: Density | None = Field(None, description="your own density; left out: the catalogue's")
    cut: Literal["laser", "knife", "saw"] | None = Field(
        None, description="by what it is cut; left out: what the catalogue says. No laser where shops refuse it"
    )
    count: Count | None = Field(None, description="sheets at hand; left out: as many as it takes", examples=[2])
    price: Price | None = Field(None, description="of one sheet", examples=[6.8])
    offcuts: tuple[tuple[Size, Size], ...] = Field(
        (), max_length=50, description="what is left of other sheets, laid first: [length, width] of each, as the grain"
    )
    spares: Spares = Field(0, description="of each part cut from it, so many more")
    spread: Spread | None = Field(None, description="how far sheets differ in mass")
    strength: SheetStrength | None = Field(None, description="what you tested of it; left out: the catalogue's")


class LengthStock(Table):
    """Sold by length: round (outside, inside) or flat (width, height). [mm], linear [g/m], density [kg/m3]."""

    kind: Literal["length"]
    of: Words = Field(description="material, a name in the catalogue", examples=["carbon tube"])
    outside: Small | None = Field(None, description="outside diameter of a tube or rod", examples=["10 mm"])
    inside: Small | None = Field(None, description="inside diameter of a tube", examples=["8 mm"])
    width: Small | None = Field(None, description="of a strip: along the chord", examples=["3 mm"])
    height: Small | None = Field(None, description="of a strip: across the chord", examples=["6 mm"])
    length: Size | None = Field(None, description="length of one piece as sold", examples=["1 m"])
    linear: LinearSpread | None = Field(None, description="your own mass per length; not beside `density`")
    density: Density | None = Field(None, description="your own density; left out: the catalogue's")
    count: Count | None = Field(None, description="lengths at hand; left out: as many as it takes", examples=[2])
    price: Price | None = Field(None, description="of one length", examples=[4.2])
    spares: Spares = Field(0, description="of each piece cut from it, so many more")
    spread: Spread | None = Field(None, description="how far lengths differ in mass")
    strength: LengthStrength | None = Field(None, description="what you tested of it; left out: the catalogue's")

    @property
    def round(self) -> bool:
        """Whether it is a tube or rod."""
        return self.outside is not None


class PieceStock(Table):
    """Sold by the piece. mass [g]."""

    kind: Literal["piece"]
    of: Words | None = Field(None, description="what it is")
    mass: Mass = Field(description="mass of one", examples=["3 g"])
    plus_minus: Share = Field(0.0, description="how far the mass may be out", examples=["10 %"])
    price: Price | None = Field(None, description="of one", examples=[1.5])


Stock = Annotated[
    Annotated[VolumeStock, Tag(f"{TAG}volume")]
    | Annotated[SheetStock, Tag(f"{TAG}sheet")]
    | Annotated[LengthStock, Tag(f"{TAG}length")]
    | Annotated[PieceStock, Tag(f"{TAG}piece")],
    Discriminator(told_by_kind()),
    WrapValidator(leave_gap),
]

"""The maker's shop: [laser], [printer], [paper], [money]."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from geomgen.design.schema.table import Table
from geomgen.design.schema.values import Colour, Feed, Flag, Margin, Play, Screws, Size, Small, Thin, Words


class Colours(Table):
    """Colour of each operation in the cutting files."""

    inside: Colour = Field("red", description="inside cuts, made first")
    outside: Colour = Field("blue", description="outside cuts")
    mark: Colour = Field("green", description="marks and letters")
    reference: Colour = Field("grey", description="lines to look at, not to cut")


class Tabs(Table):
    """Bridges that hold each part in its sheet. [mm]."""

    width: Small = Field(description="what is left of the material, along the cut", examples=["0.4 mm"])
    least: Screws = Field(2, description="of each part; long ones have more")


class Laser(Table):
    """The maker's own laser, and how sheets are laid for it. [mm], speed [mm/s]."""

    bed: tuple[Size, Size] | None = Field(None, description="[width, depth] of its bed", examples=[[600, 400]])
    kerf: dict[str, Play] = Field(default_factory=dict, max_length=200, description="width of the cut, by stock")
    colour: Colours = Field(default_factory=Colours, description="colour of each operation")
    gap: Margin = Field(3.0, description="between two parts on a sheet, after they are cut")
    edge: Margin = Field(2.0, description="between a part and its sheet's edge")
    in_holes: Flag = Field(False, description="small parts may lie in the holes of large ones")
    speed: dict[str, Feed] = Field(
        default_factory=dict, max_length=200, description="of the head while it cuts, by stock, for minutes"
    )
    done: tuple[Words, ...] = Field(
        (), max_length=200, description="sheets that are cut already, by name: their parts stay", examples=[["ply_2 1"]]
    )
    tabs: Tabs | None = Field(None, description="bridges that hold parts in their sheet; left out: none")


class Printer(Table):
    """The maker's own printer. [mm]."""

    bed: tuple[Size, Size] | None = Field(None, description="[width, depth] of its bed", examples=[[256, 256]])
    line: Thin = Field(0.45, description="width of one printed line")
    layer: Thin = Field(0.2, description="height of a printed layer")


class Paper(Table):
    """What templates are printed on. [mm]."""

    size: Literal["A4", "A3", "Letter", "roll"] | None = Field(
        None, description="of a sheet, or a roll; left out: A4, in a design in inches Letter"
    )
    width: Size | None = Field(None, description="of a roll; left out: 914 mm", examples=["610 mm"])
    overlap: Margin = Field(12.0, description="of two pages that are joined")


class Money(Table):
    """What prices are in."""

    of: Words = Field(description="its name", examples=["EUR"])

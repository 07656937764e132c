"""The whole design, as its file has it."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from geomgen.design.schema.balance import Balance
from geomgen.design.schema.blade import MOST, Blade
from geomgen.design.schema.hub import Pitch, PrintedHub
from geomgen.design.schema.outfit import Fan, Fitting, Glue, Pack, Wire
from geomgen.design.schema.place import Place
from geomgen.design.schema.rotor import Duty, Rotor
from geomgen.design.schema.shop import Laser, Money, Paper, Printer
from geomgen.design.schema.spar import on_axis
from geomgen.design.schema.stock import SheetStock, Stock
from geomgen.design.schema.strength import Holding
from geomgen.design.schema.table import Table
from geomgen.design.schema.values import Words, refuse


def _whole(value: Any) -> Any:
    if type(value) is not int:  # true and 1.0 would pass for 1
        raise refuse("is not a whole number", "1")
    return value


class Design(Table):
    """One design, checked. Attribute names are the file's keys; lengths [mm], angles [deg], masses [g]."""

    schema_: Annotated[Literal[1], BeforeValidator(_whole)] = Field(
        alias="schema", description="version of these keys", examples=[1]
    )
    title: Words = Field(description="what it is called", examples=["My first rotor"])
    units: Literal["mm", "cm", "m", "in", "ft"] | None = Field(
        None, description="what a bare length means; left out: every length carries its unit", examples=["mm"]
    )
    weighed: Words | None = Field(
        None, description="your form of what the scale said once it was built, CSV: `geomgen weigh --blank` writes one"
    )
    rotor: Rotor = Field(description="the rotor as a whole")
    duty: Duty = Field(description="what it is for")
    blade: Blade = Field(description="one blade; all are alike")
    pitch: Pitch = Field(description="how pitch is set and locked")
    hub: PrintedHub = Field(description="the hub")
    balance: Balance = Field(default_factory=Balance, description="what it is balanced to, and with what")
    strength: Holding = Field(default_factory=Holding, description="by how much it is to hold")
    wire: dict[str, Wire] = Field(default_factory=dict, max_length=MOST, description="wires along a blade, by name")
    fitting: dict[str, Fitting] = Field(default_factory=dict, max_length=MOST, description="bought things, by name")
    fan: dict[str, Fan] = Field(default_factory=dict, max_length=MOST, description="what fans do, by name")
    pack: dict[str, Pack] = Field(default_factory=dict, max_length=MOST, description="what packs hold, by name")
    glue: Glue | None = Field(None, description="glue")
    laser: Laser = Field(default_factory=Laser, description="your laser")
    printer: Printer = Field(default_factory=Printer, description="your printer")
    paper: Paper = Field(default_factory=Paper, description="what full-size templates are printed on")
    money: Money | None = Field(None, description="what prices are in")
    stock: dict[str, Stock] = Field(max_length=MOST, description="what parts are made of, by name")

    def r(self, place: Place) -> float:
        """The r of a place.

        place   : as written in the design; its name, if any, exists (the rules see to that)
        returns : distance from the rotor axis [mm]
        """
        if place.mm is not None:
            return place.mm
        if place.share is not None:
            return place.share * self.rotor.radius
        if place.name in ("root", "tip", "hub"):
            return {"root": self.rotor.root, "tip": self.frame_end, "hub": self.hub.bay.radius}[place.name]
        return self.r(self.fitting[place.name or ""].at)

    def sheet(self, name: str) -> SheetStock:
        """A stock that parts are cut from; the rules see to it that it is sheet."""
        sheet = self.stock[name]
        assert isinstance(sheet, SheetStock)
        return sheet

    @property
    def frame_end(self) -> float:
        """Where ribs, skins and spars end at the latest: the radius, less what a shaped tip takes [mm]."""
        tip = self.blade.tip
        return self.rotor.radius if tip is None or tip.kind == "square" else self.rotor.radius - (tip.depth or 0.0)

    @property
    def main_spar(self) -> str:
        """Name of the one spar on the feather axis."""
        return next(name for name, spar in self.blade.spar.items() if on_axis(spar))

"""The models of the design file. One file for each group of tables; `design.py` holds the whole."""

from geomgen.design.schema.blade import (
    Blade,
    Channel,
    Doubler,
    Entry,
    Exit,
    Feather,
    Jig,
    Lighten,
    Passes,
    Ribs,
    Skin,
    Tip,
)
from geomgen.design.schema.construction import (
    CapStrips,
    Construction,
    Core,
    Covered,
    EdgeStock,
    Folded,
    FoldLines,
    Ribbed,
    Sheeted,
)
from geomgen.design.schema.design import Design
from geomgen.design.schema.hub import Bay, Cap, Collar, Fixing, Pin, Pitch, PrintedHub, Socket
from geomgen.design.schema.outfit import Colours, Fitting, Glue, Laser, Mount, Printer, Wire
from geomgen.design.schema.place import NAMED_PLACES, Place
from geomgen.design.schema.rotor import Air, Duty, Rotor
from geomgen.design.schema.section import SectionSpec
from geomgen.design.schema.spar import AnySpar, BoxSpar, CapSpar, Joint, Run, Spar, UprightSpar, Webs
from geomgen.design.schema.stock import LengthStock, PieceStock, SheetStock, Stock, VolumeStock
from geomgen.design.schema.values import HALVES, Half, Spread

__all__ = [
    "HALVES", "NAMED_PLACES", "Air", "AnySpar", "Bay", "Blade", "BoxSpar", "Cap", "CapSpar", "CapStrips", "Channel",
    "Collar", "Colours", "Construction", "Core", "Covered", "Design", "Doubler", "Duty", "EdgeStock", "Entry", "Exit",
    "Feather", "Fitting", "Fixing", "FoldLines", "Folded", "Glue", "Half", "Jig", "Joint", "Laser", "LengthStock",
    "Lighten", "Mount", "Passes", "PieceStock", "Pin", "Pitch", "Place", "PrintedHub", "Printer", "Ribbed", "Ribs",
    "Rotor", "Run", "SectionSpec", "SheetStock", "Sheeted", "Skin", "Socket", "Spar", "Spread", "Stock", "Tip",
    "UprightSpar", "VolumeStock", "Webs", "Wire",
]  # fmt: skip

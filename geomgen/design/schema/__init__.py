"""The models of the design file. One file for each group of tables; `design.py` holds the whole."""

from geomgen.design.schema.blade import Blade, Channel, Entry, Feather, Lighten, Passes, Ribbed, Ribs, Skin, Spar
from geomgen.design.schema.design import Design
from geomgen.design.schema.hub import Bay, Cap, Collar, Fixing, Pin, Pitch, PrintedHub, Socket
from geomgen.design.schema.outfit import Colours, Fitting, Glue, Laser, Printer, Wire
from geomgen.design.schema.place import NAMED_PLACES, Place
from geomgen.design.schema.rotor import Air, Duty, Rotor
from geomgen.design.schema.section import SectionSpec
from geomgen.design.schema.stock import LengthStock, PieceStock, SheetStock, Stock, VolumeStock
from geomgen.design.schema.values import Spread

__all__ = [
    "NAMED_PLACES", "Air", "Bay", "Blade", "Cap", "Channel", "Collar", "Colours", "Design", "Duty", "Entry", "Feather",
    "Fitting", "Fixing", "Glue", "Laser", "LengthStock", "Lighten", "Passes", "PieceStock", "Pin", "Pitch", "Place",
    "PrintedHub", "Printer", "Ribbed", "Ribs", "Rotor", "SectionSpec", "SheetStock", "Skin", "Socket", "Spar", "Spread",
    "Stock", "VolumeStock", "Wire",
]  # fmt: skip

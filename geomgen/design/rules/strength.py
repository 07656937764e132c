"""Rules of what a stock's maker states of its strength."""

from __future__ import annotations

from geomgen.design.keypath import KeyPath
from geomgen.design.rules.tools import Faults, fault, guarded
from geomgen.design.schema.design import Design
from geomgen.design.schema.stock import PieceStock, VolumeStock
from geomgen.design.schema.strength import LengthStrength
from geomgen.figures import figure
from geomgen.materials import catalogue

STIFFER = 5.0  # times its strength, at the least: what breaks at a strain of 20 % is no structure


def strength(design: Design) -> Faults:
    """What a maker states is of what it can be stated of, and its modulus is far above its strength."""
    for name, stock in design.stock.items():
        if isinstance(stock, PieceStock) or stock.strength is None:
            continue
        path: KeyPath = ("stock", name, "strength")
        kinds = {catalogue.find(one).kind for one in catalogue.meant(stock.of)}
        if not isinstance(stock, VolumeStock):  # soft plastics are no stiffer than that
            yield from guarded(_stiff(path, stock.strength))
        if isinstance(stock, VolumeStock) and kinds == {"foam"} and stock.strength.thread is not None:
            yield fault((*path, "thread"), f"no screw cuts a thread into {stock.of}", remedy="leave it out")


def _stiff(path: KeyPath, stated: LengthStrength) -> Faults:
    """A modulus in GPa that is written in MPa is told."""
    for modulus, strength in (("modulus", stated.tension), ("shear_modulus", stated.shear)):
        stiff = getattr(stated, modulus)
        if stiff is not None and strength is not None and stiff.typical < STIFFER * strength.typical:
            wrong = f"is hardly more than what it breaks at, {figure('MPa', strength.typical)}"
            yield fault((*path, modulus), wrong, remedy="GPa, or MPa?")

"""A blade's cross-section as something that bends and twists: which pieces carry, and which of them as one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from geomgen.arrays import FloatArray
from geomgen.model.joint import Key


@dataclass(frozen=True, eq=False)
class Piece:
    """One thing that runs along the blade through a cross-section.

    key         : the part it is of
    stock       : its stock
    area_mm2    : of the cross-section [mm2]
    centre      : (2,) forward of the feather axis and up, in the blade frame at the reference pitch [mm]
    second      : (2, 2) own second moments about that centre: [[int y2, int yz], [int yz, int z2]] [mm4]
    torsion_mm4 : own torsion constant J [mm4]
    rim         : (n, 2) places where its stress is greatest: corners of a strip, points round a tube [mm]
    modulus_mpa : stretched or pressed, (low, typical, high) [MPa]
    shear_mpa   : shear modulus, (low, typical, high) [MPa]
    bends_with  : pieces of one number bend as one body; others side by side, each by itself
    """

    key: Key
    stock: str
    area_mm2: float
    centre: FloatArray
    second: FloatArray
    torsion_mm4: float
    rim: FloatArray
    modulus_mpa: tuple[float, float, float]
    shear_mpa: tuple[float, float, float]
    bends_with: int


@dataclass(frozen=True, eq=False)
class Cell:
    """A closed cell that resists twist, by Bredt.

    area_mm2 : within its middle line [mm2]
    walls    : (part, length of the middle line [mm], thickness [mm], (low, typical, high) shear modulus [MPa]) of each
    seams    : glue lines that close it: joint's key path and how wide each is along the section [mm]
    """

    area_mm2: float
    walls: tuple[tuple[Key, float, float, tuple[float, float, float]], ...]
    seams: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, eq=False)
class CrossSection:
    """All that carries at one radius.

    r_mm     : [mm]
    pieces   : what carries along the blade; that which goes on to the hub bends with number 0, where it is there
    cells    : what is closed
    taken_up : how much of their share of bending what bends with other numbers has: it has none at the root rib, and
               ribs hand it on from there to the next one [-]
    over     : and how much more than that at most: about the second rib it is bent past its share [-]
    together : how much of what pulling on one and pressing another adds to bending forward there is, see `abreast` [-]
    """

    r_mm: float
    pieces: tuple[Piece, ...]
    cells: tuple[Cell, ...]
    taken_up: float = 1.0
    over: float = 1.0
    together: float = 0.0


@dataclass(frozen=True, eq=False)
class Stiffness:
    """What cross-sections come to, at typical moduli; (k, ...) by radius, in the blade frame at the reference pitch.

    r_mm   : (k,) [mm]
    ea_n   : (k,) stretching stiffness [N]
    ei_nm2 : (k, 2, 2) bending stiffness [[int E y2, int E yz], [., int E z2]], y forward, z up [N m2]
    gj_nm2 : (k,) twisting stiffness [N m2]
    centre : (k, 2) place about which it bends, forward and up [mm]
    share  : part -> (k,) share of the bending in flap that it takes by itself or with what it bends with [-]
    """

    r_mm: FloatArray
    ea_n: FloatArray
    ei_nm2: FloatArray
    gj_nm2: FloatArray
    centre: FloatArray
    share: Mapping[Key, FloatArray]

"""The record that every room below consumes: one different part, with all its places in the rotor."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from geomgen.arrays import FloatArray
from geomgen.model.joint import Key
from geomgen.model.label import Label
from geomgen.model.role import Assembly, Role
from geomgen.plane.path import Path
from geomgen.plane.region import Region


@dataclass(frozen=True)
class Text:
    """Letters to engrave.

    text      : what to write
    at        : (2,) middle of the text's box in the part's own frame [mm]
    height_mm : height of a capital [mm]
    turn_deg  : angle of the base line, anticlockwise [deg]
    """

    text: str
    at: tuple[float, float]
    height_mm: float
    turn_deg: float = 0.0

    def mirrored_x(self) -> Text:
        """The same letters, to be read as before, on the mirrored part; a base line that stands upright stays so."""
        turn = self.turn_deg if abs(abs(self.turn_deg) - 90.0) < 1e-6 else -self.turn_deg
        return replace(self, at=(-self.at[0], self.at[1]), turn_deg=turn)


@dataclass(frozen=True)
class Flat:
    """Cut from a sheet: a region times a thickness, with what is engraved on the face that is drawn.

    region       : outline and holes in the part's own frame [mm]
    thickness_mm : sheet thickness [mm]
    marks        : open or closed paths to engrave, not cut [mm]
    texts        : letters to engrave
    reference    : paths drawn to look at, neither cut nor engraved (section line, chord line) [mm]
    face         : which face is drawn, "root side" or "tip side"; "" where it does not matter
    corners      : places of the outline's named corners, name -> (x, y) [mm]
    stays        : what is left of it in the craft where some is cut off again (feet); None where all of it stays
    grain        : direction of the grain on the part, degrees anticlockwise from its x; None where it has none
    label        : what is to be lettered on it, where that isn't in `texts` and `marks` yet
    """

    region: Region
    thickness_mm: float
    marks: tuple[Path, ...] = ()
    texts: tuple[Text, ...] = ()
    reference: tuple[Path, ...] = ()
    face: str = ""
    corners: tuple[tuple[str, tuple[float, float]], ...] = ()
    stays: Region | None = None
    grain: float | None = None
    label: Label = field(default_factory=Label)

    @property
    def weighed(self) -> Region:
        """What of it is in the craft."""
        return self.region if self.stays is None else self.stays

    def mirrored_x(self) -> Flat:
        """The part seen from its other side, x becomes -x: letters at their mirrored places, as they are."""
        return replace(
            self,
            region=self.region.mirrored_x(),
            stays=None if self.stays is None else self.stays.mirrored_x(),
            marks=tuple(mark.mirrored_x() for mark in self.marks),
            reference=tuple(line.mirrored_x() for line in self.reference),
            texts=tuple(text.mirrored_x() for text in self.texts),
            corners=tuple((name, (-x, y)) for name, (x, y) in self.corners),
            label=self.label.mirrored(),
        )


@dataclass(frozen=True)
class Solid:
    """Printed: a frozen specification from which `printing` builds the exact solid, late.

    spec : frozen record of numbers and names only; equal specs make equal solids
    """

    spec: Any


@dataclass(frozen=True)
class Length:
    """A length of bought stock: tube, rod, strip, wire.

    length_mm : cut length [mm]
    """

    length_mm: float


@dataclass(frozen=True)
class Shaped:
    """Planed or cut to a shape along a length of stock.

    length_mm  : length it takes of the stock [mm]
    volume_mm3 : what is left of it [mm3]
    """

    length_mm: float
    volume_mm3: float


@dataclass(frozen=True)
class Area:
    """An area of sheet or glue that is not drawn.

    area_mm2 : area [mm2]
    """

    area_mm2: float


@dataclass(frozen=True)
class Bought:
    """A bought piece; its mass is the design file's word.

    mass_g : (low, typical, high) mass of one [g]
    """

    mass_g: tuple[float, float, float]

    @classmethod
    def about(cls, mass_g: float, plus_minus: float = 0.0) -> Bought:
        """A stated mass [g], and its share of doubt [-]."""
        return cls((mass_g * (1 - plus_minus), mass_g, mass_g * (1 + plus_minus)))


Shape = Flat | Solid | Length | Shaped | Area | Bought


@dataclass(frozen=True, eq=False)
class Part:
    """One different part.

    name   : "rib R3", "skin all", "hub"
    role   : what it is
    stock  : name of the [stock.*] table it is made of; "" for bought parts
    path   : key path of the design table it came from
    shape  : Flat | Solid | Length | Shaped | Area | Bought
    assembly : of each blade one set, of the hub once, or of the bench: an aid to build by, never weighed
    count  : how many of it in one blade, or on the hub
    spread : (n, 4) shares of one set's mass and where they sit: share [-] (sum 1), then x out, y forward, z up
             in the blade frame at the reference pitch [mm]; in the rotor frame for what is of the hub.
             Chosen so that sums of share, share·x, share·y, share·z and share·x·y are exact.
    places : 4x4 matrices, part frame to blade frame (or to rotor frame on the hub), one for each of `count`
    r_mm   : station of a rib [mm]; None for others
    notes  : what the maker should know of it ("spar hole cut as an ellipse 10.1 x 10.0 mm")
    facts  : figures worth a line in the manifest (chord_mm, skin depth, ...)
    mark   : what tells it from others of its role and table, see `Key`
    """

    name: str
    role: Role
    stock: str
    path: str
    shape: Shape
    assembly: Assembly
    count: int
    spread: FloatArray
    places: tuple[FloatArray, ...] = ()
    r_mm: float | None = None
    notes: tuple[str, ...] = ()
    facts: dict[str, float] = field(default_factory=dict)
    mark: tuple[str | int, ...] = ()

    @property
    def key(self) -> Key:
        """Which part it is, whatever it is called."""
        return Key(self.role, self.path, self.mark)

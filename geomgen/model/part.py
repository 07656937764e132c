"""The record that every room below consumes: one different part, with all its places in the rotor."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from geomgen.arrays import FloatArray
from geomgen.model.joint import Key
from geomgen.model.label import Label
from geomgen.model.role import Assembly, Role
from geomgen.plane.path import Loop, Path
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
class Pocket:
    """A blind hole in the drawn face of a printed part.

    loop     : its edge [mm]
    depth_mm : less than the part is thick [mm]
    """

    loop: Loop
    depth_mm: float


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
    pockets      : blind holes in the drawn face
    folds        : those of its marks that it is folded along [mm]
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
    pockets: tuple[Pocket, ...] = ()
    folds: tuple[Path, ...] = ()

    @property
    def drawn_face(self) -> Region:
        """What is left of the face that is drawn."""
        return Region(self.region.outer, (*self.region.holes, *(pocket.loop for pocket in self.pockets)))

    @property
    def weighed(self) -> Region:
        """What of it is in the craft."""
        return self.region if self.stays is None else self.stays

    @property
    def volume_mm3(self) -> float:
        """Volume of what is weighed, blind holes taken out; what is engraved is not [mm3]."""
        return self.weighed.area() * self.thickness_mm - sum(volume for _, _, volume, _ in self._taken())

    def centroid(self) -> tuple[float, float, float]:
        """Of that volume, z up to the drawn face from the middle of its thickness [mm]."""
        x, y = self.weighed.centroid()
        whole = (x, y, self.weighed.area() * self.thickness_mm, 0.0)
        moments = [whole, *((x, y, -volume, z) for x, y, volume, z in self._taken())]
        total = self.volume_mm3
        sums = [sum(row[2] * row[k] for row in moments) / total for k in (0, 1, 3)]
        return sums[0], sums[1], sums[2]

    def _taken(self) -> list[tuple[float, float, float, float]]:
        """x, y, volume, and z of the middle of each blind hole."""
        regions = [(Region(pocket.loop), pocket.depth_mm) for pocket in self.pockets]
        return [(*hole.centroid(), hole.area() * deep, (self.thickness_mm - deep) / 2) for hole, deep in regions]

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
            pockets=tuple(replace(pocket, loop=pocket.loop.mirrored_x()) for pocket in self.pockets),
            folds=tuple(fold.mirrored_x() for fold in self.folds),
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
    second : (3, 3) mean of place times place over one set's mass, about its centre, in the frame of `spread` [mm2];
             None where `spread` has it, or a flat shape or a solid in its places
    places : 4x4 matrices, part frame to blade frame (or to rotor frame on the hub), one for each of `count`
    r_mm   : station of a rib [mm]; None for others
    notes  : what the maker should know of it ("spar hole cut as an ellipse 10.1 x 10.0 mm"); figures in it are marked,
             see `geomgen.figures`, until it is lettered
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
    second: FloatArray | None = None

    @property
    def key(self) -> Key:
        """Which part it is, whatever it is called."""
        return Key(self.role, self.path, self.mark)

"""The blade: chord, angle, section and feather axis as functions of radius, straight between the design's entries."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.station import Station, height_mm
from geomgen.design.schema import Design, Folded, SectionSpec
from geomgen.errors import DesignError, Fault, MakeError
from geomgen.figures import mm
from geomgen.section.blend import blend_many
from geomgen.section.folding import Folds, folded
from geomgen.section.section import Section, heights


@dataclass(frozen=True, eq=False)
class Column:
    """One quantity along r, straight between its entries and constant beyond them.

    r_mm   : (n,) radii [mm], rising
    values : (n,) the quantity there
    """

    r_mm: FloatArray
    values: FloatArray

    def at(self, r_mm: float | FloatArray) -> FloatArray:
        """The quantity at one or many radii."""
        return np.asarray(np.interp(r_mm, self.r_mm, self.values))


@dataclass(frozen=True)
class Fold:
    """How one sheet is folded into the blade.

    upper, lower   : chord shares of the score lines, from the nose [-]
    nose_radius_mm : outer radius its nose is rolled to, the same all along [mm]
    """

    upper: tuple[float, ...]
    lower: tuple[float, ...]
    nose_radius_mm: float

    def of(self, section: Section, chord_mm: float, r_mm: float) -> Section:
        """The section that the sheet makes of a wanted one; raises MakeError where it can't."""
        path, folds = "blade.construction", Folds(self.upper, self.lower, self.nose_radius_mm / chord_mm, chord_mm)
        try:
            return folded(section, folds, f"{path}.folds")
        except MakeError as error:
            where = f"at r {mm(r_mm, 0)}, on {mm(chord_mm, 0)} of chord, "
            raise MakeError(
                replace(
                    fault,
                    path=f"{path}.nose_radius" if "rolled" in fault.wrong else fault.path,
                    wrong=where + fault.wrong,
                )
                for fault in error.faults
            ) from None


@dataclass(frozen=True, eq=False)
class Blade:
    """One blade of an anticlockwise rotor at its reference pitch.

    root_mm, radius_mm : where the section begins and ends, short of a shaped tip [mm]
    chord              : chord [mm]
    angle              : twist against the reference station [deg]
    offset             : how far the section is moved forward of its place on the axis [mm]
    sections           : (radius [mm], section) in order of radius
    axis_chord         : chord fraction of the feather axis before `offset` [-]
    axis_height        : "camber", "chord" or height above the chord line [mm]
    fold               : how a sheet is folded into the section, as far as it can; None where the section is as wanted
    """

    root_mm: float
    radius_mm: float
    chord: Column
    angle: Column
    offset: Column
    sections: tuple[tuple[float, Section], ...]
    axis_chord: float
    axis_height: str | float
    fold: Fold | None = None

    def station(self, r_mm: float) -> Station:
        """The placed section at a radius [mm]."""
        return self.stations([r_mm])[0]

    def stations(self, r_mm: Sequence[float] | FloatArray) -> list[Station]:
        """The placed sections at many radii [mm]: those of the entries either side, blended at equal arc length."""
        r = np.asarray(r_mm, dtype=np.float64)
        chord, angle = self.chord.at(r), self.angle.at(r)
        x = self.axis_chord * chord + self.offset.at(r)
        sections = self._sections(r)
        if self.axis_height == "camber" and len(r) > 1:  # one alone is quicker in plain numbers
            upper, lower = heights(sections, (x / chord)[:, None])
            y = 0.5 * (upper + lower)[:, 0] * chord
        else:
            y = np.array([height_mm(s, c, a / c, self.axis_height) for s, c, a in zip(sections, chord, x, strict=True)])
        if self.fold is not None:
            each = zip(sections, chord.tolist(), r.tolist(), strict=True)
            sections = [self.fold.of(section, wide, at) for section, wide, at in each]
        columns = (column.tolist() for column in (r, chord, angle, x, y))
        return [
            Station(at, wide, turned, section, (aft, up))
            for section, at, wide, turned, aft, up in zip(sections, *columns, strict=True)
        ]

    def _sections(self, r: FloatArray) -> list[Section]:
        radii = np.array([radius for radius, _ in self.sections])
        inner = np.clip(np.searchsorted(radii, r, side="right") - 1, 0, len(radii) - 1)
        found: list[Section] = [self.sections[i][1] for i in inner]
        for i in np.unique(inner):
            j = min(i + 1, len(radii) - 1)
            if self.sections[i][1] is self.sections[j][1]:
                continue
            mine = np.flatnonzero((inner == i) & (r > radii[i]))
            shares = (r[mine] - radii[i]) / (radii[j] - radii[i])
            for k, section in zip(mine, blend_many(self.sections[i][1], self.sections[j][1], shares), strict=True):
                found[k] = section
        return found

    def unfolded(self) -> Blade:
        """The blade as it was asked for, before a sheet is folded into it."""
        return replace(self, fold=None)

    def breaks(self) -> FloatArray:
        """(n,) radii between which every column runs straight [mm], root and tip included."""
        entries = np.concatenate(
            [
                self.chord.r_mm,
                self.angle.r_mm,
                self.offset.r_mm,
                [r for r, _ in self.sections],
                [self.root_mm, self.radius_mm],
            ]
        )
        return np.unique(np.clip(entries, self.root_mm, self.radius_mm))


def loft(design: Design, find: Callable[[SectionSpec, str], Section]) -> Blade:
    """The blade of a design.

    design : checked design
    find   : section spec and its key path -> Section (looks in profiles and beside the design)
    raises : DesignError with what `find` says of every section that can't be had
    """
    entries = design.blade.along
    radii = [design.r(entry.at) for entry in entries]

    def column(name: str, default: float | None = None) -> Column:
        given = [(r, getattr(entry, name)) for r, entry in zip(radii, entries, strict=True)]
        kept = [(r, float(value)) for r, value in given if value is not None] or [(radii[0], float(default or 0.0))]
        return Column(np.array([r for r, _ in kept]), np.array([v for _, v in kept]))

    twist = column("twist", 0.0)
    zero = float(twist.at(design.r(design.pitch.zero_at)))
    built = design.blade.construction
    return Blade(
        root_mm=design.rotor.root,
        radius_mm=design.frame_end,
        chord=column("chord"),
        angle=Column(twist.r_mm, twist.values - zero),
        offset=column("offset", 0.0),
        sections=_found(design, radii, find),
        axis_chord=design.blade.feather.chord,
        axis_height=design.blade.feather.height,
        fold=Fold(built.folds.upper, built.folds.lower, built.nose_radius) if isinstance(built, Folded) else None,
    )


def _found(
    design: Design, radii: Sequence[float], find: Callable[[SectionSpec, str], Section]
) -> tuple[tuple[float, Section], ...]:
    """(radius [mm], section) of each entry that names one, each different one found once."""
    sections: dict[SectionSpec, Section] = {}
    placed, faults = [], list[Fault]()
    for i, (r, entry) in enumerate(zip(radii, design.blade.along, strict=True)):
        if entry.section is None:
            continue
        try:
            if entry.section not in sections:
                sections[entry.section] = find(entry.section, f"blade.along[{i}].section")
            placed.append((r, sections[entry.section]))
        except DesignError as error:
            faults.extend(error.faults)
    if faults:
        raise DesignError(faults)
    return tuple(placed)

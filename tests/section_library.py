"""Sections by an independent library: finite elements of warping, `sectionproperties`."""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from sectionproperties.analysis import Section
from sectionproperties.pre import Geometry, Material


@dataclass(frozen=True)
class Meshed:
    """What the library makes of a section: area, second moments about its centroid (y2 and z2), torsion constant."""

    area: float
    over_height: float
    over_width: float
    torsion: float
    section: Section


def meshed(shape: shapely.Polygon, mesh_mm2: float, warping: bool = True) -> Meshed:
    """A section of one material. shape : [mm]"""
    geometry = Geometry(shape)
    geometry.create_mesh([mesh_mm2])
    section = Section(geometry)
    section.calculate_geometric_properties()
    if warping:
        section.calculate_warping_properties()
    over_height, over_width, _ = section.get_ic()
    return Meshed(
        section.get_area(), float(over_height), float(over_width), section.get_j() if warping else 0.0, section
    )


def meshed_of_two(parts: list[tuple[shapely.Polygon, float, float]], mesh_mm2: float) -> Section:
    """A section of several materials: shape, modulus and shear modulus of each [MPa]; G = E / (2 (1 + nu))."""
    whole = None
    for shape, modulus, shear in parts:
        stuff = Material(f"E{modulus} G{shear}", modulus, modulus / (2.0 * shear) - 1.0, 1.0, 1.0, "grey")
        piece = Geometry(shape, material=stuff)
        whole = piece if whole is None else whole + piece
    assert whole is not None
    whole.create_mesh([mesh_mm2])
    section = Section(whole)
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    return section

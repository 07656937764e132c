"""How exact the geometry is, in one record that is passed in, never looked up."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Tolerances:
    """Geometric tolerances of one run.

    chordal_mm    : greatest distance between a cut outline and the curve it stands for [mm]
    kink_deg      : greatest angle between neighbours that should meet in a tangent [deg]
    least_edge_mm : shortest line or arc in a cut outline [mm]
    askew_mm      : a hole met askew by more than this is cut as an ellipse [mm]
    mesh_mm       : greatest distance between a solid and its mesh [mm]
    mesh_deg      : greatest angle between neighbouring facets of a round face [deg]
    volume_share  : greatest relative difference of mesh and exact volume [-]
    """

    chordal_mm: float = 0.01
    kink_deg: float = 0.1
    least_edge_mm: float = 0.2
    askew_mm: float = 0.05
    mesh_mm: float = 0.02
    mesh_deg: float = 5.0
    volume_share: float = 0.002


STANDARD = Tolerances()

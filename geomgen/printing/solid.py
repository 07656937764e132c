"""Printed parts as exact solids: the hub by the kernel, built once and kept by content; flat parts in closed form."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from geomgen.errors import Fault, MakeError
from geomgen.model.part import Flat
from geomgen.printing.hub_solid import hub_solid
from geomgen.printing.keep import fetch, key_of, store
from geomgen.printing.mesh import Mesh, gate, meshed
from geomgen.printing.plate import plate
from geomgen.printing.solid_properties import SolidProperties
from geomgen.root.hub_spec import HubSpec
from geomgen.tolerances import STANDARD, Tolerances

EXACT = 1e-6  # share that the kernel's integral of a volume is refined to; unasked it is good to some 1e-5


def properties(
    shape: HubSpec | Flat, keep: Path | None = None, tol: Tolerances = STANDARD, what: str = "printed part"
) -> SolidProperties:
    """Properties of a printed part, with its mesh.

    shape  : a hub's figures, or a flat part, which lies about z = 0 with its drawn face up
    keep   : folder where solids are kept; None builds anew
    what   : name of the part, for messages
    raises : MakeError, see `solid_of` and `gate`
    """
    if isinstance(shape, HubSpec) and shape.clockwise:
        return properties(replace(shape, clockwise=False), keep, tol, what).mirrored()
    key = key_of(shape, tol)
    if (kept := fetch(keep, key)) is not None:
        return _unpacked(kept)
    made = plate(shape, tol, what) if isinstance(shape, Flat) else _measured(solid_of(shape), tol, what)
    store(keep, key, _packed(made))
    return made


def solid_of(spec: HubSpec) -> Any:
    """The exact solid of a hub, in its own hand.

    raises : MakeError where CadQuery won't load, or the solid isn't one valid body
    """
    shape = hub_solid(spec)
    solids = shape.Solids()
    if len(solids) != 1 or not shape.isValid():
        wrong = f"it comes out as {len(solids)} bodies" if len(solids) != 1 else "its solid isn't valid"
        raise MakeError(Fault("hub", "", wrong, remedy="change a size a little, so that faces don't nearly touch"))
    return solids[0].mirror("XZ") if spec.clockwise else solids[0]


def _measured(solid: Any, tol: Tolerances, what: str) -> SolidProperties:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    volume = GProp_GProps()
    BRepGProp.VolumeProperties_s(solid.wrapped, volume, EXACT, False, False)
    inertia = volume.MatrixOfInertia()
    return SolidProperties(
        volume_mm3=float(volume.Mass()),
        centroid=np.array(volume.CentreOfMass().Coord()),
        inertia=np.array([[inertia.Value(i, j) for j in (1, 2, 3)] for i in (1, 2, 3)]),
        mesh=gate(meshed(solid, tol), float(volume.Mass()), tol, what),
    )


def _packed(made: SolidProperties) -> dict[str, NDArray[Any]]:
    scalars = np.array([made.volume_mm3])
    arrays = {"centroid": made.centroid, "inertia": made.inertia, "vertices": made.vertices, "faces": made.faces}
    return {"scalars": scalars, **arrays}


def _unpacked(kept: dict[str, NDArray[Any]]) -> SolidProperties:
    return SolidProperties(
        float(kept["scalars"][0]), kept["centroid"], kept["inertia"], Mesh(kept["vertices"], kept["faces"])
    )

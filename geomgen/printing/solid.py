"""Printed parts: what their exact solids hold, without a mesh, and their meshes, only where they are asked for.

Flat parts are closed forms. A hub is built by the kernel, once in a process; what is found of it is kept by content.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from geomgen.cache import MISSING, Cache
from geomgen.errors import Fault, MakeError
from geomgen.model.part import Flat, Solid
from geomgen.printing.hub_solid import hub_solid
from geomgen.printing.mesh import Mesh, gate, meshed, mirrored
from geomgen.printing.plate import plate_mesh, plate_properties
from geomgen.printing.solid_properties import SolidProperties
from geomgen.root.hub_spec import HubSpec
from geomgen.tolerances import STANDARD, Tolerances

EXACT = 1e-6  # share that the kernel's integral of a volume is refined to; unasked it is good to some 1e-5
SOLID_BYTES = 2_000_000  # about what the kernel holds of a hub
CODE = (
    "frames.py", "plane", "printing/booleans.py", "printing/faces.py", "printing/hub_solid.py", "printing/mesh.py",
    "printing/solid.py", "root/hub_spec.py", "root/root_face.py", "root/seat.py",
)  # fmt: skip


def properties(shape: Solid | HubSpec | Flat, cache: Cache | None = None) -> SolidProperties:
    """Volume, centroid and inertia of a printed part.

    shape  : a hub, or its figures, or a flat part, which lies about z = 0 with its drawn face up
    cache  : where hubs and what is known of them are kept; None builds anew
    raises : MakeError, see `solid_of`
    """
    if isinstance(shape, Flat):
        return plate_properties(shape)
    if isinstance(shape, Solid):
        return properties(shape.spec, cache)
    if shape.clockwise:
        return properties(replace(shape, clockwise=False), cache).mirrored()
    cache = cache or Cache()
    key = cache.digest("properties", shape, code=CODE)
    if (kept := cache.fetch(key)) is not None:
        return SolidProperties(float(kept["volume_mm3"]), kept["centroid"], kept["inertia"])
    made = _measured(solid_of(shape, cache))
    cache.store(key, {name: np.asarray(value) for name, value in vars(made).items()})
    return made


def mesh_of(
    shape: Solid | HubSpec | Flat, cache: Cache | None = None, tol: Tolerances = STANDARD, name: str = "printed part"
) -> Mesh:
    """The mesh of a printed part; see `properties`.

    name   : of the part, for messages
    raises : MakeError, see `solid_of` and `gate`
    """
    if isinstance(shape, Flat):
        return plate_mesh(shape, tol, name)
    if isinstance(shape, Solid):
        return mesh_of(shape.spec, cache, tol, name)
    if shape.clockwise:
        return mirrored(mesh_of(replace(shape, clockwise=False), cache, tol, name))
    cache = cache or Cache()
    key = cache.digest("mesh", shape, tol, code=CODE)
    if (kept := cache.fetch(key)) is not None:
        return Mesh(kept["vertices"], kept["faces"])
    mesh = gate(meshed(solid_of(shape, cache), tol), properties(shape, cache).volume_mm3, tol, name)
    cache.store(key, {"vertices": mesh.vertices, "faces": mesh.faces})
    return mesh


def solid_of(spec: HubSpec, cache: Cache | None = None) -> Any:
    """The kernel's exact solid of a hub, in its own hand.

    raises : MakeError where CadQuery won't load, or the solid isn't one valid body
    """
    if spec.clockwise:
        return solid_of(replace(spec, clockwise=False), cache).mirror("XZ")
    if cache and (solid := cache.remembered((solid_of, spec))) is not MISSING:
        return solid
    shape = hub_solid(spec)
    solids = shape.Solids()
    if len(solids) != 1 or not shape.isValid():
        wrong = f"it comes out as {len(solids)} bodies" if len(solids) != 1 else "its solid isn't valid"
        raise MakeError(Fault("hub", "", wrong, remedy="change a size a little, so that faces don't nearly touch"))
    if cache:
        cache.remember((solid_of, spec), solids[0], SOLID_BYTES)
    return solids[0]


def _measured(solid: Any) -> SolidProperties:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    volume = GProp_GProps()
    BRepGProp.VolumeProperties_s(solid.wrapped, volume, EXACT, False, False)
    inertia = volume.MatrixOfInertia()
    return SolidProperties(
        volume_mm3=float(volume.Mass()),
        centroid=np.array(volume.CentreOfMass().Coord()),
        inertia=np.array([[inertia.Value(i, j) for j in (1, 2, 3)] for i in (1, 2, 3)]),
    )

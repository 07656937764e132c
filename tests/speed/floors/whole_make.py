"""Floor of a whole make: the kernel's import and the other floors, one after the other in one fresh process.

    python -m floors.whole_make ORDER.json FOLDER

Skins come as grids in space, cutting files as entities. What lies outside: those grids and entities themselves, letters
and where they fit, lightening, the pitch pattern, feet, gauges, the caps' solids, pictures, lists, the order of work,
the manifest.
"""

from __future__ import annotations

import json
import pathlib
import sys

import numpy as np
from floors import dxf, hub, reading, ribs, unroll


def make(order: pathlib.Path, folder: pathlib.Path) -> None:
    """Read the design, draw its ribs, lay its skins flat, write its cutting files, build its hub and write that."""
    asked = json.loads(order.read_text(encoding="utf-8"))
    reading.read(pathlib.Path(asked["design"]))
    row = {**asked["ribs"], "r": np.array(asked["ribs"]["r"])}
    outlines = ribs.outlines(ribs.Row(**row))
    skins = [unroll.flat(np.array(grid)) for grid in asked["skins"]]
    files = {name: dxf.written(**file) for name, file in asked["dxf"].items()}
    solid = hub.built(asked["hub"])
    hub.measured(solid)
    files["hub.stl"] = hub.stl(*hub.meshed(solid, *asked["mesh"]))
    folder.mkdir(parents=True)
    np.save(folder / "ribs.npy", outlines)
    np.savez(folder / "skins.npz", *skins)
    for name, data in files.items():
        (folder / name).write_bytes(data)


if __name__ == "__main__":
    make(*map(pathlib.Path, sys.argv[1:]))

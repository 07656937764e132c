"""Floor of a whole make: the kernel's import and the other floors, one after the other in one fresh process.

    python -m floors.whole_make ORDER.json FOLDER

What lies outside: letters and where they fit, the pitch pattern, the caps' solids, pictures, lists, the manifest.
"""

from __future__ import annotations

import json
import pathlib
import sys

import numpy as np
from floors import dxf, hub, reading, ribs


def make(order: pathlib.Path, folder: pathlib.Path) -> None:
    """Read the design, draw its ribs, write its cutting files, build its hub and write that."""
    asked = json.loads(order.read_text(encoding="utf-8"))
    reading.read(pathlib.Path(asked["design"]))
    row = {**asked["ribs"], "r": np.array(asked["ribs"]["r"])}
    outlines = ribs.outlines(ribs.Row(**row))
    files = {name: dxf.written(**file) for name, file in asked["dxf"].items()}
    solid = hub.built(asked["hub"])
    hub.measured(solid)
    files["hub.stl"] = hub.stl(*hub.meshed(solid, *asked["mesh"]))
    folder.mkdir(parents=True)
    np.save(folder / "ribs.npy", outlines)
    for name, data in files.items():
        (folder / name).write_bytes(data)


if __name__ == "__main__":
    make(*map(pathlib.Path, sys.argv[1:]))

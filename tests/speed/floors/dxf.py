"""Floor: cutting files from entities that are there already, by bare ezdxf."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence

import ezdxf

# one entity: layer; then x, y, radius of a circle, or the vertices of a path and whether it is closed
Circle = tuple[str, tuple[float, float, float]]
Path = tuple[str, Sequence[Sequence[float]], bool]
Bounds = tuple[float, float, float, float]


def written(layers: Mapping[str, tuple[int, bool]], entities: Sequence[Circle | Path], bounds: Bounds) -> bytes:
    """One file: R2000, millimetres, the same bytes each time.

    layers   : name -> colour number, and whether it is plotted
    entities : in their order, figures as they are to stand in the file [mm]
    bounds   : least x, least y, greatest x, greatest y [mm]
    """
    ezdxf.options.write_fixed_meta_data_for_testing = True
    document = ezdxf.new("R2000", units=4)
    document.header["$MEASUREMENT"] = 1
    for name, (colour, plotted) in layers.items():
        document.layers.add(name, color=colour, plot=plotted)
    space = document.modelspace()
    for layer, *what in entities:
        if len(what) == 1:
            x, y, radius = what[0]
            space.add_circle((x, y), radius, dxfattribs={"layer": layer})
        else:
            space.add_lwpolyline(what[0], format="xyb", close=what[1], dxfattribs={"layer": layer})
    space.dxf.extmin, space.dxf.extmax = (*bounds[:2], 0.0), (*bounds[2:], 0.0)
    text = io.StringIO()
    document.write(text)
    data: bytes = document.encode(text.getvalue())
    return data

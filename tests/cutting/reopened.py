"""Sheets for tests, and their files read back by ezdxf: what a round beam leaves when it runs along the paths."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass

import ezdxf
import numpy as np
import shapely
from ezdxf.path import make_path
from known_parts import COLOURS
from shapely import affinity

from geomgen.cutting.sheet_dxf import Cutting, sheet_dxf
from geomgen.model.joint import Key
from geomgen.model.part import Flat
from geomgen.model.role import Role
from geomgen.plane.region import Region
from geomgen.stock.sheets import Laid, Sheet

FINE = 2e-4  # chords of arcs [mm]


@dataclass(frozen=True)
class Line:
    """A path of the file, arcs in chords."""

    layer: str
    closed: bool
    line: shapely.LineString

    @property
    def polygon(self) -> shapely.Polygon:
        assert self.closed
        return shapely.Polygon(self.line.coords)

    @property
    def start(self) -> np.ndarray:
        return np.array(self.line.coords[0])

    @property
    def end(self) -> np.ndarray:
        return np.array(self.line.coords[-1])


def lines(data: bytes, layer: str | None = None) -> list[Line]:
    """All paths in the file's order, or those of one layer."""
    space = ezdxf.read(io.StringIO(data.decode("ascii"))).modelspace()
    found = []
    for entity in space:
        coords = [(v.x, v.y) for v in make_path(entity).flattening(FINE)]
        closed = entity.dxftype() == "CIRCLE" or bool(entity.closed)
        found.append(Line(entity.dxf.layer, closed, shapely.LineString(coords)))
    return [each for each in found if layer in (None, each.layer)]


def kept(data: bytes, kerf: float) -> shapely.Geometry:
    """What stays of the one part in a file when a disc as wide as the kerf has run along all cuts."""
    (outside,) = lines(data, "outside cut")
    inside = lines(data, "inside cut")
    beam = [each.line.buffer(kerf / 2, quad_segs=64) for each in (outside, *inside)]
    return outside.polygon.difference(shapely.union_all([*(each.polygon for each in inside), *beam]))


def key(name: str) -> Key:
    return Key(Role.RIB, name)


def flat_of(region: Region, **more: object) -> Flat:
    return Flat(region, 2.0, **more)  # type: ignore[arg-type]


def on_sheet(
    parts: Sequence[tuple[Flat, tuple[float, float], float]],
    cutting: Cutting,
    size: tuple[float, float] = (600.0, 300.0),
    more: Sequence[str] = (),
    unit: str = "mm",
) -> bytes:
    """The file of a sheet with parts at places and turned by angles [deg]."""
    flats = {(key(str(k)), 0): flat for k, (flat, _, _) in enumerate(parts)}
    laid = tuple(Laid(key(str(k)), 1, at, turn) for k, (_, at, turn) in enumerate(parts))
    sheet = Sheet("ply_2", 3, size, "flies", False, 3.0, 5.0, laid)
    return sheet_dxf(sheet, flats, COLOURS, cutting, more=more, unit=unit)


def lying(shape: shapely.Geometry, at: tuple[float, float], turn: float) -> shapely.Geometry:
    """The same turn and move by shapely."""
    return affinity.translate(affinity.rotate(shape, turn, origin=(0.0, 0.0)), *at)

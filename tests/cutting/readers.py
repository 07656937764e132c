"""DXF read back by readers that didn't write it: OGR's (GDAL), trimesh's, and the file's bare group codes."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass

import pytest
import shapely


def tags(data: bytes) -> list[tuple[int, str]]:
    """Pairs of group code and value, as the file has them."""
    lines = data.decode("ascii").splitlines()
    assert len(lines) % 2 == 0
    return [(int(code), value.strip()) for code, value in zip(lines[::2], lines[1::2], strict=True)]


def header(data: bytes, name: str) -> str:
    """One variable of the header."""
    pairs = tags(data)
    return pairs[pairs.index((9, name)) + 1][1]


@dataclass(frozen=True)
class Entity:
    """kind "LWPOLYLINE", its layer, and all its pairs."""

    kind: str
    layer: str
    pairs: tuple[tuple[int, str], ...]

    def all(self, code: int) -> list[float]:
        return [float(value) for c, value in self.pairs if c == code]


def entities(data: bytes) -> Iterator[Entity]:
    """All of the entities section, in the file's order, from its bare group codes."""
    pairs = tags(data)
    start = pairs.index((2, "ENTITIES")) + 1
    end = pairs.index((0, "ENDSEC"), start)
    heads = [i for i in range(start, end) if pairs[i][0] == 0]
    for head, after in zip(heads, [*heads[1:], end], strict=True):
        own = tuple(pairs[head + 1 : after])
        yield Entity(pairs[head][1], next(value for code, value in own if code == 8), own)


@dataclass(frozen=True)
class Feature:
    """An entity as OGR sees it: closed polylines come as polygons, which it judges by their flag."""

    layer: str
    kind: str
    shape: shapely.Geometry

    @property
    def polygon(self) -> shapely.Polygon:
        return self.shape if self.shape.geom_type == "Polygon" else shapely.Polygon(self.shape.coords)


def by_ogr(data: bytes) -> list[Feature]:
    """All entities in order, arcs and circles in chords of 0.1 deg."""
    pyogrio = pytest.importorskip("pyogrio")
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.1", "DXF_CLOSED_LINE_AS_POLYGON": "YES"})
    meta, _, shapes, fields = pyogrio.raw.read(data, layer="entities")
    found = dict(zip(meta["fields"], fields, strict=True))
    kinds = [classes.rsplit(":AcDb", 1)[-1] for classes in found["SubClasses"]]
    return [Feature(*each) for each in zip(found["Layer"], kinds, shapely.from_wkb(shapes), strict=True)]


def by_trimesh(data: bytes):  # type: ignore[no-untyped-def]
    """trimesh's path; its closed rings are `polygons_closed`, arcs in chords of its own choice."""
    trimesh = pytest.importorskip("trimesh")
    return trimesh.load_path(io.BytesIO(data), file_type="dxf")

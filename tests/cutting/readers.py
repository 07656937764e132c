"""DXF read back by readers that didn't write it: OGR's (GDAL), trimesh's, and the file's bare group codes."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
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
    """trimesh's path of lines and arcs."""
    trimesh = pytest.importorskip("trimesh")
    return trimesh.load_path(io.BytesIO(data), file_type="dxf")


def trimesh_rings(path) -> list[tuple[float, float, float]]:  # type: ignore[no-untyped-def]
    """Area and middle of the box of every closed ring, from trimesh's own lines and three-point arcs in closed form."""
    rings = []
    for members in path.paths:
        points, round_parts = [], 0.0
        for entity in (path.entities[k] for k in members):
            drawn = entity.discrete(path.vertices)
            if type(entity).__name__ != "Arc":
                points += list(drawn[:-1])
                continue
            arc = entity.center(path.vertices)
            if entity.closed:
                rings.append((np.pi * arc.radius**2, *arc.center[:2]))
                continue
            start, middle, end = drawn[0], path.vertices[entity.points[1]], drawn[-1]
            points += [start, middle]
            half = np.array((middle - start, end - middle))
            angle = 2.0 * np.arcsin(0.5 * np.hypot(*half.T) / arc.radius)
            left = np.sign(half[0, 0] * half[1, 1] - half[0, 1] * half[1, 0])
            round_parts += left * float((0.5 * arc.radius**2 * (angle - np.sin(angle))).sum())
        if points and np.allclose(path.entities[members[0]].discrete(path.vertices)[0], drawn[-1]):
            x, y = np.array(points).T
            straight = 0.5 * float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
            rings.append((abs(straight + round_parts), 0.5 * (x.min() + x.max()), 0.5 * (y.min() + y.max())))
    return rings

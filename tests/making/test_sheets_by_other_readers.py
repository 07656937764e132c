"""Files of sheets through readers that didn't write them: GDAL's of DXF, and an XML parser of pictures."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
import shapely

from geomgen.craft import Craft
from geomgen.making.output import Output
from geomgen.making.sheet_files import add_sheets

KERF = {"ply_2": 0.18, "balsa_3": 0.15}  # as the demo states them
SIZES = {"ply_2": (600, 300), "ply_3": (600, 300), "balsa_3": (1000, 100), "foam_sheet_2": (1000, 700)}


@pytest.fixture(scope="module")
def made(lantern: Craft) -> Output:
    files = Output()
    add_sheets(lantern, files, {})
    return files


def by_gdal(data: bytes) -> dict[str, list[shapely.Polygon]]:
    """Closed lines of each layer as polygons, arcs in chords of 0.1 deg."""
    pyogrio = pytest.importorskip("pyogrio")
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.1", "DXF_CLOSED_LINE_AS_POLYGON": "YES"})
    meta, _, shapes, fields = pyogrio.raw.read(data, layer="entities")
    layers = fields[list(meta["fields"]).index("Layer")]
    found: dict[str, list[shapely.Polygon]] = {}
    for layer, shape in zip(layers, shapely.from_wkb(shapes), strict=True):
        ring = shape if shape.geom_type == "Polygon" else None
        if ring is None and shape.coords[0] == shape.coords[-1] and len(shape.coords) > 3:
            ring = shapely.Polygon(shape.coords)
        if ring is not None:
            found.setdefault(layer, []).append(ring)
    return found


def sheets(made: Output) -> dict[str, bytes]:
    return {name: data for name, data in made.files.items() if name.endswith(".dxf")}


def test_gdal_finds_each_part_once_on_its_sheet_and_as_large_as_drawn(lantern: Craft, made: Output) -> None:
    """Outlines with half the kerf taken off again, holes with half of it put on, add up to the parts' areas."""
    total, parts = dict.fromkeys(SIZES, 0.0), dict.fromkeys(SIZES, 0)
    for name, data in sheets(made).items():
        stock = name.rpartition("/")[2].rpartition("_")[0]
        half = KERF.get(stock, 0.0) / 2.0 if "/laser/" in name else 0.0
        rings = by_gdal(data)
        sheet = max(rings["reference"], key=lambda ring: ring.area)
        assert sheet.bounds == pytest.approx((0, 0, *SIZES[stock]), abs=1e-6)
        for outline in rings["outside cut"]:
            assert sheet.contains(outline)
            own = outline.buffer(-half, quad_segs=32)
            holes = [hole for hole in rings.get("inside cut", []) if outline.contains(hole)]
            total[stock] += own.area - sum(hole.buffer(half, quad_segs=32).area for hole in holes)
            parts[stock] += 1
    blades = lantern.design.rotor.blades
    for stock in SIZES:
        mine = [part for part in lantern.finished if part.stock == stock]
        counts = [part.count * (blades if part.assembly == "blade" else 1) for part in mine]
        assert parts[stock] == sum(counts)
        areas = [count * part.shape.region.area() for part, count in zip(mine, counts, strict=True)]  # type: ignore[union-attr]
        assert total[stock] == pytest.approx(sum(areas), rel=1e-4)


def test_a_picture_has_every_part_within_the_sheet(made: Output) -> None:
    """Read as XML: as many shapes of wood as the file has outlines; the view is the sheet with a margin."""
    for name, data in sheets(made).items():
        stem = name.rpartition("/")[2].removesuffix(".dxf")
        picture = ElementTree.fromstring(made.files[f"pictures/sheets/{stem}.svg"])
        woody = [each for each in picture.iter() if "wood-fill" in each.get("class", "")]
        assert len(woody) == len(by_gdal(data)["outside cut"])
        _, _, wide, high = map(float, picture.get("viewBox", "").split())
        long, across = SIZES[stem.rpartition("_")[0]]
        assert 0 < wide - long == pytest.approx(high - across, abs=1e-6)

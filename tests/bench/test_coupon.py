"""Coupons by what is printed: holes measured on the mesh read back from its file, each against the figure below it.

Pins and spars are read off the examples' own files by hand: lantern 3 mm and 8 mm, kite_day 1/8 in and 5/16 in. That a
print's hole comes out 0.1 to 0.3 mm small is common practice.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import meshio
import numpy as np
import pytest
import shapely
import trimesh

from geomgen.bench import coupon as maker
from geomgen.craft import Craft
from geomgen.design.library import demo
from geomgen.design.vary import vary
from geomgen.figures import spelled
from geomgen.marking.lettering import written
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.printing.mesh import Mesh
from geomgen.printing.plate import WIDTH_MM
from geomgen.printing.solid import mesh_of
from geomgen.printing.stl import stl_bytes
from geomgen.stock.need import needs

CraftOf = Callable[..., Craft]
ANTICLOCKWISE, CLOCKWISE = 'turn   = "anticlockwise"', 'turn   = "clockwise"'
INCH = 25.4
PETG = "[stock.print_petg]"
PLA = f'[stock.print_pla]\nkind = "volume"\nof   = "PLA, printed"\n\n{PETG}'
FIXED = 'fixed_cap   = { stock = "print_petg", thickness = 4 }'


@pytest.fixture(scope="module", params=["lantern", "lantern, clockwise", "kite_day"])
def tried(request: pytest.FixtureRequest, craft_of: CraftOf) -> tuple[Craft, float, float, float, float]:
    """A craft; diameters of pin and spar [mm], the figures' unit [mm], the least web [mm]."""
    if request.param == "kite_day":
        return craft_of("kite_day"), INCH / 8, INCH * 5 / 16, INCH, INCH / 16
    edits = ((ANTICLOCKWISE, CLOCKWISE),) if request.param.endswith("clockwise") else ()
    craft = craft_of("lantern", *edits)
    assert craft.design.rotor.turn == ("clockwise" if edits else "anticlockwise")
    return craft, 3.0, 8.0, 1.0, 1.6


def coupons(craft: Craft) -> list[Part]:
    return [part for part in craft.printed_parts if part.role is Role.COUPON]


def flat(part: Part) -> Flat:
    assert isinstance(part.shape, Flat)
    return part.shape


def read_back(mesh: Mesh) -> trimesh.Trimesh:
    return trimesh.load_mesh(io.BytesIO(stl_bytes(mesh)), file_type="stl")


def sliced(made: Mesh) -> shapely.Polygon:
    """The plate at half its height, below all letters, in the part's own frame."""
    mesh = read_back(made)
    cut = mesh.section(plane_origin=[0.0, 0.0, mesh.bounds[1, 2] / 2], plane_normal=[0.0, 0.0, 1.0])
    (shape,) = cut.to_2D(to_2D=np.eye(4))[0].polygons_full
    return shape


def rows(part: Part, mesh: Mesh) -> dict[str, list[tuple[float, float]]]:
    """Of each heading the figures below it and the diameters of their holes, by place alone [-], [mm]."""
    holes = [shapely.Polygon(ring) for ring in sliced(mesh).interiors]
    found: dict[str, list[tuple[float, float]]] = {}
    for text in flat(part).texts:  # from above, heading first
        if not text.text[0].isdigit():
            heading = found.setdefault(text.text, [])
            continue
        near = min(holes, key=lambda hole: hole.distance(shapely.Point(text.at)))
        assert near.centroid.y > text.at[1] and near.centroid.x == pytest.approx(text.at[0], abs=0.01)
        heading.append((float(text.text), 2 * np.sqrt(near.area / np.pi)))
    assert sum(map(len, found.values())) == len(holes)
    return found


def test_holes_are_wider_by_what_is_written_below_them(tried) -> None:
    """Within 0.02 mm, in steps of 0.05 mm, what printers are off inside; in inches thousandths are typed."""
    craft, pin, spar, unit, _ = tried
    (part,) = coupons(craft)
    name = "in" if unit == INCH else "mm"
    found = rows(part, craft.meshes[part.key])
    assert list(found) == [f"pitch.pin.fit, {name}", f"hub.socket.fit, {name}"]
    for row, through in zip(found.values(), (pin, spar), strict=True):
        figures, diameters = np.array(row).T
        assert diameters == pytest.approx(through + figures * unit, abs=0.02)
        assert np.diff(diameters) == pytest.approx(0.05, abs=0.01)
        assert figures[0] * unit < 0.1 and figures[-1] * unit >= 0.45


def test_what_the_design_has_now_is_among_them(craft_of: CraftOf) -> None:
    """Also where that is wider than usual; a hole on either side of it."""
    craft = craft_of("lantern", ("socket = { fit = 0.3 }", "socket = { fit = 0.72 }"))
    (part,) = coupons(craft)
    pins, spars = ([figure for figure, _ in row] for row in rows(part, craft.meshes[part.key]).values())
    assert 0.2 in pins and min(spars) < 0.72 < max(spars)
    assert "has 0.72 mm" in spelled(" ".join(part.notes))


def test_two_libraries_find_it_closed(tried, tmp_path: Path) -> None:
    """trimesh puts its corners together from the file's figures; meshio's reader, with its volume summed here."""
    craft = tried[0]
    (part,) = coupons(craft)
    mesh, data = read_back(craft.meshes[part.key]), stl_bytes(craft.meshes[part.key])
    assert mesh.is_watertight and mesh.is_winding_consistent and mesh.body_count == 1
    (tmp_path / "coupon.stl").write_bytes(data)
    read = meshio.read(tmp_path / "coupon.stl")
    corners = read.points[read.get_cells_type("triangle")].astype(float)
    a, b, c = corners.transpose(1, 0, 2)
    assert np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6 == pytest.approx(mesh.volume, rel=1e-5)
    faces = np.sort(read.get_cells_type("triangle"), axis=1)
    edges = np.vstack((faces[:, :2], faces[:, 1:], faces[:, ::2]))
    assert (np.unique(edges, axis=0, return_counts=True)[1] == 2).all()
    assert craft.prints[part.key].volume_mm3 == pytest.approx(mesh.volume, rel=2e-3)


def test_webs_and_letters_have_their_room(tried) -> None:
    """Measured between the mesh's own holes and edge, and round every stroke as wide as it is sunk."""
    craft, _, _, _, web = tried
    (part,) = coupons(craft)
    shape = sliced(craft.meshes[part.key])
    holes = [shapely.Polygon(ring) for ring in shape.interiors]
    gaps = [one.distance(other) for k, one in enumerate(holes) for other in holes[:k]]
    assert min(gaps) >= web - 0.01
    assert min(hole.distance(shape.exterior) for hole in holes) >= web - 0.01
    texts = [[shapely.LineString(path.flattened(0.01)) for path in written(text)] for text in flat(part).texts]
    sunk = [shapely.union_all(lines).buffer(WIDTH_MM / 2) for lines in texts]
    assert all(text.height_mm >= 2.5 and text.turn_deg == 0.0 for text in flat(part).texts)
    assert shape.buffer(-0.5).contains(shapely.union_all(sunk))
    assert min(one.distance(other) for k, one in enumerate(sunk) for other in sunk[:k]) > 0.5


@pytest.mark.parametrize("bed", [(256, 256), (90, 200)])
def test_a_wide_web_is_kept_everywhere(bed: tuple[int, int]) -> None:
    """Wider than letters need it, along lines and between them, and to the edge."""
    (part,) = maker.coupons(vary(demo(), {"pitch.pin.web": 7.5, "printer.bed": list(bed)}).design)
    shape = sliced(mesh_of(flat(part)))
    holes = [shapely.Polygon(ring) for ring in shape.interiors]
    assert min(one.distance(other) for k, one in enumerate(holes) for other in holes[:k]) >= 7.49
    assert min(hole.distance(shape.exterior) for hole in holes) >= 7.49


def test_as_thick_as_the_caps(tried) -> None:
    """Both caps of lantern are 4 mm; of kite_day's the fixed one is printed, 3/16 in."""
    craft, *_, unit, _ = tried
    (part,) = coupons(craft)
    assert read_back(craft.meshes[part.key]).bounds[1, 2] == pytest.approx(
        unit * 3 / 16 if unit == INCH else 4.0, abs=1e-5
    )


def test_one_for_each_printed_stock(craft_of: CraftOf) -> None:
    """The fixed cap of another filament has a row of its own."""
    other = (PETG, PLA), (FIXED, FIXED.replace("print_petg", "print_pla"))
    apart = {
        part.stock: list(rows(part, craft.meshes[part.key]))
        for craft in [craft_of("lantern", *other)]
        for part in coupons(craft)
    }
    assert apart == {"print_petg": ["pitch.pin.fit, mm", "hub.socket.fit, mm"], "print_pla": ["pitch.pin.fit, mm"]}


def test_no_row_for_caps_of_sheet(craft_of: CraftOf) -> None:
    """They are tried in the sheet, with the laser's kerf; the hub alone has a row."""
    sheet = [
        (f'{name} = {{ stock = "print_petg", thickness = 4 }}', f'{name} = {{ stock = "ply_3", thickness = 3 }}')
        for name in ("turning_cap", "fixed_cap  ")
    ]
    craft = craft_of("lantern", *sheet)
    (part,) = coupons(craft)
    assert list(rows(part, craft.meshes[part.key])) == ["hub.socket.fit, mm"]
    assert sum("kerf" in note for note in part.notes) == 1 and "ply_3" in " ".join(part.notes)


@pytest.mark.parametrize("bed", [(256, 256), (120, 120), (60, 220), (45, 45), (9, 9)])
def test_goes_on_the_bed(bed: tuple[int, int]) -> None:
    """Rows are broken where they are too long; what goes on no bed all the same is told, and whole."""
    made = maker.coupons(vary(demo(), {"printer.bed": list(bed)}).design)
    (part,) = made
    mesh = mesh_of(flat(part))
    assert not made.faults and all(len(row) == 11 for row in rows(part, mesh).values())
    short, long = sorted(read_back(mesh).extents[:2])
    told = any("does not go on" in note for note in part.notes)
    assert told == (short > min(bed) or long > max(bed)) == (max(bed) < 50)


def test_stays_on_the_bench_and_is_printed_first(tried) -> None:
    craft = tried[0]
    (part,) = coupons(craft)
    assert part.assembly is Assembly.BENCH and part.key not in {line.key for line in craft.mass.lines}
    volume = craft.prints[part.key].volume_mm3
    share = craft.design.stock[part.stock].share.typical
    (need,) = (
        need for need in needs(craft.finished, craft.design, craft.laid) if need.bench and need.stock == part.stock
    )
    assert need.pieces == 1 and need.amount == pytest.approx(volume * share, rel=0.04)  # letters aren't taken off
    (step,) = (k for k, task in enumerate(craft.order) if part.key in task.keys)
    (rest,) = (k for k, task in enumerate(craft.order) if task.does.startswith("Print, and try each hole"))
    assert step < rest and "air the room" in craft.order[step].caution

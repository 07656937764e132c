"""All flat parts side by side: each once, none touching another, in rows no wider than the bed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from known_parts import COLOURS, HOLES, OUTER, known_part
from readers import by_ogr, header

from geomgen.cutting.dxf import all_dxf
from geomgen.cutting.toolpaths import in_rows
from geomgen.model.part import Length, Part

BED = 600.0


def parts() -> list[Part]:
    ribs = [known_part(f"rib R{k}", stock="ply_2" if k % 3 == 0 else "balsa_3") for k in range(1, 12)]
    spar = replace(known_part("spar main"), shape=Length(700.0))
    return [*ribs, spar, replace(known_part("floor", assembly="hub"), count=3)]


DATA = all_dxf(parts(), COLOURS, BED, blades=2)


def test_each_flat_part_is_there_once_and_whole() -> None:
    found = by_ogr(DATA)
    outside = [f.polygon for f in found if f.layer == "outside cut"]
    inside = [f.polygon for f in found if f.layer == "inside cut"]
    assert len(outside) == 12 and len(inside) == 12 * len(HOLES)
    for plate in outside:
        assert plate.area == pytest.approx(OUTER.area, rel=1e-5)
        assert sum(plate.contains(hole) for hole in inside) == len(HOLES)
    assert header(DATA, "$INSUNITS") == "4"


def test_parts_keep_clear_of_one_another() -> None:
    found = by_ogr(DATA)
    outside = [f.polygon for f in found if f.layer == "outside cut"]
    tree = shapely.STRtree(outside)
    left, right = tree.query(outside, predicate="dwithin", distance=9.9)
    assert np.array_equal(left, right)  # each is near itself only
    marks = [f.shape for f in found if f.layer == "mark"]
    assert all(sum(plate.contains(mark) for plate in outside) == 1 for mark in marks)


def test_rows_are_no_wider_than_the_bed() -> None:
    shapes = [f.shape for f in by_ogr(DATA)]
    assert max(s.bounds[2] for s in shapes) - min(s.bounds[0] for s in shapes) <= BED + 1e-6


def test_inside_cuts_come_before_their_own_outside_cut() -> None:
    pending = 0
    for feature in by_ogr(DATA):
        if feature.layer == "inside cut":
            pending += 1
        elif feature.layer == "outside cut":
            assert pending == len(HOLES)
            pending = 0
    assert pending == 0


def test_what_is_written_beside_the_parts_is_never_cut() -> None:
    found = by_ogr(DATA)
    outside = shapely.union_all([f.polygon for f in found if f.layer == "outside cut"])
    words = [f.shape for f in found if f.layer == "reference" and f.shape.length < 30.0]
    assert len(words) > 12 * 10
    assert not any(outside.intersects(word) for word in words)


def test_the_count_is_that_of_the_whole_craft() -> None:
    from geomgen.cutting.toolpaths import stated

    rib, floor = parts()[0], parts()[-1]
    assert stated(rib, blades=3) == ["rib R1", "3 of balsa_3, 3 mm"]
    assert stated(floor, blades=3) == ["floor", "3 of balsa_3, 3 mm"]
    assert stated(replace(rib, count=2), blades=3)[1].startswith("6 of")


def test_equal_parts_give_equal_bytes() -> None:
    assert all_dxf(parts(), COLOURS, BED, blades=2) == DATA


def test_nothing_flat_gives_a_sheet_with_its_rule_only() -> None:
    found = by_ogr(all_dxf([], COLOURS, BED, blades=2))
    assert {f.layer for f in found} == {"reference"}


@pytest.mark.parametrize("seed", range(5))
def test_rows_of_any_boxes(seed: int) -> None:
    """No two boxes nearer than the gap, none past the width unless it is wider by itself, order kept."""
    random = np.random.default_rng(seed)
    sizes = [tuple(pair) for pair in random.uniform((5.0, 5.0), (220.0, 90.0), (40, 2)).tolist()]
    places = in_rows(sizes, 200.0, 7.0)
    boxes = [shapely.box(x, y, x + w, y + h) for (x, y), (w, h) in zip(places, sizes, strict=True)]
    for k, (box, (w, _)) in enumerate(zip(boxes, sizes, strict=True)):
        assert box.bounds[2] <= max(200.0, w) + 1e-9
        assert box.bounds[3] <= 1e-9
        assert all(box.distance(other) >= 7.0 - 1e-9 for other in boxes[:k])
    assert [(-y, x) for x, y in places] == sorted((-y, x) for x, y in places)

"""The comparison of two trees of outputs sees what is planted, and nothing where only bytes differ."""

from __future__ import annotations

import json
import pathlib
import shutil
from collections.abc import Callable

import ezdxf
import pytest
import trimesh
from PIL import Image
from same_outputs import differences, main


@pytest.fixture
def trees(tmp_path: pathlib.Path) -> tuple[pathlib.Path, pathlib.Path]:
    """Two trees alike, one file of each kind."""
    old, new = tmp_path / "old", tmp_path / "new"
    (old / "cut").mkdir(parents=True)
    drawing = ezdxf.new("R2000")
    drawing.layers.add("CUT")
    drawing.modelspace().add_lwpolyline(
        [(0, 0, 0.5), (40, 0, 0), (40, 20, 0)], format="xyb", close=True
    ).dxf.layer = "CUT"
    drawing.modelspace().add_circle((10, 5), 2.0)
    drawing.saveas(old / "cut" / "rib.dxf")
    trimesh.creation.box((10, 20, 30)).export(old / "hub.stl")
    Image.new("RGB", (8, 8), "white").save(old / "hub.png")
    (old / "mass.csv").write_text("part,mass_g\nrib R01,3.25\nhub,40\n", encoding="utf-8")
    (old / "manifest.json").write_text(json.dumps({"files": {"a": {"sha256": "1", "radius_mm": [1.0, 2.5]}}}))
    (old / "check.txt").write_text("rib R01 weighs 3.25 g\n", encoding="utf-8")
    (old / "plan.svg").write_text('<path d="M 1.234,5.678 L 9,9"/>\n', encoding="utf-8")
    shutil.copytree(old, new)
    return old, new


def edit(name: str, before: str, after: str) -> Callable[[pathlib.Path], object]:
    def edited(new: pathlib.Path) -> None:
        text = (new / name).read_text(encoding="utf-8")
        assert before in text
        (new / name).write_text(text.replace(before, after), encoding="utf-8")

    return edited


def redrawn(
    circle: float = 2.0, layer: str = "CUT", extra: bool = False, x: float = 40.0
) -> Callable[[pathlib.Path], object]:
    def drawn(new: pathlib.Path) -> None:
        doc = ezdxf.readfile(new / "cut" / "rib.dxf")
        line, round_ = list(doc.modelspace())
        line.set_points([(0, 0, 0.5), (x, 0, 0), (40, 20, 0)], format="xyb")
        line.dxf.layer, round_.dxf.radius = layer, circle
        if extra:
            doc.modelspace().add_line((0, 0), (1, 1))
        doc.saveas(new / "cut" / "rib.dxf")

    return drawn


@pytest.mark.parametrize(
    ("plant", "file", "place"),
    [
        (redrawn(circle=2.00001), "cut/rib.dxf", "entity 1"),
        (redrawn(x=40.00001), "cut/rib.dxf", "entity 0"),
        (redrawn(layer="0"), "cut/rib.dxf", "entity 0"),
        (redrawn(extra=True), "cut/rib.dxf", "entity 2"),
        (lambda new: trimesh.creation.box((10, 20, 30.01)).export(new / "hub.stl"), "hub.stl", "volume"),
        (lambda new: Image.new("RGB", (8, 8), "grey").save(new / "hub.png"), "hub.png", "pixels"),
        (edit("mass.csv", "3.25", "3.2500001"), "mass.csv", "row 2 (rib R01), mass_g"),
        (edit("mass.csv", "hub,40\n", ""), "mass.csv", "row 3"),
        (edit("manifest.json", "2.5", "2.6"), "manifest.json", "files.a.radius_mm[1]"),
        (edit("manifest.json", "radius_mm", "radius"), "manifest.json", "files.a.radius_mm"),
        (edit("check.txt", "weighs", "has"), "check.txt", "line 1"),
        (edit("check.txt", "3.25", "3.26"), "check.txt", "line 1"),
        (edit("plan.svg", "5.678", "5.70"), "plan.svg", "line 1"),
        (lambda new: (new / "check.txt").unlink(), "check.txt", "file"),
        (lambda new: (new / "more.txt").write_text("x"), "more.txt", "file"),
    ],
)
def test_a_planted_difference_is_seen(
    trees: tuple[pathlib.Path, pathlib.Path], plant: Callable[[pathlib.Path], object], file: str, place: str
) -> None:
    old, new = trees
    plant(new)
    found = differences(old, new)
    assert list(found) == [file]
    assert place in found[file][0].place
    assert main([str(old), str(new)]) == 1


def test_bytes_that_say_the_same_are_no_difference(
    trees: tuple[pathlib.Path, pathlib.Path], capsys: pytest.CaptureFixture[str]
) -> None:
    old, new = trees
    redrawn(circle=2.0 + 1e-8)(new)
    edit("mass.csv", "3.25", "3.250")(new)
    edit("manifest.json", '"1"', '"2"')(new)
    edit("plan.svg", "5.678", "5.688")(new)
    mesh = trimesh.load_mesh(new / "hub.stl")
    mesh.faces = mesh.faces[::-1]
    mesh.export(new / "hub.stl")
    assert differences(old, new) == {}
    assert main([str(old), str(new)]) == 0 and "nothing differs" in capsys.readouterr().out


def test_it_says_how_it_is_called(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["one"]) == 2 and "OLD NEW" in capsys.readouterr().out

"""The committed run of the demo against a fresh one, by geometry and figures; bytes may differ between machines."""

from __future__ import annotations

import csv
import io
import json
import pathlib
import re

import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.making import Output, make

COMMITTED = pathlib.Path(__file__).parents[2] / "outputs" / "lantern" / "base"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e-?\d+)?")


@pytest.fixture(scope="module")
def fresh(lantern: Craft) -> Output:
    return make(lantern)


def light(made: Output) -> set[str]:
    return {name for name in made.files if not name.startswith("print/")}


def test_the_same_files(fresh: Output) -> None:
    there = {path.relative_to(COMMITTED).as_posix() for path in COMMITTED.rglob("*") if path.is_file()}
    assert {name for name in there if not name.startswith("print/")} == light(fresh) | {"manifest.json"}
    listed = json.loads((COMMITTED / "manifest.json").read_text(encoding="utf-8"))["files"]
    assert set(listed) == set(fresh.files)
    for name, about in fresh.about.items():
        kept = {key: value for key, value in listed[name].items() if key != "sha256"}
        assert kept.keys() == about.keys(), name
        for key, value in about.items():
            same = kept[key] == pytest.approx(value, rel=1e-4) if isinstance(value, float) else kept[key] == value
            assert same, (name, key, kept[key], value)


def entities(data: bytes) -> list[tuple[str, str, np.ndarray]]:
    import ezdxf

    document = ezdxf.read(io.StringIO(data.decode("utf-8")))
    found = []
    for entity in document.modelspace():
        if entity.dxftype() == "CIRCLE":
            numbers = np.array([entity.dxf.center.x, entity.dxf.center.y, entity.dxf.radius])
        else:
            numbers = np.array(entity.get_points("xyb")).ravel()
        found.append((entity.dxftype(), entity.dxf.layer, numbers))
    return found


def test_cutting_files_by_geometry(fresh: Output) -> None:
    for name in sorted(name for name in fresh.files if name.endswith(".dxf")):
        was, now = entities((COMMITTED / name).read_bytes()), entities(fresh.files[name])
        assert [(kind, layer, len(numbers)) for kind, layer, numbers in was] == [
            (kind, layer, len(numbers)) for kind, layer, numbers in now
        ], name
        for (_, _, a), (_, _, b) in zip(was, now, strict=True):
            assert a == pytest.approx(b, abs=2e-3), name


@pytest.mark.parametrize("name", ["mass.csv", "parts.csv"])
def test_figures(fresh: Output, name: str) -> None:
    was = list(csv.DictReader((COMMITTED / name).read_text(encoding="utf-8").splitlines()))
    now = list(csv.DictReader(fresh.files[name].decode().splitlines()))
    assert len(was) == len(now)
    for a, b in zip(was, now, strict=True):
        assert a.keys() == b.keys()
        for key in a:
            if NUMBER.fullmatch(a[key] or ""):
                assert float(a[key]) == pytest.approx(float(b[key]), rel=1e-4, abs=2e-3), (a, key)
            else:
                assert a[key] == b[key]


def test_pictures(fresh: Output) -> None:
    for name in sorted(name for name in fresh.files if name.endswith(".svg") and name != "pictures/hub.svg"):
        was, now = (COMMITTED / name).read_text(encoding="utf-8"), fresh.files[name].decode()
        assert NUMBER.sub("#", was) == NUMBER.sub("#", now), name


def test_page(fresh: Output) -> None:
    """All but the picture of the hub."""
    hub = re.compile(r'<svg id="picture-hub".*?</svg>', re.DOTALL)
    was, now = (COMMITTED / "index.html").read_text(encoding="utf-8"), fresh.files["index.html"].decode()
    assert NUMBER.sub("#", hub.sub("", was)) == NUMBER.sub("#", hub.sub("", now)) and hub.search(was)


def test_picture_of_the_hub(fresh: Output) -> None:
    """Its faces and its frame: how many points the kernel puts on a curve is its own affair."""
    was = (COMMITTED / "pictures" / "hub.svg").read_text(encoding="utf-8").splitlines()
    now = fresh.files["pictures/hub.svg"].decode().splitlines()
    frames = [[float(figure) for figure in NUMBER.findall(text[0])] for text in (was, now)]
    assert frames[0] == pytest.approx(frames[1], abs=0.5)
    faces = [[line.split('"')[1] for line in text if line.startswith("<path")] for text in (was, now)]
    assert faces[0] == faces[1] and len(faces[0]) > 20

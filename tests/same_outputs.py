"""What differs between two trees of outputs, by geometry and figures rather than by bytes.

    python tests/same_outputs.py OLD NEW

DXF entity by entity, STL by volume, centroid and bounds, PNG by pixel, CSV and JSON cell by cell, all other texts by
their words and numbers. Prints a short table; exit status 0 where nothing differs, 1 where something does.
"""

from __future__ import annotations

import csv
import json
import math
import pathlib
import re
import sys
from collections.abc import Callable, Iterable, Iterator
from itertools import zip_longest
from typing import Any, NamedTuple

import ezdxf
import numpy as np
import trimesh
from PIL import Image

SAME = 1e-9  # figures nearer than this share of them are one
PLACE_MM = 1e-6  # places in a DXF
MESH_MM = 1e-4  # places in a mesh, which STL keeps in single precision
DRAWN = 0.0101  # places in an SVG have two decimals: the last may be rounded the other way
SKIPPED_KEYS = {"sha256"}  # says of another file what that file says itself
SHOWN = 3  # differences of each file in the table
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
NOTHING = "–"


class Difference(NamedTuple):
    """Where two files differ, and what stands there in each."""

    place: str
    old: str
    new: str


Differences = Iterator[Difference]


def same_number(old: float, new: float, within: float = 0.0) -> bool:
    """Whether two figures are one, relatively or within a distance."""
    return old == new or math.isclose(old, new, rel_tol=SAME, abs_tol=max(within, 1e-15)) or (old != old and new != new)


def of_text(old: str, new: str, place: str = "", within: float = 0.0) -> Differences:
    """Lines whose words or numbers differ."""
    for line, (a, b) in enumerate(zip_longest(old.splitlines(), new.splitlines(), fillvalue=NOTHING), 1):
        if not same_words(a, b, within):
            yield Difference(f"{place}line {line}", a, b)


def same_words(old: str, new: str, within: float = 0.0) -> bool:
    """Whether two texts are the same but for figures that are one."""
    if old == new:
        return True
    figures = [[float(each) for each in _NUMBER.findall(text)] for text in (old, new)]
    same = _NUMBER.sub("#", old) == _NUMBER.sub("#", new)
    return same and all(same_number(a, b, within) for a, b in zip(*figures, strict=True))


def of_data(old: Any, new: Any, place: str = "") -> Differences:
    """Figures and words of nested data that differ, by their path."""
    if isinstance(old, dict) and isinstance(new, dict):
        for key in dict.fromkeys((*old, *new)):
            if key not in SKIPPED_KEYS:
                yield from of_data(old.get(key, NOTHING), new.get(key, NOTHING), f"{place}.{key}".lstrip("."))
    elif isinstance(old, list) and isinstance(new, list):
        for i, (a, b) in enumerate(zip_longest(old, new, fillvalue=NOTHING)):
            yield from of_data(a, b, f"{place}[{i}]")
    elif (
        isinstance(old, int | float) and isinstance(new, int | float) and isinstance(old, bool) == isinstance(new, bool)
    ):
        if not same_number(old, new):
            yield Difference(place, repr(old), repr(new))
    elif not (same_words(old, new) if isinstance(old, str) and isinstance(new, str) else old == new):
        yield Difference(place, str(old), str(new))


def of_table(old: str, new: str) -> Differences:
    """Cells of a CSV that differ, by row and column."""
    rows = [list(csv.reader(text.splitlines())) for text in (old, new)]
    head = rows[0][0] if rows[0] else []
    for i, (a, b) in enumerate(zip_longest(*rows, fillvalue=[]), 1):
        for j, (x, y) in enumerate(zip_longest(a, b, fillvalue=NOTHING)):
            if not same_words(x, y):
                column = head[j] if j < len(head) else str(j + 1)
                yield Difference(f"row {i} ({(a or b)[0]}), {column}", x, y)


def of_drawing(old: pathlib.Path, new: pathlib.Path) -> Differences:
    """Entities of a DXF that differ, in the file's order; its unit and its layers."""
    one, other = (ezdxf.readfile(path) for path in (old, new))
    for name, about in (
        ("unit", lambda doc: doc.units),
        ("layers", lambda doc: [each.dxf.name for each in doc.layers]),
    ):
        if about(one) != about(other):
            yield Difference(name, str(about(one)), str(about(other)))
    for i, (a, b) in enumerate(zip_longest(one.modelspace(), other.modelspace())):
        words, places = zip(*(_entity(each) if each is not None else (NOTHING, ()) for each in (a, b)), strict=True)
        if words[0] != words[1] or np.shape(places[0]) != np.shape(places[1]):
            said = (f"{word}, {len(at)} figures" for word, at in zip(words, places, strict=True))
            yield Difference(f"entity {i}", *said)
        elif len(places[0]) and (apart := float(np.max(np.abs(np.subtract(*places))))) > PLACE_MM:
            yield Difference(f"entity {i}, {words[0]}", "", f"{apart:.3g} mm apart")


def _entity(entity: Any) -> tuple[str, list[float]]:
    """What an entity is, and its figures: of a polyline x, y and bulge of each corner."""
    what = f"{entity.dxftype()} on {entity.dxf.layer}, colour {entity.dxf.get('color', 256)}"
    if entity.dxftype() == "LWPOLYLINE":
        return f"{what}{', closed' if entity.closed else ''}", [x for point in entity.get_points("xyb") for x in point]
    words, figures = [], list[float]()
    for key, value in sorted(entity.dxfattribs().items()):
        if isinstance(value, str) and key not in ("layer", "handle", "owner"):
            words.append(f"{key} {value}")
        elif isinstance(value, float):
            figures.append(value)
        elif hasattr(value, "xyz"):
            figures += value.xyz
    return ", ".join([what, *words]), figures


def of_mesh(old: pathlib.Path, new: pathlib.Path) -> Differences:
    """Volume, centroid and bounds of an STL that differ."""
    one, other = (trimesh.load_mesh(path) for path in (old, new))
    if not math.isclose(one.volume, other.volume, rel_tol=1e-6):
        yield Difference("volume [mm3]", f"{one.volume:.6g}", f"{other.volume:.6g}")
    for name in ("center_mass", "bounds"):
        a, b = (np.asarray(getattr(mesh, name)) for mesh in (one, other))
        if np.max(np.abs(a - b)) > MESH_MM:
            yield Difference(f"{name} [mm]", *(np.array2string(each.ravel(), precision=4) for each in (a, b)))


def of_picture(old: pathlib.Path, new: pathlib.Path) -> Differences:
    """Pixels of a PNG that differ."""
    one, other = (np.asarray(Image.open(path).convert("RGB"), dtype=int) for path in (old, new))
    if one.shape != other.shape:
        yield Difference("size", str(one.shape), str(other.shape))
    elif np.any(one != other):
        yield Difference("pixels", "", f"{np.count_nonzero(np.any(one != other, axis=2))} differ")


def _reading(
    compare: Callable[[str, str], Iterable[Difference]],
) -> Callable[[pathlib.Path, pathlib.Path], Differences]:
    return lambda old, new: iter(compare(*(path.read_text(encoding="utf-8") for path in (old, new))))


KINDS: dict[str, Callable[[pathlib.Path, pathlib.Path], Differences]] = {
    ".dxf": of_drawing,
    ".stl": of_mesh,
    ".png": of_picture,
    ".csv": _reading(of_table),
    ".json": _reading(lambda old, new: of_data(json.loads(old), json.loads(new))),
    ".svg": _reading(lambda old, new: of_text(old, new, within=DRAWN)),
}


def differences(old: pathlib.Path, new: pathlib.Path) -> dict[str, list[Difference]]:
    """Every file that differs between two trees, with where."""
    files = [{str(path.relative_to(tree)) for path in tree.rglob("*") if path.is_file()} for tree in (old, new)]
    found = {name: [Difference("file", "there", "gone")] for name in files[0] - files[1]}
    found |= {name: [Difference("file", "not there", "new")] for name in files[1] - files[0]}
    for name in files[0] & files[1]:
        pair = old / name, new / name
        if pair[0].read_bytes() != pair[1].read_bytes():
            compare = KINDS.get(pair[0].suffix, _reading(of_text))
            if listed := list(compare(*pair)):
                found[name] = listed
    return dict(sorted(found.items()))


def main(arguments: list[str]) -> int:
    """Print what differs; 0 where nothing does."""
    if len(arguments) != 2 or not all(pathlib.Path(each).is_dir() for each in arguments):
        print(__doc__)
        return 2
    found = differences(*map(pathlib.Path, arguments))
    for name, listed in found.items():
        print(f"{name}: {len(listed)} differ{'s' * (len(listed) == 1)}")
        for each in listed[:SHOWN]:
            print(f"  {each.place}: {_short(each.old)} -> {_short(each.new)}")
    print(f"{len(found)} files differ" if found else "nothing differs")
    return 1 if found else 0


def _short(text: str) -> str:
    return text if len(text) <= 90 else f"{text[:87]}..."


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""Solids are kept by content: a second run builds nothing, and a spoilt store does no harm."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from subprocess import run

import numpy as np
import pytest
from known_hubs import FULL, PLAIN

from geomgen.printing.keep import MOST, fetch, keep_folder, key_of, store
from geomgen.printing.solid import properties
from geomgen.tolerances import STANDARD

SECOND = """
import sys
sys.path.insert(0, sys.argv[1])
from pathlib import Path
from known_hubs import PLAIN
from geomgen.printing.solid import properties
made = properties(PLAIN, Path(sys.argv[2]))
print(repr(made.volume_mm3), len(made.faces), sorted({"cadquery", "OCP"} & set(sys.modules)))
"""


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    folder = tmp_path_factory.mktemp("store") / "solids"
    return folder, properties(PLAIN, folder)


def test_a_second_run_never_loads_the_kernel(kept) -> None:
    folder, made = kept
    here = str(Path(__file__).parent)
    said = run([sys.executable, "-c", SECOND, here, str(folder)], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == f"{made.volume_mm3!r} {len(made.faces)} []"


def test_what_is_kept_is_all_there(kept) -> None:
    folder, made = kept
    again = properties(PLAIN, folder)
    for name in ("volume_mm3", "centroid", "inertia", "vertices", "faces"):
        assert np.array_equal(getattr(made, name), getattr(again, name))


def test_any_figure_changes_the_key() -> None:
    key = key_of(PLAIN, STANDARD)
    assert key == key_of(replace(PLAIN), STANDARD)
    assert key != key_of(replace(PLAIN, socket=10.31), STANDARD)
    assert key != key_of(PLAIN, replace(STANDARD, mesh_mm=0.03))
    assert key_of(FULL, STANDARD) != key_of(replace(FULL, ducts=FULL.ducts[:1]), STANDARD)


def test_spoilt_entries_are_built_anew(kept, monkeypatch) -> None:
    folder, made = kept
    (entry,) = folder.glob("*.npz")
    whole = entry.read_bytes()
    middle = len(whole) // 2
    flipped = whole[:middle] + bytes(byte ^ 0xFF for byte in whole[middle : middle + 64]) + whole[middle + 64 :]
    for spoilt in (b"", b"junk", whole[:middle], flipped):
        entry.write_bytes(spoilt)
        assert fetch(folder, key_of(PLAIN, STANDARD)) is None
    assert properties(PLAIN, folder).volume_mm3 == pytest.approx(made.volume_mm3, rel=1e-12)
    assert fetch(folder, key_of(PLAIN, STANDARD)) is not None


def test_a_store_that_cannot_be_written_is_no_fault(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("not a folder")
    store(blocked, "key", {"scalars": np.zeros(2)})
    store(blocked / "below", "key", {"scalars": np.zeros(2)})
    assert fetch(blocked, "key") is None and blocked.read_text() == "not a folder"


def test_the_store_does_not_grow_for_ever(tmp_path: Path) -> None:
    import os

    for i in range(MOST + 5):
        store(tmp_path, f"{i:04}", {"scalars": np.zeros(1)})
        os.utime(tmp_path / f"{i:04}.npz", (i, i))
    store(tmp_path, "last", {"scalars": np.zeros(1)})
    left = {file.stem for file in tmp_path.iterdir()}
    assert len(left) == MOST and "last" in left and "0000" not in left


def test_where_it_is() -> None:
    assert keep_folder({"HOME": "/home/ann"}, windows=False) == Path("/home/ann/.cache/geomgen/solids")
    assert keep_folder({"HOME": "/h", "XDG_CACHE_HOME": "/c"}, windows=False) == Path("/c/geomgen/solids")
    assert keep_folder({"LOCALAPPDATA": "/l"}, windows=True) == Path("/l/geomgen/solids")
    assert keep_folder({"GEOMGEN_KEEP": "/mine", "HOME": "/h"}) == Path("/mine")
    assert keep_folder({"GEOMGEN_KEEP": "", "HOME": "/h"}) is None and keep_folder({}, windows=False) is None

"""What is made is kept, in memory and on disk: bounded by bytes, moved, emptied, spoilt, shared by two processes."""

from __future__ import annotations

import os
import sys
from dataclasses import dataclass
from pathlib import Path
from subprocess import Popen

import numpy as np
import pytest

from geomgen import cache as module
from geomgen.cache import MISSING, Cache, cache_folder, default, size_of

KB = 1024


def entry(kilobytes: int, value: int = 0) -> dict[str, np.ndarray]:
    return {"bytes": np.full(kilobytes * KB, value, np.uint8)}


def on_disk(folder: Path) -> int:
    return sum(file.stat().st_size for file in folder.iterdir())


# On disk


def test_arrays_come_back_as_they_went_in(tmp_path: Path) -> None:
    cache = Cache(tmp_path / "deep" / "folder")
    arrays = {"file": np.eye(3), "allow_pickle": np.arange(4, dtype=np.int32), "a b/c": np.zeros((0, 2))}
    cache.store("key", arrays)
    found = Cache(cache.folder).fetch("key")
    assert found is not None and list(found) == list(arrays)
    for name, array in arrays.items():
        assert found[name].dtype == array.dtype and np.array_equal(found[name], array)
    assert cache.fetch("another") is None


def test_the_folder_is_bounded_by_bytes_and_the_longest_unused_go_first(tmp_path: Path) -> None:
    cache = Cache(tmp_path, disk_bytes=100 * KB)
    for i in range(9):
        cache.store(f"{i}", entry(10, i))
        os.utime(tmp_path / f"{i}.npz", (i, i))
    assert len(list(tmp_path.iterdir())) == 9
    assert cache.fetch("0") is not None  # used, so the last to go
    for i in range(9, 30):
        cache.store(f"{i}", entry(10, i))
        assert on_disk(tmp_path) <= 100 * KB
        if i == 10:
            assert cache.fetch("0") is not None and cache.fetch("1") is None
    assert cache.fetch("29") is not None and cache.fetch("12") is None


def test_many_small_entries_are_bounded_too(tmp_path: Path) -> None:
    cache = Cache(tmp_path, disk_bytes=64 * KB)
    for i in range(500):
        cache.store(f"{i}", {"one": np.array([i])})
    assert on_disk(tmp_path) <= 64 * KB < 500 * (tmp_path / "499.npz").stat().st_size


def test_what_is_larger_than_all_the_room_is_not_stored(tmp_path: Path) -> None:
    cache = Cache(tmp_path, disk_bytes=20 * KB)
    cache.store("small", entry(5))
    cache.store("large", entry(25))
    assert [file.name for file in tmp_path.iterdir()] == ["small.npz"]


def test_half_written_entries_of_the_dead_are_swept_up(tmp_path: Path) -> None:
    old, young = tmp_path / "tmpold.part", tmp_path / "tmpyoung.part"
    for file in (old, young):
        file.write_bytes(b"half")
    os.utime(old, (1, 1))
    Cache(tmp_path).store("key", entry(1))
    assert not old.exists() and young.exists()


def test_it_is_emptied_and_nothing_else_is(tmp_path: Path) -> None:
    cache = Cache(tmp_path)
    (tmp_path / "notes.txt").write_text("mine")
    cache.store("key", entry(1))
    cache.remember("key", 1)
    cache.empty()
    assert cache.fetch("key") is None and cache.remembered("key") is MISSING
    assert [file.name for file in tmp_path.iterdir()] == ["notes.txt"]
    Cache(tmp_path / "none").empty()
    Cache(None).empty()


def test_spoilt_entries_are_as_good_as_none(tmp_path: Path) -> None:
    cache, file = Cache(tmp_path), tmp_path / "key.npz"
    cache.store("key", entry(4, 7))
    whole = file.read_bytes()
    middle = len(whole) // 2
    flipped = whole[:middle] + bytes(byte ^ 0xFF for byte in whole[middle : middle + 64]) + whole[middle + 64 :]
    for spoilt in (b"", b"junk", whole[:middle], flipped):
        file.write_bytes(spoilt)
        assert cache.fetch("key") is None
    cache.store("key", entry(4, 7))
    assert cache.fetch("key") is not None


def test_a_folder_that_cannot_be_written_is_no_fault(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("not a folder")
    for folder in (blocked, blocked / "below", None):
        cache = Cache(folder)
        cache.store("key", entry(1))
        assert cache.fetch("key") is None
    Cache(blocked).empty()
    assert blocked.read_text() == "not a folder"


def test_a_deleted_folder_does_no_harm(tmp_path: Path) -> None:
    cache = Cache(tmp_path / "kept")
    cache.store("key", entry(1))
    (tmp_path / "kept" / "key.npz").unlink()
    (tmp_path / "kept").rmdir()
    assert cache.fetch("key") is None
    cache.store("key", entry(1))
    assert cache.fetch("key") is not None


BUSY = """
import sys
import numpy as np
from pathlib import Path
from geomgen.cache import Cache
cache = Cache(Path(sys.argv[1]), disk_bytes=100 * 1024)
for i in range(150):
    cache.store(f"{i % 20}", {"bytes": np.full(10 * 1024, i % 20, np.uint8)})
    found = cache.fetch(f"{(i * 7) % 20}")
    assert found is None or (found["bytes"] == (i * 7) % 20).all()
"""


def test_two_processes_share_a_folder(tmp_path: Path) -> None:
    workers = [Popen([sys.executable, "-c", BUSY, str(tmp_path)]) for _ in range(2)]
    assert [worker.wait(120) for worker in workers] == [0, 0]
    assert not list(tmp_path.glob("*.part")) and on_disk(tmp_path) <= 1.25 * 100 * KB


# Where it is


def test_where_it_is() -> None:
    assert cache_folder({"HOME": "/home/ann"}, windows=False) == Path("/home/ann/.cache/geomgen/results")
    assert cache_folder({"HOME": "/h", "XDG_CACHE_HOME": "/c"}, windows=False) == Path("/c/geomgen/results")
    assert cache_folder({"LOCALAPPDATA": "/l"}, windows=True) == Path("/l/geomgen/results")
    assert cache_folder({"GEOMGEN_KEEP": "/mine", "HOME": "/h"}) == Path("/mine")
    assert cache_folder({"GEOMGEN_KEEP": "", "HOME": "/h"}) is None and cache_folder({}, windows=False) is None


def test_the_one_of_the_process_moves_with_the_environment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GEOMGEN_KEEP", str(tmp_path / "a"))
    first = default()
    first.store("key", entry(1))
    assert default() is first and (tmp_path / "a" / "key.npz").exists()
    monkeypatch.setenv("GEOMGEN_KEEP", str(tmp_path / "b"))
    assert default() is not first and default().fetch("key") is None
    monkeypatch.setenv("GEOMGEN_KEEP", "")
    assert default().folder is None


# In memory


def test_memory_is_bounded_by_bytes_and_the_longest_unused_go_first() -> None:
    cache = Cache(memory_bytes=100 * KB)
    for i in range(9):
        cache.remember(i, np.zeros(10 * KB, np.uint8))
    assert cache.remembered(0) is not MISSING
    cache.remember(9, np.zeros(10 * KB, np.uint8))
    assert cache.remembered(0) is not MISSING and cache.remembered(1) is MISSING
    cache.remember("given", "short", size=95 * KB)
    assert [key for key in (*range(10), "given") if cache.remembered(key) is not MISSING] == ["given"]
    cache.remember("too large", np.zeros(200 * KB, np.uint8))
    assert cache.remembered("too large") is MISSING and cache.remembered("given") == "short"


def test_a_value_remembered_anew_takes_the_place_of_the_old() -> None:
    cache = Cache(memory_bytes=100 * KB)
    for _ in range(50):
        cache.remember("key", None, size=60 * KB)
    cache.remember("other", None, size=40 * KB)
    assert cache.remembered("key") is None and cache.remembered("other") is None
    cache.forget("key")
    assert cache.remembered("key") is MISSING


@dataclass(frozen=True)
class Pair:
    """Two of anything."""

    a: object
    b: object


@dataclass(frozen=True, slots=True)
class Slim:
    """One of anything."""

    a: object


def test_sizes_count_what_is_held_once() -> None:
    data = np.zeros(100 * KB, np.uint8)
    for holder in (data, [data], (data, data), {"a": data}, Pair(data, data), Slim(data), Pair(Slim(data), {1: data})):
        assert 100 * KB < size_of(holder) < 103 * KB
    assert 200 * KB < size_of(Pair(data, data.copy())) < 203 * KB
    assert 100 * KB < size_of((data[::2], data[1:])) < 103 * KB  # two views of one
    assert size_of(Pair) == size_of(test_where_it_is) == size_of(module) == 0
    ring: list[object] = []
    ring.append(ring)
    assert size_of(ring) < KB


def test_sizes_of_plane_shapes_grow_with_their_corners() -> None:
    import shapely

    circle = shapely.Point(0, 0).buffer(1.0, quad_segs=1000)
    assert 16 * 4000 < size_of(Pair(circle, circle)) < 64 * 4000

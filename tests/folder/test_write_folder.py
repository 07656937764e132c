"""The output folder: what is written, what stays, what goes, and what is said of it."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
from pathlib import Path

import pytest

from geomgen.errors import DesignError
from geomgen.folder import SetAside, write_folder
from geomgen.folder.lock import held

FILES = {"cut/rib_R1.dxf": b"one", "cut/rib_R2.dxf": b"two", "parts.csv": b"a;b\n"}
ABOUT = {
    "cut/rib_R1.dxf": {"part": "rib R1", "r_mm": 130.0},
    "cut/rib_R2.dxf": {"part": "rib R2", "r_mm": 165.0},
}


def contents(folder: Path) -> dict[str, bytes]:
    return {f.relative_to(folder).as_posix(): f.read_bytes() for f in folder.rglob("*") if f.is_file()}


def test_holds_the_files_and_a_manifest_that_an_outside_tool_confirms(tmp_path: Path) -> None:
    target = tmp_path / "far" / "base"
    changes = write_folder(target, FILES, ABOUT)
    found = contents(target)
    manifest = json.loads(found.pop("manifest.json"))
    assert found == FILES
    assert set(manifest["files"]) == set(FILES)
    for name, entry in manifest["files"].items():
        told = subprocess.run(["sha256sum", target / name], capture_output=True, text=True, check=True).stdout
        assert entry["sha256"] == told.split()[0]
    assert manifest["files"]["cut/rib_R2.dxf"]["r_mm"] == 165.0
    assert changes.new == ("rib R1", "rib R2", "parts.csv")
    assert not (changes.changed or changes.gone or changes.same or changes.kept)
    assert [path.name for path in target.parent.iterdir()] == ["base"]


def test_manifest_repeats_byte_for_byte_and_does_not_depend_on_order(tmp_path: Path) -> None:
    write_folder(tmp_path / "a", FILES, ABOUT)
    write_folder(tmp_path / "b", dict(reversed(FILES.items())), dict(reversed(ABOUT.items())))
    assert (tmp_path / "a/manifest.json").read_bytes() == (tmp_path / "b/manifest.json").read_bytes()
    write_folder(tmp_path / "b", FILES, ABOUT)
    assert (tmp_path / "a/manifest.json").read_bytes() == (tmp_path / "b/manifest.json").read_bytes()


def test_says_what_changed_since_the_last_run(tmp_path: Path) -> None:
    picture = "pictures/rib_R1.svg"
    write_folder(tmp_path / "base", {**FILES, picture: b"x"}, {**ABOUT, picture: {"part": "rib R1"}})
    later = {"cut/rib_R1.dxf": b"one", picture: b"y", "parts.csv": b"a;b\n", "cut/rib_R9.dxf": b"nine"}
    about = {"cut/rib_R1.dxf": {"part": "rib R1"}, picture: {"part": "rib R1"}}
    changes = write_folder(tmp_path / "base", later, about)
    assert (changes.new, changes.changed) == (("cut/rib_R9.dxf",), ("rib R1",))
    assert (changes.gone, changes.same) == (("rib R2",), ("parts.csv",))
    assert "cut/rib_R2.dxf" not in contents(tmp_path / "base")
    assert json.loads(json.dumps(changes.as_dict())) == changes.as_dict()
    assert changes.as_dict()["gone"] == ["rib R2"]


def test_a_strangers_files_stay(tmp_path: Path) -> None:
    target = tmp_path / "base"
    write_folder(target, FILES, ABOUT)
    (target / "notes.txt").write_text("mine")
    (target / "cut/deep/er").mkdir(parents=True)
    (target / "cut/deep/er/jig.dxf").write_bytes(b"jig")
    (target / "empty").mkdir()
    (target / "link").symlink_to("nowhere")
    (target / "cut/read_only").mkdir()
    (target / "cut/read_only/plan.pdf").write_bytes(b"pdf")
    (target / "cut/read_only").chmod(0o555)
    inode = (target / "notes.txt").stat().st_ino
    changes = write_folder(target, {"cut/rib_R1.dxf": b"ONE"}, {})
    assert changes.kept == ()
    expected = {"notes.txt", "cut/deep/er/jig.dxf", "cut/read_only/plan.pdf", "cut/rib_R1.dxf", "manifest.json"}
    assert set(contents(target)) == expected
    assert (target / "notes.txt").stat().st_ino == inode
    assert (target / "empty").is_dir() and os.readlink(target / "link") == "nowhere"
    assert [path.name for path in tmp_path.iterdir()] == ["base"]


def test_an_edited_file_of_ours_is_set_aside_each_time(tmp_path: Path) -> None:
    target = tmp_path / "base"
    write_folder(target, FILES, ABOUT)
    (target / "cut/rib_R1.dxf").write_bytes(b"my first edit")
    first = write_folder(target, FILES, ABOUT)
    assert first.kept == (SetAside("cut/rib_R1.dxf", "cut/rib_R1.edited.dxf", "edited"),)
    assert write_folder(target, FILES, ABOUT).kept == ()
    (target / "cut/rib_R1.dxf").write_bytes(b"my second edit")
    second = write_folder(target, {"parts.csv": b"only this"}, {})  # and the rib isn't even made any more
    assert second.kept == (SetAside("cut/rib_R1.dxf", "cut/rib_R1.edited-2.dxf", "edited"),)
    assert contents(target) | {"manifest.json": b""} == {
        "cut/rib_R1.edited.dxf": b"my first edit",
        "cut/rib_R1.edited-2.dxf": b"my second edit",
        "parts.csv": b"only this",
        "manifest.json": b"",
    }


def test_an_edit_that_we_would_make_ourselves_now_is_no_edit(tmp_path: Path) -> None:
    write_folder(tmp_path / "base", FILES, ABOUT)
    (tmp_path / "base/parts.csv").write_bytes(b"new")
    assert write_folder(tmp_path / "base", {"parts.csv": b"new"}, {}).kept == ()
    assert set(contents(tmp_path / "base")) == {"parts.csv", "manifest.json"}


def test_a_strangers_file_at_one_of_our_names_is_set_aside(tmp_path: Path) -> None:
    target = tmp_path / "base"
    (target / "parts.csv").mkdir(parents=True)
    (target / "parts.csv/list.txt").write_bytes(b"in a folder of that name")
    (target / "parts.csv/more.txt").write_bytes(b"more")
    (target / "cut").write_bytes(b"a file where our folder goes")
    (target / "manifest.json").write_bytes(b"not ours")
    kept = write_folder(target, FILES, ABOUT).kept
    found = contents(target)
    assert {name: found[name] for name in FILES} == FILES
    assert found["parts.found.csv/list.txt"] == b"in a folder of that name"
    assert found["parts.found.csv/more.txt"] == b"more"
    assert found["cut.found"] == b"a file where our folder goes"
    assert found["manifest.found.json"] == b"not ours"
    assert {(k.was, k.why) for k in kept} == {
        (name, "found") for name in ("cut", "manifest.json", "parts.csv/list.txt", "parts.csv/more.txt")
    }
    assert write_folder(target, FILES, ABOUT).kept == ()
    assert contents(target).keys() == found.keys()


def test_an_edited_manifest_is_set_aside_and_still_read(tmp_path: Path) -> None:
    target = tmp_path / "base"
    write_folder(target, FILES, ABOUT)
    text = (target / "manifest.json").read_text().replace("165.0", "166.0")
    (target / "manifest.json").write_text(text)
    changes = write_folder(target, FILES, ABOUT)
    assert changes.kept == (SetAside("manifest.json", "manifest.edited.json", "edited"),)
    assert (target / "manifest.edited.json").read_text() == text
    assert changes.same == ("rib R1", "rib R2", "parts.csv")


def test_what_is_saved_while_we_write_is_not_lost(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An editor that saves between our look at the old folder and the swap."""
    from geomgen.folder import write

    target = tmp_path / "base"
    write_folder(target, FILES, ABOUT)
    real = write.put_in_place

    def save_first(new: Path, place: Path, old: Path) -> Path | None:
        (target / "cut/rib_R1.dxf").write_bytes(b"saved late")
        (target / "late.txt").write_bytes(b"late")
        return real(new, place, old)

    monkeypatch.setattr(write, "put_in_place", save_first)
    kept = write_folder(target, {**FILES, "parts.csv": b"a;c\n"}, ABOUT).kept
    assert kept == (SetAside("cut/rib_R1.dxf", "cut/rib_R1.edited.dxf", "edited"),)
    assert contents(target)["cut/rib_R1.edited.dxf"] == b"saved late"
    assert contents(target)["late.txt"] == b"late"


def test_one_run_at_a_time(tmp_path: Path) -> None:
    target = tmp_path / "base"
    write_folder(target, FILES, ABOUT)
    before = contents(target)
    with held(tmp_path / ".base.geomgen-lock"), pytest.raises(DesignError, match="another run is writing"):
        write_folder(target, {"parts.csv": b"other"}, {})
    assert contents(target) == before


def test_a_lock_left_by_a_killed_run_does_not_hold(tmp_path: Path) -> None:
    (tmp_path / ".base.geomgen-lock").write_bytes(b"")
    write_folder(tmp_path / "base", FILES, ABOUT)
    assert [path.name for path in tmp_path.iterdir()] == ["base"]


def test_only_our_own_left_overs_are_cleared(tmp_path: Path) -> None:
    for name in (".base.geomgen-new", ".base.geomgen-old", ".base.geomgen-newer", ".other.geomgen-new"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "x").write_bytes(b"x")
    write_folder(tmp_path / "base", FILES, ABOUT)
    assert sorted(p.name for p in tmp_path.iterdir()) == [".base.geomgen-newer", ".other.geomgen-new", "base"]


def test_a_target_that_is_a_file_is_refused_untouched(tmp_path: Path) -> None:
    (tmp_path / "base").write_bytes(b"a file")
    with pytest.raises(DesignError, match="is a file") as caught:
        write_folder(tmp_path / "base", FILES, ABOUT)
    assert caught.value.exit_status == 2
    assert contents(tmp_path) == {"base": b"a file"}


def test_a_place_where_no_folder_can_be_made_is_a_plain_error(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"a file")
    with pytest.raises(DesignError, match=r"can't be written: (Not a directory|File exists).*--out"):
        write_folder(tmp_path / "file" / "base", FILES, ABOUT)
    assert contents(tmp_path) == {"file": b"a file"}


@pytest.mark.skipif(not hasattr(os, "getuid") or os.getuid() == 0, reason="the superuser may write anywhere")
def test_a_folder_that_forbids_writing_is_a_plain_error(tmp_path: Path) -> None:
    (tmp_path / "shut").mkdir(mode=0o555)
    with pytest.raises(DesignError, match="can't be written: Permission denied"):
        write_folder(tmp_path / "shut" / "base", FILES, ABOUT)
    assert list((tmp_path / "shut").iterdir()) == []


def test_a_failure_while_writing_leaves_all_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "base"
    write_folder(target, FILES, ABOUT)
    before = contents(target)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(DesignError, match="No space left"):
        write_folder(target, {"parts.csv": b"other"}, {})
    assert contents(target) == before
    assert [path.name for path in tmp_path.iterdir()] == ["base"]


BAD_NAMES = ["", "/etc/x", "../x", "a/../b", "a\\b", "manifest.json", "MANIFEST.JSON", "cut", "./x"]


@pytest.mark.parametrize("name", BAD_NAMES)
def test_names_that_no_folder_can_hold(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError):
        write_folder(tmp_path / "base", {"cut/a.dxf": b"", name: b""}, {})
    assert list(tmp_path.iterdir()) == []


def test_names_that_differ_only_in_case_are_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError):
        write_folder(tmp_path / "base", {"rib_A.dxf": b"", "rib_a.dxf": b""}, {})


def test_the_manifest_refuses_what_json_can_not_say(tmp_path: Path) -> None:
    with pytest.raises(ValueError):
        write_folder(tmp_path / "base", {"a": b""}, {"a": {"r_mm": float("nan")}})
    with pytest.raises(ValueError):
        write_folder(tmp_path / "base", {"a": b""}, {"b": {}})
    assert list(tmp_path.iterdir()) == []


def test_digest_is_over_the_bytes_on_the_disk(tmp_path: Path) -> None:
    data = bytes(range(256)) * 17
    write_folder(tmp_path / "base", {"print/hub.stl": data}, {})
    entry = json.loads((tmp_path / "base/manifest.json").read_text())["files"]["print/hub.stl"]
    assert entry["sha256"] == hashlib.sha256((tmp_path / "base/print/hub.stl").read_bytes()).hexdigest()


def test_a_run_that_changes_nothing_writes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from geomgen.folder import write

    target = tmp_path / "base"
    write_folder(target, FILES, ABOUT)

    def never(*_: object) -> None:
        raise AssertionError("the folder was written again")

    monkeypatch.setattr(write, "put_in_place", never)
    changes = write_folder(target, FILES, ABOUT)
    assert not changes.new and not changes.changed and not changes.gone and len(changes.same) == 3
    (target / "cut/rib_R1.dxf").write_bytes(b"edited")
    with pytest.raises(AssertionError, match="written again"):
        write_folder(target, FILES, ABOUT)

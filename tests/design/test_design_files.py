"""Files that are no design, and files that are one in another coat."""

from __future__ import annotations

import os
import pathlib
import subprocess
import sys

import pytest

from geomgen.design import read, starter_text
from geomgen.errors import DesignError, Fault

UTF8 = starter_text().encode()


def refused(path: pathlib.Path) -> Fault:
    with pytest.raises(DesignError) as caught:
        read(path)
    (fault,) = caught.value.faults
    assert fault.file == str(path)
    return fault


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"#" * 2_000_000, "larger than 100 kB"),
        (bytes(range(256)) * 8, "is not text"),
        (os.urandom(64) + b"\xff\xfe\x80", "is not text"),
        (starter_text().encode("utf-16"), "UTF-16"),
        ("title = 'größer'".encode("latin-1"), "is not text in UTF-8"),
        (b"\0" * 100, "is not text"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "is not text"),
    ],
    ids=["2 MB", "all bytes", "random", "UTF-16", "Latin-1", "zeros", "picture"],
)
def test_what_is_not_text_is_refused(tmp_path: pathlib.Path, data: bytes, words: str) -> None:
    path = tmp_path / "rotor.toml"
    path.write_bytes(data)
    assert words in refused(path).wrong


def test_the_line_of_a_wrong_byte_is_told(tmp_path: pathlib.Path) -> None:
    path = tmp_path / "rotor.toml"
    path.write_bytes("schema = 1\n\ntitle = 'größer'".encode("latin-1"))
    assert refused(path).line == 3


def test_no_file_and_a_folder_are_refused(tmp_path: pathlib.Path) -> None:
    assert "no such file" in refused(tmp_path / "none.toml").wrong
    assert "is a folder" in refused(tmp_path).wrong
    assert refused(pathlib.Path("a\0b")).wrong
    assert refused(tmp_path / ("x" * 5000)).wrong


@pytest.mark.skipif(not os.path.exists("/dev/zero"), reason="no endless file here")
def test_an_endless_file_is_refused() -> None:
    assert "it is a device" in refused(pathlib.Path("/dev/zero")).wrong


def test_an_empty_file_lacks_every_table(tmp_path: pathlib.Path) -> None:
    path = tmp_path / "rotor.toml"
    path.write_bytes(b"")
    with pytest.raises(DesignError) as caught:
        read(path)
    missing = {fault.path for fault in caught.value.faults}
    assert missing == {"schema", "title", "rotor", "duty", "blade", "pitch", "hub", "stock"}
    assert all(fault.line == 1 for fault in caught.value.faults)


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 3000,
        "a = " + "[" * 300 + "]" * 300,
        "a" + ".a" * 3000 + " = 1",
        "a = " + "9" * 5000,
        "a = 1979-13-45",
    ],
    ids=["open lists", "lists", "dotted", "digits", "no day"],
)
def test_monsters_are_refused(tmp_path: pathlib.Path, text: str) -> None:
    path = tmp_path / "rotor.toml"
    path.write_text(text)
    with pytest.raises(DesignError):
        read(path)


def test_bom_crlf_and_names_in_any_script_make_no_difference(tmp_path: pathlib.Path) -> None:
    plain = tmp_path / "rotor.toml"
    plain.write_bytes(UTF8)
    folder = tmp_path / "größe 風 ü"
    folder.mkdir()
    coat = folder / "мой ротор.toml"
    coat.write_bytes(b"\xef\xbb\xbf" + UTF8.replace(b"\n", b"\r\n"))
    assert read(coat).design == read(plain).design
    assert read(coat).source.folder == folder


def test_reading_needs_no_geometry() -> None:
    script = (
        "import sys, geomgen.design as d; d.demo(); d.json_schema();"
        "print([m for m in ('numpy', 'shapely', 'ezdxf', 'cadquery', 'tree_sitter', 'scipy') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"

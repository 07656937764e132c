"""What of an earlier run lies in the output folder: where parts lay on sheets, and files of sheets that are cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from geomgen.errors import DesignError, Fault
from geomgen.plain_file import read_bytes
from geomgen.stock.layout_file import LAYOUT, REMEDY, read_layout
from geomgen.stock.sheets import Layout

MOST_BYTES = 64 * 2**20


def layout_of(folder: Path, done: Sequence[str], *, anew: bool) -> Layout | None:
    """The layout that lies in a folder; None where none does.

    done   : names of sheets that are cut
    anew   : whether to forget all sheets but those
    raises : DesignError where it can't be read
    """
    file = folder / LAYOUT
    if not file.is_file() or (anew and not done):
        return None
    remedy = "mend it, or take laser.done out and start over with --lay-anew" if done else REMEDY
    try:
        text = read_bytes(file, MOST_BYTES).decode()
    except (OSError, UnicodeDecodeError) as error:
        raise DesignError(Fault("", str(file), f"can't be read: {error}", remedy=remedy)) from None
    there = read_layout(text, str(file), remedy=remedy)
    return replace(there, sheets=tuple(each for each in there.sheets if each.name in done)) if anew else there


def cut_files(folder: Path, done: Sequence[str]) -> dict[str, bytes]:
    """Cutting files of sheets in a folder, by their names there; nothing where no sheet is said to be cut."""
    if not done:
        return {}
    files = sorted((folder / "cut").glob("*/sheets/*.dxf"))
    return {file.relative_to(folder).as_posix(): file.read_bytes() for file in files if file.is_file()}

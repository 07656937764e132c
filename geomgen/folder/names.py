"""File names from the names of parts."""

from __future__ import annotations

import unicodedata


def file_stem(name: str) -> str:
    """A name that every file system takes: letters, digits, "-", "." and "_", accents dropped; "rib R3" -> "rib_R3".

    name   : name of a part
    raises : ValueError where nothing of it is left
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    stem = "_".join("".join(c if c.isalnum() or c in "-." else " " for c in plain).split()).strip(".")
    if not stem:
        raise ValueError(f"no file can be named after {name!r}")
    return stem

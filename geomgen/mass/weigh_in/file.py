"""A design's form of what the scale said, as it lies beside the design."""

from __future__ import annotations

import pathlib
from dataclasses import dataclass

from geomgen.design.schema import Design
from geomgen.plain_file import read_bytes

MOST_BYTES = 1_000_000


@dataclass(frozen=True)
class AsWritten:
    """The file that `weighed` names.

    name    : as the design has it
    title   : of the design
    units   : the design's own unit of length
    data    : what is in it, up to one byte more than is read
    missing : why it can't be read; "" where it can
    """

    name: str
    title: str
    units: str
    data: bytes
    missing: str = ""

    @classmethod
    def of(cls, design: Design, folder: pathlib.Path | None) -> AsWritten | None:
        """That of a design as it lies there now; None where the design names none."""
        if design.weighed is None:
            return None
        about = (design.weighed, design.title, design.units or "mm")
        if folder is None:
            return cls(*about, b"", "the design lies in no folder")
        try:
            return cls(*about, read_bytes(folder / design.weighed, MOST_BYTES + 1))
        except OSError as error:
            return cls(*about, b"", (error.strerror or str(error)).lower())

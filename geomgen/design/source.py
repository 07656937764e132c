"""A design file's text."""

from __future__ import annotations

import codecs
import pathlib
from dataclasses import dataclass
from functools import cached_property

from geomgen.design.key_lines import Lines, find_lines
from geomgen.design.keypath import KeyPath
from geomgen.errors import DesignError, Fault
from geomgen.plain_file import read_bytes

LARGEST = 100_000  # a design file has no more bytes than this


@dataclass(frozen=True)
class Source:
    """A design file as given.

    name   : its name as the maker gave it
    text   : its text
    folder : the folder its paths are taken from; None for a text that is not in a file
    """

    name: str
    text: str
    folder: pathlib.Path | None = None

    @cached_property
    def lines(self) -> Lines:
        """The line of each key."""
        return find_lines(self.text)

    def place(self, fault: Fault, path: KeyPath) -> Fault:
        """A fault with the file and the line of a key path, or of the nearest table around it."""
        return fault.at(self.name, self.lines.nearest(path))


def read_source(path: pathlib.Path) -> Source:
    """Read a design file's text.

    raises : DesignError where it is missing, no file, too large, or not text in UTF-8
    """
    name = str(path)
    try:
        data = read_bytes(path, LARGEST + 1)
    except IsADirectoryError:
        raise refused(name, "is a folder", "the design file itself, which ends in .toml") from None
    except FileNotFoundError:
        raise refused(name, "there is no such file") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise refused(name, f"can't be read: {reason.lower()}") from None
    return Source(name, decoded(data, name), path.parent)


def decoded(data: bytes, name: str) -> str:
    """The text in a file's bytes, with or without a byte order mark.

    raises : DesignError where it is too large or not text in UTF-8
    """
    if len(data) > LARGEST:
        raise refused(name, f"is larger than {LARGEST // 1000} kB", "a design file is text of a few kB")
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        raise refused(name, "is text in UTF-16", "save it as UTF-8")
    if (zero := data.find(b"\0")) >= 0:
        raise refused(name, "is not text", "a design file is TOML, text in UTF-8", data.count(b"\n", 0, zero) + 1)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise refused(name, "is not text in UTF-8", "save it as UTF-8", line) from None


def refused(name: str, wrong: str, allowed: str = "", line: int | None = None) -> DesignError:
    """The error of a whole file."""
    return DesignError(Fault("", "", wrong, allowed).at(name, line))

"""All of a DXF file but its entities: written by the library once for each set of layers, then only filled in."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from geomgen.plane.path import Bounds

_MILLIMETRES = 4  # $INSUNITS
_METRIC = 1  # $MEASUREMENT
_FOLLOWING = 0xF0000000  # handles given after those of the entities, while there are none
_EXTENTS = (1.1e33, 1.2e33, 1.3e33, 1.4e33)  # while they aren't known
_HERE = "  0\nSECTION\n  2\nENTITIES\n"

Layers = tuple[tuple[str, int, bool], ...]


@dataclass(frozen=True)
class Frame:
    """A file without entities.

    text      : with stand-ins for the extents and for the handles that follow those of the entities
    following : how many such handles there are
    first     : handle of the first entity
    owner     : handle of the space that entities stand in, as written
    """

    text: str
    following: int
    first: int
    owner: str

    def filled(self, entities: str, count: int, bounds: Bounds) -> bytes:
        """The whole file, with a number of entities that have the handles from `first` on, within bounds [mm]."""
        text = self.text
        for k in range(self.following):
            text = text.replace(f"\n{_FOLLOWING + k:X}\n", f"\n{self.first + count + k:X}\n")
        for unknown, known in zip(_EXTENTS, bounds, strict=True):
            text = text.replace(f"\n{unknown}\n", f"\n{float(known)}\n")
        before, after = text.split(_HERE)
        return "".join((before, _HERE, entities, after)).encode("ascii")


@lru_cache(maxsize=8)
def frame(layers: Layers) -> Frame:
    """The frame of files with some layers.

    layers : name, colour number, and whether it is plotted
    """
    with _same_bytes_each_time() as ezdxf:
        document = ezdxf.new("R2000", units=_MILLIMETRES)
        document.header["$MEASUREMENT"] = _METRIC
        for name, colour, plotted in layers:
            document.layers.add(name, color=colour, plot=plotted)
        space, handles = document.modelspace(), document.entitydb.handles
        x0, y0, x1, y1 = _EXTENTS
        space.dxf.extmin, space.dxf.extmax = (x0, y0, 0.0), (x1, y1, 0.0)
        first = int(str(handles), 16)
        handles.reset(f"{_FOLLOWING:X}")
        text = io.StringIO()
        document.write(text)
        following = int(str(handles), 16) - _FOLLOWING + 1  # the seed of further handles is one more
        return Frame(text.getvalue(), following, first, space.layout_key)


@contextmanager
def _same_bytes_each_time() -> Iterator[Any]:
    """The library, set to leave out clock and random numbers; set as before when done."""
    import ezdxf  # late: 0.4 s

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield ezdxf
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before

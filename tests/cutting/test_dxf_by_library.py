"""Our cutting files are, byte for byte, those that the library writes from the same drawing."""

from __future__ import annotations

import io
from dataclasses import replace

import ezdxf
import numpy as np
import pytest
from known_parts import COLOURS, known_part

from geomgen.cutting import dxf
from geomgen.cutting.colours import LAYERS, layer_colours
from geomgen.cutting.dxf import write_dxf
from geomgen.cutting.frame import frame
from geomgen.cutting.toolpaths import Drawing, caption, draw_part, rule, together
from geomgen.plane.path import Circle, Path, from_points

OTHERS = {"inside": "cyan", "outside": "black", "mark": "magenta", "reference": "yellow"}
ROUND = Path(np.array([(0.0, -1e-7), (1 / 3, 2e5), (1e-5, -7.0)]), np.array([1.0, 1e-10, -0.123456789012]), True)
OPEN = from_points([(-0.0, 0.0), (1e-6, 12.0), (3.0, 4.0)], closed=False)
DRAWINGS = {
    "nothing": Drawing((), (1.0, 2.0, 30.0, 40.0)),
    "a circle": Drawing((("inside", Circle((1.5, -2.0), 3.25)),), (-1.75, -5.25, 4.75, 1.25)),
    "paths": Drawing((("mark", OPEN), ("outside", ROUND), ("reference", OPEN)), (-1.0, -7, 1e5 + 1 / 3, 2e5)),
    "a part": draw_part(known_part()).moved(0.1, 0.2),  # the library takes extents from (0, 0) for none
    "letters": together([caption(["Rib R6, æ 12 of balsa", "%%c"], 3.0, -4.0), rule(0.0, 10.0)]),
    "a hundred circles": Drawing(
        tuple(("inside", Circle((x, 0.1 * x), 0.3)) for x in range(100)), (-0.3, -0.3, 99.3, 10.2)
    ),
}


def by_library(drawing: Drawing, colours: dict[str, str], first: int | None = None) -> bytes:
    """The drawing through the library's own entities, the first of which gets a handle."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    document = ezdxf.new("R2000", units=4)
    document.header["$MEASUREMENT"] = 1
    for operation, colour in layer_colours(colours).items():
        document.layers.add(LAYERS[operation], color=colour, plot=operation != "reference")
    space = document.modelspace()
    if first is not None:
        document.entitydb.handles.reset(f"{first:X}")
    for operation, item in drawing.items:
        on = {"layer": LAYERS[operation]}
        if isinstance(item, Circle):
            x, y, radius = np.round((*item.center, item.radius), 6) + 0.0
            space.add_circle((x, y), radius, dxfattribs=on)
        else:
            rows = np.column_stack((np.round(item.xy, 6) + 0.0, np.round(item.bulge, 9) + 0.0))
            space.add_lwpolyline(rows.tolist(), format="xyb", close=item.closed, dxfattribs=on)
    x0, y0, x1, y1 = drawing.bounds
    space.dxf.extmin, space.dxf.extmax = (x0, y0, 0.0), (x1, y1, 0.0)
    text = io.StringIO()
    document.write(text)
    ezdxf.options.write_fixed_meta_data_for_testing = before
    data: bytes = document.encode(text.getvalue())
    return data


@pytest.mark.parametrize("colours", [COLOURS, OTHERS])
@pytest.mark.parametrize("name", DRAWINGS)
def test_the_same_bytes(name: str, colours: dict[str, str]) -> None:
    assert write_dxf(DRAWINGS[name], colours) == by_library(DRAWINGS[name], colours)


def test_handles_of_more_figures(monkeypatch: pytest.MonkeyPatch) -> None:
    """From a first handle so high that the next ones need a fifth figure."""
    monkeypatch.setattr(dxf, "frame", lambda layers: replace(frame(layers), first=0xFFB0))
    data = write_dxf(DRAWINGS["a hundred circles"], COLOURS)
    assert b"\n10012\n" in data and data == by_library(DRAWINGS["a hundred circles"], COLOURS, 0xFFB0)


def test_the_library_is_left_as_it_was() -> None:
    frame.cache_clear()
    before = ezdxf.options.write_fixed_meta_data_for_testing
    write_dxf(DRAWINGS["a part"], COLOURS)
    assert ezdxf.options.write_fixed_meta_data_for_testing is before

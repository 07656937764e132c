"""What may go to a laser: no file in its folder holds anything that laser shops refuse, or that isn't known.

The lists here are written out from what the shops say, not taken from the catalogue: wood, plywood, card and acrylic
are cut (plywood and paper-faced foam board where the shop allows it); foams, films, vinyl, polycarbonate, acetal, resin
boards, carbon, glass, metal and prints never are.
"""

from __future__ import annotations

import io

import ezdxf
import pytest
from ezdxf.path import make_path
from shapely import Polygon

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import demo
from geomgen.design.schema import SheetStock, VolumeStock
from geomgen.design.vary import vary
from geomgen.making import Output, make
from geomgen.materials.catalogue import names
from geomgen.model.part import Flat
from geomgen.plane.region import Region
from geomgen.stock.tool import Tool, to_ask, tool

LASERED = {
    "balsa", "balsa, light", "balsa, hard", "spruce", "basswood", "birch", "pine", "douglas fir", "card", "acrylic",
}  # fmt: skip
ASKED = {"hardwood dowel", "bamboo", "birch ply", "light ply", "foam board"}
UNKNOWN = ("unobtainium", "a vinyl of our own", "mystery board")


def sheet(of: str) -> SheetStock:
    return SheetStock.model_construct(kind="sheet", of=of, thickness=3.0, size=None, grain=None)


@pytest.mark.parametrize("of", [*names(), *UNKNOWN])
def test_only_what_shops_cut_goes_to_the_laser(of: str) -> None:
    assert (tool(sheet(of)) is Tool.LASER) == (of in LASERED | ASKED)
    assert bool(to_ask(sheet(of))) == (of in ASKED)


def test_words_that_makers_use_for_vinyl_are_known() -> None:
    for word in ("PVC", "vinyl", "PVC foam board", "foamed PVC", "POM"):
        assert tool(sheet(word)) in (Tool.KNIFE, Tool.SAW)


def test_what_is_printed_is_cut_by_nothing() -> None:
    assert tool(VolumeStock.model_construct(kind="volume", of="PETG, printed")) is None and tool(None) is None


def outlines_mm2(data: bytes, kerf_mm: float = 0.0) -> list[float]:
    """Areas of closed outside cuts in a file, read by a library that didn't write it; the kerf put on again."""
    model = ezdxf.read(io.StringIO(data.decode())).modelspace()
    closed = model.query("LWPOLYLINE[layer=='outside cut']")
    cut = [Polygon([(p.x, p.y) for p in make_path(one).flattening(0.002)]) for one in closed]
    return [one.buffer(-kerf_mm / 2.0, quad_segs=32).area for one in cut]


def lasered(made: Output) -> dict[str, list[float]]:
    """By file: all but the plates that are cut first, to measure by."""
    return {
        name: outlines_mm2(data, made.about[name]["kerf_applied_mm"])
        for name, data in made.files.items()
        if name.startswith("cut/laser/") and "/fit/" not in name
    }


@pytest.mark.parametrize(
    ("option", "changes"),
    [
        (None, {}),
        ("foam_board", {}),
        ("film", {}),
        (None, {"stock.balsa_3.of": "PVC foam", "stock.balsa_3.density": "550 kg/m3", "stock.balsa_3.grain": None}),
        (None, {"stock.ply_3.of": "mystery board", "stock.ply_3.density": "700 kg/m3"}),
    ],
)
def test_no_file_for_the_laser_holds_what_it_must_not_cut(option: str | None, changes: dict[str, object]) -> None:
    """Outlines as reopened, matched by area: each is a part of a stock that shops cut, and all those are there."""
    file = demo(option)
    craft = Craft((vary(file, changes) if changes else file).design, cache=Cache())
    made = make(craft)
    found = lasered(made)
    allowed, refused = list[float](), list[float]()
    for part in craft.flat_parts:
        assert isinstance(part.shape, Flat)
        stock = craft.design.stock[part.stock]
        of_sheet = isinstance(stock, SheetStock) and stock.of in LASERED | ASKED
        filled = _outer_mm2(part.shape)
        (allowed if of_sheet else refused).append(filled)
    alone = [name for name in found if name.count("/") == 2 and "/all" not in name]
    one_by_one = sorted(area for name in alone for area in found[name])
    assert one_by_one == pytest.approx(sorted(allowed), rel=1e-4)
    by_word = {name: found.get(f"cut/laser/{name}.dxf", []) for name in ("all", "all_ask")}
    assert sorted(by_word["all"] + by_word["all_ask"]) == pytest.approx(sorted(allowed), rel=1e-4)
    asked = [_outer_mm2(part.shape) for part in craft.flat_parts if craft.design.stock[part.stock].of in ASKED]
    assert sorted(by_word["all_ask"]) == pytest.approx(sorted(asked), rel=1e-4)
    on_sheets = [area for name, areas in found.items() if "/sheets/" in name for area in areas]
    assert len(on_sheets) >= len(allowed)
    assert all(any(abs(area / good - 1.0) < 1e-4 for good in allowed) for area in on_sheets)
    assert refused and all(abs(area / bad - 1.0) > 1e-4 for area in (*one_by_one, *on_sheets) for bad in refused)
    fits = [name for name in made.files if "/fit/" in name]
    assert fits and all(name.startswith("cut/laser/") for name in fits)
    stocks = {part.stock for part in craft.flat_parts if craft.design.stock[part.stock].of in LASERED | ASKED}
    assert {name.rpartition("/")[2].removesuffix(".dxf") for name in fits} == stocks


def _outer_mm2(flat: Flat) -> float:
    return abs(Region(flat.region.outer).moments().area)


def test_where_shops_disagree_the_file_says_so() -> None:
    """Letters are strokes: a part that is to be asked for has more of them than one of a wood that any shop cuts."""
    file = demo()
    strokes = []
    for of in ("birch ply", "birch"):
        craft = Craft(vary(file, {"stock.ply_3.of": of}).design, cache=Cache())
        made = make(craft)
        data = made.files["cut/laser/gauge_R02.dxf"]
        model = ezdxf.read(io.StringIO(data.decode())).modelspace()
        strokes.append(len(model.query("LWPOLYLINE[layer=='reference']")))
        assert ("ask the shop" in made.about["cut/laser/gauge_R02.dxf"]["holds"]) == (of == "birch ply")
    assert strokes[0] > strokes[1] + 10

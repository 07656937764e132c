"""Each way of building the demo: every line of its mass by hand, its band, its cutting files, its place in the order.

Amounts are worked out in `blade_by_hand` and `options_by_hand`, which import nothing of geomgen.
"""

from __future__ import annotations

import csv
import io
import tomllib
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest
import shapely
from blade_by_hand import FOLDS, ROOT, board, chord, naca
from numpy.typing import NDArray
from options_by_hand import BUILT, DOUBLED, FAN, TUBE, WEIGHED, WEIGHED_3, Lines, by_hand, ribs

from geomgen.craft import Craft
from geomgen.cutting.dxf import part_dxf
from geomgen.design.library import example_path
from geomgen.mass.lines import Line
from geomgen.model.part import Flat
from geomgen.render.data import csv_text
from geomgen.views.parts_list import parts_list

OPTIONS = tuple(BUILT)
FOUR = ("film", "foam_on_ply", "balsa", "foam_board")  # lightest first
# Wherever both sides follow the same curves they differ by the reader's chords and the hand's: a thousandth is plenty.
# Where a slanting spar makes a hole, a slot or a notch some hundredths wider, and where a box's height runs straight
# from rib to rib, the hand leaves that out: half a hundredth.
CLOSE, SLANTED = 1e-3, 5e-3
BOUGHT = {  # the same in all: bought, printed, or fixed by the pitch and the duty
    "turning cap", "collar", "pitch pin", "turning cap screw M3 x 12", "screw of fan M2 x 12", "tie of power",
    "fitting fan", "fitting light_strip",
}  # fmt: skip
# Least and most that was published of what each stock is: g/m2 of the sheet, or g/m of the length.
PUBLISHED = {
    # sheets of 3 x 36 in (0.06968 m2) from 4 to 15 lb/ft3, printed in a table for modellers: 1/16, 3/32, 1/8 in
    "balsa_1": (7 / 0.06968 / 1.587 * 1, 27 / 0.06968 / 1.587 * 1),
    "balsa_2": (11 / 0.06968 / 2.381 * 2, 40 / 0.06968 / 2.381 * 2),
    "balsa_3": (14 / 0.06968 / 3.175 * 3, 53 / 0.06968 / 3.175 * 3),
    "ply_2": (2 * 660.0, 2 * 759.0),  # 4 mm sheet of a size list; 0.8 mm sheet, weighed: 603 g/m2
    "foam_sheet_2": (2 * 24.7, 2 * 48.7),  # samples of a bending test list; thin sheet is put at 33 to 40 kg/m3
    # a sheet of 20 x 30 x 3/16 in, weighed: 115 g, 297 g/m2; less 1.76 mm of core, of those same densities
    "foam_board_3": (297 - 1.76 * 48.7, 297 - 1.76 * 24.7),
    "film": (14.0, 38.0),  # laminating polyester film, article on coverings of free-flight models
    "carbon_tube_8": (25.0, 55.0),  # tubes of 8 to 12 mm outside, a seller's range
    "spruce_3x6": (18 * 0.432, 18 * 0.448),  # Engelmann spruce in a timber table; Sitka, specific gravity 0.40
    "spruce_2x5": (10 * 0.432, 10 * 0.448),
    "glue": (149 * 0.45, 224 * 0.50),  # 200 to 300 ft2 a gallon, and what stays of it when it is dry
    "glue.on_tube": (0.10 * 1106, 0.20 * 1106),  # films of 0.10 to 0.20 mm at 1.106 g/cm3, a resin maker's constants
}


@dataclass(frozen=True)
class Cut:
    """A part's cutting file as OGR reads it: outside and inside cuts."""

    outside: list[shapely.Polygon]
    inside: list[shapely.Polygon]

    @property
    def hole_mm2(self) -> float:
        return sum(ring.area for ring in self.inside)

    @property
    def area_mm2(self) -> float:
        return sum(ring.area for ring in self.outside) - self.hole_mm2


def read(data: bytes) -> Cut:
    """Arcs in chords of 0.1 deg; one shallower than that is read as its chord."""
    pyogrio = pytest.importorskip("pyogrio")
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.1", "DXF_CLOSED_LINE_AS_POLYGON": "YES"})
    meta, _, shapes, fields = pyogrio.raw.read(data, layer="entities")
    layers = dict(zip(meta["fields"], fields, strict=True))["Layer"]
    found: dict[str, list[shapely.Polygon]] = {"outside cut": [], "inside cut": []}
    for layer, shape in zip(layers, shapely.from_wkb(shapes), strict=True):
        if layer in found:
            found[layer].append(shape if shape.geom_type == "Polygon" else shapely.Polygon(shape.coords))
    return Cut(found["outside cut"], found["inside cut"])


@pytest.fixture(scope="module")
def crafts(lantern: Craft, craft_of: Callable[..., Craft]) -> dict[str, Craft]:
    """The demo and its options, each worked out by itself."""
    return {"base": lantern, **{name: craft_of("lantern", option=name) for name in OPTIONS if name != "base"}}


@pytest.fixture(scope="module")
def cut(crafts: dict[str, Craft]) -> dict[str, dict[str, Cut]]:
    """Every cutting file of every option."""
    read_back = {}
    for name, craft in crafts.items():
        colours = craft.design.laser.colour.model_dump()
        read_back[name] = {part.name: read(part_dxf(part, colours, 2)) for part in craft.flat_parts}
    return read_back


@pytest.fixture(scope="module")
def hand(cut: dict[str, dict[str, Cut]]) -> dict[str, Lines]:
    return {name: by_hand(name, {part: file.hole_mm2 for part, file in cut[name].items()}) for name in OPTIONS}


def on_blade(craft: Craft) -> dict[str, Line]:
    lines = [line for line in craft.mass.lines if line.assembly == "blade"]
    found = {line.name: line for line in lines}
    assert len(found) == len(lines)
    return found


def test_the_hand_copied_the_demo() -> None:
    """What stands in the two files by hand is what the demo asks for; where this fails, they want editing, not it."""
    text = tomllib.loads(example_path("lantern").read_text(encoding="utf-8"))
    blade, options = text["blade"], text["option"]
    assert [(e["at"], e["chord"], e["twist"], e["section"]) for e in blade["along"]] == [
        (130, 210, "5 deg", "naca 4415"),
        ("100 %", 150, "0 deg", "naca 4414"),
    ]
    folds = options["foam_board"]["blade"]["construction"]["folds"]
    assert (tuple(folds["upper"]), tuple(folds["lower"])) == FOLDS
    rest = {"base": blade["ribs"]["rest"], "film": options["balsa"]["blade"]["ribs"]["rest"]}
    rest |= {name: {**rest["base"], **options[name]["blade"]["ribs"]["rest"]} for name in ("foam_on_ply", "foam_board")}
    rest["balsa"] = rest["film"]
    doublers = blade["doubler"] | options["foam_board"]["blade"]["doubler"]
    told = {"root": ROOT, "fan": FAN}
    assert {k: (told.get(each["at"], each["at"]), each["stock"]) for k, each in doublers.items()} == DOUBLED
    densities = text["stock"]["balsa_2"]["density"], options["foam_board"]["stock"]["balsa_3"]["density"]
    assert densities == tuple([f"{1e6 * each:.0f} kg/m3" for each in of] for of in (WEIGHED, WEIGHED_3))
    tube = text["stock"]["carbon_tube_8"]
    assert (tube["outside"], tube["inside"]) == TUBE
    assert {name: (run["every"], run["stock"]) for name, run in rest.items()} == {
        name: (built.every, built.stock) for name, built in BUILT.items()
    }


@pytest.mark.parametrize("option", OPTIONS)
def test_every_line_by_hand(option: str, crafts: dict[str, Craft], hand: dict[str, Lines]) -> None:
    lines = on_blade(crafts[option])
    assert set(lines) - BOUGHT == set(hand[option])
    off = {}
    for name, grams in hand[option].items():
        boxed = option == "foam_board" and name.startswith(("rib", "doubler", "spar box"))
        slanted = boxed or name.startswith("glue")
        if lines[name].set_g != pytest.approx(grams, rel=SLANTED if slanted else CLOSE):
            off[name] = (lines[name].set_g, grams)
    assert off == {}


def test_a_blade_that_options_share_is_folded_where_it_should_be(
    lantern: Craft, craft_of: Callable[..., Craft]
) -> None:
    """Out of one cache: by hand the flats cut several percent off the wanted section."""
    assert lantern.blade.fold is None
    lent = craft_of("lantern", option="foam_board")
    section = lent.blade.station(400.0).section
    made = float(chord(400.0)) ** 2 * enclosed(section.upper.xy, section.lower.xy)
    assert enclosed(*board(400.0)) < 0.97 * enclosed(*naca(400.0))
    assert made == pytest.approx(enclosed(*board(400.0)), rel=CLOSE)


def enclosed(upper: NDArray[np.float64], lower: NDArray[np.float64]) -> float:
    return float(shapely.Polygon(np.vstack([upper[::-1], lower[1:]])).area)


def test_what_is_bought_is_the_same_in_all(crafts: dict[str, Craft]) -> None:
    base = on_blade(crafts["base"])
    for craft in crafts.values():
        lines = on_blade(craft)
        for name in BOUGHT - {"turning cap"}:  # which is open where the root rib has room for a tie
            assert lines[name].set_g == pytest.approx(base[name].set_g, rel=1e-9)
    words = {"fitting fan": (23.4, 26, 28.6), "fitting light_strip": (9.6, 12, 14.4)}
    words |= {"collar": (7.0335, 7.0501, 7.0667), "tie of power": (0.3, 0.6, 0.9)}
    # the design file's own: 26 g within 10 %, 12 g within 20 %, 7 g and its epoxy on 12 mm of tube, 2 ties
    for name, grams in words.items():
        assert base[name].set_g == pytest.approx(grams, abs=1e-4)


def test_typical_figures_lie_in_what_was_published(crafts: dict[str, Craft]) -> None:
    met = set()
    for craft in crafts.values():
        for line in craft.mass.lines:
            stock = line.stock or line.path
            if stock not in PUBLISHED:
                continue
            met.add(stock)
            least, most = PUBLISHED[stock]
            low, typical, high = (1e3 if line.figure.per == "mm" else 1e6) * np.array(line.figure.grams)
            assert least <= typical <= most, line.name
            assert low <= typical <= high
    assert met == set(PUBLISHED)


def test_balsa_against_a_sheet_of_a_table(crafts: dict[str, Craft]) -> None:
    """1/16 x 3 x 36 in at 8 lb/ft3, 128.1 kg/m3, is 14.17 g there; such a sheet of ours is thinner, denser."""
    figure = on_blade(crafts["balsa"])["sheeting upper"].figure
    sheet = figure.grams[1] * 76.2 * 914.4
    assert sheet == pytest.approx(14.17 * (1.0 / 1.5875) * (140.0 / (8 * 16.018)), rel=1e-3)


@pytest.mark.parametrize("option", OPTIONS)
def test_totals_are_the_sums_and_lie_within_their_own_bands(option: str, crafts: dict[str, Craft]) -> None:
    mass = crafts[option].mass
    assert mass.unweighed == ()
    ends = {on: np.sum([line.set_g for line in mass.lines if line.assembly == on], axis=0) for on in ("blade", "hub")}
    for line in mass.lines:
        low, typical, high = line.set_g
        assert 0 < low <= typical <= high
    blade, craft = mass.blade.mass_g, mass.craft.mass_g
    assert (blade.low, blade.typical, blade.high) == pytest.approx(tuple(ends["blade"]))
    assert (craft.low, craft.typical, craft.high) == pytest.approx(tuple(2 * ends["blade"] + ends["hub"]))
    for band in (blade, craft):
        assert band.low < band.likely_low < band.typical < band.likely_high < band.high


@pytest.mark.parametrize("option", OPTIONS)
def test_aids_and_feet_weigh_nothing(
    option: str, crafts: dict[str, Craft], cut: dict[str, dict[str, Cut]], hand: dict[str, Lines]
) -> None:
    craft, count = crafts[option], len(ribs(option))
    aids = {part.name for part in craft.parts if part.assembly == "bench"}
    assert sum(name.startswith("gauge") for name in aids) == count
    assert sum(name.startswith("jig board") for name in aids) == (0 if option == "foam_board" else 2)
    assert not aids & {line.name for line in craft.mass.lines}
    for name in (name for name in hand[option] if name.startswith("rib")):
        feet = cut[option][name].area_mm2 - on_blade(craft)[name].amount
        if option == "foam_board":
            assert feet == pytest.approx(0.0, abs=0.2)
        else:  # two of 8 mm, from the board, 14 mm or more below the lowest edge, up to the rib
            assert 2 * 8 * 14 < feet < 2 * 8 * 35


@pytest.mark.parametrize("option", OPTIONS)
def test_every_flat_part_has_its_cutting_file(
    option: str, crafts: dict[str, Craft], cut: dict[str, dict[str, Cut]]
) -> None:
    craft, files = crafts[option], cut[option]
    flats = {part.name: part.shape for part in craft.finished if isinstance(part.shape, Flat)}
    assert set(files) == set(flats)
    assert len(flats) == sum(isinstance(part.shape, Flat) for part in craft.finished)
    for name, file in files.items():
        (outside,) = file.outside
        assert outside.is_valid and all(outside.contains(hole) for hole in file.inside)
        # shallow arcs of long edges are read as chords, which near them within some thousandths of a millimetre
        assert file.area_mm2 == pytest.approx(flats[name].region.area(), rel=1e-4)


@pytest.mark.parametrize("option", OPTIONS)
def test_the_parts_list_names_all(option: str, crafts: dict[str, Craft], hand: dict[str, Lines]) -> None:
    craft = crafts[option]
    rows = {row["part"]: row for row in csv.DictReader(io.StringIO(csv_text(parts_list(craft.parts, 2))))}
    assert len(rows) == len(craft.parts)
    assert {line.name for line in craft.mass.lines} | {part.name for part in craft.flat_parts} <= set(rows)
    for name in hand[option]:
        assert rows[name]["count_in_craft"] == {"wire fan": "6", "wire lights": "4"}.get(name, "2")
        assert bool(rows[name]["stock"]) != name.startswith(("wire", "glue"))
    for k, rib in enumerate(ribs(option), start=1):
        row = rows[f"rib R{k:0{len(str(len(ribs(option))))}d}"]
        assert row["stock"] == rib.stock and float(row["radius_mm"]) == pytest.approx(rib.r, abs=1e-3)
        assert float(row["thickness_mm"]) == rib.thick


def groups(lines: Lines) -> dict[str, float]:
    """Typical grams of what covers the blade, its ribs, their doublers, its strips, spars but the tube, and glue."""
    starts = {
        "cover": ("skin", "sheeting", "film", "folded"),
        "ribs": ("rib",),
        "doublers": ("doubler",),
        "strips": ("nose strip", "tail strip", "cap strip"),
        "spars": ("spar rear", "spar caps", "spar box", "web"),
        "glue": ("glue",),
        "alike": ("spar main", "tip", "wire"),
    }
    found = {
        group: sum(grams[1] for name, grams in lines.items() if name.startswith(some)) for group, some in starts.items()
    }
    assert sum(found.values()) == pytest.approx(sum(grams[1] for grams in lines.values()))
    return found


def test_the_order_of_the_four_and_the_lines_that_make_it(crafts: dict[str, Craft], hand: dict[str, Lines]) -> None:
    by_program = sorted(FOUR, key=lambda name: crafts[name].mass.craft.mass_g.typical)
    by_lines = sorted(FOUR, key=lambda name: sum(grams[1] for grams in hand[name].values()))
    assert by_program == by_lines == list(FOUR)
    film, ply, balsa, board = (groups(hand[name]) for name in FOUR)
    # covers go by their areal masses: 24 g/m2 of film; 72 of foam; 140 of balsa round the nose, and film; 250 of board
    assert film["cover"] < balsa["cover"] < ply["cover"] < board["cover"]
    assert film["cover"] / ply["cover"] == pytest.approx(24 / 72, rel=0.25)  # laps make it more
    assert board["cover"] / ply["cover"] == pytest.approx(250 / 72, rel=0.02)
    # ribs of ply outweigh what the film's frame needs beyond them: strips and caps for a skin that carries nothing
    assert ply["ribs"] - film["ribs"] > 10
    assert film["strips"] + film["spars"] - ply["spars"] > 15
    # balsa is the film's frame with a sheeted nose and cap strips on it
    assert balsa["cover"] + balsa["strips"] + balsa["glue"] - film["cover"] - film["strips"] - film["glue"] > 13
    # board carries no strips and few ribs, but its cover outweighs that
    assert board["cover"] - balsa["cover"] > balsa["ribs"] + balsa["strips"] - board["ribs"]


def test_only_the_board_is_heavier_beyond_the_scatter_of_stock(crafts: dict[str, Craft]) -> None:
    """The first three overlap within their stocks' likely scatter; the board stands clear of film and foam."""
    bands = {name: crafts[name].mass.blade.mass_g for name in FOUR}
    assert bands["film"].likely_high > bands["balsa"].likely_low
    assert bands["film"].likely_high < bands["foam_board"].likely_low
    assert bands["foam_on_ply"].likely_high < bands["foam_board"].likely_low

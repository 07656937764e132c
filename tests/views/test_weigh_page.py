"""What `weigh` prints and mass.csv, parts.csv and its JSON hold, read back as a maker or a spreadsheet would."""

from __future__ import annotations

import csv
import io
import json
import tomllib
from dataclasses import dataclass
from importlib.resources import files

import numpy as np
import pytest

from geomgen.balance.before import Before, before
from geomgen.balance.chordwise import chordwise, moments
from geomgen.balance.inertia import Inertia, inertia
from geomgen.balance.stages import Balance
from geomgen.balance.unbalance import GRADES_MM_S, permissible_g_mm, two_planes, unbalance
from geomgen.design.schema import Design, Spread
from geomgen.design.schema.table import Reading
from geomgen.hover.mean_lift import WARNING, MeanLift, mean_lift
from geomgen.judging.verdict import Verdict, verdict
from geomgen.mass.statement import MassStatement, weigh
from geomgen.model.element import Element
from geomgen.model.joint import Bond, Key, touching
from geomgen.model.part import Area, Bought, Flat, Length, Part, Solid
from geomgen.model.role import Role
from geomgen.plane.path import Circle, from_points
from geomgen.plane.region import Region
from geomgen.render.data import csv_text
from geomgen.render.text import WIDTH, page_text
from geomgen.strength.load_path import LoadPath, hanging, load_path
from geomgen.views.cautions import BALANCE
from geomgen.views.page import Sheet
from geomgen.views.parts_list import KEYS, parts_list
from geomgen.views.weigh import weigh_page
from geomgen.views.weigh_data import MASS_KEYS, mass_list, statement_data


@dataclass(frozen=True)
class Exact:
    volume_mm3: float
    centroid: tuple[float, float, float]


def design(units: str = "mm") -> Design:
    raw = tomllib.loads(files("geomgen.design").joinpath("examples/lantern.toml").read_text(encoding="utf-8"))
    raw.pop("option", None)
    return Design.model_validate(raw, context=Reading(bare="mm")).model_copy(update={"units": units})


def parts() -> list[Part]:
    def at(*place: float) -> np.ndarray:
        return np.array([[1.0, *place]])

    region = Region(from_points([(0, -8), (150, -8), (150, 8), (0, 8)], True), (Circle((40, 0), 4),))
    tube = next(name for name in design().stock if name.startswith("carbon_tube"))
    rib = Flat(region, 3, face="root side")
    return [
        Part("rib R1", "rib", "ply_2", "blade.ribs.root", rib, "blade", 1, at(130, -30, 1), r_mm=130.0),
        Part("rib R2", "rib", "balsa_3", "blade.ribs.rest", rib, "blade", 1, at(400, -30, 1), r_mm=400.0),
        Part("skin all", "skin", "foam_sheet_2", "blade.skin.all", Area(250_000), "blade", 1, at(450, -37, 0)),
        Part("spar main", "spar", tube, "blade.spar.main", Length(730), "blade", 1, at(395, 0, 0)),
        Part("wire fan", "wire", "", "wire.fan", Length(840), "blade", 3, at(400, -15, 0), notes=("soft, stranded",)),
        Part("collar", "collar", "", "hub.collar", Bought((7, 7, 7)), "blade", 1, at(35, 0, 0)),
        Part("hub", "hub", "print_petg", "hub", Solid("spec"), "hub", 1, at(0, 0, 0)),
        Part("fixed cap", "fixed cap", "print_petg", "pitch", Solid("cap"), "hub", 2, at(0, 0, 0)),
    ]


def statement(by: Design | None = None) -> MassStatement:
    return weigh(parts(), by or design(), {Key(Role.HUB, "hub"): Exact(180_000.0, (0.0, 0.0, 5.0))})


def printed_at(solid: Spread | None) -> MassStatement:
    by = design()
    stock = by.stock["print_petg"].model_copy(update={"solid": solid})
    return statement(by.model_copy(update={"stock": by.stock | {"print_petg": stock}}))


def held(done: MassStatement) -> LoadPath:
    rib, other, skin, spar, wire, collar, hub, _ = (part.key for part in parts())
    pairs = [(skin, rib), (rib, spar), (other, spar), (wire, rib), (spar, collar), (collar, hub)]
    joints = [touching(outer, inner, Bond.GLUED, outer.path) for outer, inner in pairs]
    return load_path(done.lines, hanging(joints), main_spar="blade.spar.main", rpm_max=340)


@dataclass(frozen=True)
class Weighed:
    """What the page reads of a craft, of these parts."""

    design: Design
    mass: MassStatement
    lifts: tuple[MeanLift, ...]
    load_path: LoadPath
    verdict: Verdict
    inertia: Inertia
    balance: Balance
    scatter: Before
    names: dict[Key, str]
    weighed_in: None = None


def balanced(done: MassStatement) -> tuple[Inertia, Balance]:
    """Of the same parts as points, with an unbalance of 240 g mm and no pockets."""
    made = design()
    mine = tuple(
        Element(line.key, line.assembly, None, line.lot, line.set_g[1], np.array(line.place_mm), np.zeros((3, 3)))
        for line in done.lines
    )
    found, flat = unbalance(mine).plus(16.0, np.array([15.0, 0.0, 20.0])), np.zeros(2)
    along = chordwise(moments(mine), (np.array([130.0, 800.0]), flat, flat + 180.0))
    low, high = two_planes(found, -10.0, 20.0)
    grades = tuple((grade, permissible_g_mm(grade, found.mass_g, 270.0)) for grade in GRADES_MM_S)
    told = Balance(270.0, True, 340.0, 2, along, found, grades, ((-10.0, low), (20.0, high)), None, None)
    return inertia(mine, made), told


def page(units: str = "mm", done: MassStatement | None = None) -> str:
    done, plan = done or statement(), (np.array([130.0, 800.0]), np.array([210.0, 150.0]))
    lifts = tuple(mean_lift(*plan, 2, grams, 0.55, 1.27) for grams in (700, 800, 900))
    said = verdict(design(units), plan=plan, mass=done, lifts=lifts, hover=None, path=held(done), used_most=None)
    still, told = balanced(done)
    expected, names = (
        before(done.lines, design(), {}, told.unbalance, 780.0),
        {line.key: line.name for line in done.lines},
    )
    craft = Weighed(design(units), done, lifts, held(done), said, still, told, expected, names)
    return page_text(weigh_page(craft))  # type: ignore[arg-type]


def row(text: str, start: str) -> list[str]:
    return next(line for line in text.split("\n") if line.startswith(start)).split()


def test_the_page_says_what_the_statement_says() -> None:
    text, done = page(), statement()
    for line in done.lines:
        cells = [shown.split() for shown in text.split("\n") if shown.startswith(line.name)]
        assert any(f"{line.set_g[1]:.2f}" in each and f"{line.place_mm[0]:.1f}" in each for each in cells)
    assert f"{done.blade.cg_radius_mm.typical:.1f}" in row(text, "centre of gravity, out")
    assert f"{done.blade.static_moment_g_mm.typical:.0f}" in row(text, "static moment")
    assert f"{done.craft.lift_g.typical:.1f}" in row(text, "to lift  ")
    assert "Not weighed, so in no sum: fixed cap." in text
    assert " ".join(WARNING.split()) in " ".join(text.split())
    assert "from memory" in text and "catalogue, birch ply" in text
    hub = held(done).links[-1]
    assert f"{hub.pull_n[1]:.1f}" in row(text, "the blade with its collar")


def test_the_page_speaks_the_designs_unit() -> None:
    inches = page("in")
    assert "lengths in in" in inches and "5.118" in row(inches, "rib R1") and "in2" in inches
    assert " mm" not in inches.split("Where the figures come from")[0]


def test_the_page_fits_and_has_no_minus_nought() -> None:
    for units in ("mm", "cm", "m", "in", "ft"):
        for line in page(units).split("\n"):
            assert len(line) <= WIDTH + 14, line
            assert line == line.rstrip() and " -0.0 " not in line and " -0 " not in line


def test_the_page_begins_with_the_verdict_and_ends_with_cautions() -> None:
    """The verdict, then what it stands on, the parts one by one last; its cautions stand at the end.

    Areas by hand: 2 blades of 0.67 x 0.18 m on the average; pi 0.8^2 m2.
    """
    text = page()
    heads = (
        "To lift: ", "Blades 0.241 m2, disc 2.01 m2", "The design's 270 rpm lifts ", "Each blade pulls ",
        "Told besides: ",        "\nOne blade\n", "Whole craft, 2 blades and hub", "Rotor speed that carries it",
        "What holds one blade in, at 340 rpm", "\nUnbalance as designed\n", "\nTrim weights\n",
        "\nMass along the chord\n", "\nInertia of one blade\n", "\nInertia of all that turns\n",
        "One of the 2 blades", "On the hub, once",
        "Where the figures come from", f"! {BALANCE.split(':')[0]}",
    )  # fmt: skip
    assert [text.count(head) for head in heads] == [1] * len(heads)
    assert sorted(heads, key=text.index) == list(heads)


def read(sheet: Sheet) -> list[dict[str, str]]:
    text = csv_text(sheet)
    assert "\r" not in text and text.endswith("\n")
    return list(csv.DictReader(io.StringIO(text)))


def test_mass_csv_adds_up() -> None:
    done, rows = statement(), read(mass_list(statement()))
    assert tuple(rows[0]) == MASS_KEYS
    blade = sum(float(r["mass_typical_g"]) for r in rows if r["on"] == "blade" and r["kind"] != "sum")
    sums = {r["part"]: r for r in rows if r["kind"] == "sum"}
    assert blade == pytest.approx(float(sums["one blade"]["mass_typical_g"]), abs=1e-3)
    assert float(sums["whole craft"]["mass_high_g"]) == pytest.approx(done.craft.mass_g.high, abs=1e-3)
    assert float(sums["one blade"]["count"]) * blade + float(sums["on the hub"]["mass_typical_g"]) == pytest.approx(
        done.craft.mass_g.typical, abs=1e-3
    )
    by_name = {r["part"]: r for r in rows}
    spar = by_name["spar main"]
    by_hand = float(spar["length_mm"]) * float(spar["across"]) * float(spar["figure_typical"]) * 1e-6
    assert by_hand == pytest.approx(float(spar["mass_one_typical_g"]), rel=1e-4)
    assert by_name["fixed cap"]["mass_typical_g"] == "" and by_name["fixed cap"]["source"] == "not weighed"
    assert by_name["hub"]["print_share"] == "0.45"


def test_parts_csv_lists_what_to_make() -> None:
    rows = {r["part"]: r for r in read(parts_list(parts(), 3))}
    assert tuple(next(iter(rows.values()))) == KEYS
    rib = rows["rib R1"]
    assert (rib["width_mm"], rib["height_mm"], rib["thickness_mm"], rib["face"]) == ("150", "16", "3", "root side")
    assert float(rib["area_mm2"]) == pytest.approx(150 * 16 - np.pi * 16, abs=1e-4)
    assert rib["radius_mm"] == "130" and rib["count_in_craft"] == "3"
    assert rows["wire fan"]["count_in_craft"] == "9" and rows["wire fan"]["notes"] == "soft, stranded"
    assert rows["fixed cap"]["count_in_craft"] == "2"


def test_plain_data_has_stable_keys() -> None:
    data = json.loads(json.dumps(statement_data(statement())))
    assert list(data) == ["parts", "blade", "craft", "not_weighed"] and data["not_weighed"] == ["fixed cap"]
    assert set(data["blade"]) == {
        "apart_g", "apart_g_mm", "weigh_first",
        "mass_g", "cg_radius_mm", "cg_chordwise_mm", "cg_chordwise_r_weighted_mm", "cg_vertical_mm",
        "static_moment_g_mm",
    }  # fmt: skip
    assert set(data["craft"]) == {"blades", "mass_g", "payload_g", "lift_g", "cg_x_mm", "cg_y_mm", "cg_z_mm"}
    assert set(data["blade"]["mass_g"]) == {"low", "typical", "high", "likely_low", "likely_high"}
    by_name = {entry["name"]: entry for entry in data["parts"]}
    rib, spar, hub = by_name["rib R1"], by_name["spar main"], by_name["hub"]
    grams = {name: entry["mass_one_g"]["typical"] for name, entry in by_name.items()}
    assert rib["area_mm2"] * rib["thickness_mm"] * rib["density_kg_m3"]["typical"] * 1e-6 == pytest.approx(
        grams["rib R1"]
    )
    assert spar["length_mm"] * spar["section_mm2"] * spar["density_kg_m3"]["typical"] * 1e-6 == pytest.approx(
        grams["spar main"]
    )
    assert hub["volume_mm3"] == 180_000.0 and hub["print_share"] == 0.45


SLICER = "a slicer's figures for this tool's demo hub, 2 to 4 walls, 20 to 40 % infill"


@pytest.mark.parametrize(
    ("solid", "percent", "band", "source"),
    [
        (Spread(0.45, 0.45, 0.45), "45 %", "45 %", "design file"),
        (Spread(0.4, 0.45, 0.5), "45 %", "40, 45, 50 %", "design file"),
        (None, "63 %", "53, 63, 73 %", f"the usual share: {SLICER}"),
    ],
)
def test_the_page_says_how_much_of_a_print_is_there(solid: Spread | None, percent: str, band: str, source: str) -> None:
    done = printed_at(solid)
    text = " ".join(page(done=done).split())
    assert f"1270 kg/m3 x {percent}" in text
    assert (f"of that, a print is {band}; {source}" in text) == (band != percent)
    assert f"how much of a print is there{'' if band == percent else ' unless said above'}: design file." in text
    (hub,) = [entry for entry in statement_data(done)["parts"] if entry["name"] == "hub"]
    low, typical, high = solid or (0.53, 0.63, 0.73)
    assert hub["print_share"] == typical and hub["print_share_source"].startswith(source)
    assert hub["print_share_band"] == {"low": low, "typical": typical, "high": high}
    assert hub["mass_g"]["low"] == pytest.approx(180_000 * 1.25e-3 * low)
    assert hub["mass_g"]["high"] == pytest.approx(180_000 * 1.29e-3 * high)
    (row,) = [row for row in read(mass_list(done)) if row["part"] == "hub"]
    assert row["print_share"] == f"{typical:g}"
    assert (f"; of that, a print is {band}; {source}" in row["source"]) == (low < high)

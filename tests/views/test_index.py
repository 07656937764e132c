"""The page to open, of every example and option, read by html5lib: nothing missing, nothing outward, true figures."""

from __future__ import annotations

import json
import math
import posixpath
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple
from urllib.parse import unquote

import pytest
from pages import SVG, ids, links, named, parsed, part, reaches_out, rows, table_under, words

from geomgen.craft import Craft
from geomgen.folder.manifest import MANIFEST
from geomgen.making import make
from geomgen.stock.tool import tool
from geomgen.views.cautions import BALANCE, CUTTING, FANS, HOLDING, PACKS, PRINTING, SPIN_TEST, SPINNING
from geomgen.views.file_names import cutting_file, place_of, printing_file
from geomgen.views.loads_data import loads_data
from geomgen.views.pitch_error import pitch_error_data
from geomgen.views.weigh_data import weigh_data

CRAFTS = [
    *(("lantern", option) for option in (None, "film", "balsa", "foam_on_ply", "foam_board")),
    ("kite_day", None),
    ("starter", None),
]
MM = {"mm": 1.0, "in": 25.4}
G = {"mm": 1.0, "in": 28.349523125}  # one g, one oz
N, M_S = {"mm": 1.0, "in": 4.4482216152605}, {"mm": 1.0, "in": 0.3048}  # one N and m/s, one lbf and ft/s
LABELS = {
    "One blade": {
        "mass": "mass_g",
        "centre of gravity, out": "cg_radius_mm",
        "centre of gravity, forward": "cg_chordwise_mm",
        "the same weighted by r": "cg_chordwise_r_weighted_mm",
        "centre of gravity, up": "cg_vertical_mm",
        "static moment": "static_moment_g_mm",
    },
    "Whole craft": {
        "mass of all parts": "mass_g",
        "to lift": "lift_g",
        "centre of gravity, x": "cg_x_mm",
        "centre of gravity, y": "cg_y_mm",
        "centre of gravity, z": "cg_z_mm",
    },
}


class Made(NamedTuple):
    """A craft, all its files, and its page."""

    craft: Craft
    files: Mapping[str, bytes]
    text: str
    root: ET.Element


@pytest.fixture(scope="module", params=CRAFTS, ids=lambda one: f"{one[0]}-{one[1] or 'base'}")
def made(request: pytest.FixtureRequest, craft_of: Callable[..., Craft]) -> Made:
    name, option = request.param
    craft = craft_of(name, option=option)
    files = make(craft).files
    text = files["index.html"].decode()
    root, errors = parsed(text)
    assert not errors
    return Made(craft, files, text, root)


def test_no_mark_of_a_figure_is_left(made: Made) -> None:
    """Of the characters that nobody else may use (Unicode, private use area) none is in any file that people read."""
    for name, data in made.files.items():
        assert name.endswith((".stl", ".pdf")) or not re.search("[\ue000-\uf8ff]", data.decode()), name


def test_it_needs_nothing_else(made: Made) -> None:
    assert not reaches_out(made.root)
    assert (
        "http:" not in made.text and "https:" not in made.text and "//" not in re.sub(r"<svg .*?</svg>", "", made.text)
    )
    assert not re.search(r"\bsafe", words(made.root), re.I)


def test_every_link_leads_somewhere(made: Made) -> None:
    there, found = set(ids(made.root)), {*made.files, MANIFEST}
    for to in links(made.root):
        if to.startswith("#"):
            assert unquote(to[1:]) in there, to
        else:
            assert unquote(to) in found and posixpath.normpath(to) == to, to
    assert len(there) == len(ids(made.root))


def test_every_file_to_cut_or_print_is_linked(made: Made) -> None:
    led = {unquote(to) for to in links(made.root)}
    assert {name for name in made.files if name.startswith(("cut/", "print/"))} <= led
    assert {name for name in made.files if name.endswith((".csv", ".txt"))} <= led


def test_every_part_has_its_picture_and_notes_or_says_why_not(made: Made) -> None:
    craft = made.craft
    drawn = {one.key for one in (*craft.flat_parts, *craft.printed_parts)}
    for one in craft.finished:
        place = part(made.root, place_of(one.name))
        told = words(place)
        assert one.name in told and all(" ".join(note.split()) in told for note in one.notes), one.name
        if one.key not in drawn:
            assert place.tag == "tr" and re.search(r"bought|cut to length|shaped from its stock|glue, by area", told)
            continue
        assert place.tag == "figure" and [child.tag for child in place] == [f"{SVG}svg", "figcaption"]
        cut_by = tool(craft.design.stock[one.stock]) if one in craft.flat_parts else None
        files = [cutting_file(one, cut_by)] if cut_by is not None else []
        files += [printing_file(one)] if one in craft.printed_parts else []
        assert set(files) <= {unquote(to) for to in links(place)}, one.name


def test_pictures_have_something_in_them_and_are_read_out(made: Made) -> None:
    pictures = list(made.root.iter(f"{SVG}svg"))
    assert (
        len(pictures)
        == len(list(made.root.iter("figure")))
        == len(made.craft.flat_parts) + len(made.craft.cut_list) + 6 + (made.craft.held is not None)
        # plan, hover, mass, scatter, hub twice; loads
    )
    for picture in pictures:
        assert picture.attrib["role"] == "img" and len(list(picture)) > 4
        for name in picture.attrib["aria-labelledby"].split():
            assert words(part(picture, name))
    classes = {name for one in named(made.root) if one.tag.startswith(SVG) for name in one.get("class", "").split()}
    assert all(f".{name}{{" in made.text for name in classes), "a style that isn't there"


def test_figures_are_those_of_weigh(made: Made) -> None:
    """What `weigh --json` prints, to the last digit that the page shows."""
    told = json.loads(json.dumps(weigh_data(made.craft, None)))
    unit = made.craft.design.units or "mm"
    count = made.craft.design.rotor.blades
    for title, key in (("One blade", "blade"), (f"Whole craft, {count} blades and hub", "craft")):
        labels = LABELS[title.split(",")[0]]
        found = {row[0]: row[2:] for row in table_under(made.root, title)[1:]}
        assert found.keys() >= labels.keys()
        for label, name in labels.items():
            band = told[key][name]
            scale = (MM[unit] if name.endswith("_mm") else 1.0) * (G[unit] if "_g" in name else 1.0)
            shown = [found[label][0], *found[label][1].split(" to "), *found[label][2].split(" to ")]
            for text, end in zip(shown, ("typical", "likely_low", "likely_high", "low", "high"), strict=True):
                assert is_figure(text, band[end] / scale), (label, end)
    for title, on in ((f"One of the {count} blades", "blade"), ("On the hub, once", "hub")):
        found = {row[0]: row[5:] for row in table_under(made.root, title)[1:-1]}
        lines = {line["name"]: line for line in told["parts"] if line["on"] == on}
        assert found.keys() == lines.keys()
        for name, line in lines.items():
            places = (line["radius_mm"], line["chordwise_mm"], line["vertical_mm"])
            wanted = [*(value / G[unit] for value in line["mass_g"].values()), *(value / MM[unit] for value in places)]
            assert all(map(is_figure, found[name], wanted)), (name, found[name], wanted)


def is_figure(text: str, value: float) -> bool:
    """Whether a text is a value rounded to as many decimals as it shows."""
    _, _, decimals = text.partition(".")
    return abs(float(text) - value) <= 0.5 * 10.0 ** -len(decimals) + 1e-9


def test_rpm_and_pulls_are_those_of_weigh(made: Made) -> None:
    told, unit = json.loads(json.dumps(weigh_data(made.craft, None))), made.craft.design.units or "mm"
    shown = table_under(made.root, "Rotor speed that carries it, by mean lift")[1:]
    lifts = sorted(told["mean_lift"], key=lambda lift: lift["mass_g"])
    for row, lift in zip(shown, lifts, strict=True):
        assert all(map(is_figure, row, (lift["mass_g"] / G[unit], lift["rpm"], lift["tip_speed_m_s"] / M_S[unit])))
    held = part(made.root, "turning")
    links_ = told["load_path"]["links"] + told["load_path"]["fittings"]
    table = rows(list(held.iter("table"))[1])[1:]
    for row, link in zip(table, links_, strict=True):
        grams, pulls = link["mass_g"][1:], link["pull_n"][1:]
        assert all(map(is_figure, row[2:], (*(g / G[unit] for g in grams), *(n / N[unit] for n in pulls))))


def test_margins_are_those_of_loads(made: Made) -> None:
    """Rounded down, so that none below 1 is told as 1."""
    told = json.loads(json.dumps(loads_data(made.craft)))["loads"]
    shown = table_under(made.root, "Margins of all links")[1:]
    assert len(shown) > 10 and float(shown[0][3]) == math.floor(100 * told["links"][0]["margin"]["worst"] + 1e-9) / 100
    rest = [math.floor(100 * one["margin"]["worst"] + 1e-9) / 100 for one in told["links"]]
    assert all(float(row[3]) in rest or float(row[3]) >= 10 for row in shown)
    assert {row[0].rstrip(" *~") for row in shown} <= {one["name"] for one in told["links"]}


def test_pitch_and_tilt_are_those_of_check(made: Made) -> None:
    told = json.loads(json.dumps(pitch_error_data(made.craft)))
    error, shown = told["pitch_error"], table_under(made.root, "How far a blade's pitch may be off")[1:]
    wanted = [(cause["cause"], cause["limit_deg"], cause["counted_deg"]) for cause in error["causes"]]
    wanted.append(("one blade", error["worst_deg"], error["root_of_squares_deg"]))
    for row, (cause, limit, counted) in zip(shown, wanted, strict=False):
        assert row[0] == cause and is_figure(row[2], limit) and is_figure(row[3], counted)
    tilts = [(one, each) for one in told["fitting_tilts"] for each in one["settings"]]
    shown = table_under(made.root, "What is fixed to a rib turns with the blade")[1:]
    for row, (one, each) in zip(shown, tilts, strict=True):
        assert row[:2] == [one["fitting"], one["rib"]] and is_figure(row[3], each["tilt_deg"])
        assert is_figure(row[4], 100 * each["up_share"]) and is_figure(row[5], 100 * each["tangent_share"])


def test_cautions_stand_where_the_work_is_done(made: Made) -> None:
    where = {CUTTING: "sheets", PRINTING: "printing", BALANCE: "balance", FANS: "lifting"}
    where |= {SPINNING: "turning", PACKS: "turning"}
    where |= dict.fromkeys((HOLDING, SPIN_TEST), "holding") if made.craft.held is not None else {}
    for caution, chapter in where.items():
        assert caution in words(part(made.root, chapter)) and words(made.root).count(caution) == 1


def test_the_order_of_work_is_the_text_files(made: Made) -> None:
    """The same steps with the same numbers; what each takes leads to its part."""
    chapter = part(made.root, "order")
    steps = [item for item in chapter.iter("li") if item.get("class") == "step"]
    text = " ".join(made.files["order_of_work.txt"].decode().split())
    assert len(steps) == len(made.craft.order)
    for step, task in zip(steps, made.craft.order, strict=True):
        assert f"{step.attrib['value']}. {words(step[0])}" in text and words(step[0]) == task.does
        assert bool(links(step)) == bool(task.keys) and bool(task.caution) == (words(step).count("Beware.") == 1)


def test_the_shopping_list_has_every_stock_and_every_bought_thing(made: Made) -> None:
    chapter = part(made.root, "shopping")
    firsts = {row[0] for table in chapter.iter("table") for row in rows(table)[1:]}
    for one in made.craft.finished:
        assert (one.stock or ("glue" if one.path == "glue" else one.name)) in firsts, one.name


def test_two_runs_give_the_same_bytes(made: Made) -> None:
    craft = made.craft
    assert make(Craft(craft.design, craft.folder)).files["index.html"] == made.files["index.html"]


def test_it_is_light_enough_to_be_committed(lantern: Craft) -> None:
    assert len(make(lantern).files["index.html"]) < 620_000


def test_figures_read_as_they_are() -> None:
    cases: list[tuple[str, Any, bool]] = [
        ("1.2", 1.249, True),
        ("1.2", 1.26, False),
        ("-0.6", -0.55, True),
        ("7", 7.6, False),
    ]
    assert [is_figure(text, value) for text, value, _ in cases] == [right for *_, right in cases]


def test_a_cap_of_sheet_stands_with_what_is_cut_and_one_of_plastic_with_what_is_printed(kite_day: Craft) -> None:
    """The second example: the cap that turns is of plywood, the other is printed; each has a file of either kind."""
    root, _ = parsed(make(kite_day).files["index.html"].decode())
    for name, chapter in (("turning cap", "cutting"), ("fixed cap", "printing")):
        cap = part(part(root, chapter), place_of(name))
        file = name.replace(" ", "_")
        assert f"print/{file}.stl" in links(cap)
        assert (f"cut/laser/{file}.dxf" in links(cap)) == (chapter == "cutting")

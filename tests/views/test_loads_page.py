"""The page on loads, its data, table and picture, from made-up margins and loads; and what it must never say."""

from __future__ import annotations

import csv
import io
import json
import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any, cast

import pytest
from made_up_loads import RPM_MAX, held, link, links, strength
from other_system import metric_figures

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read
from geomgen.hover.as_twisted import AsTwisted
from geomgen.judging.verdict import weakest
from geomgen.making import loads_files
from geomgen.render.data import csv_text, json_text
from geomgen.render.html import html
from geomgen.render.svg import svg
from geomgen.render.text import WIDEST, page_text
from geomgen.strength.held import Held
from geomgen.strength.link import Fails
from geomgen.views.drawing import Line, Ring, Words, rectangle
from geomgen.views.loads import loads_page
from geomgen.views.loads_csv import loads_list
from geomgen.views.loads_data import loads_data
from geomgen.views.loads_picture import loads_picture
from geomgen.views.quantity import Times
from geomgen.views.verdict import verdict_lines

SVG = "{http://www.w3.org/2000/svg}"
# Words by which a reader would take a blade for tried, and a speed of flutter, which nothing here could be held against
NEVER = (
    r"\bsafe", r"\bpass(es|ed)?\b", r"strong enough", r"guarantee", r"certif", r"airworth", r"approved", r"will hold\b",
    r"no risk|without risk", r"(cannot|can't|won't|never) (fail|break)", r"[✓✔☑✅]", r"flutter[^.]*\d",
    r"\bOK\b|\bokay\b", r"fit to (fly|be flown)", r"sufficient",
)  # fmt: skip
CRAFTS = [
    *(("lantern", option) for option in (None, "film", "balsa", "foam_on_ply", "foam_board")),
    *(("kite_day", option) for option in (None, "naca", "foam_core", "upright")),
    ("starter", None),
]
CraftOf = Callable[[str, str | None], Craft]


@dataclass(frozen=True)
class Shown:
    """One craft with made-up loads: what pages read of it, and what they say."""

    craft: Any
    held: Held

    @property
    def text(self) -> str:
        return page_text(loads_page(self.craft))

    @property
    def flat(self) -> str:
        return " ".join(self.text.split())

    @property
    def data(self) -> dict[str, Any]:
        told: dict[str, Any] = json.loads(json_text(loads_data(self.craft), self.craft.design.units or "mm"))
        return told


def with_loads(craft: Craft, found: Held | None) -> Any:
    """What the page reads of a craft, with loads of another."""
    least = None if found is None else weakest(found.judged)
    verdict = replace(craft.verdict, weakest=least)
    twisted = AsTwisted(-0.416, 254.8, 249.7)
    return SimpleNamespace(design=craft.design, verdict=verdict, balance=craft.balance, held=found, as_twisted=twisted)


@pytest.fixture(scope="module")
def crafted(cache: Cache) -> CraftOf:
    """Crafts of the examples, without their solids."""

    def make(example: str, option: str | None) -> Craft:
        file = read(example_path(example), option)
        return Craft(file.design, file.source.folder, cache, exact=False)

    return make


@pytest.fixture(scope="module")
def lantern(crafted: CraftOf) -> Craft:
    return crafted("lantern", None)


@pytest.fixture
def shown(lantern: Craft) -> Callable[..., Shown]:
    def make(found: Held | None = None) -> Shown:
        found = held() if found is None else found
        return Shown(with_loads(lantern, found), found)

    return make


def section(text: str, title: str) -> str:
    return text.split(f"\n\n{title}")[1].split("\n\n")[0]


# What is told


def test_the_three_weakest_by_name(shown: Callable[..., Shown]) -> None:
    """At the factor of 3: the collar's glue 2.1 / (.5 x 1.25 x 4), as glue alone is asked a third more; the arm
    16.8 / (4 x 1.25 x 3) and 1.9 times that with its layers turned; the tube 300 / (40 x 1.25 x 3)."""
    told = " ".join(section(shown().text, "The three weakest, at the factor of 3").split())
    first, second, third = re.split(r" (?=[23]\. )", told)
    assert first.startswith(
        "1. collar by its glue: glue sheared. Margin 0.84 at its worst, 2.00 typically: below 1, at"
    )
    assert "at the factor of 3 it doesn't hold" in first and "0.625 of 2.10 MPa, taken 4 times, a third more" in first
    assert "hub.collar.fixing.length 8 to 12: 0.84 becomes 1.26." in first
    assert second.startswith("2. arm of the hub at its root: bent. Margin 1.12 at its worst, 2.50 typically.")
    assert "at rpm_max (345 rpm), 5.00 of 16.8 MPa, taken 3 times." in second
    assert "hub.layers upright to flat: 1.12 becomes 2.12." in second and "hub.wall" not in second
    load = round(100 * math.log(1.25) / math.log(1.25 * 30 / 16.8))
    assert f"{load} % is the load's doubt, {100 - load} % the strength's. Layers lie across the pull." in second
    assert third.startswith("3. tube wall in its socket, at r 60 mm: crushed across. Margin 2.00")
    assert "No single key is known that would help." in third
    assert "Of 16 links that could be judged 1 is below 1; 2 more have no figure and aren't judged." in third


def test_a_margin_is_rounded_down() -> None:
    """What is below 1 is never told as 1."""
    cases = {0.996: "0.99", 0.9999: "0.99", 1.0: "1.00", 1.15: "1.15", 2.345: "2.34", 9.999: "9.99", 10.99: "10"}
    assert {value: Times(value).shown() for value in cases} == cases
    assert Times(math.inf).shown() == "-"


def test_one_below_one_is_told_in_the_verdict_too(shown: Callable[..., Shown]) -> None:
    lines = verdict_lines(shown().craft.verdict, 0)
    (line,) = (line for line in lines if "Weakest: " in line)
    assert "collar by its glue, glue sheared, margin 0.84 at the factor of 3: BELOW 1, it doesn't hold at that" in line
    assert "hub.collar.fixing.length 8 to 12 makes it 1.26. 2 links have no published strength (geomgen loads)." in line
    assert len(lines) <= 7
    twice = verdict_lines(shown(held(factor=1.5)).craft.verdict, 0)
    (line,) = (line for line in twice if "Weakest: " in line)
    assert "margin 1.68 at the factor of 1.5; hub.collar" in line and "BELOW" not in line
    told = shown().data["verdict"]
    assert told["tightest"] is not None and told["weakest"]["margin"] == pytest.approx(0.84)
    assert told["weakest"]["help"] == {"path": "hub.collar.fixing.length", "was": "8", "to": "12"}
    assert (told["weakest"]["judged"], told["weakest"]["below"], told["weakest"]["unknown"]) == (16, 1, 2)


def test_what_gives_way_is_told_so(shown: Callable[..., Shown]) -> None:
    """A skin that goes into waves: 1.5 / (.96 x 1.25 x 3 / 2)."""
    waves = link("skin", Fails.BUCKLED, "blade.skin.all", 0.96, strength(1.5, 2.0), gives_way=True)
    page = shown(held(some=(waves, link("arm", Fails.BENT, "hub.wall", 1.0, strength(9.0, 9.0)))))
    assert "skin, buckled, margin 0.83 at half the factor of 3: BELOW 1, it gives way at that (1 of 2" in page.flat
    assert "1. skin: buckled. Margin 0.83 at its worst, 1.38 typically: below 1, at half the factor" in page.flat
    assert "1.20 of 1.50 MPa, taken 1.5 times, half the factor, as nothing is broken by it." in page.flat
    assert "or 1.5 (~) where nothing is broken by it" in page.flat
    assert next(row for row in page.text.split("\n") if row.startswith("skin ~"))
    assert page.data["loads"]["links"][0]["gives_way"] is True


def test_links_that_are_alike_have_one_row(shown: Callable[..., Shown]) -> None:
    rows = section(shown().text, "Margins of all links").split("\n")
    rib = next(row for row in rows if row.startswith("rib R11"))
    assert rib.split()[5:11] == ["590", "11", "2.58", "5.16", "glue", "sheared;"]
    assert sum(row.startswith("rib R") for row in rows) == 1
    assert next(row for row in rows if row.startswith("collar")).split()[4] == "*"


def test_what_is_not_published_stands_apart(shown: Callable[..., Shown]) -> None:
    page = shown()
    apart = section(page.text, "Not judged")
    assert "foam on its tape: peeled off; unpublished: peel of tape" in apart and "fan on its clip" in apart
    table = section(page.text, "Margins of all links")
    assert "foam on its tape" not in table and "fan on its clip" not in table
    assert "Carries nothing here, in none of the cases: stop pin." in page.flat
    assert [one["name"] for one in page.data["loads"]["not_judged"]] == ["foam on its tape", "fan on its clip"]
    nothing = shown(held(some=links()[-3:]))
    assert "Nothing could be judged" in nothing.flat and "Margins of all links" not in nothing.text
    assert nothing.data["verdict"]["weakest"] is None and nothing.data["loads"]["links"] == []


def test_many_links_are_told_to_the_twenty_fifth_and_all_in_the_data(shown: Callable[..., Shown]) -> None:
    many = tuple(link(f"link {k}", Fails.BENT, f"a.k{k}", 1.0, strength(30.0 + k, 60.0 + k)) for k in range(40))
    page = shown(held(some=many))
    table = section(page.text, "Margins of all links")
    assert len(re.findall(r"^link \d+ ", table, re.MULTILINE)) == 25
    assert f"The rest, 15 kinds, is at {Times(55.0 / 3.75).shown()} or above" in " ".join(table.split())
    assert [one["margin"]["worst"] for one in page.data["loads"]["links"]] == pytest.approx(
        [(30.0 + k) / 3.75 for k in range(40)]
    )


def test_data_have_every_link_with_its_source(shown: Callable[..., Shown]) -> None:
    told = shown().data["loads"]
    assert len(told["links"]) == 16 and told["factor"] == 3.0
    for one in told["links"]:
        (unit,) = (key.removeprefix("strength_") for key in one if key.startswith("strength_"))
        low, most = one[f"strength_{unit}"]["low"], one[f"stress_{unit}"]["greatest"]
        assert one["margin"]["worst"] == pytest.approx(low / most / one["asked_times"])
        assert one[f"strength_{unit}"]["source"] and one["rpm"] == pytest.approx(RPM_MAX)
        assert one["doubt_by_load"] + one["doubt_by_strength"] == pytest.approx(1.0)
    arm = told["links"][1]
    assert [each["path"] for each in arm["helps"]] == ["hub.layers", "hub.wall"]
    assert arm["helps"][1]["margin"] == pytest.approx(1.12 * 1.36)
    assert {"mpa", "n", "n_per_mm", "nm"} == {
        key.removeprefix("stress_") for one in told["links"] for key in one if key.startswith("stress_")
    }


def test_loads_swings_and_the_chord_are_told(shown: Callable[..., Shown]) -> None:
    page = shown()
    first = section(page.text, "Loads along the blade").split("\n")[3].split()
    assert first == ["20", "115.5", "4.84", "-0.98", "1.485", "-0.440", "-0.099", "0.00"]
    hub = section(page.text, "At the hub")
    assert "105.0 to 115.5" in hub and "on the start, 0.5 s" in hub and "on the start, 1.0 s" not in hub
    assert "Of 2 states of a start that which bends it most." in " ".join(hub.split())
    assert "lag 1 swings 2 times a turn at 281 rpm" in section(page.text, "How a blade swings")
    assert "Met elsewhere, on the way up or beyond: flap 1 swings 2 times a turn at 185 rpm." in page.flat
    calm = shown(held(crossings=()))
    assert "No swing meets 1, 2, 3 and 4 times a turn within 10 % of the 217 to 345 rpm" in calm.flat
    assert f"from {2.4 * RPM_MAX:.0f} rpm up, 2.4 times the highest speed here" in page.flat
    assert "no speed was found at which lift twists it" in shown(held(divergence_rad_s=None)).flat
    assert "mm behind the feather axis" in page.flat and "would bring that to the quarter chord" in page.flat
    assert "strength of collar by its glue: From memory." in page.flat


def test_what_hover_makes_of_the_twist_is_told(shown: Callable[..., Shown]) -> None:
    page = shown()
    assert (
        "In hover its loads turn it 0.42 deg nose down where a pitch is told of: 255 rpm carry the craft, 250"
        in page.flat
    )
    assert page.data["loads"]["twisted_in_hover"] == {"turned_deg": -0.416, "rpm": 254.8, "stiff_rpm": 249.7}


def test_without_loads_it_says_so(lantern: Craft) -> None:
    craft = with_loads(lantern, None)
    assert "Loads aren't worked out" in page_text(loads_page(craft)) and loads_data(craft)["loads"] is None
    assert set(loads_files(craft, loads_page(craft), loads_data(craft)).files) == {"loads.txt", "loads.json"}
    assert any("of the glue lines that are judged" in line for line in verdict_lines(craft.verdict, 0))


def test_no_line_is_too_wide(shown: Callable[..., Shown]) -> None:
    assert max(map(len, shown().text.split("\n"))) <= WIDEST


# What is never told


@pytest.mark.parametrize(("example", "option"), CRAFTS)
def test_what_it_must_never_say(crafted: CraftOf, example: str, option: str | None) -> None:
    """With its own loads, and with made-up ones, whether the least margin is far below 1 or far above."""
    own = crafted(example, option)
    for found in (own.held, *map(held, (0.1, 3.0, 50.0))):
        craft = with_loads(own, found)
        said = [page_text(loads_page(craft)), json_text(loads_data(craft)), *verdict_lines(craft.verdict, 0)]
        for words in NEVER:
            found = re.search(words, "\n".join(said), re.IGNORECASE)
            assert found is None, (words, found and found[0])


def test_the_words_are_found_where_they_stand() -> None:
    said = (
        "it is safe", "it passes", "strong enough", "guaranteed", "certified", "airworthy", "approved", "it will hold",
        "no risk", "it can't break", "✓", "flutter at 400 rpm", "OK", "fit to fly", "a sufficient margin",
    )  # fmt: skip
    assert [bool(re.search(words, text, re.IGNORECASE)) for words, text in zip(NEVER, said, strict=True)] == [True] * 15


# In inches


def test_in_inches_all_is(crafted: CraftOf) -> None:
    """1 MPa is 145.0377 psi, 1 N 0.2248089 lbf, 1 N m 8.850746 lbf in: NIST SP 811, from memory."""
    craft = with_loads(crafted("kite_day", None), held())
    text = page_text(loads_page(craft))
    assert metric_figures(text) == [] and not re.search("[\ue000-\uf8ff]", text)
    assert "725 of 2437 psi" in " ".join(text.split()) and f"{16.8 * 145.0377:.0f}" == "2437"
    first = section(text, "Loads along the blade").split("\n")[3].split()
    wanted = [20 / 25.4, 115.5 * 0.2248089, 4.84 * 0.2248089, -0.979 * 0.2248089, 1.485 * 8.850746, -0.44 * 8.850746]
    assert [float(one) for one in first[:6]] == pytest.approx(wanted, abs=0.006)
    files = loads_files(craft, loads_page(craft), loads_data(craft)).files
    assert set(files) == {"loads.txt", "loads.json", "loads.csv", "loads.svg"}
    drawing = ET.fromstring(files["loads.svg"].decode())
    words = ["".join(one.itertext()) for one in drawing.iter(f"{SVG}text")]
    assert "pull, lbf" in words and "bending up, lbf·in" in words and words.count("r, in") == 3
    assert json.loads(files["loads.json"])["loads"]["links"][0]["stress_mpa"]["greatest"] == pytest.approx(0.625)


# Along r, and the picture


def test_the_table_along_r_is_the_loads(shown: Callable[..., Shown]) -> None:
    """Read back as a spreadsheet would: five cases, two rows of masses and air each, 21 radii."""
    found = shown().held
    rows = list(csv.DictReader(io.StringIO(csv_text(loads_list(found)))))
    assert len(rows) == 5 * 2 * 21
    (one,) = (
        row for row in rows
        if row["case"] == "at rpm_max" and row["masses_and_air"] == "greatest" and row["r_mm"] == "20"
    )  # fmt: skip
    assert float(one["pull_n"]) == pytest.approx(115.5) and float(one["flap_nm"]) == pytest.approx(1.485)
    assert float(one["lag_nm"]) == pytest.approx(-0.44) and float(one["rpm"]) == pytest.approx(RPM_MAX)
    assert {row["time_s"] for row in rows} == {"", "0.5", "1"}


def test_the_picture_is_to_scale(shown: Callable[..., Shown]) -> None:
    """By its own figures along the axes: the crossing at 281 rpm, the working range, the lines of so many per turn."""
    found = shown().held
    drawing = loads_picture(found, "x")
    assert svg(drawing) == svg(loads_picture(found, "x")) and ET.fromstring(svg(drawing)).tag == f"{SVG}svg"
    words = [item for item in drawing.items if isinstance(item, Words)]
    below = {one.text: one.at[0] for one in words if one.at[1] == -6.0}
    per_rpm = (below["400"] - below["0"]) / 400.0
    beside = {one.text: one.at[1] for one in words if one.at[0] == -2.0 and one.at[1] < 98.0}
    per_hz = (beside["40"] - beside["0"]) / 40.0
    ring = next(item for item in drawing.items if isinstance(item, Ring))
    assert ring.center == pytest.approx((281.0 * per_rpm, 2 * 281.0 / 60.0 * per_hz))
    shaded = rectangle(217.0 * per_rpm, 0.0, 345.0 * per_rpm, 96.0, "working-fill")
    (drawn,) = (item for item in drawing.items if getattr(item, "style", "") == "working-fill")
    assert cast(Any, drawn).loops[0].xy == pytest.approx(shaded.loops[0].xy)  # type: ignore[union-attr]
    turns = [item for item in drawing.items if isinstance(item, Line) and item.dashes == (1.2, 1.2)]
    ends = [cast(Any, line.points)[1] for line in turns]
    assert [y for _, y in ends] == pytest.approx([n * 400.0 / 60.0 * per_hz for n in (1, 2, 3, 4)])
    texts = {one.text for one in words}
    assert {"flap 1", "lag 1", "flap 2", "2 per turn, blades", "beyond this scale: twist 1"} <= texts
    assert {"at rest, 0 rpm", "at rpm_max, 345 rpm", "on the start, 20 to 180 rpm"} <= texts


def test_every_medium_takes_it(shown: Callable[..., Shown]) -> None:
    from geomgen.views.index import holding
    from geomgen.views.page import Book

    craft = shown().craft
    chapter = holding(craft)
    assert chapter is not None and holding(with_loads(craft, None)) is None
    page = html(Book("x", "y", (chapter,)), {"loads": "<svg></svg>"})
    assert "The three weakest, at the factor of 3" in page and "hub.layers upright to flat" in page

"""A craft that was weighed in: what the scale said goes on into statement, elements, lift and pages."""

from __future__ import annotations

import json
import pathlib

import numpy as np
import pytest

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import demo, example_path
from geomgen.design.reader import read
from geomgen.mass.elements import of_craft
from geomgen.mass.lines import Line
from geomgen.mass.statement import summed
from geomgen.mass.weigh_in.as_built import WEIGHED_IN, Standing
from geomgen.model.element import body
from geomgen.model.role import Assembly
from geomgen.render.data import json_text
from geomgen.render.text import page_text
from geomgen.views.index import mass
from geomgen.views.weigh import weigh_page
from geomgen.views.weigh_data import weigh_data

ROWS = {  # of the demo: 1.5 g more on the first blade, 4 g less on the second, balsa lighter than its catalogue's
    "scale,step,,,,": "scale,step,,,0.1,",
    "sheet,balsa_3 1,,1,,": "sheet,balsa_3 1,,1,33.4,",
    "part,rib R05,1,1,,": "part,rib R05,1,1,0.9,",
    "part,fitting receiver,,1,,": "part,fitting receiver,,1,17.2,",
    "part,fitting battery,,1,,": "part,fitting battery,,1,191.3,",
    "blade,whole,1,,,": "blade,whole,1,,166.3,",
    "blade,on root scale,2,,,": "blade,on root scale,2,,85.9,200",
    "blade,on tip scale,2,,,": "blade,on tip scale,2,,74.9,700",
    "blade,balances at,1,,,": "blade,balances at,1,,,432",
}


def written(folder: pathlib.Path, name: str, rows: dict[str, str], key: str) -> pathlib.Path:
    """An example beside its filled-in form, which a line of the design names."""
    text = example_path(name).read_text(encoding="utf-8")
    form = Craft(read(example_path(name)).design, example_path(name).parent, exact=False).blank_form
    for blank, full in rows.items():
        assert form.count(f"{blank}\n") == 1, blank
        form = form.replace(f"{blank}\n", f"{full}\n")
    (folder / "as-built.csv").write_text(form, encoding="utf-8")
    place = "\n[rotor]" if key == "weighed" else "\nblade.ribs.rest.stock   ="
    assert text.count(place) == 1
    full = text.replace(place, f'\nweighed = "as-built.csv"{place}')
    for beside in example_path(name).parent.glob("*.dat"):
        (folder / beside.name).write_bytes(beside.read_bytes())
    (folder / f"{name}.toml").write_text(full, encoding="utf-8")
    return folder / f"{name}.toml"


def craft_of(file: pathlib.Path, option: str | None = None) -> Craft:
    found = read(file, option)
    return Craft(found.design, file.parent, Cache(None), exact=False)


@pytest.fixture(scope="module")
def design(tmp_path_factory: pytest.TempPathFactory) -> pathlib.Path:
    return written(tmp_path_factory.mktemp("built"), "lantern", ROWS, "weighed")


@pytest.fixture(scope="module")
def craft(design: pathlib.Path) -> Craft:
    return craft_of(design)


def line(craft: Craft, name: str) -> Line:
    (found,) = (line for line in craft.weighed if line.name == name)
    return found


def test_without_a_form_nothing_is_another() -> None:
    plain = Craft(demo().design, exact=False)
    assert plain.readings == () and plain.weighed_in is None and plain.weighed == plain.computed
    assert plain.mass == summed(plain.computed, plain.design, sharing=plain.sharing)
    assert not plain.mass.each_blade and all(element.blade is None for element in plain.elements)


def test_an_empty_form_changes_nothing(tmp_path: pathlib.Path) -> None:
    craft = craft_of(written(tmp_path, "lantern", {}, "weighed"))
    plain = Craft(demo().design, exact=False)
    assert craft.weighed == plain.weighed and craft.mass == plain.mass


def test_what_was_weighed_is_what_the_statement_says(craft: Craft) -> None:
    first, second = craft.mass.each_blade
    assert first.mass_g.typical == pytest.approx(166.3, abs=0.05)
    assert second.mass_g.typical == pytest.approx(85.9 + 74.9, abs=0.08)
    assert first.cg_radius_mm.typical == pytest.approx(432.0, abs=0.6)
    assert second.cg_radius_mm.typical == pytest.approx((85.9 * 200 + 74.9 * 700) / (85.9 + 74.9), abs=0.5)
    assert line(craft, "fitting battery").set_g[1] == pytest.approx(191.3, abs=0.05)
    assert line(craft, "fitting receiver").set_g == pytest.approx((17.15, 17.2, 17.25), abs=0.01)
    rib = line(craft, "rib R05")
    assert rib.blades[0][1] == pytest.approx(0.9, abs=0.06) and rib.set_g[1] == pytest.approx(
        sum(each[1] for each in rib.blades) / 2
    )
    assert rib.figure.figure.source == WEIGHED_IN
    assert rib.one_g[1] == pytest.approx(rib.figure.grams[1] * rib.amount)
    blade = craft.mass.blade
    assert blade.mass_g.typical == pytest.approx((first.mass_g.typical + second.mass_g.typical) / 2)
    assert blade.mass_g.likely_low == second.mass_g.likely_low
    assert blade.apart_g == pytest.approx(first.mass_g.typical - second.mass_g.typical, abs=0.2)


def test_a_light_sheet_makes_its_other_ribs_light(craft: Craft) -> None:
    """A bare sheet of 1000 x 100 x 3 mm at 33.4 g is 111 kg/m3, a fifth less than the catalogue's 140."""
    for name in ("rib R08", "rib R11"):
        mine = line(craft, name)
        (before,) = (each for each in craft.computed if each.name == name)
        assert mine.set_g[1] / before.set_g[1] == pytest.approx(33.4 / 42.0, abs=0.04)
    built = craft.weighed_in
    assert built is not None
    (balsa,) = (stock for stock in built.stocks if stock.name == "balsa_3")
    assert balsa.times == pytest.approx(33.4 / 42.0, abs=0.03) and balsa.standing == Standing.FITTED


def test_what_nothing_bears_on_stays_and_is_named(craft: Craft) -> None:
    built = craft.weighed_in
    assert built is not None
    stayed = {part.name for part in built.parts if part.standing == Standing.STAYS}
    (bolt,) = (line.name for line in craft.computed if line.path == "hub.bolt")
    assert {"hub", bolt, "fitting speed_control", "wire fan"} - stayed == {"hub"}
    for mine, before in zip(craft.weighed, craft.computed, strict=True):
        assert (mine is before or mine == before) == (mine.name in stayed)


def test_elements_and_the_statement_have_one_craft(craft: Craft) -> None:
    """Its centre by elements placed one by one, against the statement's own sums."""
    whole = body(of_craft(craft.elements, craft.design))
    stated = craft.mass.craft
    assert whole.mass_g == pytest.approx(stated.mass_g.typical, rel=1e-12)
    centre = [stated.cg_x_mm.typical, stated.cg_y_mm.typical, stated.cg_z_mm.typical]
    assert whole.centre == pytest.approx(np.array(centre), abs=1e-6)
    for number, blade in enumerate(craft.mass.each_blade, start=1):
        mine = [each for each in craft.elements if each.assembly == Assembly.BLADE and each.blade in (None, number)]
        assert body(mine).mass_g == pytest.approx(blade.mass_g.typical, rel=1e-12)
        assert body(mine).centre[0] == pytest.approx(blade.cg_radius_mm.typical, rel=1e-12)
        forward, up = blade.cg_chordwise_mm.typical, blade.cg_vertical_mm.typical
        assert body(mine).centre[1:] == pytest.approx(np.array([forward, up]), abs=1e-6)


def test_the_unbalance_is_of_the_blades_as_they_are(craft: Craft) -> None:
    """By hand: 166.3 g at r 432 and 160.8 g at r 432.9, coned by 2 deg; the hub is in balance."""
    second = (85.9 * 200 + 74.9 * 700) / (85.9 + 74.9)
    blades = (166.3 * 432.0 - 160.8 * second) * np.cos(np.radians(2.0))
    assert craft.balance.unbalance.static.size == pytest.approx(abs(blades), abs=90.0)
    titles = [section[0] for section in weigh_page(craft).sections]
    assert "Unbalance as weighed in" in titles and not any("before anything is weighed" in str(each) for each in titles)


def test_three_clockwise_blades_in_ounces(tmp_path: pathlib.Path) -> None:
    """The third blade, which a clockwise craft has on the other side, 0.4 oz heavier: the centre goes to its side."""
    masses = dict(zip((1, 2, 3), ("10.1", "10.1", "10.5"), strict=True))
    rows = {f"blade,whole,{n},,,": f"blade,whole,{n},,{grams}," for n, grams in masses.items()}
    craft = craft_of(written(tmp_path, "kite_day", rows, "weighed"))
    whole = body(of_craft(craft.elements, craft.design))
    stated = craft.mass.craft
    assert whole.mass_g == pytest.approx(stated.mass_g.typical, rel=1e-12)
    centre = [stated.cg_x_mm.typical, stated.cg_y_mm.typical, stated.cg_z_mm.typical]
    assert whole.centre == pytest.approx(np.array(centre), abs=1e-6)
    assert craft.mass.each_blade[2].mass_g.typical == pytest.approx(10.5 * 28.349523125, abs=1.5)
    assert centre[1] > 0.5  # clockwise, the third blade stands at +120 deg


def test_it_goes_on_into_lift_and_pull(craft: Craft) -> None:
    plain = Craft(demo().design, exact=False)
    low, typical, high = sorted(lift.mass_g for lift in craft.lifts)
    assert typical == pytest.approx(craft.mass.craft.lift_g.typical)
    before = sorted(lift.mass_g for lift in plain.lifts)
    assert typical != before[1] and high - low < 0.6 * (before[2] - before[0])
    assert craft.load_path != plain.load_path and craft.hover is not None


def test_the_page_and_the_data_tell_it(craft: Craft) -> None:
    page = page_text(weigh_page(craft))
    assert "As weighed in, as-built.csv" in page and "Each blade by itself" in page
    row = next(row for row in page.splitlines() if row.startswith("fitting receiver  "))
    assert row.split()[2:6] == ["g", "16.00", "17.20", "1.20"] and row.endswith("doesn't fit")
    assert "which stay as catalogued" in page and "alone: rib R05 (blade 1), fitting battery" in page
    data = json.loads(json_text(weigh_data(craft, None)))["weighed_in"]
    (receiver,) = (each for each in data["readings"] if each["what"] == "fitting receiver")
    assert (receiver["computed_g"], receiver["weighed_g"], receiver["fits"]) == (16.0, 17.2, False)
    assert len(data["blades"]) == 2 and {each["standing"] for each in data["parts"]} == set(Standing)
    chapter = mass(craft)
    assert any(section[0] == "As weighed in, as-built.csv" for section in chapter.sections)
    assert "weighed_in" not in weigh_data(Craft(demo().design, exact=False), None)


def test_an_option_may_have_been_built(tmp_path: pathlib.Path) -> None:
    file = written(tmp_path, "lantern", ROWS, "option")
    assert craft_of(file).weighed_in is None
    built = craft_of(file, "foam_on_ply")
    assert built.mass.each_blade[0].mass_g.typical == pytest.approx(166.3, abs=0.05)

"""The blank form, and what of it is refused when it comes back, each by its line."""

from __future__ import annotations

import csv
import pathlib

import pytest

from geomgen.cache import Cache
from geomgen.cli import main
from geomgen.craft import Craft
from geomgen.design.library import demo, example_path
from geomgen.design.reader import read
from geomgen.errors import DesignError
from geomgen.mass.weigh_in.file import AsWritten
from geomgen.mass.weigh_in.reading import Reading
from geomgen.mass.weigh_in.sense import sensible, shop
from geomgen.mass.weigh_in.table import readings
from geomgen.section.listing import Origin

CRAFT = Craft(demo().design, exact=False)
BLANK = CRAFT.blank_form
SHOP = shop(CRAFT.flying.parts, CRAFT.design, CRAFT.sharing)
HEAD = "kind,which,blade,pieces,mass [g],place [mm]"


def filled(*rows: str, head: str = HEAD, title: str = CRAFT.design.title) -> str:
    return "\n".join([head, f"design,{title}", *rows, ""])


def taken(text: str) -> tuple[Reading, ...]:
    form = AsWritten("mine.csv", CRAFT.design.title, "mm", text.encode())
    return sensible(readings(form), SHOP, Origin("mine.csv", "weighed", "mine.csv"))


def test_a_blank_form_has_every_part_and_says_nothing() -> None:
    lines = BLANK.splitlines()
    remarks = [line for line in lines if line.startswith("#")]
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    assert remarks == lines[: len(remarks)] and CRAFT.design.title in lines[len(remarks) + 1]
    assert all(not row["mass [g]"] and not row["place [mm]"] for row in rows)
    names = [(row["which"], row["blade"], row["pieces"]) for row in rows if row["kind"] == "part"]
    for line in CRAFT.computed:
        if line.role != "glue":
            blades = ("1", "2") if line.assembly == "blade" else ("",)
            assert [each for each in names if each[0] == line.name] == [(line.name, b, str(line.count)) for b in blades]
    assert ("sheet", "balsa_3 1") in {(row["kind"], row["which"]) for row in rows}
    assert taken(BLANK) == ()


@pytest.mark.parametrize(("name", "option"), [("kite_day", None), ("lantern", "balsa"), ("starter", None)])
def test_the_form_of_any_craft_reads_back(name: str, option: str | None) -> None:
    file = read(example_path(name), option)
    craft = Craft(file.design, file.source.folder, exact=False)
    text = craft.blank_form
    mass = "oz" if file.design.units == "in" else "g"
    assert f"mass [{mass}]" in text
    rows = [line + ("1.5," if "," in line else "") if line.startswith("part,") else line for line in text.splitlines()]
    written = "\n".join(line.replace(",,1.5,", ",1.5,") for line in rows)
    form = AsWritten("mine.csv", file.design.title, file.design.units or "mm", written.encode())
    found = sensible(
        readings(form), shop(craft.flying.parts, craft.design, craft.sharing), Origin("mine.csv", "weighed", "")
    )
    grams = 1.5 * (28.349523125 if mass == "oz" else 1.0)
    assert len(found) > 20 and all(each.mass_g == pytest.approx(grams) for each in found)
    assert all(each.step_g == pytest.approx(grams / 15.0) for each in found)  # one of its last digit


def test_a_form_is_written_once_and_never_over_another(
    tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "as-built.csv"
    assert main(["weigh", "--blank", str(file)]) == 0
    assert file.read_text() == BLANK and "next: fill in" in capsys.readouterr().out
    file.write_text("mine")
    assert main(["weigh", "--blank", str(file)]) == 2
    assert file.read_text() == "mine" and "nothing is overwritten" in capsys.readouterr().err


def test_the_scales_step_is_stated_or_one_of_the_last_digit() -> None:
    plain = taken(filled("part,rib R05,1,1,0.9,", "blade,balances at,1,,,412"))
    assert [(each.step_g, each.step_mm) for each in plain] == [(0.1, 1.0), (1.0, 1.0)]
    stated = taken(filled("scale,step,,,0.5,", "ruler,step,,,,2", "part,rib R05,1,1,0.9,", "blade,balances at,1,,,412"))
    assert [(each.step_g, each.step_mm) for each in stated] == [(0.5, 2.0), (0.5, 2.0)]


def test_a_spreadsheets_own_ways_are_taken() -> None:
    """A semicolon between cells, quotes, columns in another order, a unit as in the heading, commas in remarks."""
    text = '\ufeff"# a, b";;;;;\n"which";kind;"mass [g]";"place [mm]";blade;pieces\n'
    text += f'"{CRAFT.design.title}";design;;;;\nRIB R05;part;"1.2 g";;1;1\n'
    (reading,) = taken(text)
    assert (reading.which, reading.blade, reading.mass_g, reading.line) == ("rib R05", 1, 1.2, 4)


REFUSED = {
    "negative": (["part,rib R05,1,1,-0.9,"], 3, "can't be; above 0"),
    "nothing": (["part,rib R05,1,1,0,"], 3, "can't be; above 0"),
    "another unit": (["part,rib R05,1,1,0.9 oz,"], 3, "another unit"),
    "no mass": (["part,rib R05,1,1,12 mm,"], 3, "is a length, not a mass"),
    "no number": (["part,rib R05,1,1,light,"], 3, "is not a mass"),
    "not a number": (["part,rib R05,1,1,nan,"], 3, "is not a mass"),
    "decimal comma": (['part,rib R05,1,1,"0,9",'], 3, 'write "0.9"'),
    "too many cells": (["part,rib R05,1,1,0.9,,x"], 3, "beyond the columns"),
    "unknown part": (["part,rib R55,1,1,0.9,"], 3, "isn't in this craft"),
    "unknown sheet": (["sheet,balsa_3 7,,1,30,"], 3, "isn't in this craft"),
    "unknown kind": (["wing,rib R05,1,1,0.9,"], 3, "no kind of row"),
    "no such blade": (["part,rib R05,3,1,0.9,"], 3, "no blade 3"),
    "which blade": (["part,rib R05,,1,0.9,"], 3, "names no blade"),
    "some of the pieces": (["part,wire fan,1,2,9.3,"], 3, "of which one blade has 3"),
    "twice": (["part,rib R05,1,1,0.9,", "part,Rib R05,1,1,1.9,"], 4, "first in line 3"),
    "lever without place": (["blade,on tip scale,1,,80,"], 3, "has no place"),
    "lever without mass": (["blade,on tip scale,1,,,700"], 3, "has no mass"),
    "edge with a mass": (["blade,balances at,1,,80,400"], 3, "has no mass"),
    "step of nothing": (["scale,step,,,0,"], 3, "above 0"),
    "blade over craft": (["blade,whole,1,,836,", "craft,whole,,,735,"], 4, "weighs 735.0 g"),
    "blades over craft": (["blade,whole,1,,400,", "blade,whole,2,,400,", "craft,whole,,,735,"], 5, "(line 3, 4)"),
    "blade and hub over craft": (["blade,whole,1,,400,", "hub,whole,,,400,", "craft,whole,,,735,"], 5, "(line 3, 4)"),
    "part over blade": (["part,spar main,1,1,170,", "blade,whole,1,,165,"], 4, "parts of it 170.0 g"),
    "part over scales": (
        ["part,spar main,1,1,170,", "blade,on root scale,1,,80,200", "blade,on tip scale,1,,80,700"],
        5,
        "170.0 g",
    ),
    "part over hub": (["part,fitting battery,,1,190,", "hub,whole,,,180,"], 4, "parts on it 190.0 g"),
    "parts over their sheet": (
        ["sheet,balsa_3 1,,1,2.0,", "part,rib R05,1,1,1.5,", "part,rib R06,2,1,1.5,"],
        3,
        "parts cut from it 3.00 g (line 4, 5)",
    ),
    "centre beyond the tip": (["blade,on root scale,1,,20,200", "blade,on tip scale,1,,80,1700"], 4, "outside the"),
    "edge beyond the tip": (["blade,balances at,1,,,830"], 3, "outside the blade"),
    "scales the wrong way round": (["blade,on root scale,1,,20,700", "blade,on tip scale,1,,80,200"], 4, "further out"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_cant_be_is_refused_by_its_line(case: str) -> None:
    rows, line, words = REFUSED[case]
    with pytest.raises(DesignError) as error:
        taken(filled(*rows))
    (fault,) = error.value.faults
    assert (fault.file, fault.line, fault.path) == ("mine.csv", line, "weighed")
    assert words in str(fault)


def test_what_only_the_step_explains_is_no_contradiction() -> None:
    """Four readings to 0.1 g may be 0.2 g off in all: two blades of 165.3 g and a hub of 400 g in 730.5 g."""
    rows = ["blade,whole,1,,165.3,", "blade,whole,2,,165.3,", "hub,whole,,,400.0,"]
    assert len(taken(filled(*rows, "craft,whole,,,730.5,"))) == 4
    with pytest.raises(DesignError):
        taken(filled(*rows, "craft,whole,,,730.3,"))


def test_every_fault_is_told_at_once() -> None:
    with pytest.raises(DesignError) as error:
        taken(filled("part,rib R05,1,1,-1,", "part,rib R06,1,1,1 oz,", "wing,a,,,1,"))
    assert [fault.line for fault in error.value.faults] == [3, 4, 5]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (filled("part,rib R05,1,1,1,", title="Another"), "the form of another design"),
        (f"{HEAD}\npart,rib R05,1,1,1,\n", "doesn't say which design"),
        (filled("part,rib R05,1,1,1,", head=HEAD.replace("[g]", "[kg]")), "another unit"),
        (filled("part,rib R05,1,1,1,", head=HEAD.replace(" [g]", "")), "another unit, or none"),
        (filled("part,rib R05,1,1,1,", head=HEAD.replace("blade", "wing")), "no column of the form"),
        (filled("part,rib R05,1,1,1,", head=HEAD.replace(",place [mm]", "")), "no column place"),
        ("", "is empty"),
        ("\x00\x01", "no column"),
    ],
)
def test_a_form_that_isnt_this_ones_is_refused(text: str, words: str) -> None:
    with pytest.raises(DesignError, match=words):
        taken(text)


def test_a_file_that_cant_be_read_is_told_and_check_tells_a_bad_line(
    tmp_path: pathlib.Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = example_path("lantern").read_text(encoding="utf-8").replace("units  =", 'weighed = "mine.csv"\nunits =', 1)
    design = tmp_path / "lantern.toml"
    design.write_text(text, encoding="utf-8")
    assert main(["check", str(design)]) == 2
    assert "no such file" in capsys.readouterr().err
    (tmp_path / "mine.csv").write_text(filled("part,rib R05,1,1,0.9,", "part,rib R55,1,1,0.9,"))
    assert main(["check", str(design)]) == 2
    said = capsys.readouterr()
    assert "mine.csv:4" in said.err and 'weighed = "mine.csv"' in said.err and not said.out
    file = read(design)
    craft = Craft(file.design, tmp_path, Cache(None), exact=False)
    with pytest.raises(DesignError):
        craft.mass  # noqa: B018
    assert craft.computed == CRAFT.computed

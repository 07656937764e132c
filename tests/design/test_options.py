"""Options: laid over by key, built on one another, with false to take away."""

from __future__ import annotations

import tomllib

import pytest
from mend import NAME, edited, faults_of, line_of, read_edited

from geomgen.design import demo, example_path, read, read_text
from geomgen.design.judge import judge
from geomgen.design.options import lay
from geomgen.errors import DesignError, Fault

OLD = "blade.ribs.outer.every = 40"


def test_an_option_changes_only_what_it_names() -> None:
    base, ply = demo().design, demo("foam_on_ply").design
    assert ply.blade.ribs["rest"].stock == "ply_2" and ply.blade.ribs["rest"].lighten.by == "truss"  # type: ignore[union-attr]
    again = ply.model_dump()
    again["blade"]["ribs"]["rest"] |= {
        key: base.model_dump()["blade"]["ribs"]["rest"][key] for key in ("stock", "lighten")
    }
    assert again == base.model_dump()


def test_an_option_builds_on_another_and_takes_away() -> None:
    design = demo("film").design
    assert design.blade.construction.kind == "covered" and design.blade.ribs["rest"].stock == "balsa_2"
    assert list(design.blade.spar) == ["main", "caps"] and set(demo().design.blade.spar) == {"main", "rear"}


@pytest.mark.parametrize("name", ["lantern", "kite_day"])
def test_an_option_that_shares_tables_with_the_design_is_as_if_read_alone(name: str) -> None:
    base = read(example_path(name))
    assert base.options
    for option in base.options:
        file = read(example_path(name), option)
        alone = judge(file.laid).design
        assert alone == file.design and alone is not None
        assert repr(alone) == repr(file.design)
        assert alone.model_dump_json(exclude_unset=True) == file.design.model_dump_json(exclude_unset=True)


def test_skins_go_with_the_construction_they_lie_on() -> None:
    """What an option of another construction leaves is what a file of that construction alone would say."""
    raw = tomllib.loads("""
        blade.construction = { kind = "ribbed", pattern = "panels", web = 2 }
        blade.skin.all = { stock = "foam" }
        blade.ribs.rest = { every = 60 }
        option.fold.blade.construction = { kind = "folded", stock = "board" }
        option.thin = { like = "fold", blade.ribs.rest = { every = 80 } }
        option.back = { like = "fold", blade.construction = { kind = "ribbed" }, blade.skin.new = { stock = "balsa" } }
        option.same.blade.construction = { kind = "ribbed", web = 3 }
    """)
    fold = {"construction": {"kind": "folded", "stock": "board"}, "ribs": {"rest": {"every": 60}}}
    assert lay(raw, "fold").raw == {"blade": fold}
    assert lay(raw, "thin").raw == {"blade": fold | {"ribs": {"rest": {"every": 80}}}}
    back = {"construction": {"kind": "ribbed"}, "ribs": {"rest": {"every": 60}}, "skin": {"new": {"stock": "balsa"}}}
    assert lay(raw, "back").raw == {"blade": back}
    assert lay(raw, "same").raw["blade"]["skin"] == {"all": {"stock": "foam"}}
    assert raw["blade"]["skin"] == {"all": {"stock": "foam"}}


def test_a_key_is_taken_away_too_but_false_stays_false_for_true() -> None:
    raw = tomllib.loads("a = { x = 1, y = true, z = 'on' }\noption.one.a = { x = false, y = false, z = false }")
    assert lay(raw, "one").raw == {"a": {"y": False}}


def test_the_last_in_a_chain_has_the_last_word() -> None:
    raw = tomllib.loads("""
        a = { x = 1, y = 1, z = 1 }
        option.one.a = { x = 2, y = 2 }
        option.two = { like = "one", a.y = 3 }
        option.three = { like = "two", a.z = 4 }
    """)
    laid = lay(raw, "three")
    assert laid.raw == {"a": {"x": 2, "y": 3, "z": 4}}
    assert laid.source(("a", "x")) == ("option", "one", "a", "x")
    assert laid.source(("a", "y")) == ("option", "two", "a", "y")
    assert laid.source(("a", "z", "deeper")) == ("option", "three", "a", "z", "deeper")
    assert laid.source(("a",)) == ("a",)
    assert raw["a"] == {"x": 1, "y": 1, "z": 1}


def test_a_table_taken_away_may_be_laid_again() -> None:
    raw = tomllib.loads(
        'a.b = { x = 1, y = 1 }\n[option.one]\na.b = false\n[option.two]\nlike = "one"\na.b = { y = 5 }'
    )
    assert lay(raw, "one").raw == {"a": {}}
    assert lay(raw, "two").raw == {"a": {"b": {"y": 5}}}


def test_a_table_whose_kind_changes_is_replaced_whole() -> None:
    change = 'stock.print_petg = { kind = "sheet", of = "birch ply", thickness = 4 }'
    faults = faults_of(edited((OLD, change)))
    assert [fault.path for fault in faults] == ["hub.stock"]  # a sheet now, and nothing left of the old table
    raw = tomllib.loads(edited((OLD, change)))
    assert lay(raw, "stiffer").raw["stock"]["print_petg"] == {"kind": "sheet", "of": "birch ply", "thickness": 4}
    same = 'stock.print_petg = { kind = "volume", solid = 0.6 }'
    stock = read_edited((OLD, same), option="stiffer").design.stock["print_petg"]
    assert (stock.of, stock.solid) == ("PETG, printed", (0.6, 0.6, 0.6))  # type: ignore[union-attr]


def test_false_is_also_a_plain_value() -> None:
    assert demo().design.fitting["fan"].rib
    without = "fitting.fan.rib = false\nfitting.fan.rib_stock = false"  # the sheet of its rib is taken away with it
    fan = read_edited((OLD, without), option="stiffer").design.fitting["fan"]
    assert not fan.rib and fan.rib_stock is None


def test_an_option_that_is_not_there() -> None:
    with pytest.raises(DesignError) as caught:
        read_edited(option="stifer")
    (fault,) = caught.value.faults
    assert 'do you mean "stiffer"?' in fault.remedy and fault.file == NAME and fault.value == '"stifer"'
    with pytest.raises(DesignError, match="options here: stiffer"):
        read_edited(option="x")


def test_base_is_the_design_itself() -> None:
    assert read_edited(option="base") == read_edited() and read_edited().options == ("stiffer",)


def test_a_circle_of_options_is_told_once_for_each_option_in_it() -> None:
    text = edited((OLD, 'like = "b"\n[option.b]\nlike = "c"\n[option.c]\nlike = "stiffer"'))
    faults = faults_of(text)
    assert {fault.path for fault in faults} <= {"option.stiffer.like", "option.b.like", "option.c.like"}
    assert all("circle" in fault.wrong for fault in faults) and len(faults) == 3


def test_a_fault_found_later_points_into_the_option() -> None:
    design = read_edited(option="stiffer")
    text = design.source.text
    placed = design.locate(Fault("blade.ribs.outer.every", "40 mm", "too near"))
    assert (placed.path, placed.line) == ("option.stiffer.blade.ribs.outer.every", line_of(text, OLD))
    placed = design.locate(Fault("blade.ribs.outer.lighten.web", "", "no room"))
    assert (placed.path, placed.line) == ("blade.ribs.outer.lighten.web", line_of(text, "[blade.ribs.outer]"))
    placed = design.locate(Fault("blade.along[1].chord", "", "no room"))
    assert placed.line == line_of(text, "chord = 150") and placed.file == NAME


def test_a_missing_table_points_at_what_took_it_away() -> None:
    text = edited((OLD, "duty = false"))
    (fault,) = faults_of(text)
    assert (fault.path, fault.line) == (
        "option.stiffer.duty",
        line_of(text, "duty = false"),
    ) and "missing" in fault.wrong


def test_faults_of_one_option_don_t_hide_those_of_another() -> None:
    text = edited((OLD, 'rotor.blades = 0\n[option.b]\nrotor.radius = "x mm"\n[option.c]\nlike = "d"'))
    assert {fault.path for fault in faults_of(text)} == {
        "option.stiffer.rotor.blades",
        "option.b.rotor.radius",
        "option.c.like",
    }


def test_reading_is_the_same_twice() -> None:
    assert read_text(edited(), NAME).design == read_text(edited(), NAME).design

"""What `check` says and the order of work, as pages and as plain data: the same figures, in the unit asked for."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace

from geomgen.craft import Craft
from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.model.step import Phase, Task
from geomgen.render.data import json_text
from geomgen.render.text import page_text
from geomgen.views.check import check_data, check_page
from geomgen.views.order_page import order_page
from geomgen.views.quantity import Length


def test_page_and_data_say_the_same(lantern: Craft) -> None:
    page, data = page_text(check_page(lantern, notes=True)), json.loads(json_text(check_data(lantern, None)))
    rows = {line.split("  ")[0]: line.split() for line in page.split("\n") if line}
    assert len(data["ribs"]) == len(lantern.ribs) and len(data["skins"]) == len(lantern.skins)
    for rib in data["ribs"]:
        cells = rows[rib["name"]]
        assert cells[:4] == [
            rib["name"],
            rib["stock"],
            Length(rib["radius_mm"]).shown("mm"),
            Length(rib["chord_mm"]).shown("mm"),
        ]
        assert str(rib["holes"]) in cells and f"{rib['angle_deg']:.2f}" in cells
    for notes in data["notes"].values():
        assert all(" ".join(note.split()) in " ".join(page.split()) for note in notes)


def test_notes_are_counted_and_told_when_asked_for(lantern: Craft) -> None:
    """Also what the sections measure; the verdict, which comes first, is the same."""
    short, long = (page_text(check_page(lantern, notes=asked)) for asked in (False, True))
    assert long.startswith(short)
    different = {note for notes in check_data(lantern, None)["notes"].values() for note in notes}
    assert f"{len(different)} notes to build by (--notes)" in " ".join(short.split())
    for words in ("Sections, bare", *different):
        assert " ".join(words.split()) in " ".join(long.split())
        assert " ".join(words.split()) not in " ".join(short.split())


def test_lengths_follow_the_pages_unit(lantern: Craft) -> None:
    page = page_text(replace(check_page(lantern), unit="in"))
    assert "r, in" in page and "chord, in" in page
    chord = next(line for line in page.split("\n") if line.startswith("R01")).split()[3]
    assert chord == f"{lantern.blanks[0].station.chord_mm / 25.4:.3f}"


def test_steps_are_numbered_with_their_parts_and_what_may_hurt() -> None:
    names = {Key(Role.RIB, "", (k,)): f"rib R{k:02d}" for k in range(1, 15)} | {Key(Role.SPAR, ""): "spar main"}
    glued = (Task(Phase.CLOSE, f"Glue {k}.", tuple(names)) for k in range(9))
    steps = [Task(Phase.PREPARE, "Cut.", caution="Dust."), *glued]
    lines = page_text(order_page("Mine", "ribbed", steps, names=names)).split("\n")
    title = "Mine: order of work, from cutting to a craft on its mast (ribbed)"
    assert lines[:5] == [title, "", "From cutting to finished blades", " 1. Cut.", "    ! Dust."]
    assert lines[5:7] == [" 2. Glue 0.", "    [rib R01 to R14, spar main]"] and lines[-2] == "10. Glue 8."


def test_names_without_numbers_are_told_one_by_one() -> None:
    names = {Key(Role.FITTING, kind): f"fitting {kind}" for kind in ("pack", "receiver", "lamp")}
    page = page_text(order_page("Mine", "ribbed", [Task(Phase.MOUNT, "Fix.", tuple(names))], names=names))
    assert page.endswith(
        "From the hub to a craft on its mast\n 1. Fix.\n    [fitting pack, fitting receiver, fitting lamp]"
    )


def test_angles_of_a_step_are_told_in_page_and_data(craft_of: Callable[..., Craft]) -> None:
    """Without a jig: each rib's name and angle, to two decimals on the page."""
    craft = craft_of("starter")
    (step,) = (step for step in check_data(craft, None)["order_of_work"] if step["angles"])
    page = page_text(order_page("Mine", "ribbed", craft.order, names=craft.names))
    assert len(step["angles"]) == len(craft.ribs)
    for each in step["angles"]:
        assert f"\n{each['rib']}" in page
        assert any(line.split() == [*each["rib"].split(), f"{each['angle_deg']:.2f}"] for line in page.split("\n"))


def test_many_names_of_a_step_are_counted() -> None:
    names = {Key(Role.RIB, kind): f"{kind} {k}" for k, kind in enumerate("abcdefghij")}
    page = page_text(order_page("Mine", "ribbed", [Task(Phase.CLOSE, "Glue.", tuple(names))], names=names))
    assert page.endswith("g 6, and 3 more]")

"""What a run changed, and what to know of the parts, in words."""

from __future__ import annotations

from geomgen.folder import Changes, SetAside
from geomgen.render.text import page_text
from geomgen.views.make import changed
from geomgen.views.page import Page


def changes_text(changes: Changes) -> str:
    return page_text(Page((changed(changes),)))


def test_one_line_for_each_kind_of_change() -> None:
    kept = (
        SetAside("cut/rib_R1.dxf", "cut/rib_R1.edited.dxf", "edited"),
        SetAside("parts.csv", "parts.found.csv", "found"),
    )
    changes = Changes(new=("rib R3", "rib R4"), changed=("rib R1",), gone=("rib R9",), same=("hub", "x"), kept=kept)
    assert changes_text(changes).splitlines() == [
        "new      rib R3, rib R4",
        "changed  rib R1",
        "gone     rib R9",
        "same     2 others",
        "kept     cut/rib_R1.dxf was edited since the last run: it is now cut/rib_R1.edited.dxf",
        "kept     parts.csv was not made here: it is now parts.found.csv",
    ]


def test_nothing_changed() -> None:
    assert changes_text(Changes((), (), (), ("a", "b", "c"))) == "same     all 3"


def test_long_lists_are_wrapped_under_themselves() -> None:
    text = changes_text(Changes(tuple(f"rib R{k}" for k in range(60)), (), (), ()))
    lines = text.splitlines()
    assert len(lines) > 3 and all(len(line) <= 100 for line in lines)
    assert all(line.startswith(" " * 9 + "rib") for line in lines[1:])
    assert " ".join(text.split()) == "new " + ", ".join(f"rib R{k}" for k in range(60))

"""The order of work agrees with what is built: what can't be reached later comes before it is closed."""

from __future__ import annotations

from collections.abc import Callable

from geomgen.craft import Craft

SHEETED = (
    (
        'kind       = "ribbed"',
        'kind = "sheeted"\nstock = "balsa_3"\nnose = { stock = "bar", width = 8 }\ntail = { stock = "bar", width = 9 }',
    ),
    ('[blade.skin.all]\nstock = "foam_sheet_2"\n', ""),
    ("[stock.steel_rod_3]", '[stock.bar]\nkind = "length"\nof = "balsa"\nwidth = 20\nheight = 22\n[stock.steel_rod_3]'),
    ("every = 60\n", "every = 300\n"),
)


def at(craft: Craft, *texts: str) -> list[int]:
    """At which step each text stands, from 0."""
    words = [step.does for step in craft.order]
    return [next(k for k, said in enumerate(words) if text in said) for text in texts]


def rises(steps: list[int]) -> bool:
    return steps == sorted(set(steps))


def test_sheets_between_strips(craft_of: Callable[..., Craft]) -> None:
    """A panel takes two sheets of 100 mm. Strips stand proud of ribs 3 mm lower: planed with the sheet on."""
    craft = craft_of("starter", *SHEETED)
    texts = (
        "Glue the nuts",
        "Join the sheets",
        "leave them proud",
        "Draw a cord",
        "Glue the upper",
        "Glue the lower",
        "Plane",
    )
    assert rises(at(craft, *texts))
    (joined,) = (step for step in craft.order if "Join the sheets" in step.does)
    assert [craft.names[key] for key in joined.keys] == ["sheeting upper", "sheeting lower"]
    assert not any("close the tail" in step.does or "seam" in step.does for step in craft.order)  # a strip is there


def test_a_skin_in_one_piece_closes_at_its_tail(craft_of: Callable[..., Craft]) -> None:
    craft = craft_of("starter", ("every = 60\n", "every = 300\n"))
    assert rises(at(craft, "Glue the nuts", "Thread the ribs", "Glue the upper half", "bevel and close the tail"))
    assert not any("seam" in step.does or "Join" in step.does for step in craft.order)
    seamed = craft_of("starter", ("every = 60\n", "every = 300\n"), ("least_tail = 2.5", "least_tail = 2.5\nseam = 2"))
    assert any("trim the first half's seam" in step.does for step in seamed.order)


def test_spars_from_below_and_boxes(craft_of: Callable[..., Craft]) -> None:
    spars = (
        '[blade.spar.box]\nkind = "box"\nstock = "balsa_3"\nchord = 0.55\nwidth = 15\nto = "80 %"\n[stock.steel_rod_3]'
    )
    craft = craft_of("starter", ("every = 60\n", "every = 300\n"), ("[stock.steel_rod_3]", spars))
    assert rises(at(craft, "Glue up each box", "Thread the ribs", "Let the boxes into the ribs", "Glue ribs and spars"))
    named = {craft.names[key] for step in craft.order for key in step.keys}
    assert {part.name for part in craft.spars if part.role == "spar"} <= named


def test_what_holds_on_the_tube_is_told_where_ribs_are_glued(craft_of: Callable[..., Craft]) -> None:
    """The demo names epoxy; without the key, and with a spar of wood, nothing is said of it."""
    named = craft_of("lantern")
    (step,) = (step for step in named.order if "Glue ribs and spars" in step.does)
    assert "isn't wood: with epoxy, the tube sanded" in step.does and "Gloves" in step.caution
    line = 'on_tube = "epoxy"                   # wood glue doesn\'t hold on carbon\n'
    for edits in (((line, ""),), (('of      = "carbon tube"', 'of      = "spruce"'),)):
        craft = craft_of("lantern", *edits)
        (step,) = (step for step in craft.order if "Glue ribs and spars" in step.does)
        assert "epoxy" not in step.does and step.caution == ""

"""Words that makers use: each choice, key and table is found by its misspellings and by what the trade calls it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal, get_args, get_origin

import pytest
from mend import edited, faults_of

from geomgen.design.faults import _bare
from geomgen.design.near import names_in, near
from geomgen.design.schema import NAMED_PLACES, Design
from geomgen.design.schema.table import Table
from geomgen.design.synonyms import _OURS, ours

Words = dict[str, tuple[str, ...]]


def _walk(annotation: Any, at: str, choices: Words, keys: Words) -> None:
    annotation = _bare(annotation)
    if get_origin(annotation) is Literal:
        choices[at] = tuple(map(str, get_args(annotation)))
    elif isinstance(annotation, type) and issubclass(annotation, Table):
        if annotation.__name__ not in keys:
            keys[annotation.__name__] = tuple(annotation.keys())
            for name, field in annotation.model_fields.items():
                _walk(field.annotation, f"{annotation.__name__}.{name}", choices, keys)
    else:
        for inner in get_args(annotation):
            _walk(inner, at, choices, keys)


CHOICES: Words = {"place": NAMED_PLACES}
KEYS: Words = {}
_walk(Design, "", CHOICES, KEYS)


def _misspelt(word: str) -> Iterator[str]:
    yield from (word[:-1], word[0] + word[2:], word + word[-1], word[1] + word[0] + word[2:], word.upper())


@pytest.mark.parametrize("names", [*CHOICES.values(), *KEYS.values()], ids=[*CHOICES, *KEYS])
def test_every_misspelling_is_told_the_word(names: tuple[str, ...]) -> None:
    for word in names:
        for slip in _misspelt(word) if len(word) > 2 else (word.upper(),):
            if slip not in names:
                assert word in names_in(near(slip, names)), slip


@pytest.mark.parametrize("at", [at for at in CHOICES if at != "Design.schema_"])
def test_every_choice_has_another_word_that_leads_to_it(at: str) -> None:
    names = CHOICES[at]
    for word in names:
        if len(names) > 1 or at.endswith(".kind"):
            others = _OURS[word].split(", ")
            found = [other for other in others if names_in(near(other, names)) == (word,)]
            assert found, f"{at}: nothing leads to {word}"


def test_every_key_has_another_word() -> None:
    assert {key for keys in KEYS.values() for key in keys} <= set(_OURS)


def test_no_word_leads_to_itself_or_beside_what_is_known() -> None:
    for word, others in _OURS.items():
        assert word not in others.split(", "), word
    assert ours("ccw", ("upper", "lower")) == ()


TOLD = {  # edit, path, hint
    "ccw": ('"anticlockwise"', '"ccw"', "rotor.turn", 'do you mean "anticlockwise"?'),
    "cw": ('"anticlockwise"', '"cw"', "rotor.turn", 'do you mean "clockwise"?'),
    "counterclockwise": ('"anticlockwise"', '"counterclockwise"', "rotor.turn", 'do you mean "anticlockwise"?'),
    "capitals": ('"anticlockwise"', '"Anticlockwise"', "rotor.turn", 'do you mean "anticlockwise"?'),
    "inches": ('"mm"', '"inches"', "units", 'do you mean "in"?'),
    "a screw by its number": ('screw = "M3"', "screw = 3", "pitch.fixing.screw", 'do you mean "M3"?'),
    "a number screw": ('screw = "M3"', 'screw = "4-40"', "pitch.fixing.screw", 'do you mean "#4-40"?'),
    "a number alone": ('screw = "M3"', 'screw = "#10"', "pitch.fixing.screw", 'do you mean "#10-24" or "#10-32"?'),
    "a screw in inches": ('bolt  = "M4"', 'bolt = "1/4 in"', "hub.bolt", 'do you mean "1/4-20" or "1/4-28"?'),
    "a thread of its diameter": ('bolt  = "M4"', 'bolt = "#8-36"', "hub.bolt", 'do you mean "#8-32"?'),
    "a mean line": ('height = "camber"', 'height = "mean line"', "blade.feather.height", 'do you mean "camber"?'),
    "yes": ("rib  = true", 'rib = "yes"', "fitting.fan.rib", "write true"),
    "a count in quotes": ("blades = 2", 'blades = "2"', "rotor.blades", "write 2"),
    "a table's name": ("[glue]", "[adhesive]", "adhesive", 'do you mean "glue"?'),
    "a key's other name": ("every = 30", "spacing = 30", "blade.ribs.root.spacing", 'do you mean "every"?'),
    "a kind of construction": ('= "ribbed"', '= "film"', "blade.construction.kind", 'do you mean "covered"?'),
    "a kind under another key": (
        'kind       = "ribbed"', 'type = "ribs"', "blade.construction.kind", 'write kind = "ribbed" instead of type',
    ),
    "a glue for a material": (
        'of   = "balsa"', 'of = "PVA"', "stock.balsa_3.of", '[glue] has it, with kind = "wood glue"',
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", TOLD)
def test_one_fault_with_one_clear_hint(name: str) -> None:
    """Also where a key that is needed stands under another name: that is one fault, not two."""
    old, new, path, hint = TOLD[name]
    (fault,) = faults_of(edited((old, new)))
    assert (fault.path, fault.remedy) == (path, hint)


@pytest.mark.parametrize("word", ["PETG", "petg", "Nylon", "XPS", "eps", "ABS, printed", "pla"])
def test_the_trades_words_for_materials_are_read(word: str) -> None:
    assert faults_of(edited(('of    = "PETG, printed"', f'of = "{word}"'))) == ()


@pytest.mark.parametrize("word", ["piano wire", "Music Wire", "carbon rod", "stainless"])
def test_the_trades_words_for_rods_are_read(word: str) -> None:
    assert faults_of(edited(('of      = "steel"', f'of = "{word}"'))) == ()


@pytest.mark.parametrize("word", ["pva", "PVA", "CA", "superglue", "epoxy resin", "foam-safe CA"])
def test_the_trades_words_for_glues_are_read(word: str) -> None:
    assert faults_of(edited(('kind = "wood glue"', f'kind = "{word}"'))) == ()


def test_a_word_for_several_materials_is_refused_with_the_choice() -> None:
    (fault,) = faults_of(edited(('of    = "PETG, printed"', 'of = "foam"')))
    assert fault.path == "stock.print_petg.of" and "more than one" in fault.wrong
    assert fault.allowed == 'one of "extruded polystyrene", "expanded polystyrene", "expanded polypropylene"'


def test_a_material_that_is_unknown_is_told_those_that_are_sold_so() -> None:
    (fault,) = faults_of(edited(('of    = "PETG, printed"', 'of = "zzz"')))
    assert '"PLA, printed"' in fault.allowed and '"balsa"' not in fault.allowed and '"carbon tube"' not in fault.allowed


def test_an_unknown_key_is_told_the_keys_wherever_it_stands() -> None:
    own = '[blade.spar.caps]\nkind = "caps"\nstock = "strip"\nchord = 0.4\nweb = { stock = "balsa_3", zz = 1 }\n'
    strip = '[stock.strip]\nkind = "length"\nof = "spruce"\nwidth = 5\nheight = 2\n'
    (fault,) = faults_of(edited(("[blade.channel.power]", f"{own}{strip}[blade.channel.power]")))
    assert fault.path == "blade.spar.caps.web.zz" and "keys here: stock, " in fault.allowed


@pytest.mark.parametrize("word", ["foam safe glu", "foam safe", "foam-safe spry"])
def test_a_glue_is_offered_by_our_own_name_for_it(word: str) -> None:
    """What makers call foam-safe is understood; pages never say that anything is."""
    (fault,) = faults_of(edited(('kind = "wood glue"', f'kind = "{word}"')))
    assert "for foam" in fault.remedy and "safe" not in fault.remedy

"""The pitch card, read by the standard library's XML reader: its rings, letters and rows lead to the pitches asked for.

Nothing is asked of the pattern but through the caps' pictures: rings of both caps, turned by a row's pitch about the
middle of the fixed cap's, meet where the row's letters stand. Sizes of words as the house's other tests take them, 0.55
of the size a letter and 0.75 high; paper by ISO 216 and ANSI Letter.
"""

from __future__ import annotations

import itertools
import math
import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import pytest
import shapely
from fine_pitch import FINE, fine_craft
from pages import links, parsed
from shapely import affinity

from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.making import make
from geomgen.render.svg import svg
from geomgen.render.text import page_text
from geomgen.views.caps_together import caps_of
from geomgen.views.check import check_page
from geomgen.views.index import index_book
from geomgen.views.page import Item
from geomgen.views.pitch_card import pitch_card

SVG = "{http://www.w3.org/2000/svg}"
SETTINGS = {"lantern": range(2, 15), "lantern many": range(25), "starter": range(2, 15, 2), "kite_day": range(0, 17, 2)}
FLOWN = 8
CLOCKWISE = {("lantern", True), ("lantern many", True), ("starter", True), ("kite_day", False)}


@dataclass(frozen=True)
class Word:
    """A text of the card where it stands, y up."""

    text: str
    style: str
    bold: bool
    size: float
    at: tuple[float, float]
    box: shapely.Polygon


@dataclass(frozen=True)
class Card:
    name: str
    clockwise: bool
    text: str
    root: ET.Element
    words: list[Word]
    rows: dict[float, list[str]]

    def rings(self, style: str) -> np.ndarray:
        """(n, 2) middles of the rings of a style, y up, those of the signs' line left out."""
        found = [e for e in self.root.iter(f"{SVG}circle") if e.get("class") == style]
        largest = max(float(e.get("r", "")) for e in found)
        return np.array(
            [(float(e.get("cx", "")), -float(e.get("cy", ""))) for e in found if float(e.get("r", "")) == largest]
        )

    def letters(self, style: str) -> list[Word]:
        """What stands beside the holes of a cap."""
        return [word for word in self.words[1:] if word.style == style and word.bold and word.at[1] > self.picture_mm]

    @property
    def picture_mm(self) -> float:
        """Height on the page from which the picture stands."""
        return next(word.at[1] for word in self.words if word.text == "fixed cap's hole")


def word_of(element: ET.Element) -> Word:
    text, size = element.text or "", float(element.get("font-size", ""))
    x, y = float(element.get("x", "")), -float(element.get("y", ""))
    wide = 0.55 * size * len(text)
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[element.get("text-anchor", "")] * wide
    turn = -float((element.get("transform") or "rotate(0 ").split("(")[1].split()[0])
    box = affinity.rotate(shapely.box(left, y, left + wide, y + 0.75 * size), turn, origin=(x, y))
    return Word(text, element.get("class", ""), "font-weight" in element.attrib, size, (x, y), box)


def table(words: list[Word]) -> dict[float, list[str]]:
    """Cells of each row, left to right, by its pitch; from pieces side by side, each with its heads."""
    heads = sorted((word for word in words if word.text == "pitch, deg"), key=lambda word: word.at[0])
    pitches = [word for word in words for head in heads if word.at[0] == head.at[0] and word.at[1] < head.at[1]]
    found = {}
    for pitch in pitches:
        right = min((head.at[0] for head in heads if head.at[0] > pitch.at[0]), default=math.inf)
        left = pitch.at[0] if pitch.at[0] > heads[0].at[0] else 0.0
        row = [word for word in words if word.at[1] == pitch.at[1] and left <= word.at[0] < right]
        found[float(pitch.text)] = [word.text for word in sorted(row, key=lambda word: word.at[0])]
    return found


def read(name: str, clockwise: bool, text: str) -> Card:
    root = ET.fromstring(text)
    words = [word_of(element) for element in root.iter(f"{SVG}text")]
    return Card(name, clockwise, text, root, words, table(words))


@pytest.fixture(scope="module", params=FINE, ids=lambda one: f"{one[0]}{'-other' * one[1]}")
def card(request: pytest.FixtureRequest, craft_of: Callable[..., Craft]) -> Card:
    craft = fine_craft(craft_of, *request.param)
    return read(request.param[0], request.param in CLOCKWISE, svg(pitch_card(craft.design, caps_of(craft))))


def test_every_setting_stands_once_with_a_letter_of_its_own(card: Card) -> None:
    """Or, where they are too many, with none, its holes having their own."""
    assert sorted(card.rows) == [float(pitch) for pitch in SETTINGS[card.name]]
    letters = [row[0] for row in card.rows.values()]
    if card.name != "lantern many":
        assert len(set(letters)) == len(letters) and all(letter.isalpha() for letter in letters)
    assert [word.text for word in card.words if word.style == "paper" and word.text.isdigit()] == [f"{FLOWN}"]
    cells = {tuple(cell for cell in row if cell.isalpha())[-4:] for row in card.rows.values()}
    assert len(cells) == len(card.rows)


def middle_of(rings: np.ndarray) -> np.ndarray:
    """Of the circle through all, by least squares of x² + y² = 2 a x + 2 b y + c."""
    found, *_ = np.linalg.lstsq(np.column_stack((2 * rings, np.ones(len(rings)))), (rings**2).sum(axis=1), rcond=None)
    return np.asarray(found[:2])


def test_a_rows_letters_are_those_of_holes_that_meet_at_its_pitch(card: Card) -> None:
    """The turning cap is drawn at the pitch to fly at; the leading edge, at the left or the right, goes up."""
    rings = {style: card.rings(ring) for style, ring in (("ink", "ink paper-fill"), ("channel", "channel"))}
    middle, up = middle_of(rings["ink"]), 1.0 if card.clockwise else -1.0
    for pitch, row in card.rows.items():
        c, s = (f(up * math.radians(pitch - FLOWN)) for f in (math.cos, math.sin))
        cells = [cell for cell in row if cell.isalpha()]
        for aft, texts in ((True, cells[-4:-2]), (False, cells[-2:])):
            found = []
            for style, text in zip(("channel", "ink"), texts, strict=True):
                side = [w for w in card.letters(style) if ((w.at[0] < middle[0]) == card.clockwise) == aft]
                (word,) = [w for w in side if w.text == text]
                found.append(rings[style][nearest_in_line(word, rings[style], middle)] - middle)
                assert card.name == "lantern many" or row[0] in text
            assert np.hypot(*(np.array([[c, -s], [s, c]]) @ found[0] - found[1])) < 0.03, "two roundings to 0.01"


def nearest_in_line(word: Word, rings: np.ndarray, middle: np.ndarray) -> int:
    """The ring in line with a word as seen from the feather axis, within half a degree."""
    way = np.array(word.box.centroid.coords[0]) - middle
    off = np.abs(np.angle(((rings - middle) @ (1.0, 1.0j)) / (way @ (1.0, 1.0j)), deg=True))
    assert off.min() < 0.5
    return int(off.argmin())


def test_the_other_hand_is_the_mirror_image_with_its_words_unmirrored(craft_of: Callable[..., Craft]) -> None:
    one, other = (
        read("lantern", hand, svg(pitch_card(craft.design, caps_of(craft))))
        for hand in (False, True)
        for craft in (fine_craft(craft_of, "lantern", hand),)
    )
    for style in ("ink paper-fill", "channel", "spar spar-fill", "fitting fitting-fill"):
        mirrored = one.rings(style) * (-1.0, 1.0) + (210.0, 0.0)
        assert np.abs(np.array(sorted(mirrored.tolist())) - sorted(other.rings(style).tolist())).max() < 0.03
    assert "scale(" not in other.text and "matrix(" not in other.text and one.rows == other.rows
    left = {next(word.at[0] for word in each.words if word.text == "leading edge") > 105.0 for each in (one, other)}
    assert left == {False, True}


def test_words_neither_touch_nor_leave_the_page(card: Card) -> None:
    page = shapely.box(6.0, 6.0, *(side - 6.0 for side in paper(card)))
    for word in card.words:
        assert page.contains(word.box), word.text
    for one, other in itertools.combinations(card.words, 2):
        assert not one.box.intersects(other.box), (one.text, other.text)
    holes = shapely.points(np.vstack((card.rings("ink paper-fill"), card.rings("spar spar-fill")))).tolist()
    for word in (*card.letters("ink"), *card.letters("channel")):
        assert min(word.box.distance(hole) for hole in holes) > 2.0, word.text


def paper(card: Card) -> tuple[float, float]:
    return (215.9, 279.4) if card.name == "kite_day" else (210.0, 297.0)


def test_it_prints_at_full_size_on_the_designs_own_paper(card: Card) -> None:
    sizes = [float(card.root.get(side, "").removesuffix("mm")) for side in ("width", "height")]
    assert tuple(sizes) == paper(card)
    assert card.root.get("viewBox", "").split()[2:] == [f"{side:g}" for side in paper(card)]


def test_it_says_how_far_off_what_stops_and_what_to_beware_of(card: Card) -> None:
    said = " ".join(word.text for word in card.words)
    assert "lets the pitch play 0." in said and " deg either way" in said
    assert "the stop pin in its slot keeps the blade from them" in said
    assert "Within the range the pins go in at no other pitch." in said
    assert "Check every blade with a pitch gauge before anything turns." in said and "safe" not in said.lower()
    assert card.words[0].text in example_path(card.name.split()[0]).read_text(encoding="utf-8")


def test_pitches_that_nobody_asked_for_are_told(craft_of: Callable[..., Craft]) -> None:
    """Planted, as no example has any."""
    craft = fine_craft(craft_of, "lantern")
    caps = caps_of(craft)
    pattern = replace(caps.pattern, inside_deg=(4.5,), notes=("the pins also go in at 4.5 deg",))
    said = svg(pitch_card(craft.design, replace(caps, pattern=pattern)))
    assert "The pins also go in at 4.5 deg." in said and "no other pitch" not in said


@pytest.mark.parametrize("name", ["lantern", "starter", "kite_day"])
def test_caps_that_carry_their_pitches_have_none(name: str, craft_of: Callable[..., Craft]) -> None:
    assert "pitch_card" not in words_of(craft_of(name))


def test_a_long_title_and_many_settings_stay_on_the_page(craft_of: Callable[..., Craft]) -> None:
    craft = fine_craft(craft_of, "lantern")
    caps = caps_of(craft)
    settings = tuple(float(pitch) for pitch in range(-12, 14))
    pattern = replace(caps.pattern, settings_deg=settings, pairs=caps.pattern.pairs * 2)
    design = craft.design.model_copy(update={"title": "A long name " * 20})
    words = read("lantern", False, svg(pitch_card(design, replace(caps, pattern=pattern)))).words
    page = shapely.box(6.0, 6.0, 204.0, 291.0)
    assert all(page.contains(word.box) for word in words) and words[0].text.endswith("…")


def words_of(craft: Craft) -> str:
    """Of the page's last chapter and of the order of work."""
    items = [block for section in index_book(craft).chapters[-1].sections for block in section]
    return " ".join([*(item.words for item in items if isinstance(item, Item)), *(step.does for step in craft.order)])


def test_page_and_order_of_work_lead_to_it(craft_of: Callable[..., Craft]) -> None:
    assert words_of(fine_craft(craft_of, "starter")).count("pitch_card.svg") == 2
    many = words_of(fine_craft(craft_of, "lantern many"))
    assert "which holes take the pins at each pitch" in many and many.count("pitch_card.svg") == 3
    for craft in (fine_craft(craft_of, name) for name in ("starter", "lantern many")):
        assert "pitch_card.svg" in page_text(check_page(craft))


def test_equal_crafts_have_equal_cards(craft_of: Callable[..., Craft]) -> None:
    craft = fine_craft(craft_of, "starter")
    again = Craft(craft.design, craft.folder)
    assert svg(pitch_card(craft.design, caps_of(craft))) == svg(pitch_card(again.design, caps_of(again)))


def test_make_writes_it_and_the_page_leads_to_it(craft_of: Callable[..., Craft]) -> None:
    craft = fine_craft(craft_of, "starter")
    made = make(craft)
    assert made.files["pitch_card.svg"].decode() == svg(pitch_card(craft.design, caps_of(craft)))
    assert made.about["pitch_card.svg"]["holds"]
    root, _ = parsed(made.files["index.html"].decode())
    assert "pitch_card.svg" in links(root)

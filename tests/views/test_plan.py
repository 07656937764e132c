"""The plan view: everything is there, at its place, to scale, mirrored for a clockwise rotor."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from known_options import bare

from geomgen.craft import Craft
from geomgen.design.reader import read_text
from geomgen.render.svg import svg as written
from geomgen.views.plan import plan_view
from geomgen.views.plan_inputs import PlanInputs, RibLine, RouteLine, Spot, plan_of

Box = tuple[float, float, float, float]


def plan(ribs: int = 12, **other: object) -> PlanInputs:
    r = np.linspace(130.0, 800.0, 5)
    chord = np.interp(r, (130.0, 800.0), (210.0, 150.0))
    places = np.linspace(130.0, 800.0, ribs).tolist() if ribs else []
    inputs = PlanInputs(
        title="Lantern-night rotor (invented)",
        units="mm",
        turn="anticlockwise",
        blades=2,
        radius_mm=800.0,
        hub_mm=48.0,
        leading=np.column_stack((r, 0.25 * chord)),
        trailing=np.column_stack((r, -0.75 * chord)),
        ribs=tuple(RibLine(f"R{k + 1}", x, (x, 40.0), (x, -120.0)) for k, x in enumerate(places)),
        routes=(
            RouteLine("main spar", "spar", (30.0, 0.0), (760.0, 0.0), 10.0),
            RouteLine("power channel", "channel", (130.0, -20.0), (752.0, -14.0), 9.0),
        ),
        fittings=(Spot("fan", (752.0, 0.0)), Spot("light strip", (480.0, 25.0)), Spot("tip light", (784.0, 10.0))),
        cg=(376.0, -12.0),
    )
    return replace(inputs, **other)  # type: ignore[arg-type]


def picture(inputs: PlanInputs) -> str:
    return written(plan_view(inputs))


def pieces(svg: str, kind: str) -> list[ET.Element]:
    return [element for element in ET.fromstring(svg).iter() if element.tag.split("}")[1] == kind]


def ends(element: ET.Element) -> np.ndarray:
    """(n, 2) points of a polyline, y up."""
    pairs = [pair.split(",") for pair in element.get("points", "").split()]
    return np.array(pairs, float) * (1.0, -1.0)


def text_box(element: ET.Element) -> Box:
    """About where words stand; 0.55 of the size for each letter."""
    size, x, y = (float(element.get(name, "")) for name in ("font-size", "x", "y"))
    width = 0.55 * size * len(element.text or "")
    before = {"start": 0.0, "middle": 0.5, "end": 1.0}[element.get("text-anchor", "")] * width
    if (element.get("transform") or "").startswith("rotate(-90 "):  # reads upwards
        return x - 0.75 * size, y - width + before, x, y + before
    return x - before, y - 0.75 * size, x - before + width, y


def standing(svg: str) -> list[tuple[str | None, Box]]:
    """All words that are level or upright, with their boxes; names of spars and channels lie along them."""
    texts = [e for e in pieces(svg, "text") if (e.get("transform") or "rotate(-90 ").startswith("rotate(-90 ")]
    return [(element.text, text_box(element)) for element in texts]


def apart(a: Box, b: Box) -> bool:
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_every_name_is_there() -> None:
    svg = picture(plan())
    told = [element.text for element in pieces(svg, "text")]
    for name in ("R1", "R12", "main spar", "power channel", "fan", "light strip", "tip light", "130", "800"):
        assert told.count(name) == 1, name
    assert {"Lantern-night rotor (invented)", "feather axis", "leading edge", "trailing edge", "100 mm"} <= set(told)
    assert {"2 blades", "1600 mm across", "turns anticlockwise seen from above"} <= set(told)
    assert "centre of gravity of one blade, r 376.0 mm" in told


def test_things_stand_where_they_are() -> None:
    svg = picture(plan())
    lines = [ends(element) for element in pieces(svg, "polyline")]
    rings = {(e.get("cx"), e.get("cy"), e.get("r")) for e in pieces(svg, "circle")}
    assert ("0", "0", "48") in rings  # the hub
    assert any(ring[:2] == ("752", "0") for ring in rings) and any(ring[:2] == ("480", "-25") for ring in rings)
    for k, x in enumerate(np.linspace(130.0, 800.0, 12)):
        assert any(np.allclose(line, [(x, 40.0), (x, -120.0)], atol=0.006) for line in lines if len(line) == 2), k
    sides = [line for line in lines if len(line) == 2 and np.allclose(line[:, 0], (30.0, 760.0))]
    assert sorted(line[0, 1] for line in sides) == [-5.0, 5.0]  # the spar at its true width
    scale = next(line for line in lines if len(line) == 4)
    assert scale[2, 0] - scale[1, 0] == pytest.approx(100.0)


def test_a_clockwise_rotor_is_the_mirror_image_with_its_words_unmirrored() -> None:
    one, other = picture(plan()), picture(plan(turn="clockwise"))
    outlines = [
        np.array([pair.split() for pair in pieces(svg, "path")[0].get("d", "")[1:-1].split("L")], float)
        for svg in (one, other)
    ]
    assert np.array_equal(outlines[0], outlines[1] * (1.0, -1.0))
    assert outlines[0][:, 1].min() == pytest.approx(-52.5)  # leading edge up on the page: y of SVG runs down
    told = {element.text for element in pieces(other, "text")}
    assert "turns clockwise seen from above" in told
    assert "scale(" not in other and "matrix(" not in other


def test_names_stand_where_there_is_more_room_on_either_hand() -> None:
    """The channel's name on the side away from the main spar: below it, or above it in the mirror image."""
    for turn, side in (("anticlockwise", -1.0), ("clockwise", 1.0)):
        name = next(e for e in pieces(picture(plan(turn=turn)), "text") if e.text == "power channel")
        x, y = float(name.get("x", "")), -float(name.get("y", ""))
        channel = -side * np.interp(x, (130.0, 752.0), (-20.0, -14.0))
        assert np.sign(y - channel) == side


@pytest.mark.parametrize("turn", ["anticlockwise", "clockwise"])
@pytest.mark.parametrize("ribs", [0, 1, 2, 12, 24, 60, 1000])
def test_words_neither_touch_nor_leave_the_page(ribs: int, turn: str) -> None:
    svg = picture(plan(ribs, turn=turn))
    x, y, width, height = (float(v) for v in ET.fromstring(svg).get("viewBox", "").split())
    words = standing(svg)
    for k, (text, box) in enumerate(words):
        assert x <= box[0] and box[2] <= x + width and y <= box[1] and box[3] <= y + height, text
        for other, other_box in words[:k]:
            assert apart(box, other_box), (text, other)
    told = [text for text, _ in words]
    assert all(told.count(f"R{k + 1}") == 1 for k in range(ribs))


def test_every_rib_of_a_design_is_named_beside_its_fittings(craft_of: Callable[..., Craft], lantern: Craft) -> None:
    """Also the rib under the fan, and ribs 8 mm apart; no fitting's line goes through a name."""
    starter = Craft(read_text(bare("starter"), "mine.toml").design)
    close = craft_of("lantern", ("every = 35", "every = 8"), ("every   = 60", "every = 8"))
    assert len(close.rib_places) > 80
    for craft in (lantern, craft_of("kite_day"), starter, close):
        inputs = plan_of(craft)
        svg = picture(inputs)
        words = standing(svg)
        for place in craft.rib_places:
            assert [text for text, _ in words].count(place.name) == 1, place.name
        assert all(apart(box, other) for k, (_, box) in enumerate(words) for _, other in words[:k])
        lines = [ends(e) * (1.0, -1.0) for e in pieces(svg, "polyline") if e.get("class") == "fitting"]
        ribs = {place.name for place in craft.rib_places}
        for (x, y), (_, top) in lines:
            assert all(apart((x, top, x, y), box) for text, box in words if text in ribs)


def test_many_fittings_at_one_place_get_a_row_each() -> None:
    svg = picture(plan(fittings=tuple(Spot(f"fitting {k}", (500.0, 3.0 * k)) for k in range(6))))
    rows = [element.get("y") for element in pieces(svg, "text") if (element.text or "").startswith("fitting")]
    assert len(set(rows)) == 6


def test_inches() -> None:
    svg = picture(plan(units="in", radius_mm=1219.2))
    told = [element.text for element in pieces(svg, "text")]
    assert "96 in across" in told and "r [in]" in told and "5 in" in told
    scale = next(ends(e) for e in pieces(svg, "polyline") if len(ends(e)) == 4)
    assert scale[2, 0] - scale[1, 0] == pytest.approx(127.0)


def test_the_whole_rotor_has_all_its_blades() -> None:
    for blades in (1, 2, 3, 5):
        shapes = pieces(picture(plan(blades=blades, cg=None)), "path")
        assert len(shapes) == 1 + blades


def test_equal_inputs_give_equal_text() -> None:
    assert picture(plan()) == picture(plan())
    assert "-0" not in picture(plan()).replace("-0.", "")

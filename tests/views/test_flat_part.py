"""A flat part's picture: its outline, holes, letters and notes, at full size."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest

from geomgen.model.part import Flat, Length, Part, Text
from geomgen.plane.path import Circle, from_points
from geomgen.plane.region import Region
from geomgen.render.svg import svg
from geomgen.views.flat_part import flat_part

PLATE = from_points([(0.0, 0.0), (180.0, 0.0), (180.0, 24.0), (0.0, 24.0)], closed=True)


def part(**other: object) -> Part:
    flat = Flat(
        region=Region(PLATE, (Circle((45.0, 12.0), 5.05), Circle((70.0, 12.0), 4.5))),
        thickness_mm=3.0,
        marks=(from_points([(10.0, 5.0), (10.0, 9.0)], closed=False),),
        texts=(Text("L", (120.0, 12.0), 4.0),),
        reference=(from_points([(0.0, 12.0), (180.0, 12.0)], closed=False),),
        face="root side",
    )
    made = Part("rib R3", "rib", "balsa_3", "blade.ribs.rest", flat, "blade", 1, np.array([[1.0, 200.0, 0.0, 0.0]]))
    made = replace(made, r_mm=200.0, facts={"chord_mm": 203.7}, notes=("spar hole cut as an ellipse",))
    return replace(made, **other)  # type: ignore[arg-type]


def picture(one: Part, units: str = "mm") -> str:
    return svg(flat_part(one, units))


def pieces(svg: str, kind: str) -> list[ET.Element]:
    return [element for element in ET.fromstring(svg).iter() if element.tag.split("}")[1] == kind]


def test_it_says_what_the_part_is() -> None:
    told = [element.text for element in pieces(picture(part()), "text")]
    assert told == [
        "rib R3",
        "balsa_3, 3.0 mm thick · r 200.0 mm · chord 203.7 mm · root side seen",
        "50 mm",
        "spar hole cut as an ellipse",
    ]
    inches = [element.text or "" for element in pieces(picture(part(), "in"), "text")]
    assert "r 7.874 in" in inches[1] and inches[2] == "2 in"


def test_outline_and_holes_are_one_shape_so_that_holes_are_open() -> None:
    wood = pieces(picture(part()), "path")[0]
    assert wood.get("fill-rule") == "evenodd"
    assert len(re.findall("M", wood.get("d", ""))) == 3
    assert wood.get("d", "").startswith("M0 0L180 0L180 -24L0 -24")


def test_letters_are_upright_and_unmirrored() -> None:
    """An L: its foot at the bottom, running to the right."""
    marks = pieces(picture(part()), "path")[-1].get("d", "").split("M")[-1]
    points = np.array([pair.split() for pair in marks.split("L")], float)
    assert points[:, 1].max() - points[:, 1].min() == pytest.approx(4.0, abs=0.02)
    foot = points[np.isclose(points[:, 1], points[:, 1].max())]  # down on the page is a greater y
    stem = points[points[:, 1].argmin(), 0]
    assert len(foot) == 2 and foot[:, 0].max() > stem + 1.0


def test_the_page_holds_it_all_and_is_at_full_size() -> None:
    root = ET.fromstring(picture(part()))
    x, y, width, height = (float(v) for v in root.get("viewBox", "").split())
    assert (root.get("width"), root.get("height")) == (f"{width:g}mm", f"{height:g}mm")
    assert x < 0.0 and y < -24.0 and x + width > 180.0 and y + height > 0.0
    for element in root.iter():
        if element.text and element.get("font-size"):
            assert (
                float(element.get("x", "")) + 0.55 * float(element.get("font-size", "")) * len(element.text) < x + width
            )
            assert y < float(element.get("y", "")) < y + height


def test_a_small_part_with_a_long_note_gets_a_wide_page() -> None:
    small = Flat(Region(Circle((0.0, 0.0), 6.0)), 1.0)
    root = ET.fromstring(picture(part(shape=small, notes=("word " * 30,))))
    assert float(root.get("viewBox", "").split()[2]) > 0.8 * 3.2 * 0.5 * 150
    assert math.isfinite(float(root.get("viewBox", "").split()[3]))


def test_equal_parts_give_equal_pictures_and_only_flat_ones_have_any() -> None:
    assert picture(part()) == picture(part())
    with pytest.raises(TypeError):
        flat_part(part(shape=Length(20.0)), "mm")

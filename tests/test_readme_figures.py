"""What the README says: ten lines of a design of one's own, and what the ways of building weigh, against the house."""

from __future__ import annotations

import pathlib
import re

import pytest

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import demo, example_path
from geomgen.design.reader import read_text
from geomgen.design.vary import vary
from geomgen.figures import spelled
from geomgen.model.groups import Group, group
from geomgen.model.role import Assembly
from geomgen.views.verdict import verdict_lines

README = (pathlib.Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")
COLUMNS = ({Group.SKIN}, {Group.RIBS}, {Group.EDGES}, {Group.SPARS}, {Group.GLUE})


def test_ten_lines_of_ones_own_build_as_they_stand(cache: Cache) -> None:
    (lines,) = re.findall(r"<!-- ten lines -->\n```toml\n(.*?)```", README, re.DOTALL)
    assert len(lines.strip().split("\n")) == 10
    text = example_path("starter").read_text(encoding="utf-8") + "\n" + lines
    file = read_text(text, "mine.toml", option="larger")
    craft = Craft(file.design, cache=cache, exact=False)
    assert craft.faults == () and craft.warnings == ()
    assert craft.design.rotor.radius == 900.0 and craft.design.blade.along[1].chord == 165.1


@pytest.mark.parametrize("row", re.findall(r"^\| (?:base|`\w+`):.*\|$", README, re.MULTILINE))
def test_the_table_of_ways_of_building_is_what_they_weigh(row: str, cache: Cache) -> None:
    """Each figure as it stands, to its last digit; of spars the tube, and of ribs the tip, are the same in all."""
    name, *cells = (cell.strip() for cell in row.strip("|").split("|"))
    option = re.findall(r"`(\w+)`", name)
    craft = Craft(demo(option[0] if option else None).design, cache=cache)
    own = [line for line in craft.mass.lines if line.assembly is Assembly.BLADE]
    alike = {"blade.spar.main", "blade.tip"}
    for groups, cell in zip(COLUMNS, cells, strict=False):
        grams = sum(line.set_g[1] for line in own if group(line.role) in groups and line.path not in alike)
        assert float(cell or 0.0) == pytest.approx(grams, abs=0.051)
    blade, all_of_it = craft.mass.blade.mass_g, craft.mass.craft.mass_g.typical
    figures = [float(figure) for figure in re.findall(r"[\d.]+", " ".join(cells[-2:]))]
    assert figures == pytest.approx([blade.typical, blade.likely_low, blade.likely_high, all_of_it], abs=0.51)


@pytest.mark.parametrize(("kind", "circle"), re.findall(r"^\| `(\w+)` \|.* ([\d.]+) mm[^|]*\|$", README, re.MULTILINE))
def test_the_table_of_patterns_says_how_large_their_circles_are(kind: str, circle: str, cache: Cache) -> None:
    changes = {"pitch.step": "1 deg", "pitch.rim": "300 mm", "pitch.pattern": kind, "printer.bed": ["700 mm", "700 mm"]}
    craft = Craft(vary(demo(), changes).design, cache=cache, exact=False)
    assert f"{craft.pattern.circle_mm:.1f}" == circle


def test_what_the_readme_says_of_lift_is_the_demos_verdict(cache: Cache) -> None:
    (said,) = re.findall(r"^> (Lifts: .*)$", README, re.MULTILINE)
    craft = Craft(demo().design, cache=cache, exact=False)
    assert said in spelled(verdict_lines(craft.verdict, 0))


def test_what_the_readme_says_of_the_demos_pitch(cache: Cache) -> None:
    craft = Craft(demo().design, cache=cache, exact=False)
    (off,), (share,) = (
        re.findall(r"the demo ±([\d.]+) deg", README),
        re.findall(r"is worth some (\d+) % of the", README),
    )
    assert f"{craft.pitch_error.likely_deg:.1f}" == off
    assert f"{100.0 * craft.lift_per_pitch.share_per_deg:.0f}" == share
    assert re.findall(r"^\| `(\w+)` \| (?:holes|two sets|a piece)", README, re.MULTILINE) == [
        "plain",
        "paired",
        "wedge",
    ]

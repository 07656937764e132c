"""Glue by hand: areas of joints of one kind added up, lying where they do."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.design.library import starter_text
from geomgen.design.reader import read_text
from geomgen.design.schema import Design
from geomgen.mass.lines import Line
from geomgen.mass.statement import weigh
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.part import Area, Bought, Length, Part
from geomgen.model.role import Assembly, Role
from geomgen.structure.glue import glue
from geomgen.structure.glue_kind import glue_of

SKIN, SPAR = Key(Role.SKIN, "blade.skin.all"), Key(Role.SPAR, "blade.spar.main")
INNER, OUTER = (Key(Role.RIB, "blade.ribs.outer", (k,)) for k in (1, 2))


def joint(a: Key, b: Key, *rows: list[float]) -> Joint:
    return Joint(a, b, Bond.GLUED, a.path, np.array(rows))


JOINTS = [
    joint(SKIN, INNER, [100.0, 200.0, -10.0, 4.0]),
    joint(SKIN, OUTER, [250.0, 600.0, -30.0, 0.0], [50.0, 600.0, 30.0, 8.0]),
    joint(SPAR, INNER, [75.0, 200.0, 0.0, 0.0]),
]


def test_each_kind_of_joint_lies_at_the_mean_of_its_areas() -> None:
    """100 mm2 at r 200 and 300 at 600: 500 in the mean; forward (-1000 - 7500 + 1500) / 400, up (400 + 400) / 400."""
    skin, spars = glue(read_text(starter_text()).design, (), JOINTS).read().parts
    assert isinstance(skin.shape, Area) and skin.shape.area_mm2 == 400.0
    shares, places = skin.spread[:, 0], skin.spread[:, 1:]
    assert shares @ places == pytest.approx([500.0, -17.5, 2.0])
    assert isinstance(spars.shape, Area) and spars.shape.area_mm2 == 75.0


def test_a_stated_mass_lies_over_all_joints_by_area() -> None:
    """As before, and 75 mm2 on the axis at r 200: (400 x 500 + 75 x 200) / 475."""
    text = starter_text().replace('[glue]\nkind = "wood glue"', '[glue]\nmass = "9 g"')
    design = read_text(text).design
    assert design.glue is not None and design.glue.mass == 9.0
    (whole,) = glue(design, (), JOINTS).read().parts
    assert isinstance(whole.shape, Bought) and whole.shape.mass_g[1] == 9.0
    assert whole.spread[:, 0] @ whole.spread[:, 1:3] == pytest.approx([215_000 / 475, -7_000 / 475])


TUBE_LINE = 'on_tube = "epoxy"                   # where ribs sit on a tube or rod that isn\'t wood; left out: kind\n'
WOOD_G_MM2 = 186e-6 * 0.475  # wet coverage guides, 1 gallon to 250 ft2, of which 47.5 % stays
EPOXY_G_MM2 = 166e-6  # a film of 0.15 mm at 1.106 g/cm3, a resin maker's constants


def made(key: Key, stock: str) -> Part:
    at = np.array([[1.0, 0.0, 0.0, 0.0]])
    return Part(str(key.role), key.role, stock, key.path, Length(1.0), Assembly.BLADE, 1, at, mark=key.mark)


def on_the_tube(design: Design) -> dict[str, tuple[float, str]]:
    """Area and key path of each line of the starter's glue: ribs of 2 mm ply and 3 mm balsa round a tube of 8 mm in
    holes of 8.1, their skin and a strip of spruce let into one."""
    strip = Key(Role.SPAR, "blade.spar.rear")
    parts = [
        made(SPAR, "carbon_tube_8"), made(INNER, "ply_2"), made(OUTER, "balsa_3"), made(SKIN, "foam_sheet_2"),
        made(strip, ""),
    ]  # fmt: skip
    joints = [
        joint(SPAR, INNER, [np.pi * 8.1 * 2.0, 200.0, 0.0, 0.0]),
        joint(SPAR, OUTER, [np.pi * 8.1 * 3.0, 600.0, 0.0, 0.0]),
        joint(SKIN, INNER, [250.0, 200.0, 0.0, 0.0]),
        joint(strip, INNER, [18.4 * 2.0, 200.0, -60.0, 0.0]),
    ]
    found = glue(design, parts, joints).read().parts
    return {part.name: (getattr(part.shape, "area_mm2", 0.0), part.path) for part in found}


def test_what_sits_on_a_tube_is_a_line_of_its_own() -> None:
    """pi 8.1 (2 + 3) mm2 of holes, and 18.4 x 2 round the strip: each by the key that names its glue."""
    both = on_the_tube(read_text(starter_text()).design)
    assert both == {
        "glue skin to ribs": (250.0, "glue"),
        "glue spars to ribs": (pytest.approx(36.8), "glue"),
        "glue on tubes": (pytest.approx(np.pi * 8.1 * 5.0), "glue.on_tube"),
    }


@pytest.mark.parametrize(
    "text",
    [
        '[glue]\nkind = "wood glue"\n',
        '[glue]\ncoverage = "120 g/m2"\n',
        '[glue]\ncoverage = "120 g/m2"\non_tube = "epoxy"\n',
    ],
)
def test_without_another_kind_or_by_coverage_all_is_as_ever(text: str) -> None:
    whole = starter_text()
    design = read_text(whole.replace(f'[glue]\nkind = "wood glue"\n{TUBE_LINE}', text)).design
    assert design.glue is not None and (design.glue.kind is None) == ("coverage" in text)
    lines = on_the_tube(design)
    assert lines["glue spars to ribs"] == (pytest.approx(36.8 + np.pi * 8.1 * 5.0), "glue")
    assert set(lines) == {"glue skin to ribs", "glue spars to ribs"}


def of_blade(craft: Craft) -> Sequence[Line]:
    return weigh([*craft.frame, *craft.glue], craft.design, {}).lines


def test_both_glues_weigh_what_they_cover(craft_of: Callable[..., Craft]) -> None:
    """The starter's ribs, 2 mm ply or 3 mm balsa, on its tube in holes of 8 + 0.1 mm; without the key in wood glue, and
    nothing else moves."""
    both, one = craft_of("starter"), craft_of("starter", (TUBE_LINE, ""))
    thick = {"ply_2": 2.0, "balsa_3": 3.0}
    area = np.pi * 8.1 * sum(thick[part.stock] for part in both.ribs if part.role == "rib")
    lines, plain = ({line.name: line for line in of_blade(craft)} for craft in (both, one))
    assert lines["glue on tubes"].set_g[1] == pytest.approx(area * EPOXY_G_MM2, rel=1e-6)
    assert "catalogue, epoxy" in lines["glue on tubes"].figure.figure.source
    assert "catalogue, wood glue" in lines["glue skin to ribs"].figure.figure.source
    assert plain["glue spars to ribs"].set_g[1] == pytest.approx(area * WOOD_G_MM2, rel=1e-6)
    assert set(lines) - {"glue on tubes"} == set(plain) - {"glue spars to ribs"}
    assert all(lines[name].set_g == plain[name].set_g for name in set(lines) & set(plain))
    assert lines["glue on tubes"].lot != lines["glue skin to ribs"].lot  # thick or thin, each by itself


OF_TUBES = ("carbon tube", "carbon", "pultruded carbon", "fibreglass", "aluminium", "brass", "steel", "piano wire")
NOT = ("balsa", "spruce", "birch ply", "foam board", "extruded polystyrene", "PETG, printed", "polyester film", "oakum")


@pytest.mark.parametrize("of", [*OF_TUBES, *NOT])
def test_which_stocks_want_the_glue_for_tubes(of: str) -> None:
    """By what it is of: "carbon" may be a tube or a rod, and is it either way; of what isn't known nothing is said."""
    text = starter_text().replace(
        "[stock.balsa_3]", f'[stock.x]\nkind = "piece"\nof = "{of}"\nmass = 1\n[stock.balsa_3]'
    )
    design = read_text(text.replace("mass = 1\n", 'mass = "1 g"\n')).design
    held = "epoxy" if of in OF_TUBES else "wood glue"
    assert glue_of(design, "x", "balsa_3") == glue_of(design, "ply_2", "x") == held
    assert glue_of(design, "", "balsa_3") == "wood glue"


CA = (TUBE_LINE, 'on_tube = "cyanoacrylate"\n')
FOAM_RIBS = ('stock = "balsa_3"', 'stock = "foam_sheet_2"')


def test_glue_for_tubes_melts_only_the_foam_that_sits_there(craft_of: Callable[..., Craft]) -> None:
    """The starter's skin is of foam, and lies on ribs; ribs of foam lie on the tube."""
    assert craft_of("starter", CA).outcome(Craft.glue).faults == ()
    (fault,) = craft_of("starter", CA, FOAM_RIBS).outcome(Craft.glue).faults
    assert fault.path == "glue.on_tube" and "melts polystyrene, and rib" in fault.wrong
    assert craft_of("starter", FOAM_RIBS).outcome(Craft.glue).faults == ()


def test_a_core_of_foam_lies_round_its_spars() -> None:
    """No joint tells of it, as its glue isn't counted; a strip of wood in it wants no glue for tubes."""
    design = read_text(starter_text().replace(*CA)).design
    core = made(Key(Role.CORE, "blade.construction"), "foam_sheet_2")
    (fault,) = glue(design, [core, made(SPAR, "carbon_tube_8")], []).faults
    assert fault.path == "glue.on_tube" and "core is of extruded polystyrene" in fault.wrong
    assert glue(design, [core, made(SPAR, "balsa_3")], []).faults == ()

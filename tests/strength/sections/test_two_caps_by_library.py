"""Two caps and a web as one body, against an independent library of finite elements: stiffness, stress, shear flow."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from made_up_strengths import loads
from section_library import meshed_of_two
from sectionproperties.analysis import Section

from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.strength.cross_section import CrossSection, Piece
from geomgen.strength.sections.shapes import solid
from geomgen.strength.sections.stiffness import stiffness
from geomgen.strength.sections.stress import stress_at_rim, web_flow_n_mm

CAP, WEB = (8.0, 3.0), (1.5, 20.0)
HALF = WEB[1] / 2.0
LOW, HIGH, BETWEEN = ((4.0, -HALF - 3.0, -HALF), (4.0, HALF, HALF + 3.0), (0.75, -HALF, HALF))  # half a width, from, to
MAIN = "blade.spar.main"


def theirs(cap_mpa: float, web_mpa: float, shear_mpa: float) -> Section:
    shears = (shear_mpa, shear_mpa, shear_mpa * 1.0001)
    moduli = (cap_mpa, cap_mpa, web_mpa)
    boxes = [shapely.box(-half, low, half, high) for half, low, high in (HIGH, LOW, BETWEEN)]
    return meshed_of_two(list(zip(boxes, moduli, shears, strict=True)), 0.4)


def piece(name: str, bar: tuple[float, float, float], modulus: float, lifted: float = 0.0) -> Piece:
    half, low, high = bar
    corners = [[-half, low], [half, low], [half, high], [-half, high]]
    shape = solid(np.array(corners) + np.array([0.0, lifted]))
    return Piece(
        Key(Role.SPAR, f"blade.spar.caps.{name}"), "s", shape.area_mm2, shape.centre, shape.second, shape.torsion_mm4,
        shape.rim, (modulus,) * 3, (0.3 * modulus,) * 3, 1,
    )  # fmt: skip


def ours(cap_mpa: float, web_mpa: float, lifted: float = 0.0) -> CrossSection:
    bars = (("low", LOW, cap_mpa), ("high", HIGH, cap_mpa), ("web", BETWEEN, web_mpa))
    return CrossSection(300.0, tuple(piece(*bar, lifted) for bar in bars), ())


def greatest(section: CrossSection, number: int) -> float:
    """Under 1 N m that bends the tip up."""
    each = stress_at_rim(section, section.pieces[number], loads(flap=1.0), pitch_deg=0.0, main_spar=MAIN)
    return float(max(one[1, 0] for one in each))


@pytest.mark.parametrize(("cap_mpa", "web_mpa", "shear_mpa"), [(2000.0, 2000.0, 770.0), (9000.0, 1500.0, 560.0)])
def test_caps_and_web_bent(cap_mpa: float, web_mpa: float, shear_mpa: float) -> None:
    """Of one material, and stiff caps on a soft web; measured from a line that isn't their middle."""
    library, section = theirs(cap_mpa, web_mpa, shear_mpa), ours(cap_mpa, web_mpa, lifted=6.0)
    stiff = stiffness([section])
    assert stiff.ei_nm2[0, 1, 1] * 1e6 == pytest.approx(library.get_eic()[0], rel=1e-9)
    assert stiff.ei_nm2[0, 0, 0] * 1e6 == pytest.approx(library.get_eic()[1], rel=1e-9)
    assert stiff.ea_n[0] == pytest.approx(library.get_ea(), rel=1e-9)
    stress = library.calculate_stress(mxx=1e3).get_stress()
    web = next(each for each in stress if f"G{shear_mpa * 1.0001}" in each["material"])
    assert greatest(section, 0) == pytest.approx(max(each["sig_zz_mxx"].max() for each in stress), rel=1e-6)
    assert greatest(section, 2) == pytest.approx(web["sig_zz_mxx"].max(), rel=1e-6)


def test_shear_flow_of_caps_through_their_web() -> None:
    """A web that is limp along the blade hands all of it on: the same from cap to cap. E A z over E I by hand as well:
    9000 x 24 x 11.5 / (2 x 9000 x (24 x 11.5^2 + 18)), to which the web's own 2 MPa adds nothing that shows."""
    library, section = theirs(9000.0, 2.0, 560.0), ours(9000.0, 2.0)
    flow = float(web_flow_n_mm(section, section.pieces[2], np.array(100.0)))
    assert flow == pytest.approx(100.0 * 24.0 * 11.5 / (2.0 * (24.0 * 11.5**2 + 18.0)), rel=1e-3)
    stress = {each["material"]: each for each in library.calculate_stress(vy=100.0).get_stress()}
    web = next(each for name, each in stress.items() if f"G{560.0 * 1.0001}" in name)
    at = np.array(library.mesh["vertices"])
    middle = (abs(at[:, 0]) < WEB[0] / 2.0) & (abs(at[:, 1]) < 3.0)
    assert flow / WEB[0] == pytest.approx(web["sig_zxy_vy"][middle].mean(), rel=1.5e-2)

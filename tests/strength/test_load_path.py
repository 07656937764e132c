"""Pulls against F = m r Omega^2 worked out once by hand, and a uniform blade's closed form."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.errors import Fault, MakeError
from geomgen.mass.lines import Line
from geomgen.mass.unit_mass import of_bought
from geomgen.model.joint import Bond, Joint, Key, touching
from geomgen.model.made import Made
from geomgen.model.part import Bought, Part
from geomgen.model.role import Assembly, Role
from geomgen.strength.load_path import hanging, hung, load_path, pull_n


def line(role: str, grams: float, radius: float, path: str = "", assembly: str = "blade", spread: float = 0.0) -> Line:
    ends = (grams * (1 - spread), grams, grams * (1 + spread))
    return Line(
        name=role, role=role, stock="", path=path or role, assembly=assembly, count=1, amount=1.0,
        figure=of_bought(ends), share=None, one_g=ends, set_g=ends, place_mm=(radius, 0.0, 0.0), out_forward_mm2=0.0,
    )  # fmt: skip


def part(role: str, path: str = "", assembly: Assembly = Assembly.BLADE, mark: tuple[str, ...] = ()) -> Part:
    return Part(
        name=role, role=Role(role), stock="", path=path or role, shape=Bought((1.0, 1.0, 1.0)), assembly=assembly,
        mark=mark, count=1, spread=np.array([[1.0, 400.0, 0.0, 0.0]]),
    )  # fmt: skip


MAIN = "blade.spar.main"
HUB = Key(Role.HUB, "hub")
RIB, SPAR, COLLAR = Key(Role.RIB, "rib"), Key(Role.SPAR, MAIN), Key(Role.COLLAR, "collar")


def fixed_to(outer: str, inner: Key = RIB, bond: Bond = Bond.GLUED, path: str = "") -> Joint:
    return touching(Key(Role(outer), path or outer), inner, bond, path or outer)


FRAME = [
    touching(RIB, SPAR, Bond.LET_IN, MAIN),
    touching(SPAR, COLLAR, Bond.CLAMPED, "collar"),
    touching(COLLAR, HUB, Bond.BEARING, "collar"),
    touching(SPAR, HUB, Bond.TURNING, "hub"),
]


# 0.35 kg at 1.35 m, and a uniform blade of 0.6 kg from 0.15 to 1.5 m, m Omega^2 (r1 + r2) / 2, both worked out apart.
@pytest.mark.parametrize(
    ("rpm", "point", "uniform"),
    [(100, 51.815, 54.283), (120, 74.614, 78.167), (150, 116.585, 122.136), (200, 207.262, 217.131)],
)
def test_pull_of_a_mass_carried_round(rpm: float, point: float, uniform: float) -> None:
    assert pull_n(350, 1350, rpm) == pytest.approx(point, abs=6e-4)
    assert pull_n(600, (150 + 1500) / 2, rpm) == pytest.approx(uniform, abs=6e-4)


def test_each_link_carries_what_hangs_outside_it() -> None:
    lines = [
        line("skin", 40, 450, spread=0.25),
        line("rib", 20, 400),
        line("spar", 5, 420, "blade.spar.rear"),
        line("wire", 30, 380),
        line("glue", 5, 450),
        line("fitting", 60, 750),
        line("turning cap", 12, 132),
        line("spar", 35, 400, MAIN),
        line("collar", 7, 35),
        line("hub", 200, 0, assembly="hub"),
    ]
    joints = [
        *FRAME,
        fixed_to("skin"),
        fixed_to("spar", bond=Bond.LET_IN, path="blade.spar.rear"),
        fixed_to("wire", bond=Bond.CLAMPED),
        fixed_to("glue", Key(Role.SKIN, "skin")),
        fixed_to("fitting", bond=Bond.SCREWED),
        fixed_to("turning cap", bond=Bond.SCREWED),
    ]
    path = load_path(lines, hanging(joints), main_spar=MAIN, rpm_max=340)
    skin, ribs, spar, collar = path.links
    assert [link.held_by for link in path.links] == ["ribs", "spar", "collar", "hub"]
    assert [link.mass_g[1] for link in path.links] == pytest.approx([40, 172, 207, 214])
    per_gram_mm = 1e-6 * (340 * 3.14159265358979 / 30) ** 2
    first = 40 * 450 + 20 * 400 + 5 * 420 + 30 * 380 + 5 * 450 + 60 * 750 + 12 * 132
    assert skin.pull_n[1] == pytest.approx(40 * 450 * per_gram_mm)
    assert ribs.pull_n[1] == pytest.approx(first * per_gram_mm)
    assert spar.pull_n[1] == pytest.approx((first + 35 * 400) * per_gram_mm)
    assert collar.pull_n[1] == pytest.approx((first + 35 * 400 + 7 * 35) * per_gram_mm)
    assert skin.pull_n[0] == pytest.approx(0.75 * skin.pull_n[1])
    assert skin.pull_n[2] == pytest.approx(1.25 * skin.pull_n[1])
    assert collar.pull_n[2] - collar.pull_n[1] == pytest.approx(0.25 * skin.pull_n[1])
    wire, fan = path.fittings
    assert fan.pull_n[1] == pytest.approx(60 * 750 * per_gram_mm)
    assert wire.pull_n[1] == pytest.approx(30 * 380 * per_gram_mm) and wire.held_by == "its ties"
    assert path.rpm_max == 340 and "m r Omega^2" in path.formula


def test_a_bare_blade_has_no_skin_link() -> None:
    lines = [line("spar", 35, 400, MAIN), line("rib", 20, 400), line("collar", 7, 35)]
    path = load_path(lines, hanging(FRAME), main_spar=MAIN, rpm_max=340)
    assert [link.held_by for link in path.links] == ["spar", "collar", "hub"]


def test_a_blade_that_nothing_holds_is_a_fault() -> None:
    with pytest.raises(MakeError) as caught:
        hung(Made((part("rib"), part("hub", assembly=Assembly.HUB)), tuple(FRAME)), main_spar=MAIN)
    assert [fault.path for fault in caught.value.faults] == [MAIN, "hub.collar"]


def test_a_part_that_no_chain_of_joints_carries_is_a_fault_once_for_its_table() -> None:
    """The rib hangs on the spar, the film on nothing; a pin holds nothing along itself, and what only lies against
    a cap isn't held by it."""
    films = [part("film", mark=(half,)) for half in ("upper", "lower")]
    parts = (part("spar", MAIN), part("rib"), part("collar"), *films, part("turning cap"), part("pin"))
    fixed = touching(Key(Role.FIXED_CAP, "fixed cap"), HUB, Bond.SCREWED, "fixed cap")
    against = touching(fixed.a, Key(Role.TURNING_CAP, "turning cap"), Bond.BEARING, "turning cap")
    pinned = touching(Key(Role.PIN, "pin"), fixed.a, Bond.PINNED, "pin")
    flying = Made(parts, (*FRAME, fixed, against, pinned))
    with pytest.raises(MakeError) as caught:
        hung(flying, main_spar=MAIN)
    assert [fault.path for fault in caught.value.faults] == ["film", "turning cap", "pin"]
    film, *others = [fault.wrong for fault in caught.value.faults]
    assert "lies on no rib" in film and all("would fly off" in wrong for wrong in others)


def test_a_cover_on_ribs_that_no_spar_holds_flies_off_with_them() -> None:
    ribs = [part("rib", "own", mark=(k,)) for k in "ab"]
    parts = (part("spar", MAIN), part("rib"), part("collar"), *ribs, part("film"))
    flying = Made(parts, (*FRAME, *(fixed_to("film", rib.key) for rib in ribs)))
    with pytest.raises(MakeError) as caught:
        hung(flying, main_spar=MAIN)
    assert [fault.path for fault in caught.value.faults] == ["own", "film"]
    assert all("would fly off" in fault.wrong for fault in caught.value.faults)


def test_what_is_at_fault_itself_is_not_blamed_for_hanging_on_nothing() -> None:
    with pytest.raises(MakeError) as caught:
        hung(Made((part("rib"),), faults=(Fault("blade.skin.all", "", "no sheet"),)), main_spar=MAIN)
    assert [fault.path for fault in caught.value.faults] == ["blade.skin.all"]


def test_film_on_sheet_and_strips_hangs_on_the_ribs() -> None:
    """What lies between a cover and the ribs is passed over in the words, never in the sums."""
    lines = [line("spar", 35, 400, MAIN), line("rib", 20, 400), line("collar", 7, 35)]
    lines += [line("sheeting", 9, 450), line("nose strip", 3, 450), line("film", 5, 400)]
    on_strip = fixed_to("film", Key(Role.NOSE_STRIP, "nose strip"), Bond.SEALED)
    joints = [*FRAME, fixed_to("sheeting"), fixed_to("nose strip"), on_strip]
    cover = load_path(lines, hanging(joints), main_spar=MAIN, rpm_max=340).links[0]
    assert (cover.carried, cover.held_by, cover.mass_g[1]) == ("sheeting and film", "ribs", 14)

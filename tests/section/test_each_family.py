"""Every family, walked through what a family owes: found, read, made, refused, closed, reached by a design."""

from __future__ import annotations

import pathlib

import numpy as np
import pytest

from geomgen.design.schema import SectionSpec
from geomgen.errors import DesignError
from geomgen.section import families
from geomgen.section.families import FAMILIES, naca
from geomgen.section.family import Family
from geomgen.section.find import find
from geomgen.section.measures import measures

EACH = pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.name)


def test_every_module_of_the_folder_is_a_family_of_its_own_name() -> None:
    modules = [path.stem for path in pathlib.Path(families.__path__[0]).glob("*.py") if path.stem != "__init__"]
    assert len(modules) == len(FAMILIES) == len({family.name for family in FAMILIES})


@EACH
def test_a_familys_digits_are_read_by_it_alone(family: Family) -> None:
    assert family.examples and family.refused
    for digits in (*family.examples, *family.refused):
        assert [one.name for one in FAMILIES if one.reads.fullmatch(digits)] == [family.name]


@EACH
def test_its_sections_are_as_thick_as_their_digits_say_and_stand_in_the_chords_frame(family: Family) -> None:
    for digits in family.examples:
        section = naca(digits)
        thickness = int(digits.partition("-")[0][-2:]) / 100
        assert section.name == f"naca {digits}"
        assert measures(section).thickness == pytest.approx(
            thickness, rel=0.01
        )  # square to the chord, not the mean line
        assert np.array_equal(section.upper.xy[0], [0.0, 0.0]) and np.array_equal(section.lower.xy[0], [0.0, 0.0])
        assert np.allclose(section.upper.xy[-1] + section.lower.xy[-1], [2.0, 0.0], atol=1e-6)
        for surface in (section.upper, section.lower):
            assert np.allclose(np.hypot(*surface.tangent.T), 1.0, atol=1e-12)
        assert np.all(section.depth(np.linspace(0.001, 0.999, 200)) > 0.0)


@EACH
def test_its_tails_close(family: Family) -> None:
    for digits in family.examples:
        assert naca(digits).tail_gap > 0.0
        assert naca(digits, tail="closed").tail_gap == 0.0


@EACH
def test_what_it_refuses_says_why_with_the_place_in_the_design(family: Family) -> None:
    for digits, says in family.refused.items():
        with pytest.raises(DesignError) as caught:
            naca(digits, path="blade.along[0].section")
        (fault,) = caught.value.faults
        assert says in fault.wrong and fault.allowed
        assert (fault.path, fault.value) == ("blade.along[0].section", digits)


@EACH
def test_a_design_can_ask_for_it_and_is_told_how_it_is_written(family: Family) -> None:
    for digits in family.examples:
        spec = SectionSpec.model_validate({"naca": digits})
        assert np.array_equal(find(spec, None, "").upper.xy, naca(digits).upper.xy)
    with pytest.raises(DesignError) as caught:
        naca("441")
    assert family.written in caught.value.faults[0].allowed

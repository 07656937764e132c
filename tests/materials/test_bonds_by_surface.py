"""Glue by what it is on: never more than the weaker side; what creeps has no figure; tables as they were gathered."""

from __future__ import annotations

import pytest

from geomgen.errors import DesignError
from geomgen.materials.bond_strength import Surface, bond_strength, glue_strength, surface_of
from geomgen.materials.catalogue import find, glue_names, names
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property, Strength
from geomgen.materials.strength_table import strength_of

# Gathered beside the catalogue: (glue, surface, low, typical, high [MPa]); adhesive makers' pages and a beech lap test
# (read or second hand) on wood, a bonded fin and memory on carbon, a panel maker's foam in shear, the rest from memory
ROWS = [
    ("wood glue", Surface.WOOD_ALONG, 8, 12, 15), ("wood glue", Surface.PLY_FACE, 1.5, 2.5, 3.5),
    ("epoxy", Surface.TUBE, 2, 5, 8), ("epoxy", Surface.PRINT, 1.5, 3, 6), ("epoxy", Surface.FOAM, 0.15, 0.25, 0.3),
    ("epoxy", Surface.WOOD_ALONG, 8, 12, 15), ("cyanoacrylate", Surface.TUBE, 1, 2.5, 5),
    ("cyanoacrylate", Surface.PLY_FACE, 1, 2.5, 5), ("polyurethane glue", Surface.FOAM, 0.15, 0.25, 0.3),
    ("polyurethane glue", Surface.WOOD_ALONG, 10, 13.1, 15.5),
    ("cyanoacrylate, for foam", Surface.FOAM, 0.1, 0.2, 0.25),
    ("spray adhesive, for foam", Surface.FOAM, 0.03, 0.08, 0.15),
    ("contact adhesive, for foam", Surface.FOAM, 0.05, 0.15, 0.25),
]  # fmt: skip


@pytest.mark.parametrize(("glue", "on", "low", "typical", "high"), ROWS)
def test_glue_as_it_was_gathered(glue: str, on: Surface, low: float, typical: float, high: float) -> None:
    figure, why = glue_strength(glue, on)
    assert figure is not None and why == "" and figure.unit == "MPa" and figure.source.startswith(f"{glue}: ")
    assert (figure.low, figure.typical, figure.high) == (low, typical, high)


@pytest.mark.parametrize("on", [*Surface, None])
@pytest.mark.parametrize("glue", [*glue_names(), None])
def test_there_is_a_figure_in_order_or_a_reason(glue: str | None, on: Surface | None) -> None:
    figure, why = glue_strength(glue, on)
    assert (figure is None) == why.startswith("unpublished")
    if figure is not None:
        assert 0 < figure.low <= figure.typical <= figure.high and "safe" not in figure.source
        assert any(word in figure.source for word in ("read", "from memory"))


@pytest.mark.parametrize("glue", ["contact adhesive", "hot glue", "spray adhesive"])
def test_what_creeps_has_no_figure(glue: str) -> None:
    assert all(glue_strength(glue, on)[0] is None for on in Surface)


def test_wood_glue_holds_no_carbon_and_cyanoacrylate_no_foam() -> None:
    assert glue_strength("PVA", Surface.TUBE)[0] is None and glue_strength("PVA", Surface.PRINT)[0] is None
    assert glue_strength("superglue", Surface.FOAM)[0] is None


def test_no_glue_carries_more_than_metal_laps_on_wood_foam_or_print() -> None:
    """Steel and aluminium laps of cyanoacrylate, 22.8 and 15.7 MPa (handbook of adhesives), are nobody's on these."""
    for glue in glue_names():
        for on in Surface:
            figure, _ = glue_strength(glue, on)
            assert figure is None or figure.typical <= {Surface.FOAM: 0.25, Surface.PRINT: 3.0}.get(on, 13.1)


def test_an_unknown_glue_is_refused() -> None:
    with pytest.raises(DesignError, match="no glue of this name"):
        glue_strength("chewing gum", Surface.FOAM)


def stock(**figures: tuple[float, float, float]) -> Strength:
    return Strength("made up", {Property(word): Figure(*each, "MPa", word) for word, each in figures.items()}, {})


def test_the_weaker_side_governs_end_by_end() -> None:
    """Wood glue 8, 12, 15; wood 9, 11, 20; other wood 5, 11.5, 30: the least of each end is 5, 11, 15."""
    a, b = stock(shear=(9, 11, 20)), stock(shear=(5, 11.5, 30))
    both = (Surface.WOOD_ALONG, Surface.WOOD_ALONG)
    for one, other in ((a, b), (b, a)):
        figure, _ = bond_strength("wood glue", one, other, both)
        assert figure is not None and (figure.low, figure.typical, figure.high) == (5, 11, 15)
        assert figure.source == "shear"
    strong = stock(shear=(50, 60, 70))
    figure, _ = bond_strength("wood glue", strong, strong, both)
    assert figure is not None and figure.low == 8 and figure.source.startswith("wood glue")


def test_faces_of_ply_and_prints_fail_by_their_layers_not_by_their_webs() -> None:
    sheet = stock(shear=(7.5, 9.5, 12), shear_across=(0.9, 1.0, 1.1))
    wood = stock(shear=(6, 8, 9))
    for on, glue in ((Surface.PLY_FACE, "wood glue"), (Surface.PRINT, "epoxy")):
        figure, _ = bond_strength(glue, sheet, wood, (on, Surface.WOOD_ALONG))
        assert figure is not None and (figure.low, figure.typical, figure.high) == (0.9, 1.0, 1.1)


def test_end_grain_takes_a_quarter_of_the_woods_tension_at_best() -> None:
    """Wood Handbook: 0.25, low end 0.15; of 10, 20, 30 MPa 1.5, 5, 7.5."""
    wood = stock(shear=(6, 8, 9), tension=(10, 20, 30))
    figure, _ = bond_strength("wood glue", wood, wood, (Surface.WOOD_END, Surface.WOOD_ALONG))
    assert figure is not None and (figure.low, figure.typical, figure.high) == pytest.approx((1.5, 5, 7.5))


def test_what_isn_t_known_of_one_side_is_not_known_of_the_joint() -> None:
    wood, unknown = stock(shear=(6, 8, 9)), Strength("mystery", {}, {})
    figure, why = bond_strength("wood glue", wood, unknown, (Surface.WOOD_ALONG, Surface.WOOD_ALONG))
    assert figure is None and why == "unpublished: no shear of mystery was found"
    figure, why = bond_strength("wood glue", wood, wood, (Surface.WOOD_ALONG, Surface.TUBE))
    assert figure is None and "carbon" in why
    figure, why = bond_strength(None, wood, wood, (Surface.WOOD_ALONG, Surface.WOOD_ALONG))
    assert figure is None and "which glue" in why


def test_a_foam_skin_on_ply_fails_in_the_foam() -> None:
    foam, ply = (
        strength_of("XPS", density=None, thickness_mm=2.0),
        strength_of("birch ply", density=None, thickness_mm=2.0),
    )
    figure, _ = bond_strength("epoxy", foam, ply, (Surface.FOAM, Surface.PLY_FACE))
    assert figure is not None and figure.typical == foam.figures[Property.SHEAR].typical == 0.25


@pytest.mark.parametrize("name", names())
def test_every_material_has_a_surface_by_its_kind_or_none(name: str) -> None:
    kinds = {
        "wood": Surface.WOOD_ALONG, "ply": Surface.PLY_FACE, "board": Surface.BOARD_FACE, "foam": Surface.FOAM,
        "film": Surface.FILM, "fibre": Surface.TUBE, "metal": Surface.TUBE, "print": Surface.PRINT, "plate": None,
    }  # fmt: skip
    kind = find(name).kind
    assert surface_of(name) is kinds[kind]
    assert surface_of(name, end_grain=True) is (Surface.WOOD_END if kind == "wood" else kinds[kind])

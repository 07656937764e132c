"""What a print takes of plastic, against sums that are written out here."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely

from geomgen.printing.shell import Shell, plastic, shell_of, whole

PLAIN = Shell(layer_mm=0.2, side_mm=1.2, top=6, bottom=6, infill=0.2)


def stack(*layers: tuple[shapely.Geometry, int]) -> np.ndarray:
    """So many layers of each shape, as one object each."""
    found = np.empty(sum(count for _, count in layers), dtype=object)
    found[:] = [shape for shape, count in layers for _ in range(count)]
    return found


def square(side: float) -> shapely.Polygon:
    return shapely.box(-side / 2, -side / 2, side / 2, side / 2)


def volume(layers: np.ndarray, shell: Shell) -> float:
    return float(plastic(layers, shell)[3, 3])


def test_the_cube_of_the_references() -> None:
    """40 mm, a shell of 1.2 mm all round, 20 % infill, 1.24 g/cm3: rho (V_shell + f (V - V_shell)) is 26.628 g."""
    shell_mm3 = 40.0**3 - 37.6**3
    by_hand_g = 1.24e-3 * (shell_mm3 + 0.2 * 37.6**3)
    assert by_hand_g == pytest.approx(26.628, abs=5e-4)
    assert 1.24e-3 * volume(stack((square(40), 200)), PLAIN) == pytest.approx(by_hand_g, rel=1e-9)


def test_where_the_cubes_mass_lies() -> None:
    """Second moments of two boxes about their common middle: a shell has its mass farther out than a solid."""
    total = plastic(stack((square(40), 200)), PLAIN)
    about = total[:3, :3] / total[3, 3] - np.outer(total[:3, 3], total[:3, 3]) / total[3, 3] ** 2
    second = (40.0**5 - 0.8 * 37.6**5) / 12 / (40.0**3 - 0.8 * 37.6**3)
    assert total[:3, 3] / total[3, 3] == pytest.approx([0.0, 0.0, 20.0], abs=1e-9)
    assert about == pytest.approx(second * np.eye(3), rel=1e-9, abs=1e-9)
    assert second > 1.1 * 40.0**2 / 12


def test_what_is_alike_may_be_told_once_or_layer_by_layer() -> None:
    alike = stack((square(40), 60), (square(20), 60))
    apart = np.array([shapely.Polygon(each.exterior.coords) for each in alike], dtype=object)
    for shell in (PLAIN, replace(PLAIN, top=3), shell_of(0.45, 0.2, 3, 4, 4, 0.2)):
        assert plastic(apart, shell) == pytest.approx(plastic(alike, shell), rel=1e-9, abs=1e-6)


def test_faces_are_closed_by_the_layers_that_each_is_said() -> None:
    """A tower of 20 mm on a slab of 40 mm, both 4 mm high, walls of 1 mm; 3 layers below, 5 above, also on the slab.

    Under the tower's foot infill goes on: it is no wider than what lies within the tower's own walls.
    """
    shell = Shell(layer_mm=0.2, side_mm=1.0, top=5, bottom=3, infill=0.3)
    found = volume(stack((square(40), 20), (square(20), 20)), shell)
    infill_mm3 = 0.2 * (38.0**2 * (20 - 3 - 5) + 18.0**2 * 5 + 18.0**2 * (20 - 5))
    assert found == pytest.approx(4 * 40.0**2 + 4 * 20.0**2 - 0.7 * infill_mm3, rel=1e-9)


def test_a_roof_over_a_gap_is_closed_from_below() -> None:
    """A slab of 40 mm on a post of 10 mm: over air 3 layers are solid, but not over the post."""
    shell = Shell(layer_mm=0.2, side_mm=1.0, top=0, bottom=3, infill=0.0)
    found = volume(stack((square(10), 20), (square(40), 20)), shell)
    hollow_mm3 = 0.2 * (8.0**2 * (20 - 3) + 8.0**2 * 3 + 38.0**2 * (20 - 3))
    assert found == pytest.approx(4 * 10.0**2 + 4 * 40.0**2 - hollow_mm3, rel=1e-9)


def test_thin_walls_are_all_wall() -> None:
    ring = shapely.difference(square(40), square(38))
    assert volume(stack((ring, 50)), PLAIN) == pytest.approx(10.0 * ring.area, rel=1e-9)


def test_lines_are_beads_with_round_edges() -> None:
    """Section of a bead: a rectangle between two half circles as high as the layer; so far apart beads fill."""
    shell = shell_of(0.45, 0.2, 3, 4, 4, 0.2)
    bead_mm2 = (0.45 - 0.2) * 0.2 + np.pi / 4 * 0.2**2
    assert shell.side_mm == pytest.approx(3 * bead_mm2 / 0.2)
    assert shell.recess_mm == pytest.approx((0.45 - bead_mm2 / 0.2) / 2)  # half of what one line alone is narrower by


@pytest.mark.parametrize(("line", "nozzle"), [(0.45, 0.4), (0.4, 0.4), (0.42, 0.4), (0.68, 0.6), (0.28, 0.25)])
def test_the_nozzle_goes_by_the_line(line: float, nozzle: float) -> None:
    assert shell_of(line, 0.2, 2, 3, 3, 0.2).strand_mm == nozzle


def test_the_outermost_bead_leaves_the_outline_bare() -> None:
    """All infill 100 %: what is missing is the recess, all round."""
    solid = replace(PLAIN, infill=1.0, recess_mm=0.05)
    assert volume(stack((square(40), 20)), solid) == pytest.approx(4 * 39.9**2, rel=1e-9)


def test_infill_is_joined_along_the_walls_every_second_time() -> None:
    """Of the outermost line of infill half is there, at 20 %; at 60 % no more than anywhere."""
    turned = replace(PLAIN, line_mm=0.4)
    strip_mm3 = (37.6**2 - 36.8**2) * 0.2 * 188
    more = volume(stack((square(40), 200)), turned) - volume(stack((square(40), 200)), PLAIN)
    assert more == pytest.approx(0.3 * strip_mm3, rel=1e-3)  # corners are rounded
    dense = replace(PLAIN, infill=0.6)
    found = volume(stack((square(40), 200)), replace(dense, line_mm=0.4))
    assert found == pytest.approx(volume(stack((square(40), 200)), dense), rel=1e-5)


def test_infill_reaches_into_the_walls() -> None:
    """By 0.1 mm along 4 x 37.6 mm: whole in the 12 solid layers, a fifth in the others."""
    more = volume(stack((square(40), 200)), replace(PLAIN, overlap_mm=0.1)) - volume(stack((square(40), 200)), PLAIN)
    assert more == pytest.approx(0.1 * 4 * 37.6 * 0.2 * (12 + 0.2 * 188), rel=1e-9)


def test_small_islands_are_solid() -> None:
    """8 mm within the walls are 64 mm2, 9 mm are 81."""
    for side, solid in ((10.4, True), (11.4, False)):
        found = volume(stack((square(side), 100)), replace(PLAIN, island_mm2=70.0))
        assert (found == pytest.approx(20 * side**2, rel=1e-9)) is solid


def test_a_layer_over_infill_is_of_round_strands() -> None:
    """One layer over infill, 37.6 mm square: strands of 0.4 mm, 0.45 mm apart, instead of a layer of 0.2 mm."""
    more = volume(stack((square(40), 200)), replace(PLAIN, strand_mm=0.4)) - volume(stack((square(40), 200)), PLAIN)
    thread_mm = np.pi / 4 * 0.4**2 / 0.45
    assert more == pytest.approx((thread_mm - 0.2) * 37.6**2, rel=4e-3)  # its corners are rounded


def test_a_face_is_carried_on_beside_itself() -> None:
    """Slab and tower again: the slab's top goes on 3 mm into what bears the tower, rounded at its corners."""
    layers = stack((square(40), 40), (square(20), 40))
    plain = Shell(layer_mm=0.2, side_mm=1.0, top=3, bottom=3, infill=0.0)
    more = volume(layers, replace(plain, anchor_mm=3.0)) - volume(layers, plain)
    assert more == pytest.approx(0.2 * 3 * (18.0**2 - 14.0**2), rel=1e-6)


def test_solid_layers_narrower_than_a_line_are_left_out() -> None:
    """Each layer 0.05 mm larger than the one below: what 3 layers leave bare beside the walls is 0.15 mm wide."""
    layers = np.array([square(30 + 0.1 * k) for k in range(40)], dtype=object)
    plain = Shell(layer_mm=0.2, side_mm=1.0, top=0, bottom=3, infill=0.2)
    one = volume(layers, replace(plain, line_mm=0.4, infill=0.6))
    inner = sum((28 + 0.1 * k) ** 2 for k in range(3, 40))
    assert one == pytest.approx(0.2 * (sum(each.area for each in layers) - 0.4 * inner), rel=1e-4)


def test_the_whole_of_a_stack() -> None:
    total = whole(stack((square(40), 10), (square(20), 10)), 0.2)
    assert total[3, 3] == pytest.approx(2 * 40.0**2 + 2 * 20.0**2)
    assert total[2, 3] == pytest.approx(2 * 40.0**2 * 1.0 + 2 * 20.0**2 * 3.0)
    second = 40.0**2 * 2.0**3 / 3 + 20.0**2 * (4.0**3 - 2.0**3) / 3
    assert total[2, 2] == pytest.approx(second)

"""Mass elements: every part's mass, centre and inertia, piece by piece where a piece has a place of its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.frames import applied, blades_to_rotor, hub_to_rotor
from geomgen.mass.lines import Line
from geomgen.mass.measured import Measured, SolidProperties, Solids
from geomgen.model.element import Element, inertia_of, second_moments
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly
from geomgen.printing.plate import plate_properties

SAME_MM = 1e-6  # a sheet whose middle lies elsewhere than in its place was bent or folded

Own = tuple[FloatArray, FloatArray]  # centre (3,) [mm]; inertia about it for each gram (3, 3) [mm2]


def elements(measured: Sequence[Measured], lines: Sequence[Line], solids: Solids) -> tuple[Element, ...]:
    """Every part that is weighed, as elements, in order.

    measured : every different part of one blade and of the hub
    lines    : theirs
    solids   : those that the parts were measured by
    returns  : a solid, or a plate that stays flat, is one element for each of its places, exact; all else one for its
               set, by its `second`, where its maker says how it lies round its places (skins by their triangles in
               space, strips and foam by their cross-sections, tubes by theirs, glue along what it joins), else by its
               spread: exact for thin rods along their legs, and for points. What is bought counts as points. Where
               blades were weighed in and differ, each has its own, with its number
    """
    pairs = zip(measured, lines, strict=True)
    return tuple(
        each_blade
        for each, line in pairs
        for element in _of(each.part, line, solids.get(each.part.key))
        for each_blade in _by_blade(element, line)
    )


def of_craft(some: Sequence[Element], design: Design) -> tuple[Element, ...]:
    """All blades' elements at the pitch set, coned, and the hub's, in the rotor frame of the craft's own hand.

    some : as of `elements`; one that has a blade's number already goes on that blade alone
    """
    rotor, clockwise = design.rotor, design.rotor.turn == "clockwise"
    found = [each.moved(hub_to_rotor(clockwise)) for each in some if each.assembly == Assembly.HUB]
    places = blades_to_rotor(rotor.blades, design.pitch.set, rotor.coning, clockwise)
    for number, matrix in enumerate(places, start=1):
        mine = [each for each in some if each.assembly == Assembly.BLADE and each.blade in (None, number)]
        found += [replace(each.moved(matrix), blade=number) for each in mine]
    return tuple(found)


def _of(part: Part, line: Line, solid: SolidProperties | None) -> Iterator[Element]:
    shares, spread = part.spread[:, 0], part.spread[:, 1:]
    middle = np.asarray(shares @ spread)
    if (own := _own(part, solid)) is not None and len(part.places) == part.count:
        centres = np.array([applied(matrix, own[0]) for matrix in part.places])
        if solid is not None or np.allclose(centres.mean(axis=0), middle, rtol=0.0, atol=SAME_MM):
            for matrix, centre in zip(part.places, centres, strict=True):
                turned = matrix[:3, :3]
                yield _element(line, line.one_g[1], centre, turned @ own[1] @ turned.T)
            return
    second = second_moments(shares, spread - middle) if part.second is None else part.second
    yield _element(line, line.set_g[1], middle, inertia_of(second))


def _by_blade(element: Element, line: Line) -> Iterator[Element]:
    """The element as it is in each blade; itself where all have it alike."""
    mean_g = line.set_g[1]
    if not line.blades or mean_g <= 0.0:
        yield element
        return
    for number, (_, grams, _) in enumerate(line.blades, start=1):
        yield replace(element.times(grams / mean_g), blade=number)


def _own(part: Part, solid: SolidProperties | None) -> Own | None:
    """In the part's own frame; None for what has no shape of its own."""
    if solid is not None:
        return np.asarray(solid.centroid), np.asarray(solid.inertia) / solid.volume_mm3
    if not isinstance(part.shape, Flat) or not part.places:
        return None
    if part.shape.pockets:
        plate = plate_properties(replace(part.shape, marks=(), texts=()))
        return np.asarray(plate.centroid), np.asarray(plate.inertia) / plate.volume_mm3
    m, thickness = part.shape.weighed.moments(), part.shape.thickness_mm
    centre = np.array([*m.first, 0.0]) / m.area
    second = np.array([[m.xx, m.xy, 0.0], [m.xy, m.yy, 0.0], [0.0, 0.0, m.area * thickness**2 / 12.0]]) / m.area
    return centre, inertia_of(second - np.outer(centre, centre))


def _element(line: Line, grams: float, centre: FloatArray, for_each_gram: FloatArray) -> Element:
    return Element(line.key, line.assembly, None, line.lot, grams, centre, grams * for_each_gram)

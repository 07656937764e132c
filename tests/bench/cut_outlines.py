"""What is measured from cutting files alone: outlines read back by ezdxf, held against sections' equations."""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass

import ezdxf
import ezdxf.path
import numpy as np
import shapely
from scipy.optimize import least_squares

from geomgen.bench.board import boards
from geomgen.bench.feet import Footing, footing, on_feet
from geomgen.bench.gauge import gauges
from geomgen.craft import Craft
from geomgen.cutting.dxf import part_dxf
from geomgen.design.schema import Jig
from geomgen.marking.finish import finished
from geomgen.model.part import Part
from geomgen.structure.ribs.rib import ribs

COLOURS = {"inside": "red", "outside": "blue", "mark": "green", "reference": "grey"}
PLY = {"lantern": "ply_2", "kite_day": "ply_eighth"}


@dataclass(frozen=True)
class Cut:
    """A cutting file: outline (n, 2) with its arcs as chords, its own corners, round holes (x, y, radius), other holes.

    Outlines are told from captions by being closed polylines on the layer of outside cuts.
    """

    outline: np.ndarray
    corners: np.ndarray
    circles: np.ndarray
    slots: list[np.ndarray]


def jigged(craft: Craft, first: str = "lower", **keys: object) -> Craft:
    """A craft with a jig of its own: feet of 10 mm, board and gauges of its ply where `keys` don't say otherwise.

    first : the half of the skin that is glued on first
    """
    design = craft.design
    ply = next(ply for ply in PLY.values() if ply in design.stock)
    jig = Jig.model_construct(**{"foot": 10.0, "board": ply, "gauge": ply, **keys})
    built = design.blade.construction.model_copy(update={"first": first})
    blade = design.blade.model_copy(update={"jig": jig, "construction": built})
    return Craft(design.model_copy(update={"blade": blade}), craft.folder, craft.cache)


def cut(craft: Craft, parts: Iterable[Part]) -> list[Part]:
    """Parts in the craft's own hand, lettered."""
    clockwise = craft.design.rotor.turn == "clockwise"
    return list(finished(parts, clockwise=clockwise, units=craft.design.units, cache=craft.cache))


def cut_ribs(craft: Craft, plane: Footing | None) -> list[Part]:
    """A craft's ribs on their feet, before the caps' screws are known."""
    return cut(craft, on_feet(ribs(craft.layout, craft.bare_ribs).read().parts, plane))


def cut_board(craft: Craft) -> list[Part]:
    """The pieces of its jig board."""
    return cut(craft, boards(craft.design, craft.bare_ribs, footing(craft.design, craft.bare_ribs)).read().parts)


def cut_gauges(craft: Craft, plane: Footing | None) -> list[Part]:
    """Its gauges."""
    return cut(craft, gauges(craft.design, craft.bare_ribs, plane, tol=craft.tol).read().parts)


def read_back(part: Part, layers: tuple[str, str]) -> Cut:
    """layers : names of the outside and inside cuts."""
    drawing = ezdxf.read(io.StringIO(part_dxf(part, COLOURS, 1).decode()))
    space = drawing.modelspace()
    (outer,) = [e for e in space.query("LWPOLYLINE") if e.dxf.layer == layers[0]]
    points = np.array([(p.x, p.y) for p in ezdxf.path.make_path(outer).flattening(0.002)])
    circles = [(e.dxf.center.x, e.dxf.center.y, e.dxf.radius) for e in space.query("CIRCLE")]
    slots = [np.array(e.get_points("xy")) for e in space.query("LWPOLYLINE") if e.dxf.layer == layers[1]]
    return Cut(points, np.array(outer.get_points("xy")), np.array(circles).reshape(-1, 3), slots)


def four_digit(camber: float, at: float, thick: float, chord: float, count: int = 400) -> shapely.Polygon:
    """A section from the equations of NACA Report 460, thickness laid off normal to the mean line [mm]."""
    x = 0.5 * (1 - np.cos(np.linspace(0, np.pi, count)))
    half = 5 * thick * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    fore = x < at
    mean = np.where(
        fore,
        camber / at**2 * (2 * at * x - x**2),
        camber / (1 - at) ** 2 * (1 - 2 * at + 2 * at * x - x**2),
    )
    slope = np.where(fore, 2 * camber / at**2 * (at - x), 2 * camber / (1 - at) ** 2 * (at - x))
    out = half[:, None] * np.column_stack([-np.sin(np.arctan(slope)), np.cos(np.arctan(slope))])
    line = np.column_stack([x, mean])
    return shapely.Polygon(chord * np.vstack([(line + out)[::-1], (line - out)[1:]]))


def by_farthest(section: shapely.Polygon, chord: float) -> shapely.Polygon:
    """The same section, its chord line from the tail's middle to the point farthest from it: a file's chord.

    section : with its tail's middle at (chord, 0), drawn so finely that the farthest of its points will do
    returns : drawn with one point in fifty of it
    """
    xy = shapely.get_coordinates(section.exterior)
    tail = np.array((chord, 0.0))
    nose = xy[np.argmax(np.hypot(*(xy - tail).T))]
    way = (tail - nose) / np.hypot(*(tail - nose))
    turned = (xy - nose) @ np.array([[way[0], -way[1]], [way[1], way[0]]])
    return shapely.Polygon(turned[::50] * chord / np.hypot(*(tail - nose)))


def along(outline: np.ndarray, step: float) -> np.ndarray:
    """Points at equal steps along a ring [mm]."""
    ring = shapely.LinearRing(outline)
    return shapely.get_coordinates(ring.interpolate(np.arange(0.0, ring.length, step)))


def chord_deg(points: np.ndarray, section: shapely.Polygon) -> tuple[float, float]:
    """Direction of the chord line of a section laid onto points by least squares [deg], and the rms miss [mm].

    points : (n, 2); those far off (feet, ends) are left out
    """
    edge = section.exterior
    shapely.prepare([section, edge])

    def moved(by: np.ndarray, what: np.ndarray) -> np.ndarray:  # points into the section's frame
        c, s = np.cos(by[2]), np.sin(by[2])
        return (what - by[:2]) @ np.array([[c, -s], [s, c]])

    def miss(by: np.ndarray, what: np.ndarray) -> np.ndarray:
        at = shapely.points(moved(by, what))
        return np.where(shapely.contains(section, at), -1.0, 1.0) * shapely.distance(edge, at)

    def change(by: np.ndarray, what: np.ndarray) -> np.ndarray:
        """(n, 3) of the miss with each of `by`: how far a point moves along the edge's normal."""
        c, s = np.cos(by[2]), np.sin(by[2])
        at = moved(by, what)
        points = shapely.points(at)
        way = at - shapely.get_coordinates(shapely.shortest_line(points, edge)).reshape(-1, 2, 2)[:, 1]
        way *= np.where(shapely.contains(section, points), -1.0, 1.0)[:, None]
        way /= np.maximum(np.hypot(*way.T), 1e-12)[:, None]
        turned = np.column_stack([at[:, 1], -at[:, 0]])
        return np.column_stack([way @ [-c, s], way @ [-s, -c], (way * turned).sum(axis=1)])

    by = np.zeros(3)
    for near in (3.0, 0.3, 0.05):
        kept = points[np.abs(miss(by, points)) < near]
        fit = least_squares(miss, by, change, args=(kept,), x_scale=(1.0, 1.0, 0.01), loss="soft_l1", f_scale=0.02)
        by = fit.x
    assert len(kept) > 20
    return float(np.degrees(by[2])), float(np.sqrt(np.mean(miss(by, kept) ** 2)))


def line_deg(points: np.ndarray) -> tuple[float, float]:
    """Direction of the line through points, -90 .. 90 deg, and the greatest distance from it [mm]."""
    middle = points.mean(axis=0)
    way = np.linalg.svd(points - middle)[2][0]
    way = way if way[0] > 0 else -way
    off = np.abs((points - middle) @ np.array([-way[1], way[0]])).max()
    return float(np.degrees(np.arctan2(way[1], way[0]))), float(off)


def soles(cut: Cut, shoulder: float) -> np.ndarray:
    """(8, 2) for two feet: ends of the outline's straight stretches as long as a foot's shoulder, not upright [mm]."""
    following = np.roll(cut.corners, -1, axis=0)
    step = following - cut.corners
    which = (np.abs(np.hypot(*step.T) - shoulder) < 1e-3) & (np.abs(step[:, 0]) > np.abs(step[:, 1]))
    return np.vstack([cut.corners[which], following[which]])

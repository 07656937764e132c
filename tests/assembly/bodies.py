"""Parts as bodies in the blade frame, from the record `Part` alone: what each shows in a plane square to the blade."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

import numpy as np
import shapely
from by_equations import FloatArray, OwnBlade
from hollow import Hollow, hollow

from geomgen.design.schema import Design, LengthStock
from geomgen.design.schema.spar import BoxSpar, CapSpar
from geomgen.model.part import Flat, Length, Part

ARC_TOL = 0.001  # chords of arcs to the arcs [mm]


class Body(Protocol):
    """Something that shows a shape in a plane at a radius; None where it isn't there."""

    name: str
    path: str

    def section(self, r: float) -> shapely.Geometry | None: ...


@dataclass(frozen=True, eq=False)
class Plate:
    """A flat part: what stays of its region, as thick as its sheet, about its middle plane."""

    part: Part

    @property
    def name(self) -> str:
        return self.part.name

    @property
    def path(self) -> str:
        return self.part.path

    @cached_property
    def region(self) -> shapely.Polygon:
        assert isinstance(self.part.shape, Flat)
        return self.part.shape.weighed.to_shapely(ARC_TOL)

    def section(self, r: float) -> shapely.Geometry | None:
        """In the plane x = r, where the part's own x, y and thickness z satisfy m · (x, y, z, 1) = r.

        A part that lies across the blade shows its region. One that runs along it shows, between its faces, what lies
        on the line of the plane: a strip of its region, pulled to the thickness, or where the strip has no width (the
        part runs straight out) the line itself.
        """
        matrix, half = self.part.places[0], self.part.shape.thickness_mm / 2
        a, b, c, d = matrix[0]
        if abs(c) > 0.5:
            if abs(r - d) > half + 1e-9 or abs(abs(c) - 1) > 1e-12:
                return None
            return shapely.transform(self.region, lambda xy: placed(matrix, xy, 0.0))
        y = np.array([self.region.bounds[1], self.region.bounds[3]])
        if abs(a) < 1e-9:
            return None
        if abs(c) * half < 1e-7:
            line = self.region.intersection(shapely.LineString(np.column_stack([(r - d - b * y) / a, y])))
            spans = [part.bounds for part in shapely.get_parts(line) if part.length > 0]
            flat = [shapely.box(low, -half, high, half) for _, low, _, high in spans]
        else:
            x = [(r - d - b * y[i] - c * z) / a for i, z in ((0, -half), (1, -half), (1, half), (0, half))]
            low, high = self.region.bounds[0] - min(x), self.region.bounds[2] - max(x)
            if -2 * abs(c) * half - 1e-6 < (off := max(low, 0.0) + min(high, 0.0)) < 2 * abs(c) * half + 1e-6:
                r += a * off  # cut off square to itself at its ends: taken as sanded flush with the plane
                x = [at + off for at in x]
            strip = self.region.intersection(shapely.Polygon(np.column_stack([x, y[[0, 1, 1, 0]]])))
            flat = [
                shapely.transform(
                    one, lambda xy: np.column_stack([xy[:, 1], (r - d - a * xy[:, 0] - b * xy[:, 1]) / c])
                )
                for one in shapely.get_parts(strip)
                if one.area > 0
            ]
        if not flat:
            return None

        def to_yz(yz: FloatArray) -> FloatArray:
            x = (r - d - b * yz[:, 0] - c * yz[:, 1]) / a
            return placed(matrix, np.column_stack([x, yz[:, 0]]), yz[:, 1])

        return shapely.transform(shapely.union_all(flat), to_yz)


def placed(matrix: FloatArray, xy: FloatArray, z: float | FloatArray) -> FloatArray:
    """(n, 2) forward and up of points of a part's frame [mm]."""
    points = np.column_stack([xy, np.broadcast_to(z, len(xy)), np.ones(len(xy))])
    return np.asarray((points @ matrix.T)[:, 1:3])


@dataclass(frozen=True, eq=False)
class Straight:
    """A length of round or square stock on one straight line in space, its sides in the reference chord's directions.

    start, end : (3,) [mm]
    """

    name: str
    path: str
    start: FloatArray
    end: FloatArray
    stock: LengthStock

    def section(self, r: float) -> shapely.Geometry | None:
        """A tube's is an ellipse, longer along the slope; a bar's, cut askew, longer along its own sides."""
        if not self.start[0] - 1e-9 <= r <= self.end[0] + 1e-9:
            return None
        slope = (self.end - self.start)[1:] / (self.end[0] - self.start[0])
        middle = self.start[1:] + slope * (r - self.start[0])
        if self.stock.outside is not None:
            steep = np.hypot(*slope)
            u = slope / steep if steep > 0 else np.array([1.0, 0.0])
            turn = np.linspace(0, 2 * np.pi, 241)[:-1]
            long = np.hypot(1.0, steep) * np.cos(turn)[:, None] * u
            ring = long + np.sin(turn)[:, None] * np.array([-u[1], u[0]])
            return shapely.Polygon(middle + self.stock.outside / 2 * ring)
        half = np.array([self.stock.width, self.stock.height]) / 2 * np.hypot(1.0, slope)
        return shapely.box(*(middle - half), *(middle + half))


@dataclass(frozen=True, eq=False)
class Strip:
    """Something four-cornered that is straight between its nodes.

    r       : (k,) [mm]
    corners : (k, 4, 2) forward and up [mm]
    """

    name: str
    path: str
    r: FloatArray
    corners: FloatArray

    def section(self, r: float) -> shapely.Geometry | None:
        if not self.r[0] - 1e-9 <= r <= self.r[-1] + 1e-9:
            return None
        ring = [[np.interp(r, self.r, self.corners[:, i, c]) for c in (0, 1)] for i in range(4)]
        return shapely.Polygon(ring)


def legs(part: Part) -> FloatArray:
    """(k + 1, 3) corners of the line that a long part's mass lies on, from its two Gauss points a piece; pieces that go
    on straight are one leg."""
    points = part.spread[:, 1:].reshape(-1, 2, 3)
    middle, half = points.mean(axis=1), (points[:, 1] - points[:, 0]) / 2 * np.sqrt(3.0)
    corners = np.vstack([(middle - half)[:1], middle + half])
    assert np.allclose((middle - half)[1:], (middle + half)[:-1], atol=1e-6)
    ways = half / np.linalg.norm(half, axis=1, keepdims=True)
    turns = ~np.isclose(np.sum(ways[1:] * ways[:-1], axis=1), 1.0, rtol=0.0, atol=1e-12)
    return corners[np.concatenate([[True], turns, [True]])]


def resting(inside: Hollow, x: float, width: float, up: float) -> tuple[FloatArray, FloatArray]:
    """How something flat lies against the inside of the covers, over (1) or under (-1) it.

    x       : of its middle in the section's frame; its ends' chord is parallel to that of the covers there [mm]
    returns : (2,) its middle and (2,) unit way inwards, in the section's frame
    """
    ring = inside.placed.from_yz(shapely.get_coordinates(inside.inside.exterior))[:-1]
    ring = ring[np.argmin(ring[:, 0]) :].tolist() + ring[: np.argmin(ring[:, 0]) + 1].tolist()
    ring = np.array(ring)
    aft = int(np.argmax(ring[:, 0]))
    sides = [ring[: aft + 1], ring[aft:][::-1]]
    side = max(sides, key=lambda part: up * np.interp(x, *part[np.argsort(part[:, 0])].T))
    side = side[np.argsort(side[:, 0], kind="stable")]
    tilt = 0.0
    for _ in range(20):
        along = np.array([np.cos(tilt), np.sin(tilt)])
        inwards = -up * np.array([-along[1], along[0]])
        at = np.array([x, np.interp(x, *side.T)])
        s, h = (side - at) @ along, (side - at) @ inwards
        ends = np.interp([-width / 2, width / 2], s, h)
        more = np.arctan2(ends[1] - ends[0], width)
        tilt += -up * more
        if abs(more) < 1e-12:
            break
    near = (s > -width / 2) & (s < width / 2)
    return at + max([*h[near], *ends]) * inwards, inwards


def node_radii(design: Design, ribs: Sequence[Part], start: float, end: float) -> FloatArray:
    """Ends, and every rib between [mm]."""
    between = [rib.r_mm for rib in ribs if start + 1e-6 < rib.r_mm < end - 1e-6]
    return np.array([start, *between, end])


def channel_lines(blade: OwnBlade) -> dict[str, Straight]:
    """Channels, from the design's figures: straight between shares of the chord, on the camber line, at their ends."""
    found = {}
    design = blade.design
    for name, channel in blade.design.blade.channel.items():
        assert set(channel.height) == {"camber"}
        ends = route(blade, design.r(channel.from_), design.r(channel.to), channel.chord)
        round_way = LengthStock.model_construct(outside=channel.diameter)
        found[name] = Straight(f"channel {name}", f"blade.channel.{name}", *ends, round_way)
    return found


def route(blade: OwnBlade, start: float, end: float, chord: tuple[float, float]) -> tuple[FloatArray, FloatArray]:
    """(3,) ends of a straight line between places on the wanted camber line [mm]."""
    design, points = blade.design, []
    for r, share in zip((start, end), chord, strict=True):
        at = blade.at(float(np.clip(r, design.rotor.root, design.frame_end)))
        points.append(np.array([r, *at.to_yz(at.camber(share))[0]]))
    return points[0], points[1]


def spar_bodies(blade: OwnBlade, ribs: Sequence[Part], parts: Sequence[Part]) -> list[Body]:
    """Every spar's parts as bodies."""
    design, found = blade.design, list[Body]()
    for part in parts:
        name = part.path.split(".")[2]
        spar = design.blade.spar[name]
        if isinstance(spar, CapSpar) and isinstance(part.shape, Length):
            found.append(_lamination(blade, part))
        elif isinstance(spar, BoxSpar):
            if part.name in (f"spar {name}", f"spar {name} ahead"):  # folded of one board, or of four plates
                found.append(_box(blade, ribs, part, spar))
        elif isinstance(part.shape, Flat):
            found.append(Plate(part))
        elif part.role == "spar":
            line = legs(part)
            assert len(line) == 2
            found.append(Straight(part.name, part.path, line[0], line[1], design.stock[part.stock]))
    return found


def _lamination(blade: OwnBlade, part: Part) -> Strip:
    """A strip of a cap: its middle is the record's; it lies as flat on the covers as it can, there where it is."""
    stock, line = blade.design.stock[part.stock], legs(part)
    up = 1.0 if " upper " in part.name else -1.0
    corners = []
    for r, *yz in line:
        inside = hollow(blade, float(r))
        x = float(inside.placed.from_yz(np.array([yz]))[0, 0])
        _, inwards = resting(inside, x, stock.width, up)
        across = np.array([inwards[1], -inwards[0]])
        middle = inside.placed.from_yz(np.array([yz]))[0]
        box = [
            i * across * stock.width / 2 + j * inwards * stock.height / 2
            for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))
        ]
        corners.append(inside.placed.to_yz(middle + np.array(box)))
    return Strip(part.name, part.path, line[:, 0], np.array(corners))


def _box(blade: OwnBlade, ribs: Sequence[Part], part: Part, spar: BoxSpar) -> Strip:
    """A box, on the covers below; as high as the board is between its second and third score line, or its plate."""
    design = blade.design
    start, end = design.r(spar.from_), design.r(spar.to)
    radii = node_radii(design, ribs, start, end)
    if part.name.endswith(" ahead"):
        ring = part.shape.region.outer.xy
        low, high = ring[: len(radii)], ring[len(radii) :][::-1]
    else:
        rows = [mark.xy for mark in part.shape.marks if len(mark.xy) == len(radii)]
        _, low, high, _ = [row for row in rows if np.ptp(row[:, 0]) > 0.9 * (end - start)]
    heights = np.hypot(*(high - low).T)
    line, corners = route(blade, start, end, spar.chord), []
    for height, r in zip(heights, radii, strict=True):
        inside = hollow(blade, float(r))
        share = (r - start) / (end - start)
        x = inside.placed.from_yz((line[0] + share * (line[1] - line[0]))[None, 1:])[0, 0]
        foot, inwards = resting(inside, float(x), spar.width, -1.0)
        across = np.array([inwards[1], -inwards[0]]) * spar.width / 2
        top = foot + height * inwards
        corners.append(inside.placed.to_yz(np.array([foot - across, foot + across, top + across, top - across])))
    return Strip(f"spar {part.path.split('.')[2]}", part.path, radii, np.array(corners))

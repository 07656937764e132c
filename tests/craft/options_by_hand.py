"""What every line of the demo and its options should weigh: amounts by hand, times figures copied from named sources.

Holes that lighten ribs are drawn by the program's own rules: their areas are taken from the cutting files, as another
reader reads them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from blade_by_hand import (
    END,
    RADII,
    ROOT,
    Inside,
    Section,
    along_r,
    between,
    board,
    chord,
    inside,
    length,
    mean_line,
    naca,
    placed,
    sunk,
    surface_mm2,
)

# Low, typical, high of a mm3 or mm2 in g; the bands that were published stand in the test.
BALSA = (80e-6, 140e-6, 240e-6)  # sheet tables sell 64 to 240 kg/m3; timber data: mean 160; medium grade 80 to 144
SPRUCE = (380e-6, 440e-6, 500e-6)  # timber table: 432 air dry, 13 % either way
CARBON = (1500e-6, 1550e-6, 1600e-6)  # two tube specifications: at least 1500; 1600
XPS = (33e-6, 36e-6, 40e-6)  # thin sheet: 33 to 40 kg/m3
BOARD = (215e-6, 250e-6, 290e-6)  # g/mm2: 297 g/m2 at 4.8 mm, weighed, less 1.8 mm of core at 27 kg/m3; 15 % either way
FILM = (14e-6, 24e-6, 38e-6)  # g/mm2: article on coverings, laminating film: 14 to 38 g/m2
# 0.8 mm sheet, weighed: 759 kg/m3 within 10 %; 4 mm, from a list: 660 within 8 %; straight between at 2 mm
PLY = tuple(1e-6 * (a + (b - a) * 1.2 / 3.2) for a, b in ((685, 610), (759, 660), (835, 715)))
# 200 to 300 ft2 a gallon at 1.1 g/cm3 is 149 to 224 g/m2 wet, of which 45 to 50 % stays
GLUE = tuple(1e-6 * wet * solids for wet, solids in ((149, 0.45), (186, 0.475), (224, 0.50)))
EPOXY = (
    111e-6,
    166e-6,
    221e-6,
)  # on the tube: films of 0.10, 0.15 and 0.20 mm at 1.106 g/cm3, a resin maker's constants
# the same straight at 3 mm; balsa sheets that are weighed before they are used, in the demo's own words
PLY_3 = tuple(1e-6 * (a + (b - a) * 2.2 / 3.2) for a, b in ((685, 610), (759, 660), (835, 715)))
WEIGHED, WEIGHED_3 = (135e-6, 140e-6, 160e-6), (130e-6, 140e-6, 160e-6)
SHEETS = {
    "ply_2": (2.0, PLY),
    "ply_3": (3.0, PLY_3),
    "balsa_2": (2.0, WEIGHED),
    "balsa_3": (3.0, BALSA),
}

TUBE = (8.0, 5.0)  # outside, inside
RUN_END = 0.9 * 800.0  # spar caps
OPENING = 39.0 * 9.0 + np.pi / 4 * 81.0  # for the fan's leads: 48 x 9 with round ends
SPAR_END, REAR_END, STOP, WEBS_END, FAN = END, 736.0, 424.9, 560.0, 768.0

Triple = tuple[float, ...]
Lines = dict[str, Triple]


@dataclass(frozen=True)
class Built:
    """How one option is built, copied from the demo's file.

    every, stock : of the ribs beyond 200 mm
    cover, least : over the ribs; and a rib ends where it is thinner
    """

    every: float
    stock: str
    cover: float
    least: float
    strips: tuple[float, float] = (0.0, 0.0)
    of: Section = naca


BUILT = {
    "base": Built(60, "balsa_3", 2.0, 2.5),
    "foam_on_ply": Built(60, "ply_2", 2.0, 2.5),
    "balsa": Built(45, "balsa_2", 1.03, 2.0, (8.0, 18.0)),
    "film": Built(45, "balsa_2", 0.03, 2.0, (8.0, 18.0)),
    "foam_board": Built(120, "balsa_3", 3.0, 2.5, of=board),
}


@dataclass(frozen=True)
class Rib:
    """A rib where it should stand, and what it may fill there; or a doubler, which has a name."""

    r: float
    stock: str
    room: Inside
    name: str = ""

    @property
    def thick(self) -> float:
        return SHEETS[self.stock][0]

    @property
    def layers(self) -> int:
        """Spruce strips in each of its notches."""
        return sum(end > self.r - self.thick / 2 for end in (RUN_END, STOP))


def ribs(option: str) -> list[Rib]:
    """Ply at 130, 165 and 200; equal bays no longer than asked to the frame's end; ply at the fan. The ends flush."""
    built = BUILT[option]
    bays = int(np.ceil((END - 200.0) / built.every - 1e-9))
    places = [(130.0, "ply_2"), (165.0, "ply_2"), (200.0, "ply_2")]
    places += [(200.0 + (END - 200.0) * k / bays, built.stock) for k in range(1, bays + 1)]
    found = []
    for r, stock in sorted([*places, (FAN, "ply_2")]):
        half = SHEETS[stock][0] / 2
        at = min(max(r, ROOT + half), END - half)
        found.append(Rib(at, stock, inside(at, built.cover, built.least, built.strips, built.of)))
    return found


DOUBLED = {"root": (ROOT, "ply_2"), "fan": (FAN, "ply_3"), "second": (165.0, "ply_2")}  # the last in the board alone


def doublers(option: str) -> list[Rib]:
    """Each face to face with the outer face of its rib, as deep as the skin lets it be where it stands itself."""
    built, found = BUILT[option], []
    for name, (place, stock) in DOUBLED.items():
        if name == "second" and option != "foam_board":
            continue
        rib = next(rib for rib in ribs(option) if abs(rib.r - place) <= rib.thick / 2)
        r = rib.r + (rib.thick + SHEETS[stock][0]) / 2
        room = inside(r, built.cover, built.least, built.strips, built.of)
        found.append(Rib(r, stock, room, f"doubler {name}"))
    return found


def of(option: str, stock: str) -> Triple:
    """Of a mm3 of a sheet [g]; the board's own balsa is weighed too."""
    return WEIGHED_3 if (option, stock) == ("foam_board", "balsa_3") else SHEETS[stock][1]


def weighed(amount: float, each: Triple) -> Triple:
    return tuple(amount * grams for grams in each)


def box_height(room: Inside, r: float) -> float:
    """A box 24 mm wide at 52 % of the chord, flat on the lower edge, 2 mm of rib over it where that is least."""
    x = 0.52 * float(chord(r)) + np.array([-12.0, 12.0])
    foot = [room.heights(each)[0] for each in x]
    slope = (foot[1] - foot[0]) / 24.0
    wide = x.mean() + np.linspace(-12.05, 12.05, 21)
    upper = np.array([room.heights(each)[1] for each in wide])
    square = (upper - foot[0] - slope * (wide - x[0])) / np.hypot(1.0, slope)
    steep = np.abs(np.diff(square)).max() / (24.1 / 20)
    return float(square.min() - 2.0 * np.hypot(1.0, steep))


def rib_lines(option: str, holes: Mapping[str, float]) -> Iterator[tuple[str, Triple]]:
    """The room under the cover, less notches and less the holes that were cut [mm2]."""
    every = ribs(option)
    names = [f"rib R{k:0{len(str(len(every)))}d}" for k in range(1, len(every) + 1)]
    for rib, name in [*zip(every, names, strict=True), *((each, each.name) for each in doublers(option))]:
        area = rib.room.shape.area - holes[name]
        if option in ("balsa", "film"):
            area -= 2 * 5.1 * 2.0 * rib.layers
        if option == "foam_board" and 140.0 < rib.r < WEBS_END:
            area -= 24.1 * box_height(rib.room, rib.r)
        yield name, weighed(area * rib.thick, of(option, rib.stock))


def both(of: Section, r: float, depth: float) -> np.ndarray:
    """From one tail round the nose to the other, so deep in the section, in space."""
    upper, lower = of(r)
    halves = [between(sunk(s, depth, sign) if depth else s, 0.0, 999.0) for s, sign in ((upper, 1.0), (lower, -1.0))]
    return placed(np.vstack([halves[0][::-1], halves[1][1:]]), r)


def cover_lines(option: str) -> Iterator[tuple[str, Triple]]:
    """Skin at half its thickness; sheeting; film with 10 mm of lap; board at its outer paper, which is left whole."""
    if option in ("base", "foam_on_ply"):
        area = surface_mm2([both(naca, r, 1.0) for r in RADII]) - OPENING
        yield "skin all", weighed(area * 2.0, XPS)
        return
    if option == "foam_board":
        # outer paper by its folds: the arc round the nose and flats are already the board's outside
        rows = [placed(np.vstack([board(r)[0][::-1], board(r)[1][1:]]), r) for r in RADII]
        yield "folded skin", weighed(surface_mm2(rows) - OPENING, BOARD)
        return
    for half, k, sign in (("upper", 0, 1.0), ("lower", 1, -1.0)):
        if option == "balsa":
            rows = [placed(between(sunk(naca(r)[k], 0.53, sign), 8.0, 0.32 * float(chord(r))), r) for r in RADII]
            yield f"sheeting {half}", weighed(surface_mm2(rows) * 1.0, BALSA)
        rows = [placed(between(sunk(naca(r)[k], 0.015, sign), 0.0, 999.0), r) for r in RADII]
        nose, tail = (length(np.array([row[end] for row in rows])) for end in (0, -1))
        behind = 10.0 if option == "balsa" else 15.0  # 5 mm more for scallops where film alone covers
        ends = length(rows[0]) + length(rows[-1]) + 2 * (10.0 + behind)
        yield f"film {half}", weighed(surface_mm2(rows) + 10.0 * nose + behind * tail + 10.0 * ends, FILM)


def strip_volume(low: float, high: float, from_tail: bool) -> float:
    """Volume of the section under film between two x, counted from the nose or from the tail."""

    def area(r: float) -> float:
        upper, lower = naca(r)
        under = shapely.Polygon(np.vstack([sunk(upper, 0.03, 1.0)[::-1], sunk(lower, 0.03, -1.0)[1:]]))
        x = float(chord(r)) if from_tail else 0.0
        return float(under.intersection(shapely.box(x + low, -99.0, x + high, 99.0)).area)

    return along_r(area)


def strip_lines(option: str) -> Iterator[tuple[str, Triple]]:
    """Nose strip 8 mm of the chord, tail strip 18 mm; cap strips 8 x 1 mm from the sheet to the rib's end."""
    if option not in ("balsa", "film"):
        return
    yield "nose strip", weighed(strip_volume(-9.0, 8.0, False), BALSA)
    yield "tail strip", weighed(strip_volume(-18.0, 9.0, True), BALSA)
    if option == "balsa":
        for k, rib in enumerate(ribs(option), start=1):
            for half, side, sign in zip(("upper", "lower"), naca(rib.r), (1.0, -1.0), strict=True):
                run = between(sunk(side, 0.53, sign), 0.32 * float(chord(rib.r)), rib.room.end)
                yield f"cap strip R{k:02d} {half}", weighed(length(run) * 8.0 * 1.0, BALSA)


def at(r: float, share: float) -> np.ndarray:
    """A place on the mean line, in space."""
    c = float(chord(r))
    return np.asarray(placed(np.array([[share * c, c * float(mean_line(np.array([share]))[0][0])]]), r)[0])


def askew(share: float, thick: float) -> float:
    """How much longer two sides of a hole are, as what goes through slopes forward and up or down from face to face."""
    way = at(REAR_END, share) - at(ROOT, share)
    return float(np.abs(way[1:]).sum() / way[0]) * thick


def bays(option: str) -> list[tuple[int, float, float]]:
    """Webs' bays: number, clear length, radius of the middle."""
    found = []
    starts = {near.r - near.thick / 2: near.r + near.thick / 2 for near in doublers(option)}
    for k, (near, far) in enumerate(pairwise(ribs(option)), start=1):
        face = near.r + near.thick / 2
        start, end = starts.get(face, face), far.r - far.thick / 2
        if (start + end) / 2 < WEBS_END:
            found.append((k, end - start - 0.2, (start + end) / 2))
    return found


def spar_lines(option: str) -> Iterator[tuple[str, Triple]]:
    """Tube 8 x 5; spruce 3 x 6 or two layers of 2 x 5 above and below; balsa webs of 1 mm; a folded box."""
    built = BUILT[option]
    yield "spar main", weighed((SPAR_END - 30.0) * np.pi / 4 * (TUBE[0] ** 2 - TUBE[1] ** 2), CARBON)
    if option in ("base", "foam_on_ply"):
        yield "spar rear", weighed(length(np.array([at(ROOT, 0.62), at(REAR_END, 0.62)])) * 18.0, SPRUCE)
    if option in ("balsa", "film"):
        for layer, stop in ((1, RUN_END), (2, STOP)):
            line = length(np.array([at(ROOT, 0.32), at(stop, 0.32)]))
            for half in ("upper", "lower"):
                yield f"spar caps {half} {layer}", weighed(line * 10.0, SPRUCE)
        for k, wide, r in bays(option):
            x = 0.32 * float(chord(r)) + 2.5 + 1.0  # behind the caps, at its lower, aft face
            yield f"web caps W{k:02d}", weighed(wide * inside(r, built.cover, built.least).depth(x) * 1.0, BALSA)
    if option == "foam_board":
        area = along_r(
            lambda r: 2 * (24.0 + box_height(inside(r, built.cover, built.least, of=board), r)), 140.0, WEBS_END
        )
        yield "spar box", weighed(area, BOARD)


def other_lines(option: str) -> Iterator[tuple[str, Triple]]:
    """The tip, half an ellipse 18 mm deep of 3 mm balsa; three wires to the fan and two for lights, with slack."""
    yield "tip", weighed(np.pi / 4 * float(chord(END)) * 18.0 * 3.0, of(option, "balsa_3"))
    way = ROOT + length(np.array([at(ROOT, 0.38), at(FAN, 0.42)]))
    over = length(np.array([at(FAN, 0.42), at(FAN, 0.25)]))
    yield "wire fan", (3 * 10.5e-3 * (way + over + 90.0),) * 3
    yield "wire lights", (2 * 2.6e-3 * (way + 60.0),) * 3


def glue_lines(option: str, doubled_mm2: float) -> Iterator[tuple[str, Triple]]:
    """Faces that meet, counted once; a doubler's are reckoned where it lies on its rib, not at its thin edges."""
    every, film = ribs(option), option == "film"
    if not film:
        ends = [0.32 * float(chord(rib.r)) if option == "balsa" else 999.0 for rib in every]
        contact = sum(rib.room.contact(high=end) * rib.thick for rib, end in zip(every, ends, strict=True))
        yield "glue skin to ribs", weighed(contact, GLUE)
    yield "glue on tubes", weighed(sum(np.pi * 8.1 * rib.thick for rib in every if rib.r < SPAR_END), EPOXY)
    held = 0.0  # of strips and boxes in ribs
    if option in ("base", "foam_on_ply"):
        held = sum(2 * (3.1 + 6.1 + askew(0.62, rib.thick)) * rib.thick for rib in every if rib.r < REAR_END)
    if option in ("balsa", "film"):
        held = sum(2 * (5.1 + 2 * 2.0 * rib.layers) * rib.thick for rib in every if rib.layers)
        webs = sum(2 * wide * 2.0 * (2 if r < STOP else 1) for _, wide, r in bays(option))
        yield "glue webs to caps", weighed(webs, GLUE)
        outer = 0.0 if film else 2 * 5.0 * (RUN_END - ROOT)  # under the sheet; film brings its own
        yield "glue caps", weighed(outer + 2 * 5.0 * (STOP - ROOT), GLUE)
    if option == "balsa":
        strips = 0.0
        for rib in every:
            for side, sign in zip(naca(rib.r), (1.0, -1.0), strict=True):
                strips += length(between(sunk(side, 0.53, sign), 0.32 * float(chord(rib.r)), rib.room.end)) * rib.thick
        yield "glue cap strips to ribs", weighed(strips, GLUE)
    if option in ("balsa", "film"):
        ends = sum((rib.room.depth(8.001) + rib.room.depth(rib.room.end - 1e-3)) * rib.thick for rib in every)
        sheets = (
            0.0 if film else 2 * 1.0 * length(np.array([placed(naca(r)[0][[0]], r)[0] for r in RADII]))
        )  # at the nose
        yield "glue strips along the edges", weighed(ends + sheets, GLUE)
    if option == "foam_board":
        cut = [rib for rib in every if 140.0 < rib.r < WEBS_END]
        held = sum((24.1 + askew(0.52, rib.thick) + 2 * box_height(rib.room, rib.r)) * rib.thick for rib in cut)
        # three folds 3 mm deep, the lap of 10 mm, and the underside on the lower skin
        yield "glue boxes", weighed((WEBS_END - 140.0) * (3 * 3.0 + 10.0 + 24.0), GLUE)
        tail = np.array([placed(board(r)[0][[-1]], r)[0] for r in RADII])
        yield "glue flap", weighed(12.0 * length(tail), GLUE)
    yield "glue spars to ribs", weighed(held, GLUE)
    if option not in ("balsa", "film"):
        bare = [float(chord(rib.r)) - rib.room.end for rib in every]
        area = sum((a + b) / 2 * (q.r - p.r) for (a, b), (p, q) in zip(pairwise(bare), pairwise(every), strict=True))
        yield "glue tail seam", weighed(area, GLUE)
    yield "glue doublers", weighed(doubled_mm2, GLUE)
    yield "glue tip", weighed(float(chord(END)) * 3.0, GLUE)


def by_hand(option: str, holes: Mapping[str, float]) -> Lines:
    """Every line that a construction makes: name -> low, typical, high of one blade [g]."""
    lines: Lines = dict(rib_lines(option, holes))
    # a doubler's whole face is glued to its rib: its grams over those of a mm3, by its thickness
    faces = [lines[each.name][1] / SHEETS[each.stock][1][1] / each.thick for each in doublers(option)]
    for some in (
        cover_lines(option),
        strip_lines(option),
        spar_lines(option),
        other_lines(option),
        glue_lines(option, sum(faces)),
    ):
        lines.update(some)
    return lines

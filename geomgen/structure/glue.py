"""Glue by joint: every place where two parts meet, as an area and where it lies; or one stated mass spread over them.

An area is that of the two faces that meet, counted once. Film brings its own glue and counts with its overlaps.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.curve import Side
from geomgen.design.schema import (
    BoxSpar,
    CapSpar,
    Covered,
    Design,
    LengthStock,
    Ribbed,
    Sheeted,
    SheetStock,
    UprightSpar,
)
from geomgen.errors import Fault, MakeError
from geomgen.materials.catalogue import find, find_glue, names
from geomgen.model.part import Area, Bought, Flat, Length, Part, Shaped
from geomgen.model.role import Assembly, Role
from geomgen.structure.ribs.blank import Blank

FloatArray = NDArray[np.float64]
Rows = FloatArray  # (n, 4) area [mm2] and its place in the blade frame [mm]


def glue(design: Design, made: Sequence[Blank], parts: Sequence[Part]) -> list[Part]:
    """One part for each kind of joint; none where the design has no [glue].

    made   : the ribs' blanks
    parts  : every other part of one blade
    raises : MakeError where the glue would melt the foam it is meant for
    """
    if design.glue is None:
        return []
    if faults := _melts(design, parts):
        raise MakeError(faults)
    joints = [(name, rows) for name, rows in _joints(design, made, parts) if len(rows) and rows[:, 0].sum() > 0]
    if design.glue.mass is not None:
        mass, rows = design.glue.mass, np.vstack([rows for _, rows in joints])
        return [_joint("glue", Bought((mass, mass, mass)), rows)]
    return [_joint(name, Area(float(rows[:, 0].sum())), rows) for name, rows in joints]


def _joints(design: Design, made: Sequence[Blank], parts: Sequence[Part]) -> Iterator[tuple[str, Rows]]:
    blade = [part for part in parts if part.assembly == "blade"]

    def of(*kinds: str) -> list[Part]:
        return [part for part in blade if part.role in kinds]

    if not isinstance(design.blade.construction, Covered):
        yield "glue skin to ribs", _skin_joints(made)
    yield "glue cap strips to ribs", _cap_strips(made, of("cap strip"))
    yield "glue spars to ribs", _spar_joints(design, made)
    yield "glue caps", _caps(design, blade)
    yield "glue webs to caps", _webs(design, of("web"))
    yield "glue boxes", _boxes(design, of("spar"))
    yield "glue strips along the edges", _strips(design, of("nose strip", "tail strip"), of("skin", "sheeting"))
    yield "glue tail seam", _seam(design, made)
    yield "glue flap", _faces(of("folded skin"), lambda part, flat: flat.region.area() - flat.weighed.area())
    yield "glue doublers", _faces(of("doubler"), lambda part, flat: flat.region.area())
    yield "glue tip", _tip(design, of("tip"))
    yield "glue between sheets", _faces(of("skin", "sheeting", "folded skin"), _edges)
    yield "glue core", _core(made, of("core"))


def _joint(name: str, shape: Area | Bought, rows: Rows) -> Part:
    spread = rows / np.array([rows[:, 0].sum(), 1.0, 1.0, 1.0])
    return Part(
        name=name, role=Role.GLUE, stock="", path="glue", shape=shape, assembly=Assembly.BLADE, count=1, spread=spread
    )


def _melts(design: Design, parts: Sequence[Part]) -> list[Fault]:
    """Whether the glue attacks the foam of any part."""
    kind = design.glue.kind if design.glue is not None else None
    if kind is None or not find_glue(kind).melts_foam:
        return []
    for part in parts:
        stock = design.stock.get(part.stock)
        of = getattr(stock, "of", None)
        if of in names() and (find(of).kind == "foam" or of == "foam board"):
            wrong = f"melts polystyrene, and {part.name} is of {of}: {find_glue(kind).foam_source}"
            return [Fault("glue.kind", "", wrong, remedy='for instance "wood glue", "epoxy" or a kind for foam')]
    return []


def _spread(area_mm2: float, part: Part) -> Rows:
    """An area over where a part's mass sits."""
    return np.asarray(part.spread * np.array([area_mm2, 1.0, 1.0, 1.0]))


def _faces(parts: Sequence[Part], area: object) -> Rows:
    assert callable(area)
    rows = [_spread(part.count * area(part, part.shape), part) for part in parts if isinstance(part.shape, Flat)]
    return np.vstack(rows) if rows else np.zeros((0, 4))


def _cap_strips(made: Sequence[Blank], strips: Sequence[Part]) -> Rows:
    """Each strip with the rib under its middle, over the rib's thickness."""
    thick = {blank.place.name: blank.place.thickness_mm for blank in made}
    return _faces(strips, lambda part, flat: _long(flat) * thick[part.name.split(" ")[2]])


def _long(flat: Flat) -> float:
    x0, _, x1, _ = flat.region.bounds()
    return x1 - x0


def _tip(design: Design, tips: Sequence[Part]) -> Rows:
    """A shaped tip's straight edge against the last rib."""
    rows = _faces(tips, lambda part, flat: _long(flat) * flat.thickness_mm)
    rows[:, 1] = design.frame_end
    return rows


def _edges(part: Part, flat: Flat) -> float:
    """Where a pattern is made up of several sheets, their edges."""
    return sum(line.length() for line in flat.reference) * flat.thickness_mm


def _skin_joints(made: Sequence[Blank]) -> Rows:
    """Each rib with the skin or sheet over it, ahead of where the sheet ends."""
    rows = []
    for blank in made:
        cover, outline = blank.cover, blank.outline
        end = np.inf if cover.step is None else cover.step * blank.station.chord_mm
        contact = _length_to(outline.upper, end) + _length_to(outline.lower, end) if cover.ahead_mm > 0.1 else 0.0
        middle = outline.middle(50)
        middle = middle[middle[:, 0] <= end].mean(axis=0)
        rows.append([contact * blank.place.thickness_mm, *blank.station.to_blade(middle)[0]])
    return np.array(rows).reshape(-1, 4)


def _length_to(side: Side, x_mm: float) -> float:
    """Length of an edge from the nose to an x [mm]."""
    if np.isinf(x_mm):
        return side.length_mm
    xy = np.vstack([curve.xy for curve in side.curves])
    step = np.hypot(*np.diff(xy, axis=0).T)
    return float(step[(xy[1:, 0] + xy[:-1, 0]) / 2 <= x_mm].sum())


def _spar_joints(design: Design, made: Sequence[Blank]) -> Rows:
    """Each rib with each spar, round its hole or in its notch."""
    rows = []
    for blank in made:
        for opening in blank.openings:
            if opening.path.startswith("blade.spar."):
                place = blank.station.to_blade(np.array([opening.loop.centroid()]))[0]
                rows.append([opening.loop.length() * blank.place.thickness_mm, *place])
        for notch in blank.notches:
            place = blank.station.to_blade(np.array([notch.at]))[0]
            sheet = isinstance(design.blade.spar[notch.path.removeprefix("blade.spar.")], UprightSpar)
            edge = 4 * notch.depth_mm if sheet else notch.width_mm + 2 * notch.depth_mm  # a sheet is held all its depth
            rows.append([edge * blank.place.thickness_mm, *place])
    return np.array(rows).reshape(-1, 4)


def layer_ends(design: Design, spar: CapSpar) -> tuple[float, ...]:
    """r at which each lamination ends [mm]."""
    return tuple(min(design.r(end), design.r(spar.to)) for end in spar.layers)


def strip_mm(design: Design, spar: CapSpar) -> tuple[float, float]:
    """Width and height of one strip [mm]."""
    stock = design.stock[spar.stock]
    assert isinstance(stock, LengthStock)
    return stock.width or 0.0, stock.height or 0.0


def _caps(design: Design, blade: Sequence[Part]) -> Rows:
    """Each lamination with what it lies under: the sheet over it, or the lamination before it; under film, none."""
    covered = isinstance(design.blade.construction, Covered)
    rows = []
    for part in blade:
        spar = design.blade.spar.get(part.path.removeprefix("blade.spar."))
        if isinstance(spar, CapSpar) and isinstance(part.shape, Length):
            outermost = part.name.rsplit(" ", 1)[-1] in ("1", "upper", "lower")
            if not (covered and outermost):
                rows.append(_spread(part.shape.length_mm * strip_mm(design, spar)[0], part))
    return np.vstack(rows) if rows else np.zeros((0, 4))


def _webs(design: Design, webs: Sequence[Part]) -> Rows:
    """Each web with both its caps, over the height of the laminations there."""
    rows = []
    for part in webs:
        spar = design.blade.spar[part.path.split(".")[2]]
        assert isinstance(spar, CapSpar) and isinstance(part.shape, Flat)
        r = float(part.spread[:, 0] @ part.spread[:, 1])
        layers = sum(end >= r for end in layer_ends(design, spar))
        rows.append(_spread(2.0 * _long(part.shape) * layers * strip_mm(design, spar)[1], part))
    return np.vstack(rows) if rows else np.zeros((0, 4))


def _boxes(design: Design, spars: Sequence[Part]) -> Rows:
    """Each box's own corners, and its underside on the lower skin: a folded one has its lap and three folds."""
    rows = []
    for part in spars:
        spar, flat = design.blade.spar[part.path.split(".")[2]], part.shape
        if not isinstance(spar, BoxSpar) or not isinstance(flat, Flat):
            continue
        folded = flat.stays is not None
        area = _long(flat) * flat.thickness_mm * (3 if folded else 1) + flat.region.area() - flat.weighed.area()
        if folded or part.name.split(" ")[-1] == "bottom":
            area += _long(flat) * spar.width
        rows.append(_spread(area, part))
    return np.vstack(rows) if rows else np.zeros((0, 4))


def _strips(design: Design, strips: Sequence[Part], skins: Sequence[Part]) -> Rows:
    """Strips along nose and tail with the edges of the sheets that meet them, above and below."""
    stocks = [design.stock[part.stock] for part in skins]
    thickness = max((stock.thickness for stock in stocks if isinstance(stock, SheetStock)), default=0.0)
    rows = [_spread(2.0 * p.shape.length_mm * thickness, p) for p in strips if isinstance(p.shape, Shaped)]
    return np.vstack(rows) if rows and thickness > 0 else np.zeros((0, 4))


def _seam(design: Design, made: Sequence[Blank]) -> Rows:
    """The seam of the two skins behind the ribs' tails, bay by bay; none where a strip ends them."""
    built = design.blade.construction
    if isinstance(built, Covered) or (isinstance(built, Ribbed | Sheeted) and built.tail is not None):
        return np.zeros((0, 4))
    rows = []
    for inner, outer in itertools.pairwise(made):
        if min(inner.cover.behind_mm, outer.cover.behind_mm) <= 0.1:
            continue
        widths = [blank.station.chord_mm - blank.outline.tail_mm for blank in (inner, outer)]
        area = (widths[0] + widths[1]) / 2 * (outer.place.r_mm - inner.place.r_mm)
        middles = [
            blank.station.to_blade(np.array([[(blank.station.chord_mm + blank.outline.tail_mm) / 2, 0.0]]))[0]
            for blank in (inner, outer)
        ]
        rows.append([area, *((middles[0] + middles[1]) / 2)])
    return np.array(rows).reshape(-1, 4)


def _core(made: Sequence[Blank], cores: Sequence[Part]) -> Rows:
    """A core with its end ribs' faces."""
    if not cores:
        return np.zeros((0, 4))
    rows = [[abs(b.region.area()), *b.station.to_blade(np.array([b.region.centroid()]))[0]] for b in made]
    return np.array(rows).reshape(-1, 4)

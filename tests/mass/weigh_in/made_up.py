"""Craft that are made up: a few lines of random size, hidden truth drawn from the stated spread, and what the scale
says of it. All equations are the test's own."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.library import demo
from geomgen.design.schema import Design
from geomgen.design.schema.stock import LengthStock, SheetStock
from geomgen.design.schema.table import Reading as Bare
from geomgen.mass.lines import Line, lines
from geomgen.mass.measured import measured
from geomgen.mass.weigh_in.reading import FORWARD, OUT, ROOT, TIP, WHOLE, Kind, Reading
from geomgen.model.joint import Key
from geomgen.model.part import Area, Bought, Length, Part, Shape
from geomgen.model.role import Assembly, Role
from geomgen.stock.sharing import Sharing

NINE = 1.6448536269514722
STEP_G, STEP_MM = 0.1, 1.0
BLADES = 2
STOCKS: dict[str, dict[str, Any]] = {
    "plank": {
        "kind": "sheet", "of": "balsa", "thickness": 3, "size": [1000, 100],
        "density": ["80 kg/m3", "140 kg/m3", "200 kg/m3"],
    },
    "cover": {
        "kind": "sheet", "of": "birch ply", "thickness": 2, "size": [600, 300],
        "density": ["650 kg/m3", "720 kg/m3", "790 kg/m3"],
    },
    "rod": {
        "kind": "length", "of": "spruce", "width": 3, "height": 6, "length": 1000,
        "density": ["380 kg/m3", "440 kg/m3", "500 kg/m3"],
    },
}  # fmt: skip
DENSITIES = {"plank": (80.0, 140.0, 200.0), "cover": (650.0, 720.0, 790.0), "rod": (380.0, 440.0, 500.0)}  # [kg/m3]


def made_up_design() -> Design:
    """The demo's two blades; two kinds of sheet and a rod, with bands, of wood."""
    found = demo().design.model_copy(update={"stock": {}})
    for name, table in STOCKS.items():
        kind = SheetStock if table["kind"] == "sheet" else LengthStock
        found.stock[name] = kind.model_validate(table, context=Bare("mm"))
    return found


@dataclass(frozen=True, eq=False)
class MadeUp:
    """One craft.

    lines, sharing : as the statement has them
    which    : (line, blade) of each unknown; blade None on the hub
    mean     : (n,) typical mass [g]
    loads    : (n, k) what each of k errors of variance 1 does to each [g]
    sheets   : (name, typical mass, (k,) loads) of each bare sheet, and of a bare rod
    truth    : (k,) the hidden errors
    """

    lines: tuple[Line, ...]
    sharing: Sharing
    which: list[tuple[int, int | None]]
    mean: FloatArray
    loads: FloatArray
    sheets: list[tuple[str, float, FloatArray]]
    truth: FloatArray


def part(name: str, shape: Shape, spread: list[list[float]], stock: str = "", **more: Any) -> Part:
    """A part of few words, on the blade unless it says otherwise."""
    role, count = more.pop("role", Role.RIB), more.pop("count", 1)
    return Part(name, role, stock, name, shape, more.pop("assembly", Assembly.BLADE), count, np.array(spread), **more)


def made_up(random: np.random.Generator, design: Design) -> MadeUp:
    """A craft of random sizes with hidden densities."""
    parts: list[Part] = []
    for k in range(4):
        at = [1.0, float(random.uniform(130, 780)), float(random.uniform(-40, 20)), 0.0]
        parts.append(
            part(f"rib {k}", Area(float(random.uniform(1500, 6000))), [at], ("plank", "cover")[k % 2], count=1 + k // 2)
        )
    parts.append(part("spar", Length(float(random.uniform(400, 900))), [[1, 420, 0, 0]], "rod", role=Role.SPAR))
    fan = float(random.uniform(15, 40))
    parts.append(part("fan", Bought((0.9 * fan, fan, 1.1 * fan)), [[1, 760, 12, 0]], role=Role.FITTING))
    pack = float(random.uniform(100, 200))
    pack_at = [[1.0, 0.0, 0.0, 0.0]]
    parts.append(
        part("pack", Bought((0.95 * pack, pack, 1.05 * pack)), pack_at, assembly=Assembly.HUB, role=Role.FITTING)
    )
    parts.append(
        part("plate", Area(float(random.uniform(3e3, 9e3))), pack_at, "cover", assembly=Assembly.HUB, role=Role.HUB)
    )
    found = lines(measured(parts, {}), design)
    sharing: dict[Key, tuple[str, ...]] = {}
    for line in found:
        if line.stock in ("plank", "cover"):
            copies = line.count * (BLADES if line.assembly == Assembly.BLADE else 1)
            sharing[line.key] = tuple(f"{line.stock} {n}" for n in random.integers(1, 3, copies).tolist())
    return _hidden(random, found, sharing)


def _hidden(random: np.random.Generator, found: tuple[Line, ...], sharing: Sharing) -> MadeUp:
    """Each line in each blade is typical, plus its grade's error, its pieces' sheets' and each piece's own."""
    which = [(i, b) for i, line in enumerate(found) for b in ((1, 2) if line.assembly == Assembly.BLADE else (None,))]
    names: dict[str, int] = {}
    rows: list[dict[int, float]] = []

    def error(name: str) -> int:
        return names.setdefault(name, len(names))

    for i, blade in which:
        line, row = found[i], dict[int, float]()
        deviation = (line.set_g[2] - line.set_g[0]) / 2 / NINE
        grade, sheet, own = (deviation * math.sqrt(share) for share in line.split.shares)
        row[error(line.lot)] = grade
        copies = sharing.get(line.key, ())
        first = 0 if blade is None else (blade - 1) * line.count
        for n in range(line.count):
            on = copies[first + n] if copies else f"alone {i} {blade}"
            row[error(on)] = row.get(error(on), 0.0) + sheet / line.count
            row[error(f"own {i} {blade} {n}")] = own / line.count
        rows.append(row)
    bare = []
    for name, stock, mm3 in (
        ("plank 1", "plank", 1000.0 * 100 * 3),
        ("cover 2", "cover", 600.0 * 300 * 2),
        ("rod", "rod", 1000.0 * 3 * 6),
    ):
        band = DENSITIES[stock]
        line = next(line for line in found if line.stock == stock)
        deviation = mm3 * 1e-6 * (band[2] - band[0]) / 2 / NINE
        grade, sheet, _ = (deviation * math.sqrt(share) for share in line.split.shares)
        bare.append((name, mm3 * 1e-6 * band[1], {error(f"stock.{stock}"): grade, error(name): sheet}))
    size = len(names)
    loads = np.array([[row.get(k, 0.0) for k in range(size)] for row in rows])
    sheets = [(name, grams, np.array([row.get(k, 0.0) for k in range(size)])) for name, grams, row in bare]
    mean = np.array([found[i].set_g[1] for i, _ in which])
    return MadeUp(found, sharing, which, mean, loads, sheets, random.standard_normal(size))


@dataclass(frozen=True, eq=False)
class Said:
    """What the scale said, as readings and as the test's own equations: said = rows x mass + bare + noise.

    rows  : (m, n) on the lines in each blade
    bare  : (m, k) on the hidden errors, of bare sheets
    base  : (m,) what is said where nothing is off but the masses
    said  : (m,)
    noise : (m, m) covariance of the scale's and the ruler's errors
    """

    readings: list[Reading]
    rows: FloatArray
    bare: FloatArray
    base: FloatArray
    said: FloatArray
    noise: FloatArray


def weighed(random: np.random.Generator, craft: MadeUp, often: float = 0.3) -> Said:
    """Some readings of a craft, rounded to the scale's and the ruler's step. often : how likely each row is [-]"""
    mass = craft.mean + craft.loads @ craft.truth
    n, k = craft.loads.shape
    out = np.array([craft.lines[i].place_mm[0] for i, _ in craft.which])
    forward = np.array([craft.lines[i].place_mm[1] for i, _ in craft.which])
    found: list[tuple[Reading, FloatArray, FloatArray, float, float]] = []
    extra = list[tuple[int, int, float]]()  # pairs of readings with a place's error in both, of other signs

    def add(kind: Kind, which: str, blade: int | None, row: FloatArray, **more: float) -> None:
        bare = np.zeros(k)
        grams = round(float(row @ mass), 1)
        reading = Reading(10 + len(found), kind, which, blade, 1, grams, more.get("place", math.nan), STEP_G, STEP_MM)
        found.append((reading, row, bare, 0.0, STEP_G**2 / 12))

    def often_enough() -> bool:
        return bool(random.random() < often)

    for j, (i, blade) in enumerate(craft.which):
        if often_enough():
            add(Kind.PART, craft.lines[i].name, blade, np.eye(n)[j])
    for name, typical, loads in craft.sheets:
        if often_enough():
            kind = Kind.LENGTH if name == "rod" else Kind.SHEET
            grams = round(typical + float(loads @ craft.truth), 1)
            reading = Reading(10 + len(found), kind, name, None, 1, grams, math.nan, STEP_G, STEP_MM)
            found.append((reading, np.zeros(n), loads, typical, STEP_G**2 / 12))
    for blade in (1, 2):
        mine = np.array([float(b == blade) for _, b in craft.which])
        if often_enough():
            add(Kind.BLADE, WHOLE, blade, mine)
        if often_enough():
            places = random.uniform(180, 220), random.uniform(680, 720)
            read = [float(round(place)) for place in places]
            apart = places[1] - places[0]
            carried = [float(mine * (places[1] - out) / apart @ mass), float(mine * (out - places[0]) / apart @ mass)]
            shares = [mine * (read[1] - out), mine * (out - read[0])]
            for which, place, grams, row in zip((ROOT, TIP), read, carried, shares, strict=True):
                reading = Reading(10 + len(found), Kind.BLADE, which, blade, 1, round(grams, 1), place, STEP_G, STEP_MM)
                found.append((reading, row / (read[1] - read[0]), np.zeros(k), 0.0, STEP_G**2 / 12))
            moved = sum(round(grams, 1) ** 2 for grams in carried) / (read[1] - read[0]) ** 2 * STEP_MM**2 / 12
            extra.append((len(found) - 2, len(found) - 1, moved))
        for which, at in ((OUT, out), (FORWARD, forward)):
            if often_enough():
                place = float(round(float(mine * at @ mass / (mine @ mass))))
                reading = Reading(10 + len(found), Kind.BLADE, which, blade, 0, math.nan, place, STEP_G, STEP_MM)
                row = mine * (at - place) / float(mine @ craft.mean)
                found.append((reading, row, np.zeros(k), 0.0, STEP_MM**2 / 12))
    if often_enough():
        add(Kind.HUB, WHOLE, None, np.array([float(b is None) for _, b in craft.which]))
    if often_enough():
        add(Kind.CRAFT, WHOLE, None, np.ones(n))
    noise = np.diag([each[4] for each in found])
    for a, b, moved in extra:
        noise[[a, b], [a, b]] += moved
        noise[[a, b], [b, a]] -= moved
    return Said(
        [each[0] for each in found],
        np.array([each[1] for each in found]).reshape(-1, n),
        np.array([each[2] for each in found]).reshape(-1, k),
        np.array([each[3] for each in found]),
        np.array([0.0 if each[0].is_edge else each[0].mass_g for each in found]),
        noise,
    )

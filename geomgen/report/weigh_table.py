"""What `geomgen weigh` prints: the mass statement, the rpm that carries it, and what holds the blade in."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from geomgen.design.schema import Design
from geomgen.hover.mean_lift import MeanLift
from geomgen.mass.band import Band, Triple
from geomgen.mass.statement import MassStatement
from geomgen.mass.sums import Line
from geomgen.report.table import fixed, length, mass, table
from geomgen.strength.load_path import LoadPath
from geomgen.units import LENGTH, shown

WIDTH = 110
_SQUARE = {"in": (645.16, "in2"), "ft": (645.16, "in2")}
_CUBE = {"in": (16387.064, "in3"), "ft": (16387.064, "in3")}


def weigh_text(
    design: Design, statement: MassStatement, lifts: Sequence[MeanLift] = (), path: LoadPath | None = None
) -> str:
    """The whole page, lengths in the design's own unit, masses in g.

    design    : title, unit, speeds
    statement : mass statement
    lifts     : mean lift at the low, typical and high mass to lift; left out where empty
    path      : load path of one blade; left out where None
    returns   : text without a newline at the end
    """
    unit = design.units or "mm"
    pages = [
        f"{design.title}: mass statement\nMasses in g, lengths in {unit}. low and high: every figure at its end.",
        _parts(statement, unit),
        _blade(statement, unit),
        _craft(statement, unit, design.duty.mass_guess),
    ]
    pages += [_lift(design, statement, lifts, unit)] if lifts else []
    pages += [_path(path)] if path else []
    pages += [_sources(statement)]
    return "\n\n".join(pages)


def _parts(statement: MassStatement, unit: str) -> str:
    head = ["part", "stock", "n", "measure of one", "at", "low", "typical", "high", "out", "forward", "up"]
    pages = []
    for on, title in (("blade", f"One of the {statement.craft.blades} blades"), ("hub", "On the hub, once")):
        lines = [line for line in statement.lines if line.assembly == on]
        if lines:
            total = tuple(sum(line.set_g[end] for line in lines) for end in range(3))
            rows = [_row(line, unit) for line in lines]
            rows.append(["together", "", "", "", "", *(fixed(grams, 2) for grams in total), "", "", ""])
            pages.append(f"{title}\n{table(head, rows, left=2, foot=1)}")
    words = (
        "out: from the rotor axis along the feather axis. forward, up: from the feather axis, at the pitch where the "
        "reference station's chord is level. On the hub: along blade 1, towards its leading edge's side, and up."
    )
    if statement.unweighed:
        words += "\nNot weighed, so in no sum: " + ", ".join(statement.unweighed) + "."
    return "\n\n".join([*pages, _wrapped(words)])


def _row(line: Line, unit: str) -> list[str]:
    place = [length(value, unit) for value in line.place_mm]
    grams = [fixed(value, 2) for value in line.set_g]
    return [line.name, line.stock, str(line.count), _measure(line, unit), _figure(line, unit), *grams, *place]


def _measure(line: Line, unit: str) -> str:
    match line.figure.per:
        case "mm":
            return f"{length(line.amount, unit)} {unit}"
        case "mm2":
            times, name = _SQUARE.get(unit, (100.0, "cm2"))
            return f"{fixed(line.amount / times, 1)} {name}"
        case "mm3":
            times, name = _CUBE.get(unit, (1000.0, "cm3"))
            return f"{fixed(line.amount / times, 2)} {name}"
    return "bought"


def _figure(line: Line, unit: str) -> str:
    if line.figure.per == "piece":
        return ""
    figure = line.figure.figure
    share = f" x {100 * line.share:.0f} %" if line.share != 1.0 else ""
    across = _across(line, unit) if figure.unit == "kg/m3" else ""
    return f"{figure.typical:.4g} {figure.unit}{across}{share}"


def _across(line: Line, unit: str) -> str:
    """The thickness or section that turns a density into mass per area or length."""
    if line.figure.per == "mm2":
        return f" x {shown(line.figure.across, LENGTH, unit, 3)}"
    if line.figure.per == "mm":
        times, name = _SQUARE.get(unit, (1.0, "mm2"))
        return f" x {line.figure.across / times:.3g} {name}"
    return ""


def _band(name: str, unit: str, band: Band, show: Sequence[str]) -> list[str]:
    low, typical, high, likely_low, likely_high = show
    return [name, unit, typical, f"{likely_low} to {likely_high}", f"{low} to {high}"]


def _masses(band: Band) -> list[str]:
    return [mass(end) for end in _ends(band)]


def _lengths(band: Band, unit: str) -> list[str]:
    return [length(end, unit) for end in _ends(band)]


def _ends(band: Band) -> tuple[float, ...]:
    return band.low, band.typical, band.high, band.likely_low, band.likely_high


def _blade(statement: MassStatement, unit: str) -> str:
    blade = statement.blade
    centres = (
        ("centre of gravity, out", blade.cg_radius_mm),
        ("centre of gravity, forward", blade.cg_chordwise_mm),
        ("the same weighted by r", blade.cg_chordwise_r_weighted_mm),
        ("centre of gravity, up", blade.cg_vertical_mm),
    )
    moment = blade.static_moment_g_mm
    rows = [_band("mass", "g", blade.mass_g, _masses(blade.mass_g))]
    rows += [_band(name, unit, band, _lengths(band, unit)) for name, band in centres]
    scale = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}[unit]
    rows.append(_band("static moment", f"g·{unit}", moment, [fixed(end / scale, 0) for end in _ends(moment)]))
    return "One blade\n" + table(["", "", "typical", "likely", "bound"], rows, left=2)


def _craft(statement: MassStatement, unit: str, guess_g: float | None) -> str:
    craft = statement.craft
    rows = [
        _band("mass of all parts", "g", craft.mass_g, _masses(craft.mass_g)),
        ["payload", "g", mass(craft.payload_g), "", ""],
        _band("to lift", "g", craft.lift_g, _masses(craft.lift_g)),
    ]
    if guess_g is not None:
        rows.append(["guessed, in the design", "g", mass(guess_g), "", ""])
    for axis, band in (("x", craft.cg_x_mm), ("y", craft.cg_y_mm), ("z", craft.cg_z_mm)):
        rows.append(_band(f"centre of gravity, {axis}", unit, band, _lengths(band, unit)))
    words = (
        "x along blade 1, z up from where the feather axes meet the rotor axis; without payload. bound: every mass at "
        "its worst end. likely: stocks differ on their own, root of the sum of squares; one stock is off as a whole. "
        "Blades are taken as alike: what their scatter does to balance isn't in here."
    )
    head = ["", "", "typical", "likely", "bound"]
    return f"Whole craft, {craft.blades} blades and hub\n{table(head, rows, left=2)}\n{_wrapped(words)}"


def _lift(design: Design, statement: MassStatement, lifts: Sequence[MeanLift], unit: str) -> str:
    one = lifts[0]
    rows = [
        [mass(lift.mass_g), fixed(lift.rpm, 0), fixed(lift.tip_speed_m_s, 1)]
        for lift in sorted(lifts, key=lambda lift: lift.mass_g)
    ]
    words = (
        f"At a mean lift coefficient of {one.lift_coefficient:g} in air of {one.air_density_kg_m3:.4g} kg/m3, "
        f"reference radius {length(one.reference_radius_mm, unit)} {unit}; the design says {design.duty.rpm:g} rpm.\n"
        f"{one.formula}.\n{one.warning}"
    )
    if statement.unweighed:
        words += "\nWhat was not weighed is not lifted here either."
    text = table(["to lift, g", "rpm", "tip speed, m/s"], rows, left=0)
    return f"Rotor speed that carries it, by mean lift\n{text}\n{_wrapped(words)}"


def _path(path: LoadPath) -> str:
    def row(carried: str, held_by: str, mass_g: Triple, pull_n: Triple) -> list[str]:
        return [carried, held_by, mass(mass_g[1]), mass(mass_g[2]), fixed(pull_n[1], 1), fixed(pull_n[2], 1)]

    links = (*path.links, *path.fittings)
    rows = [row(link.carried, link.held_by, link.mass_g, link.pull_n) for link in links]
    text = table(["carried", "held by", "typical, g", "high, g", "pull, N", "high, N"], rows, left=2)
    words = f"{path.formula}. Pulls only: no strength is compared with them yet."
    return f"What holds one blade in, at {path.rpm_max:g} rpm\n{text}\n{_wrapped(words)}"


def _sources(statement: MassStatement) -> str:
    words = {}
    for line in statement.lines:
        figure = line.figure.figure
        if line.figure.per != "piece":
            ends = f"{figure.low:.4g}, {figure.typical:.4g}, {figure.high:.4g} {figure.unit}"
            words[line.stock or line.path] = f"{line.stock or line.path}: {ends}; {figure.source}"
    lines = [textwrap.fill(text, WIDTH, initial_indent="  ", subsequent_indent="    ") for text in words.values()]
    stated = "  Bought things, and how much of a print is there: design file."
    return "\n".join(["Where the figures come from (low, typical, high)", *lines, stated])


def _wrapped(words: str) -> str:
    return "\n".join(textwrap.fill(line, WIDTH) for line in words.split("\n"))

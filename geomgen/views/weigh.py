"""What `geomgen weigh` says: the mass statement, the rpm that carries it, and what holds the blade in."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from geomgen.craft import Craft
from geomgen.design.schema import Design
from geomgen.errors import Fault
from geomgen.hover.mean_lift import MeanLift
from geomgen.mass.band import Band
from geomgen.mass.lines import Line
from geomgen.mass.statement import MassStatement
from geomgen.model.role import Assembly
from geomgen.strength.load_path import LoadPath
from geomgen.units import LENGTH, shown
from geomgen.views.cautions import WEIGH, cautions
from geomgen.views.page import Cell, Item, Page, Row, Section, Table, as_columns
from geomgen.views.quantity import Amount, Length, Mass, Moment, Number, Single, Span, length
from geomgen.views.verdict import verdict_sections
from geomgen.views.weigh_data import share_words

_BAND_HEAD = as_columns("", "", "typical", "likely", "bound")


def weigh_page(craft: Craft, warnings: Sequence[Fault] = ()) -> Page:
    """The whole page: verdict, one blade, the craft, what carries it, what holds it; then part by part.

    warnings : those of the craft, each with its file and line
    """
    design, statement, unit = craft.design, craft.mass, craft.design.units or "mm"
    title = f"{design.title}: mass statement\nMasses in g, lengths in {unit}. low and high: every figure at its end."
    return Page(
        (
            (title,),
            *verdict_sections(craft.verdict, unit, warnings),
            one_blade(statement, unit),
            whole_craft(statement, unit, design.duty.mass_guess),
            mean_lift(design, statement, craft.lifts, unit),
            load_path(craft.load_path),
            *parts_in(statement, unit),
            sources(statement),
            cautions(WEIGH),
        ),
        unit,
    )


def parts_in(statement: MassStatement, unit: str) -> list[Section]:
    """Every line of the statement, those of a blade and those on the hub, and how to read their places."""
    columns = as_columns(
        "part", "stock", "n", "measure of one", "at", "low", "typical", "high", "out", "forward", "up"
    )  # fmt: skip
    sections = []
    titles = {Assembly.BLADE: f"One of the {statement.craft.blades} blades", Assembly.HUB: "On the hub, once"}
    for assembly, title in titles.items():
        lines = [line for line in statement.lines if line.assembly == assembly]
        if lines:
            total = (Number(sum(line.set_g[end] for line in lines), 2) for end in range(3))
            together: Row = ("together", "", "", "", "", *total, "", "", "")
            rows = (*(_row(line, unit) for line in lines), together)
            sections.append((title, Table(columns, rows, left=2, foot=1)))
    words = (
        "out: from the rotor axis along the feather axis. forward, up: from the feather axis, at the pitch where the "
        "reference station's chord is level. On the hub: along blade 1, towards its leading edge's side, and up."
    )
    if statement.unweighed:
        words += "\nNot weighed, so in no sum: " + ", ".join(statement.unweighed) + "."
    return [*sections, (words,)]


def _row(line: Line, unit: str) -> Row:
    per = line.figure.per
    measure: Cell = "bought" if per == "piece" else Amount(line.amount, per)
    grams, place = (Number(value, 2) for value in line.set_g), (Length(value) for value in line.place_mm)
    return line.name, line.stock, line.count, measure, _figure(line, unit), *grams, *place


def _figure(line: Line, unit: str) -> str:
    """What one measure weighs; of a density with the thickness or section that makes it mass per area or length."""
    figure, per = line.figure.figure, line.figure.per
    if per == "piece":
        return ""
    across = ""
    if figure.unit == "kg/m3" and per == "mm2":
        across = f" x {shown(line.figure.across, LENGTH, unit, 3)}"
    if figure.unit == "kg/m3" and per == "mm":
        inch = unit in ("in", "ft")
        across = f" x {line.figure.across / (645.16 if inch else 1.0):.3g} {'in2' if inch else 'mm2'}"
    share = f" x {100 * line.share.typical:.0f} %" if line.share is not None else ""
    return f"{figure.typical:.4g} {figure.unit}{across}{share}"


def _band(name: str, unit: str, band: Band, show: Callable[[float], Single]) -> Row:
    likely = Span(show(band.likely_low), show(band.likely_high))
    return name, unit, show(band.typical), likely, Span(show(band.low), show(band.high))


def one_blade(statement: MassStatement, unit: str) -> Section:
    """Mass, centre of gravity and static moment of one blade."""
    blade = statement.blade
    rows = (
        _band("mass", "g", blade.mass_g, Mass),
        _band("centre of gravity, out", unit, blade.cg_radius_mm, Length),
        _band("centre of gravity, forward", unit, blade.cg_chordwise_mm, Length),
        _band("the same weighted by r", unit, blade.cg_chordwise_r_weighted_mm, Length),
        _band("centre of gravity, up", unit, blade.cg_vertical_mm, Length),
        _band("static moment", f"g·{unit}", blade.static_moment_g_mm, Moment),
    )
    return "One blade", Table(_BAND_HEAD, rows, left=2)


def whole_craft(statement: MassStatement, unit: str, guess_g: float | None) -> Section:
    """Mass and centre of gravity of the whole craft, and what there is to lift; guess [g]."""
    craft = statement.craft
    guessed = [] if guess_g is None else [("guessed, in the design", "g", Mass(guess_g), "", "")]
    rows: tuple[Row, ...] = (
        _band("mass of all parts", "g", craft.mass_g, Mass),
        ("payload", "g", Mass(craft.payload_g), "", ""),
        _band("to lift", "g", craft.lift_g, Mass),
        *guessed,
        _band("centre of gravity, x", unit, craft.cg_x_mm, Length),
        _band("centre of gravity, y", unit, craft.cg_y_mm, Length),
        _band("centre of gravity, z", unit, craft.cg_z_mm, Length),
    )
    words = (
        "x along blade 1, z up from where the feather axes meet the rotor axis; without payload. bound: every mass at "
        "its worst end. likely: stocks differ on their own, root of the sum of squares; one stock is off as a whole. "
        "Blades are taken as alike: what their scatter does to balance isn't in here."
    )
    return f"Whole craft, {craft.blades} blades and hub", Table(_BAND_HEAD, rows, left=2), words


def mean_lift(design: Design, statement: MassStatement, lifts: Sequence[MeanLift], unit: str) -> Section:
    """The rpm that carries the low, typical and high mass to lift, by the mean-lift formula."""
    one = lifts[0]
    rows = tuple(
        (Mass(lift.mass_g), Number(lift.rpm, 0), Number(lift.tip_speed_m_s, 1))
        for lift in sorted(lifts, key=lambda lift: lift.mass_g)
    )
    words = (
        f"At a mean lift coefficient of {one.lift_coefficient:g} in air of {one.air_density_kg_m3:.4g} kg/m3, "
        f"reference radius {length(one.reference_radius_mm, unit)} {unit}; the design says {design.duty.rpm:g} rpm.\n"
        f"{one.formula}.\n{one.warning}"
    )
    if statement.unweighed:
        words += "\nWhat was not weighed is not lifted here either."
    table = Table(as_columns("to lift, g", "rpm", "tip speed, m/s"), rows, left=0)
    return "Rotor speed that carries it, by mean lift", table, words


def load_path(path: LoadPath) -> Section:
    """What each part of a blade hangs on, and the pull there."""
    rows: list[Row] = []
    for link in (*path.links, *path.fittings):
        grams, pulls = (Mass(one) for one in link.mass_g[1:]), (Number(one, 1) for one in link.pull_n[1:])
        rows.append((link.carried, link.held_by, *grams, *pulls))
    table = Table(as_columns("carried", "held by", "typical, g", "high, g", "pull, N", "high, N"), tuple(rows), left=2)
    words = f"{path.formula}. Pulls only: no strength is compared with them yet."
    return f"What holds one blade in, at {path.rpm_max:g} rpm", table, words


def sources(statement: MassStatement) -> Section:
    """Where each stock's figure comes from."""
    words = {}
    for line in statement.lines:
        figure, name = line.figure.figure, line.stock or line.path
        if line.figure.per != "piece":
            ends = f"{figure.low:.4g}, {figure.typical:.4g}, {figure.high:.4g}"
            words[name] = f"{name}: {ends} {figure.unit}; {figure.source}{share_words(line.share)}"
    unless = " unless said above" if any(share_words(line.share) for line in statement.lines) else ""
    stated = f"Bought things, and how much of a print is there{unless}: design file."
    items = (Item("note", text) for text in (*words.values(), stated))
    return "Where the figures come from (low, typical, high)", *items

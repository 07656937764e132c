"""What `geomgen weigh` says: the mass statement, the rpm that carries it, and what holds the blade in."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from geomgen.craft import Craft
from geomgen.design.schema import Design
from geomgen.errors import Fault
from geomgen.figures import figure, g, mm, percent, unit_name, unit_of
from geomgen.hover.mean_lift import MeanLift
from geomgen.mass.band import Band
from geomgen.mass.lines import Line
from geomgen.mass.statement import MassStatement
from geomgen.mass.weigh_in.as_built import WEIGHED_IN
from geomgen.model.role import Assembly
from geomgen.strength.load_path import LoadPath
from geomgen.views.balance import balance_sections
from geomgen.views.cautions import WEIGH, cautions
from geomgen.views.page import Cell, Item, Page, Row, Section, Table, as_columns
from geomgen.views.quantity import Amount, Force, Length, Mass, Moment, Number, Single, Span, Speed
from geomgen.views.verdict import verdict_sections
from geomgen.views.weigh_data import share_words
from geomgen.views.weighed_in import weighed_in_sections

MOST_LOTS = 4
_BAND_HEAD = as_columns("", "", "typical", "likely", "bound")


def weigh_page(craft: Craft, warnings: Sequence[Fault] = ()) -> Page:
    """The whole page: verdict, one blade, the craft, what carries it, what holds it, its balance; then part by part.

    warnings : those of the craft, each with its file and line
    """
    design, statement = craft.design, craft.mass
    in_units = f"Masses in {unit_name('g')}, lengths in {unit_name('mm')}"
    ends = "every figure at its end" + (", or nine of ten where it was weighed in" if statement.each_blade else "")
    title = f"{design.title}: mass statement\n{in_units}. low and high: {ends}."
    return Page(
        (
            (title,),
            *verdict_sections(craft.verdict, warnings),
            *weighed_in_sections(statement, craft.weighed_in),
            one_blade(statement),
            whole_craft(statement, design.duty.mass_guess),
            carrying(craft),
            mean_lift(design, statement, craft.lifts),
            load_path(craft.load_path),
            *balance_sections(craft),
            *parts_in(statement),
            sources(statement),
            cautions(WEIGH),
        ),
        design.units or "mm",
    )


def parts_in(statement: MassStatement) -> list[Section]:
    """Every line of the statement, those of a blade and those on the hub, and how to read their places."""
    columns = as_columns(
        "part", "stock", "n", "measure of one", "at", "low", "typical", "high", "out", "forward", "up"
    )  # fmt: skip
    sections = []
    titles = {Assembly.BLADE: f"One of the {statement.craft.blades} blades", Assembly.HUB: "On the hub, once"}
    for assembly, title in titles.items():
        lines = [line for line in statement.lines if line.assembly == assembly]
        if lines:
            total = (Mass(sum(line.set_g[end] for line in lines), 2) for end in range(3))
            together: Row = ("together", "", "", "", "", *total, "", "", "")
            rows = (*map(_row, lines), together)
            sections.append((title, Table(columns, rows, left=2, foot=1)))
    words = (
        "out: from the rotor axis along the feather axis. forward, up: from the feather axis, at the pitch where the "
        "reference station's chord is level. On the hub: along blade 1, towards its leading edge's side, and up."
    )
    if statement.unweighed:
        words += "\nNot weighed, so in no sum: " + ", ".join(statement.unweighed) + "."
    return [*sections, (words,)]


def _row(line: Line) -> Row:
    per = line.figure.per
    measure: Cell = "bought" if per == "piece" else Amount(line.amount, per)
    grams, place = (Mass(value, 2) for value in line.set_g), (Length(value) for value in line.place_mm)
    return line.name, line.stock, line.count, measure, _figure(line), *grams, *place


def _figure(line: Line) -> str:
    """What one measure weighs; of a density with the thickness or section that makes it mass per area or length."""
    found, per = line.figure.figure, line.figure.per
    if per == "piece":
        return ""
    kind = {"mm2": "mm", "mm": "mm2"}.get(per) if found.unit == "kg/m3" else None
    across = f" x {figure(kind, line.figure.across, significant=3)}" if kind else ""
    share = f" x {100 * line.share.typical:.0f} %" if line.share is not None else ""
    return f"{figure(found.unit, found.typical, significant=4)}{across}{share}"


def _band(name: str, kind: str, band: Band, show: Callable[[float], Single]) -> Row:
    likely = Span(show(band.likely_low), show(band.likely_high))
    return name, unit_of(kind), show(band.typical), likely, Span(show(band.low), show(band.high))


def one_blade(statement: MassStatement) -> Section:
    """Mass, centre of gravity and static moment of one blade."""
    blade = statement.blade
    rows = (
        _band("mass", "g", blade.mass_g, Mass),
        _band("centre of gravity, out", "mm", blade.cg_radius_mm, Length),
        _band("centre of gravity, forward", "mm", blade.cg_chordwise_mm, Length),
        _band("the same weighted by r", "mm", blade.cg_chordwise_r_weighted_mm, Length),
        _band("centre of gravity, up", "mm", blade.cg_vertical_mm, Length),
        _band("static moment", "g mm", blade.static_moment_g_mm, Moment),
    )
    first = ", ".join(f"{lot} ({percent(share)})" for lot, share in blade.weigh_first[:MOST_LOTS] if share >= 0.005)
    weigh = f" To know its mass better weigh first: {first} of the variance." if first else ""
    words = (
        f"Of two blades nine of ten pairs differ by no more than {g(blade.apart_g, 1)}, and by "
        f"{figure('g mm', blade.apart_g_mm, 0)} in static moment, sheets shared as boxes would be packed.{weigh}"
    )
    if statement.each_blade:
        words = (
            "The mean of the blades as they were weighed in, from the lightest's low to the heaviest's high. Two of "
            f"them differ by no more than {g(blade.apart_g, 2)}, and by {figure('g mm', blade.apart_g_mm, 0)} in "
            "static moment, nine of ten."
        )
    return "One blade", Table(_BAND_HEAD, rows, left=2), words


def whole_craft(statement: MassStatement, guess_g: float | None) -> Section:
    """Mass and centre of gravity of the whole craft, and what there is to lift; guess [g]."""
    craft = statement.craft
    guessed = [] if guess_g is None else [("guessed, in the design", unit_of("g"), Mass(guess_g), "", "")]
    rows: tuple[Row, ...] = (
        _band("mass of all parts", "g", craft.mass_g, Mass),
        ("payload", unit_of("g"), Mass(craft.payload_g), "", ""),
        _band("to lift", "g", craft.lift_g, Mass),
        *guessed,
        _band("centre of gravity, x", "mm", craft.cg_x_mm, Length),
        _band("centre of gravity, y", "mm", craft.cg_y_mm, Length),
        _band("centre of gravity, z", "mm", craft.cg_z_mm, Length),
    )
    words = (
        "x along blade 1, z up from where the feather axes meet the rotor axis; without payload. bound: every mass at "
        "its worst end. likely: nine of ten; a grade is heavy in all its sheets, a sheet in all that is cut from it, "
        "the rest piece by piece."
    )
    if statement.each_blade:
        words = (
            "x along blade 1, z up from where the feather axes meet the rotor axis; without payload. Each blade counts "
            "as it was weighed in. likely: nine of ten, by what the readings leave; bound: three standard deviations."
        )
    return f"Whole craft, {craft.blades} blades and hub", Table(_BAND_HEAD, rows, left=2), words


def carrying(craft: Craft) -> Section:
    """The rpm that carries it at the pitch to fly at, as hover has it."""
    found = craft.verdict.hover
    if found is None or found.rpm is None or found.air_w is None:
        return ("Hover finds no rpm at which it is carried: `geomgen hover` says why.",)
    rows = tuple(
        (words, Number(found.rpm[end], 0), Number(found.air_w[end], 1))
        for end, words in enumerate(("low", "typical", "high"))
    )
    table = Table(as_columns("nine of ten between", "rpm", "in the air, W"), rows, left=1)
    return f"Rotor speed that carries it at {found.pitch_deg:g} deg", table, "By `geomgen hover`, which says the rest."


def mean_lift(design: Design, statement: MassStatement, lifts: Sequence[MeanLift]) -> Section:
    """The rpm that carries the low, typical and high mass to lift, by the mean-lift formula."""
    one = lifts[0]
    rows = tuple(
        (Mass(lift.mass_g), Number(lift.rpm, 0), Speed(lift.tip_speed_m_s))
        for lift in sorted(lifts, key=lambda lift: lift.mass_g)
    )
    air = figure("kg/m3", one.air_density_kg_m3, significant=4)
    words = (
        f"At a mean lift coefficient of {one.lift_coefficient:g} in air of {air}, "
        f"reference radius {mm(one.reference_radius_mm, 1)}; the design says {design.duty.rpm:g} rpm.\n"
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
        grams, pulls = (Mass(one) for one in link.mass_g[1:]), (Force(one) for one in link.pull_n[1:])
        rows.append((link.carried, link.held_by, *grams, *pulls))
    table = Table(as_columns("carried", "held by", "typical, g", "high, g", "pull, N", "high, N"), tuple(rows), left=2)
    words = f"{path.formula}. What is judged of them is said at the top."
    return f"What holds one blade in, at {path.rpm_max:g} rpm", table, words


def _shares(statement: MassStatement, line: Line) -> str:
    """How much of a stock's prints is there; where it differs from part to part, each part's."""
    shares = {one.name: one.share for one in statement.lines if one.stock == line.stock and one.share is not None}
    if line.share is None or len({share.typical for share in shares.values()}) < 2:
        return share_words(line.share)
    each = (f"{name} {100 * s.low:.1f}, {100 * s.typical:.1f}, {100 * s.high:.1f} %" for name, s in shares.items())
    told = dict.fromkeys(share.source for share in shares.values())
    return f"; of that, a print is: {', '.join(each)}; {'; '.join(told)}"


def sources(statement: MassStatement) -> Section:
    """Where each stock's figure comes from."""
    words = {}
    built: dict[str, list[float]] = {}
    for line in statement.lines:
        found, name = line.figure.figure, line.stock or line.path
        if found.source == WEIGHED_IN and line.figure.per != "piece":
            some = built.setdefault(name, [])
            some.append(found.typical)
            each = sorted({min(some), max(some)})
            words[name] = f"{name}: {figure(found.unit, each, words=' to ', significant=4)}; {WEIGHED_IN}"
        elif line.figure.per != "piece" and name not in built:
            ends = figure(found.unit, (found.low, found.typical, found.high), words=", ", significant=4)
            words[name] = f"{name}: {ends}; {found.source}{_shares(statement, line)}"
    unless = " unless said above" if any(share_words(line.share) for line in statement.lines) else ""
    stated = f"Bought things, and how much of a print is there{unless}: design file."
    items = (Item("note", text) for text in (*words.values(), stated))
    return "Where the figures come from (low, typical, high)", *items

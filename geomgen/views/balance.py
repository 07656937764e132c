"""Balance in words and tables: what is out of balance, weights that trim it, the centre along the chord, inertia.

The same sections stand on the page of `weigh` and in a chapter of their own; `balance_data` is for machines.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from geomgen.balance.before import Before
from geomgen.balance.chordwise import Centre, Chordwise
from geomgen.balance.chordwise import NoseWeight as NoseWeightFound
from geomgen.balance.inertia import Inertia as InertiaFound
from geomgen.balance.scatter import Scatter
from geomgen.balance.stages import Balance
from geomgen.balance.trim import Trim
from geomgen.balance.unbalance import Unbalance, Vector
from geomgen.craft import Craft
from geomgen.figures import figure, g, mm, newton, percent, unit_of
from geomgen.mass.sums import CraftMass
from geomgen.model.joint import Key
from geomgen.views.page import Item, Row, Section, Table, as_columns
from geomgen.views.quantity import Force, Inertia, Length, Mass, Moment, Number, Torque

YARDSTICK = (
    "G is how far the centre lies off the axis times its speed, in millimetres a second, by which ISO 21940-11 grades. "
    "It is made for stiff rotors in bearings: a yardstick here, no requirement, as blades "
    "in air are another thing."
)
NO_POCKETS = (
    "The design names no pockets for trim weights: [blade.trim.NAME] in each blade, [hub.trim] round the hub. What "
    "woods and glue will add to this is known when blades are weighed."
)
MOST_LOTS = 4
FROM_BLADE_1 = "from blade 1, anticlockwise seen from above"


def balance_sections(craft: Craft) -> tuple[Section, ...]:
    """All of it; of a craft that was weighed in, what is left to know instead of what to expect before."""
    found, built = craft.balance, craft.mass.craft if craft.weighed_in is not None else None
    expect = () if built is not None else (expected(craft.scatter, craft.names),)
    return (unbalance(found, built), trim(found), *expect, along_chord(found), *inertia_tables(craft.inertia, found))


def unbalance(found: Balance, built: CraftMass | None = None) -> Section:
    """What is out of balance as designed, and what that does at the mast.

    built : sums of a craft that was weighed in; None where blades are taken as alike
    """
    of, rpm = found.unbalance, found.rpm
    rows: list[Row] = [
        ("unbalance", unit_of("g mm"), Moment(of.static.size), _where(of.static)),
        ("centre off the axis", unit_of("mm"), Length(of.eccentricity_mm, 3), ""),
        ("its force at the mast", unit_of("N"), Force(of.force_n(rpm), 3), ""),
        ("couple", unit_of("g cm2"), Inertia(of.couple.size, 1), _where(of.couple)),
        ("its moment at the mast", unit_of("N mm"), Torque(of.couple_nm(rpm), 2), ""),
    ]
    for name, (height, each) in zip(("hub's floor", "hub's rim"), found.planes, strict=True):
        words = f"in the plane of the {name}, z {mm(height, 1)}"
        rows.append((words, unit_of("g mm"), Moment(each.size), _where(each)))
    rows += [
        ("its G", "", Number(of.grade_mm_s(rpm), 2), ""),
        *(
            (f"a stiff rotor in bearings has at G {grade:g}", unit_of("g mm"), Moment(most), "")
            for grade, most in found.grades
        ),
    ]
    by = "hover has it" if found.by_hover else "the design has it, as hover finds no rpm that carries it"
    blades, title = "blades alike", "Unbalance as designed"
    if built is not None:
        blades, title = f"each blade as it was weighed in, {_left_to_know(built)}", "Unbalance as weighed in"
    words = (
        f"Of all that turns, {g(of.mass_g, 1)} without payload, {blades}, at the pitch set, coned, at {rpm:.0f} "
        f"rpm, as {by}. Where it is heavy: {FROM_BLADE_1}. couple: of masses at different heights, about where the "
        "feather axes meet; floor and rim: both together as two weights there. One blade heavier than its like by "
        f"{figure('g', 1.0)}, spread as it is, would make {figure('g mm', found.by_one_g_mm, 0)} more. {YARDSTICK}"
    )
    return title, Table(as_columns("", "", "", "at, deg"), tuple(rows), left=2), words


def _left_to_know(built: CraftMass) -> str:
    """What the readings leave open, of a band each along blade 1 and across it."""
    along, across = (
        (band.likely_high - band.likely_low) / 2.0 * built.mass_g.typical for band in (built.cg_x_mm, built.cg_y_mm)
    )
    return f"nine of ten within {figure('g mm', along, 0)} along blade 1 and {figure('g mm', across, 0)} across it"


def _where(of: Vector) -> Number | str:
    return "" if of.azimuth_deg is None or round(of.size) == 0 else Number(of.whole_deg, 0)


def trim(found: Balance) -> Section:
    """Which weights go where, what is left, what can't be reached."""
    aim = "" if found.aim_g_mm is None else f" Aimed at: no more than {figure('g mm', found.aim_g_mm)} (balance.aim)."
    if found.trim is None:
        return "Trim weights", NO_POCKETS + aim
    of = found.trim
    ready = _ready(of)
    if not of.weights:
        said = "None are needed as designed." if of.after.static.size <= of.enough_g_mm else "None help."
        return "Trim weights", f"{said}{aim} {ready}"
    rows: tuple[Row, ...] = tuple(
        (each.pocket.words, each.count, Mass(each.mass_g), *(Length(float(at)) for at in each.pocket.place))
        for each in of.weights
    )
    table = Table(as_columns("pocket", "weights", "mass, g", "x, mm", "y, mm", "z, mm"), rows, left=1)
    least = "the fewest weights that leave no more" if found.aim_g_mm is not None else "the fewest that leave little"
    better = f"no choice of whole weights is better ({least})" if of.proved else "the best of many that were looked at"
    words = f"Weights of {figure('g', of.step_g)} each: {better}. Left: {_left(of.after)}.{aim} {ready}"
    return "Trim weights", table, words


def _left(of: Unbalance) -> str:
    said = figure("g mm", of.static.size, 0)
    return said if of.static.azimuth_deg is None else f"{said} at {of.static.whole_deg} deg {FROM_BLADE_1}"


def _ready(of: Trim) -> str:
    """What pockets can take, and what none can."""
    kinds = {pocket.path: pocket for pocket in of.pockets}
    room = [
        f"{sum(each.path == path for each in of.pockets)} pockets of {figure('g', pocket.most_g)} at {path}"
        for path, pocket in kinds.items()
    ]
    words = [f"There are {', '.join(room)}; nothing is cut for them."]
    if of.out_of_reach.size >= 0.5:
        reach = figure("g mm", of.out_of_reach.size, 0)
        words.append(
            f"Out of reach of every pocket, however heavy the weight: {reach} at {of.out_of_reach.whole_deg} deg."
        )
    if of.in_one_line:
        words.append("All pockets stand in one line through the axis: weights in them take nothing away across it.")
    return " ".join(words)


def expected(of: Before, names: Mapping[Key, str]) -> Section:
    """How far out of balance it will come out before anything is weighed; which copy goes to which blade."""
    rows: tuple[Row, ...] = tuple(
        (name, Moment(scatter.median), Moment(scatter.ninety))
        for name, scatter in (
            ("sheets shared between blades, as they are laid", of.chosen),
            ("each blade from sheets of its own", of.apart),
        )
    )
    lots = ", ".join(f"{percent(share)} from {lot}" for lot, share in of.chosen.by_lot[:MOST_LOTS])
    words = (
        "By what woods, foams, prints, glue and bought things differ, grade, sheet and piece (the shares are in the "
        f"catalogue, most from memory). Of its variance: {lots}. Weigh these first, piece by piece. Weights to have "
        f"ready for nine craft of ten: {g(of.ready_g)} at {mm(of.reach_mm, 0)} from the axis."
    )
    pairs = [
        Item("note", f"{names[key]}: " + ", ".join(f"from {sheet} to blade {blade}" for sheet, blade in copies))
        for key, copies in of.blade_of.items()
    ]
    title = "Unbalance to expect before anything is weighed"
    table = Table(
        as_columns("", f"half of them have less, {unit_of('g mm')}", f"nine of ten, {unit_of('g mm')}"), rows, left=1
    )
    return title, table, words, *pairs


def along_chord(found: Balance) -> Section:
    """Where one blade's mass sits along its chord, and the nose weight that is asked for."""
    of = found.chordwise
    rows = (_centre("centre of gravity", of.plain), _centre("the same weighted by r", of.weighted))
    heads = "of one blade", "r, mm", "forward of feather axis, mm", "of quarter chord, mm", "% of chord"
    table = Table(as_columns(*heads), rows, left=1)
    words = (
        "Weighted by r: where the pull of the turning blade acts. A centre behind the quarter chord lets a soft blade "
        "twist as it bends; how much is not reckoned here."
    )
    weight = (_nose_weight(of.nose_weight, found),) if of.nose_weight is not None else ()
    return "Mass along the chord", table, words, *weight


def _centre(name: str, of: Centre) -> Row:
    share = 100.0 * (0.25 - of.quarter_mm / of.chord_mm)
    return name, Length(of.r_mm), Length(of.feather_mm), Length(of.quarter_mm), Number(share, 1)


def _nose_weight(of: NoseWeightFound, found: Balance) -> str:
    where = f"at r {mm(of.r_mm, 1)}, {mm(of.forward_mm, 1)} forward of the feather axis"
    wanted = f"the centre to {mm(of.to_mm, 1)} forward of it"
    if of.mass_g is None or of.then is None:
        return f"No weight {where} brings {wanted}: it lies behind that itself."
    if of.mass_g == 0.0:
        return f"No nose weight is needed: {wanted} or further is where it lies."
    pull = of.pull_n(found.rpm_max) or 0.0
    more = "no weight there does" if of.weighted_g is None else f"{g(of.weighted_g)} would do it weighted by r"
    return (
        f"A nose weight of {g(of.mass_g)} {where} brings {wanted}, and to {mm(of.then[1], 1)} weighted by r; {more}. "
        f"It costs {g(found.blades * of.mass_g)} in {found.blades} blades, and each pulls {newton(pull, 1)} at "
        f"{found.rpm_max:g} rpm. It isn't in the craft yet: a [fitting.*] on the blade puts it there."
    )


def inertia_tables(of: InertiaFound, found: Balance) -> tuple[Section, ...]:
    """Of one blade about its axes, and of all that turns."""
    blade, craft = of.blade, of.craft
    names = ("about the feather axis", "about the flap axis", "about the lag axis")
    pairs = (("feather and flap", 0, 1), ("feather and lag", 0, 2), ("flap and lag", 1, 2))
    tensors = blade.reference, blade.at_set
    rows: list[Row] = [
        (name, unit_of("g cm2"), *(Inertia(float(tensor[k, k])) for tensor in tensors)) for k, name in enumerate(names)
    ]
    rows += [
        (f"product of {name}", unit_of("g cm2"), *(Inertia(float(tensor[i, j]), 1) for tensor in tensors))
        for name, i, j in pairs
    ]
    rows.append(("about the rotor axis, coned", unit_of("g cm2"), "", Inertia(blade.about_rotor_axis)))
    columns = as_columns("of one blade", "", "at the reference pitch", f"at {blade.pitch_deg:g} deg")
    flat = blade.flattening_nm(found.rpm)
    words = (
        "All axes go through where the feather axis meets the rotor axis; flap: level and forward, lag: square to "
        "both. Products have their minus sign. Bought things count as points: their size isn't known. Turning at "
        f"{found.rpm:.0f} rpm, the product of flap and lag turns it nose {'down' if flat < 0.0 else 'up'} by "
        f"{figure('N mm', abs(1000.0 * flat), 1)}."
    )
    whole = craft.body
    centre: tuple[Row, ...] = tuple(
        (f"at its centre, about {axis}", unit_of("g cm2"), Inertia(float(whole.inertia[k, k])))
        for k, axis in enumerate(("x", "y", "z"))
    )
    row: Row = ("about the rotor axis", unit_of("g cm2"), Inertia(craft.about_rotor_axis))
    return (
        ("Inertia of one blade", Table(columns, tuple(rows), left=2), words),
        ("Inertia of all that turns", Table(as_columns("without payload", "", ""), (row, *centre), left=2),
         "x along blade 1, z up."),
    )  # fmt: skip


# As plain data


def balance_data(craft: Craft) -> dict[str, Any]:
    """{"inertia": {...}, "balance": {...}}, units in the keys; azimuths from blade 1, anticlockwise seen from above."""
    of, found = craft.inertia, craft.balance
    return {
        "inertia": {
            "blade": {
                "axes": ["feather", "flap", "lag"],
                "reference_g_mm2": of.blade.reference.tolist(),
                "at_set_g_mm2": of.blade.at_set.tolist(),
                "pitch_deg": of.blade.pitch_deg,
                "about_rotor_axis_g_mm2": of.blade.about_rotor_axis,
                "flattening_nm": of.blade.flattening_nm(found.rpm),
            },
            "craft": {
                "mass_g": of.craft.body.mass_g,
                "centre_mm": of.craft.body.centre.tolist(),
                "at_centre_g_mm2": of.craft.body.inertia.tolist(),
                "about_rotor_axis_g_mm2": of.craft.about_rotor_axis,
            },
        },
        "balance": {
            "rpm": found.rpm,
            "rpm_by_hover": found.by_hover,
            "chordwise": _chordwise_data(found.chordwise, found),
            "unbalance": _unbalance_data(found.unbalance, found.rpm),
            "planes": [{"z_mm": height, **_vector(each, "g_mm")} for height, each in found.planes],
            "iso_21940_11": {
                "made_for": "stiff rotors in bearings",
                "grade_mm_s": found.unbalance.grade_mm_s(found.rpm),
                "permissible": [{"grade_mm_s": grade, "unbalance_g_mm": most} for grade, most in found.grades],
            },
            "aim_g_mm": found.aim_g_mm,
            "trim": None if found.trim is None else _trim_data(found.trim, found.rpm),
            "expected": None if craft.weighed_in is not None else _expected_data(craft.scatter, craft.names),
        },
    }


def _expected_data(of: Before, names: Mapping[Key, str]) -> dict[str, Any]:
    def ends(scatter: Scatter) -> dict[str, Any]:
        (xx, xy), (_, yy) = scatter.covariance.tolist()
        spread = {"xx_g2_mm2": xx, "xy_g2_mm2": xy, "yy_g2_mm2": yy}
        return {"median_g_mm": scatter.median, "ninety_g_mm": scatter.ninety, "covariance": spread}

    return {
        "shared": ends(of.chosen),
        "own_sheets": ends(of.apart),
        "share_of_variance": dict(of.chosen.by_lot),
        "ready_g": of.ready_g,
        "reach_mm": of.reach_mm,
        "blade_of_copies": [
            {"part": names[key], "copies": [{"sheet": sheet, "blade": blade} for sheet, blade in copies]}
            for key, copies in of.blade_of.items()
        ],
    }


def _chordwise_data(of: Chordwise, found: Balance) -> dict[str, Any]:
    weight = of.nose_weight
    more = {} if weight is None else {"pull_n": weight.pull_n(found.rpm_max)}
    return {
        "centre": asdict(of.plain),
        "weighted_by_r": asdict(of.weighted),
        "nose_weight": None if weight is None else asdict(weight) | more,
    }


def _unbalance_data(of: Unbalance, rpm: float) -> dict[str, Any]:
    return {
        "mass_g": of.mass_g,
        "static": _vector(of.static, "g_mm"),
        "couple": _vector(of.couple, "g_mm2"),
        "eccentricity_mm": of.eccentricity_mm,
        "force_n": of.force_n(rpm),
        "couple_nm": of.couple_nm(rpm),
    }


def _trim_data(of: Trim, rpm: float) -> dict[str, Any]:
    return {
        "step_g": of.step_g,
        "pockets": [
            {"path": each.path, "number": each.number, "place_mm": each.place.tolist(), "most_g": each.most_g}
            for each in of.pockets
        ],
        "weights": [
            {"path": each.pocket.path, "number": each.pocket.number, "count": each.count, "mass_g": each.mass_g}
            for each in of.weights
        ],
        "mass_g": of.mass_g,
        "after": _unbalance_data(of.after, rpm),
        "out_of_reach": _vector(of.out_of_reach, "g_mm"),
        "proved": of.proved,
    }


def _vector(of: Vector, unit: str) -> dict[str, Any]:
    return {f"x_{unit}": of.x, f"y_{unit}": of.y, f"size_{unit}": of.size, "azimuth_deg": of.azimuth_deg}

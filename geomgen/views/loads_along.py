"""Loads of one blade in tables: along r at the highest speed, and at the hub in every case."""

from __future__ import annotations

import numpy as np

from geomgen.figures import fixed, mm
from geomgen.hover.as_twisted import AsTwisted
from geomgen.strength.blade_loads import GREATEST, TYPICAL, Case
from geomgen.strength.held import Held, rpm_of
from geomgen.views.page import Row, Section, Table, as_columns
from geomgen.views.quantity import Bending, Force, Length, Number, Span, Stiff

ROWS = 13  # radii of a table, as evenly as those worked out allow


def along(found: Held) -> Section:
    """What goes through each cross-section at the highest speed, masses and air at their high end."""
    loads, case = found.loads, found.loads.cases[found.fastest]
    each = loads.along.each(lambda one: one[GREATEST, found.fastest])
    rows: list[Row] = []
    for k in picked(len(loads.r_mm)):
        rows.append((
            Length(loads.r_mm[k], 0), Force(each.pull_n[k]), Force(each.flap_n[k], 2), Force(each.lag_n[k], 2),
            Bending(each.flap_nm[k], 3), Bending(each.lag_nm[k], 3), Bending(each.turn_nm[k], 3),
            Number(loads.twist_deg[GREATEST, found.fastest, k], 2),
        ))  # fmt: skip
    columns = as_columns(
        "r, mm", "pull, N", "shear up, N", "forward, N", "bending up, N m", "forward, N m", "twist, N m",
        "twisted by, deg",
    )  # fmt: skip
    words = (
        f"Worst of masses and air, {case.name}, {fixed(rpm_of(case.rad_s), 0)} rpm. up: the load bends the tip up; "
        "forward: in its motion; twist: + lifts the nose. In the rotor's axes, of an anticlockwise rotor."
    )
    return "Loads along the blade", Table(columns, tuple(rows), left=0), words


def at_the_hub(found: Held) -> Section:
    """What the spar does to its socket, its collar and the pins, in every case."""
    loads, socket = found.loads, found.loads.socket
    rows: list[Row] = []
    for k in found.shown:
        case = loads.cases[k]
        inner, outer = socket.inner_n[GREATEST, k], socket.outer_n[GREATEST, k]
        rows.append((
            case_words(case), Number(rpm_of(case.rad_s), 0), Span(Force(socket.collar_n[TYPICAL, k]),
            Force(socket.collar_n[GREATEST, k])), Force(outer[1]), Force(outer[0]), Force(inner[1]), Force(inner[0]),
            Bending(socket.pins_nm[GREATEST, k], 3),
        ))  # fmt: skip
    columns = as_columns(
        "case", "rpm", "collar, N", "outer end up, N", "forward, N", "inner end up, N", "forward, N", "pins, N m"
    )
    words = (
        "One blade on its socket: the collar takes the pull (typical to greatest), the socket's two ends all bending, "
        "the pins twist alone; ends and pins with masses and air at their high end."
        f"{several(found)}"
    )
    return "At the hub", Table(columns, tuple(rows), left=1), words


def shape(found: Held, flies: AsTwisted | None = None) -> Section:
    """How far the tip comes up or hangs, and how far it twists, in every case; what hover makes of that."""
    loads = found.loads
    rows: tuple[Row, ...] = tuple(
        (
            case_words(loads.cases[k]), *(Length(loads.droop_mm[row, k]) for row in (TYPICAL, GREATEST)),
            *(Number(loads.twist_deg[row, k, -1], 2) for row in (TYPICAL, GREATEST)),
        )
        for k in found.shown
    )  # fmt: skip
    columns = as_columns("case", "tip up, mm", "high end, mm", "tip twisted, deg", "high end, deg")
    words = (
        "up: above the cone that is built in, below it where < 0, the socket's play with it. twisted: by what bends "
        "and pulls, + lifts the nose, on top of the twist that is built in. high end: of masses and air. At "
        "moduli as they typically are."
        f"{several(found)}"
    )
    return "Droop, coning and twist under load", Table(columns, rows, left=1), words, *_flies(flies)


def _flies(flies: AsTwisted | None) -> tuple[str, ...]:
    if flies is None:
        return ()
    way = "up" if flies.turned_deg > 0.0 else "down"
    turned = f"In hover its loads turn it {fixed(abs(flies.turned_deg), 2)} deg nose {way} where a pitch is told of: "
    if flies.rpm is None:
        return (
            f"{turned}no rpm carries the craft then; {fixed(flies.stiff_rpm, 0)} would carry one that isn't turned.",
        )
    carries = f"{fixed(flies.rpm, 0)} rpm carry the craft, {fixed(flies.stiff_rpm, 0)} one whose blades aren't turned."
    return (turned + carries + " The verdict, and hover, have the latter.",)


def stiffness(found: Held) -> Section:
    """How stiff the blade is along r."""
    stiff = found.stiffness
    rows: list[Row] = []
    for k in picked(len(stiff.r_mm)):
        flap, lag = stiff.ei_nm2[k, 1, 1], stiff.ei_nm2[k, 0, 0]
        forward, up = stiff.centre[k]
        rows.append((
            Length(stiff.r_mm[k], 0), Stiff(flap), Stiff(lag), Stiff(stiff.gj_nm2[k]), Length(forward), Length(up),
        ))  # fmt: skip
    columns = as_columns("r, mm", "EI flap, N m2", "EI lag, N m2", "GJ, N m2", "bends about: forward, mm", "up, mm")
    words = (
        f"By what carries along the blade, at typical moduli, at the reference pitch, from r {mm(stiff.r_mm[0], 0)} "
        "out; the place about which it bends is from the feather axis."
    )
    return "Stiffness along the blade", Table(columns, tuple(rows), left=0), words


def case_words(case: Case) -> str:
    """A case by its name, and a state of a start by its time."""
    return case.name if case.time_s is None else f"{case.name}, {fixed(case.time_s, 1)} s"


def several(found: Held) -> str:
    """What a table says of states that it leaves out; "" where it tells all."""
    left = len(found.loads.cases) - len(found.shown)
    return f" Of {left + 1} states of a start that which bends it most." if left else ""


def picked(count: int) -> list[int]:
    """Of so many radii a table's worth, first and last among them."""
    return sorted({int(k) for k in np.linspace(0, count - 1, min(ROWS, count)).round()})

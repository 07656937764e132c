"""The verdict on a craft, five lines before any table, and the warnings that it counts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from geomgen.errors import Fault
from geomgen.figures import newton
from geomgen.judging.verdict import Verdict
from geomgen.views.page import Item, Section
from geomgen.views.quantity import Mass, Number

POUND_FT2 = 0.45359237 / 0.3048**2  # kg/m2
IN_METRES = "m2", 1e6, "kg/m2", 1.0  # area, how many mm2 it is; loading, how many kg/m2 it is
AIR = "Mean lift ignores what the rotor does to the air: expect to need more."


def verdict_sections(
    found: Verdict, unit: str, warnings: Sequence[Fault], notes: int | None = None
) -> tuple[Section, ...]:
    """The verdict; then each warning.

    unit     : the design's own unit of length
    warnings : each with its file and line
    notes    : how many different ones there are; None where the page has none to offer
    """
    told = tuple(Item("warning", str(warning)) for warning in warnings)
    return (tuple(verdict_lines(found, unit, len(warnings), notes)), *((told,) if told else ()))


def verdict_lines(found: Verdict, unit: str, warnings: int, notes: int | None = None) -> list[str]:
    """Weight, areas, rpm, hold, and how much more is to be said: a line each."""
    low, typical, high = (Mass(grams).shown(unit) for grams in found.lift_g)
    more = "" if notes is None else f", {_count(notes, 'note')} to build by (--notes)"
    return [
        f"To lift: {typical} g ({low} to {high}){_against_guess(found, unit)}.",
        _areas(found, unit),
        _speed(found, unit),
        _hold(found),
        f"Told besides: {_count(warnings, 'warning')}{more}.",
    ]


def _against_guess(found: Verdict, unit: str) -> str:
    off = found.off_the_guess
    if off is None or found.guess_g is None:
        return "; the design guesses nothing"
    percent, guess = Number(abs(100 * off), 0).shown(unit), Mass(found.guess_g).shown(unit)
    return f", {percent} % {'over' if off >= 0 else 'under'} the guess of {guess} g"


def _areas(found: Verdict, unit: str) -> str:
    name, mm2, load, kg_m2 = ("ft2", 304.8**2, "lb/ft2", POUND_FT2) if unit in ("in", "ft") else IN_METRES
    blades, disc = found.blade_area_mm2 / mm2, found.disc_area_mm2 / mm2
    return f"Blades {blades:.3f} {name}, disc {disc:.2f} {name}: {found.disc_loading_kg_m2 / kg_m2:.3f} {load} of disc."


def _speed(found: Verdict, unit: str) -> str:
    low, typical, high = (Number(rpm, 0).shown(unit) for rpm in found.carrying_rpm)
    lifts = f"{found.rpm:g} rpm lifts {Mass(found.lifted_g).shown(unit)} g"
    verdict = "" if found.carries else ", TOO LITTLE"
    return f"Carried at {typical} rpm ({low} to {high}); the design's {lifts}{verdict}. {AIR}"


def _hold(found: Verdict) -> str:
    _, typical, high = found.pull_n
    pull = f"Each blade pulls {newton(typical, 0)} (at most {high:.0f}) on the hub at {found.rpm_max:g} rpm"
    if found.tightest is None or found.tightest.holds_n is None:
        return f"{pull}; how strong anything is isn't judged."
    rib = found.tightest
    fullest = f"of glue lines in balsa that of {rib.name} is used most, {rib.pull_n:.1f} of {newton(rib.holds_n, 0)}"
    return f"{pull}; {fullest}; nothing else's strength is judged."


def _count(number: int, word: str) -> str:
    return f"{number or 'no'} {word}{'s' * (number != 1)}"


def compare_verdict(options: Sequence[tuple[str, Verdict | None, Sequence[Fault]]], unit: str) -> tuple[Section, ...]:
    """Of options side by side: which is lightest, which are carried, and what is to be said against any.

    options : name, verdict where it can be built, and warnings of each
    unit    : the design's own unit of length
    """
    built = sorted(((found, name) for name, found, _ in options if found is not None), key=lambda one: one[0].lift_g[1])
    if not built:
        return ()
    if len(options) == 1:
        return verdict_sections(built[0][0], unit, options[0][2])
    weak = [name for name, found, _ in options if found is not None and not found.carries]
    carried = f"Not carried at the design's own rpm: {', '.join(weak)}" if weak else "All are carried at their own rpm"
    same = "is" if len({round(found.blade_area_mm2) for found, _ in built}) == 1 else "isn't"
    told = tuple(Item("warning", f"{name}: {warning}") for name, _, warnings in options for warning in warnings)
    lines = (
        _ends(*built[0], *built[-1]),
        f"{carried}. {AIR}",
        f"The blades' area {same} the same in all.",
        f"Told against them: {_count(len(told), 'warning')}.",
    )
    return (lines, told) if told else (lines,)


def _ends(light: Verdict, lightest: str, heavy: Verdict, heaviest: str) -> str:
    """The lightest and the heaviest of several."""
    low, high = light.lift_g[1], heavy.lift_g[1]
    words = f"Lightest: {lightest}, {Mass(low).shown('')} g to lift."
    if light is heavy:
        return words
    return f"{words} Heaviest: {heaviest}, {Mass(high).shown('')} g, {100 * (high / low - 1.0):.0f} % more."


def verdict_data(found: Verdict | None, warnings: Sequence[Fault]) -> dict[str, Any]:
    """The same with stable keys, units in their names; a verdict of None where there is none."""
    if found is None:
        return {"verdict": None, "warnings": []}
    ends = ("low", "typical", "high")
    plain = {
        name: dict(zip(ends, value, strict=True)) if isinstance(value, tuple) else value
        for name, value in vars(found).items()
        if name != "tightest"
    }
    rib = found.tightest
    tightest = rib and {"rib": rib.name, "radius_mm": rib.r_mm, "pull_n": rib.pull_n, "holds_n": rib.holds_n}
    return {
        "verdict": {**plain, "off_the_guess": found.off_the_guess, "carries": found.carries, "tightest": tightest},
        "warnings": [asdict(warning) for warning in warnings],
    }

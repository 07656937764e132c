"""The verdict on a craft, five lines before any table, and the warnings that it counts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from geomgen.errors import Fault
from geomgen.figures import figure, fixed, g, newton
from geomgen.judging.verdict import Verdict
from geomgen.views.page import Item, Section

AIR = "Mean lift ignores what the rotor does to the air: expect to need more."


def verdict_sections(found: Verdict, warnings: Sequence[Fault], notes: int | None = None) -> tuple[Section, ...]:
    """The verdict; then each warning.

    warnings : each with its file and line
    notes    : how many different ones there are; None where the page has none to offer
    """
    told = tuple(Item("warning", str(warning)) for warning in warnings)
    return (tuple(verdict_lines(found, len(warnings), notes)), *((told,) if told else ()))


def verdict_lines(found: Verdict, warnings: int, notes: int | None = None) -> list[str]:
    """Weight, areas, rpm, hold, and how much more is to be said: a line each."""
    low, typical, high = found.lift_g
    more = "" if notes is None else f", {_count(notes, 'note')} to build by (--notes)"
    return [
        f"To lift: {g((typical, low, high), words='{} {u} ({} to {})')}{_against_guess(found)}.",
        _areas(found),
        _speed(found),
        _hold(found),
        f"Told besides: {_count(warnings, 'warning')}{more}.",
    ]


def _against_guess(found: Verdict) -> str:
    off = found.off_the_guess
    if off is None or found.guess_g is None:
        return "; the design guesses nothing"
    return f", {fixed(abs(100 * off), 0)} % {'over' if off >= 0 else 'under'} the guess of {g(found.guess_g)}"


def _areas(found: Verdict) -> str:
    blades, disc = figure("m2", found.blade_area_mm2, 3), figure("m2", found.disc_area_mm2, 2)
    return f"Blades {blades}, disc {disc}: {figure('kg/m2', found.disc_loading_kg_m2, 3)} of disc."


def _speed(found: Verdict) -> str:
    low, typical, high = (fixed(rpm, 0) for rpm in found.carrying_rpm)
    lifts = f"{found.rpm:g} rpm lifts {g(found.lifted_g)}"
    verdict = "" if found.carries else ", TOO LITTLE"
    return f"Carried at {typical} rpm ({low} to {high}); the design's {lifts}{verdict}. {AIR}"


def _hold(found: Verdict) -> str:
    _, typical, high = found.pull_n
    pulls = newton((typical, high), 0, "{} {u} (at most {})")
    pull = f"Each blade pulls {pulls} on the hub at {found.rpm_max:g} rpm"
    if (line := found.tightest) is None:
        return f"{pull}; how strong anything is isn't judged."
    used = newton((line.pull_n, line.holds_n), (1, 0), " of ")
    return f"{pull}; of the glue lines that are judged that of {line.name} is used most, {used}; all else isn't judged."


def _count(number: int, word: str) -> str:
    return f"{number or 'no'} {word}{'s' * (number != 1)}"


def compare_verdict(options: Sequence[tuple[str, Verdict | None, Sequence[Fault]]]) -> tuple[Section, ...]:
    """Of options side by side: which is lightest, which are carried, and what is to be said against any.

    options : name, verdict where it can be built, and warnings of each
    """
    built = sorted(((found, name) for name, found, _ in options if found is not None), key=lambda one: one[0].lift_g[1])
    if not built:
        return ()
    if len(options) == 1:
        return verdict_sections(built[0][0], options[0][2])
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
    words = f"Lightest: {lightest}, {g(low)} to lift."
    if light is heavy:
        return words
    return f"{words} Heaviest: {heaviest}, {g(high)}, {100 * (high / low - 1.0):.0f} % more."


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
    line = found.tightest
    tightest = line and {"glue_line": line.name, "radius_mm": line.r_mm, "pull_n": line.pull_n, "holds_n": line.holds_n}
    return {
        "verdict": {**plain, "off_the_guess": found.off_the_guess, "carries": found.carries, "tightest": tightest},
        "warnings": [asdict(warning) for warning in warnings],
    }

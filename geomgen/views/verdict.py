"""The verdict on a craft, five lines before any table, and the warnings that it counts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from geomgen.errors import Fault
from geomgen.figures import figure, fixed, g, newton, percent
from geomgen.hover.doubt import MODEL_POWER, MODEL_THRUST
from geomgen.judging.verdict import Better, HoverVerdict, Lifts, Verdict, Weakest
from geomgen.views.page import Item, Section
from geomgen.views.quantity import Times

AIR = "Mean lift ignores what the rotor does to the air: expect to need more."
MODEL = (
    f"The model itself: thrust at a pitch within {percent(MODEL_THRUST)}, power at a thrust "
    f"{percent(MODEL_POWER[0])} to +{percent(MODEL_POWER[1])}."
)


def verdict_sections(found: Verdict, warnings: Sequence[Fault], notes: int | None = None) -> tuple[Section, ...]:
    """The verdict; then each warning.

    warnings : each with its file and line
    notes    : how many different ones there are; None where the page has none to offer
    """
    told = tuple(Item("warning", str(warning)) for warning in warnings)
    return (tuple(verdict_lines(found, len(warnings), notes)), *((told,) if told else ()))


def verdict_lines(found: Verdict, warnings: int, notes: int | None = None) -> list[str]:
    """Weight, areas, lift, the better pitch, rpm, hold, and how much more is to be said: a line each."""
    low, typical, high = found.lift_g
    more = "" if notes is None else f", {_count(notes, 'note')} to build by (--notes)"
    return [
        f"To lift: {g((typical, low, high), words='{} {u} ({} to {})')}{_against_guess(found)}.",
        _areas(found),
        *((_lifting(found.hover), _best(found.hover, found.mean_lift_rpm[1])) if found.hover else ()),
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


def _lifting(hover: HoverVerdict) -> str:
    """Whether it lifts, by what, and for how long."""
    at = f"at {hover.pitch_deg:g} deg"
    if hover.rpm is None or hover.air_w is None:
        return f"DOESN'T LIFT {at}: {hover.why}."
    low, typical, high = (fixed(rpm, 0) for rpm in hover.rpm)
    carried = f"{at} {typical} rpm ({low} to {high}) carry it"
    match hover.lifts:
        case Lifts.TOO_WEAK:
            if hover.throttle is not None and hover.throttle <= 1.0:
                return f"DOESN'T LIFT: {carried}, and {hover.why}."
            beyond = hover.throttle is None or math.isinf(hover.throttle)
            asked = "more than the pack can give" if beyond else f"{percent(hover.throttle or 0.0)} throttle"
            return f"DOESN'T LIFT: {carried}, and that asks for {asked}."
        case Lifts.IN_AIR:
            return f"Lifts if driven: {carried}, for {hover.air_w[1]:.1f} W in the air. Not known: {hover.why}."
    left = "" if hover.lift_left is None else f", and full throttle lifts {percent(hover.lift_left)} more"
    short = f", LESS than the {percent(hover.lift_wanted)} wanted" if hover.lifts is Lifts.SHORT else ""
    throttle, minutes = percent(hover.throttle or 0.0), ""
    if hover.minutes is not None:
        least, usual, most = (fixed(each, 0) for each in hover.minutes)
        minutes = f" for {usual} min ({least} to {most})"
    return f"Lifts: {carried}, on {throttle} throttle{minutes}{left}{short}."


def _best(hover: HoverVerdict, mean_lift_rpm: float) -> str:
    """The pitch that would do better, and how sure all this is."""
    pins, best = hover.best_pinned, hover.best_of_all
    if pins is None:
        better = "No pitch that can be pinned lifts it"
        better += f"; of all {_pitch(best)} would" if best else ", nor any other in its range"
    elif pins.pitch_deg == hover.pitch_deg:
        better = "No other pinned pitch does better"
    else:
        better = f"Of the pinned pitches {_pitch(pins)} does best"
    if pins is not None and best is not None and best.pitch_deg != pins.pitch_deg:
        better += f", of all {_pitch(best)}"
    return f"{better}. {MODEL}"


def _pitch(better: Better) -> str:
    left = "" if better.lift_left is None else f", {percent(better.lift_left)} left"
    return f"{better.pitch_deg:g} deg ({better.rpm:.0f} rpm, {better.cost_w:.0f} W{left})"


def _speed(found: Verdict) -> str:
    low, typical, high = (fixed(rpm, 0) for rpm in found.mean_lift_rpm)
    lifts = f"{found.rpm:g} rpm lifts {g(found.lifted_g)}"
    verdict = "" if found.carries else ", TOO LITTLE"
    by = "" if found.by_hover else f" {AIR}"
    return f"The design's {lifts}{verdict}. By mean lift {typical} rpm ({low} to {high}) would do.{by}"


def _hold(found: Verdict) -> str:
    """The pull at the hub; the weakest link, what would help it and what isn't judged; or the one glue line that is."""
    _, typical, high = found.pull_n
    pulls = newton((typical, high), 0, "{} {u} (at most {})")
    pull = f"Each blade pulls {pulls} on the hub at {found.rpm_max:g} rpm"
    if found.weakest is not None:
        return f"{pull}. {weakest_words(found.weakest)}"
    if (line := found.tightest) is None:
        return f"{pull}; how strong anything is isn't judged."
    used = newton((line.pull_n, line.holds_n), (1, 0), " of ")
    return f"{pull}; of the glue lines that are judged that of {line.name} is used most, {used}; all else isn't judged."


def weakest_words(weakest: Weakest) -> str:
    """The weakest link in two sentences."""
    worst = Times(weakest.margin).shown()
    at = f"at {'half ' * weakest.gives_way}the factor of {weakest.factor:g}"
    said = f"Weakest: {weakest.name}, {weakest.fails}, margin {worst} {at}"
    if weakest.margin < 1.0:
        ends = "gives way" if weakest.gives_way else "doesn't hold"
        said += f": BELOW 1, it {ends} at that ({weakest.below} of {weakest.judged} links)"
    if weakest.help is not None and weakest.helped is not None:
        path, was, to = weakest.help
        said += f"; {path} {was} to {to} makes it {Times(weakest.helped).shown()}"
    unknown = f"{_count(weakest.unknown, 'link')} {'has' if weakest.unknown == 1 else 'have'} no published strength"
    return f"{said}. {unknown[0].upper()}{unknown[1:]} (geomgen loads)."


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
    carried = (
        f"Not carried at the design's own rpm: {', '.join(weak)}" if weak else "All are carried at the design's rpm"
    )
    short = [name for name, found, _ in options if found is not None and found.hover and not found.hover.lifts.enough]
    lifted = (
        f"With less lift left than wanted, or none: {', '.join(short)}"
        if short
        else "All lift with what is wanted left"
    )
    same = "is" if len({round(found.blade_area_mm2) for found, _ in built}) == 1 else "isn't"
    told = tuple(Item("warning", f"{name}: {warning}") for name, _, warnings in options for warning in warnings)
    lines = (
        _ends(*built[0], *built[-1]),
        f"{lifted}. {MODEL}",
        f"{carried}.",
        f"The blades' area {same} the same in all.",
        *_least([(name, found.weakest) for name, found, _ in options if found is not None]),
        f"Told against them: {_count(len(told), 'warning')}.",
    )
    return (lines, told) if told else (lines,)


def _least(options: Sequence[tuple[str, Weakest | None]]) -> list[str]:
    """Which of several has the least margin, and which have one below 1; nothing where none is worked out."""
    known = [(one.margin, name, one) for name, one in options if one is not None]
    if not known:
        return []
    _, name, one = min(known, key=lambda each: each[0])
    least = f"{Times(one.margin).shown()} at the factor of {one.factor:g} in {name}, {one.name}: {one.fails}"
    short = [name for margin, name, _ in known if margin < 1.0]
    said = f"A margin is BELOW 1 in {', '.join(short)}" if short else "No margin that is known is below 1"
    return [f"{said}. Least: {least}."]


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
        if name not in ("tightest", "hover", "weakest")
    }
    line = found.tightest
    tightest = line and {"glue_line": line.name, "radius_mm": line.r_mm, "pull_n": line.pull_n, "holds_n": line.holds_n}
    return {
        "verdict": {
            **plain,
            "off_the_guess": found.off_the_guess,
            "carries": found.carries,
            "tightest": tightest,
            "weakest": _weakest_data(found.weakest),
            "hover": _hover_data(found.hover),
        },
        "warnings": [asdict(warning) for warning in warnings],
    }


def _weakest_data(weakest: Weakest | None) -> dict[str, Any] | None:
    if weakest is None:
        return None
    change = weakest.help and dict(zip(("path", "was", "to"), weakest.help, strict=True))
    typical = weakest.typical if math.isfinite(weakest.typical) else None
    return {**asdict(weakest), "typical": typical, "help": change}


def _hover_data(hover: HoverVerdict | None) -> dict[str, Any] | None:
    if hover is None:
        return None
    ends = ("low", "typical", "high")
    plain = {
        name: dict(zip(ends, value, strict=True)) if isinstance(value, tuple) else value
        for name, value in vars(hover).items()
        if name not in ("lifts", "best_pinned", "best_of_all")
    }
    if hover.throttle is not None and math.isinf(hover.throttle):  # no throttle does
        plain["throttle"] = None
    better = {name: vars(found) if (found := getattr(hover, name)) else None for name in ("best_pinned", "best_of_all")}
    return {"lifts": hover.lifts.name.lower(), **plain, **better}

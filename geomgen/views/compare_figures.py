"""The figures by which options are laid side by side: what each is called in words, in tables and in plain data."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from geomgen.figures import unit_of
from geomgen.mass.band import Band, Triple
from geomgen.study.figures import Figures
from geomgen.views.page import Row
from geomgen.views.quantity import Far, Force, Length, Mass, Moment, Number, Single, Span, Speed, Times

_NINE = "nine of ten"
_WHOLE, _TENTH = partial(Number, digits=0), partial(Number, digits=1)


LEAST_MARGIN = "least_margin"


@dataclass(frozen=True)
class Figure:
    """One figure of an option.

    key   : in plain data, its unit in it
    item  : in a table to sort
    title : on the page
    unit  : of the figure itself
    of    : the figure, with or without its ends
    show  : how it is shown
    ends  : whether the page shows them
    within: what those of three figures are called there
    """

    key: str
    item: str
    title: str
    unit: str
    of: Callable[[Figures], Band | Triple | float | None]
    show: Callable[[float], Single]
    ends: bool = False
    within: str = "bound"

    def rows(self, options: tuple[Figures | None, ...]) -> list[Row]:
        """Of the page: typical figures of each option, and what is between their ends."""
        values = [None if one is None else self.of(one) for one in options]
        if all(one is None for one in values) and any(one is not None for one in options):
            return []
        typicals = ("-" if one is None else self.show(typical(one)) for one in values)
        rows: list[Row] = [(self.title, unit_of("m" if self.show is Far else self.unit), *typicals)]
        for name in ("likely", "bound") if self.ends else ():
            spans = [None if one is None else _ends(one, name) for one in values]
            if any(spans):
                shown = (Span(self.show(min(one)), self.show(max(one))) if one else "-" for one in spans)
                rows.append((f"  {self.within if name == 'bound' else name}", "", *shown))
        return rows


DONE = (
    Figure("blade_mass_g", "blade mass", "blade", "g", lambda one: one.blade_g, Mass, ends=True),
    Figure("craft_mass_g", "craft mass", "craft, all parts", "g", lambda one: one.craft_g, Mass, ends=True),
    Figure("lift_mass_g", "mass to lift", "craft and payload", "g", lambda one: one.lift_g, Mass),
    Figure("cg_radius_mm", "blade centre out", "centre of gravity, out", "mm", lambda one: one.cg_out_mm, Length),
    Figure(
        "cg_chordwise_mm", "blade centre forward", "centre of gravity, forward", "mm",
        lambda one: one.cg_forward_mm, Length,
    ),
    Figure(
        "static_moment_g_mm", "blade static moment", "static moment", "g mm", lambda one: one.static_moment_g_mm, Moment
    ),
    Figure("rpm", "rpm that carries it", "rpm that carries it", "1/min", lambda one: one.rpm, _WHOLE, True, _NINE),
    Figure("rpm_by_mean_lift", "rpm by mean lift", "  by mean lift", "1/min", lambda one: one.mean_lift_rpm, _WHOLE),
    Figure("air_w", "power in the air", "power in the air", "W", lambda one: one.air_w, _TENTH, True, _NINE),
    Figure("minutes", "minutes", "from a full pack", "min", lambda one: one.minutes, _TENTH, True, _NINE),
    Figure(
        "lift_left_percent", "lift left", "lift left", "%",
        lambda one: None if one.lift_left is None else 100.0 * one.lift_left, _WHOLE,
    ),
    Figure("tip_speed_m_s", "tip speed", "tip speed", "m/s", lambda one: one.tip_speed_m_s, Speed),
    Figure("root_pull_n", "pull at the root", "pull at the root", "N", lambda one: one.root_pull_n, Force, ends=True),
    Figure(
        LEAST_MARGIN, "least margin", "least margin, at the factor asked", "",
        lambda one: None if one.weakest is None else one.weakest.margin, Times,
    ),
)  # fmt: skip
TAKEN = (
    Figure("cut_length_mm", "cut length", "length of cuts", "mm", lambda one: one.cut_mm, Far),
    Figure("parts", "different parts", "different parts", "", lambda one: one.parts, _WHOLE),
    Figure("pieces", "pieces", "pieces", "", lambda one: one.pieces, _WHOLE),
    Figure("bench_pieces", "pieces to build by", "pieces to build by", "", lambda one: one.bench_pieces, _WHOLE),
    Figure("glue_mass_g", "glue", "glue", "g", lambda one: one.glue_g, Mass),
    Figure("parts_with_notes", "parts with a note", "parts with a note", "", lambda one: one.notes, _WHOLE),
)


def typical(value: Band | Triple | float) -> float:
    """Of a figure with or without ends."""
    return value.typical if isinstance(value, Band) else value[1] if isinstance(value, tuple) else value


def _ends(value: Band | Triple | float, name: str) -> tuple[float, float] | None:
    """What a figure is likely to be between, or bound to be; None where that isn't known."""
    if isinstance(value, Band):
        return (value.likely_low, value.likely_high) if name == "likely" else (value.low, value.high)
    return (min(value), max(value)) if isinstance(value, tuple) and name == "bound" else None

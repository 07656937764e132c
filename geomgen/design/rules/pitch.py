"""Rules of [pitch]."""

from __future__ import annotations

from geomgen.design.rules.tools import EXACT, Faults, fault, guarded, known_place, r_of
from geomgen.design.schema.design import Design
from geomgen.figures import at_least, at_most, mm

MOST_HOLES = 200
LOOSEST_MM = 1.0  # a wedge in its window
_WHOLE = 1e-6  # a share of a step


def pitch(design: Design) -> Faults:
    """A range of whole steps, the pitch to fly at within it, and nothing that belongs to another pattern."""
    yield from guarded(_range(design), _steps(design), _set(design), _zero(design), _own(design))


def _range(design: Design) -> Faults:
    low, high = design.pitch.range
    if high < low:
        yield fault(("pitch", "range"), "goes from high to low", f'["{high:g} deg", "{low:g} deg"]')


def _steps(design: Design) -> Faults:
    (low, high), step = design.pitch.range, design.pitch.step
    if step <= 0:
        yield fault(("pitch", "step"), "is no step", "more than 0 deg")
        return
    steps = (high - low) / step
    if steps > MOST_HOLES:
        yield fault(("pitch", "step"), f"makes {steps:.0f} settings", f"at most {MOST_HOLES}")
    elif steps >= 0 and abs(steps - round(steps)) > _WHOLE:
        near = max(1, round(steps))
        wrong = f"the range of {high - low:g} deg is {steps:.3g} steps, not a whole number"
        yield fault(("pitch", "step"), wrong, remedy=f"write a step of {(high - low) / near:.6g} deg, or another range")


def _set(design: Design) -> Faults:
    (low, high), chosen = design.pitch.range, design.pitch.set
    if high < low:
        return
    if not low - _WHOLE <= chosen <= high + _WHOLE:
        yield fault(("pitch", "set"), "lies outside the range", f"from {low:g} to {high:g} deg")
        return


def _zero(design: Design) -> Faults:
    place = design.pitch.zero_at
    yield from known_place(design, ("pitch", "zero_at"), place)
    r, root, radius = r_of(design, place), design.rotor.root, design.rotor.radius
    if not root - EXACT <= r <= radius + EXACT:
        allowed = f"from {at_least(root)} to {at_most(radius)}"
        yield fault(("pitch", "zero_at"), f"r {mm(r)} is not on the blade", allowed)


def _own(design: Design) -> Faults:
    """What belongs to a pattern of another kind than the one asked for; wedges no looser than their key allows."""
    pattern, circle, wedge = design.pitch.pattern, design.pitch.index_circle, design.pitch.wedge
    if circle is not None and pattern in ("paired", "wedge"):
        wrong = f"has no meaning beside a {pattern} pattern, which finds its own"
        yield fault(("pitch", "index_circle"), wrong, remedy='leave it out and write pitch.rim, or pattern = "plain"')
    asked = pattern or ("plain" if circle is not None else None)
    if wedge is not None and asked not in (None, "wedge"):
        named = f'pattern = "{asked}"' if pattern else "an index_circle, which only a plain pattern has"
        remedy = f'leave it out, or write pattern = "wedge"{" and no index_circle" * (circle is not None)}'
        yield fault(("pitch", "wedge"), f"stands beside {named}, which has no wedges", remedy=remedy)
    if wedge is not None and wedge.fit > LOOSEST_MM:
        wrong = "is so loose that the clipped corner is no key any more"
        yield fault(("pitch", "wedge", "fit"), wrong, f"at most {at_most(LOOSEST_MM)} (common practice)")

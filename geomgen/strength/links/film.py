"""Film that the air lifts: stretched between ribs, and peeled off their edges."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from geomgen.materials.strength import Property
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.strength.blade_loads import GREATEST
from geomgen.strength.build import Build
from geomgen.strength.formulas.short_panel import film_pull_n_mm
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.bonds import stock_of
from geomgen.strength.links.choose import closer, weakest
from geomgen.strength.links.spans import PEAK_WORDS, spans


def films(build: Build) -> Iterator[Link]:
    """Of the films of each table the weakest in each way; none where foam or sheet lies beneath all of it."""
    found = [part for part in build.flying if part.role is Role.FILM and not _backed(build, part)]
    links = (link for part in found for link in _film(build, part))
    yield from weakest(links, lambda link: (link.path, link.fails))


def _backed(build: Build, part: Part) -> bool:
    """Whether something lies beneath film between the ribs too."""
    beneath = {joint.b.role for joint in build.joints(part.key) if joint.a == part.key}
    open_behind = any(blank.cover.step is not None for blank in build.blanks)
    return Role.CORE in beneath or (Role.SHEETING in beneath and not open_behind)


def _film(build: Build, part: Part) -> Iterator[Link]:
    of, every = stock_of(build, part.key), list(spans(build))
    if of is None or not every:
        return
    worst = max(every, key=lambda span: float((span.pressure_mpa * span.long_mm)[GREATEST].max()))
    stiff, stands = of.of(Property.WIDTH_STIFFNESS), of.of(Property.WIDTH_TENSION)
    line = worst.pressure_mpa * worst.long_mm
    run = worst.outer.blank.place.run
    if stiff is not None:
        each = np.array([[stiff.typical], [stiff.high]])
        yield Link(
            name=f"{part.name} between ribs",
            fails=Fails.PULLED_APART,
            path=part.path,
            r_mm=worst.r_mm,
            between=(part.key, part.key),
            stress=film_pull_n_mm(each, worst.pressure_mpa, worst.long_mm),
            unit="N/mm",
            strength=stands,
            unpublished="" if stands else of.why_not(Property.WIDTH_TENSION),
            helps=tuple(closer(build.design, run, 2.0 / 3.0)),
            note=f"slack before; what it was shrunk with comes on top, and isn't published; {PEAK_WORDS}",
        )
    peel = of.of(Property.PEEL)
    yield Link(
        name=f"edge of {part.name} on ribs",
        fails=Fails.PEELED,
        path=part.path,
        r_mm=worst.r_mm,
        between=(part.key, worst.outer.key),
        stress=line / 2.0,
        unit="N/mm",
        strength=peel,
        unpublished="" if peel else of.why_not(Property.PEEL),
        alone=True,
        helps=tuple(closer(build.design, run)),
        note=f"air lifts it off a rib along both its edges; {PEAK_WORDS}",
    )

"""A wedge in its window of the fixed cap: the pin's force goes through its end into the cap."""

from __future__ import annotations

from collections.abc import Iterator

from geomgen.materials.strength import Property
from geomgen.model.joint import Key
from geomgen.root.root import FIXED_CAP
from geomgen.root.wedge_pattern import Wedge, made_of
from geomgen.root.wedges import wedge_key
from geomgen.strength.build import Build
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.helping import Change, Loaded, helps
from geomgen.strength.links.pins import COUNT, pin_force_n
from geomgen.strength.links.printed import filled, root_link, stands


def wedge_links(build: Build) -> Iterator[Link]:
    """The wedge's end, and the window's that it presses on; none where there are no wedges."""
    pattern, design = build.pattern, build.design
    if pattern.wedge is None:
        return
    stock, thick = made_of(design)
    wedge = wedge_key(pattern.settings_deg[pattern.setting(design.pitch.set)])
    cap = design.pitch.fixed_cap
    area = min(thick, cap.thickness) * pressed_mm(pattern.wedge)
    yield _pressed(build, "wedge's end in its window", wedge, wedge, stock, area)
    yield _pressed(build, "window's end under the wedge", wedge, FIXED_CAP, cap.stock, area)


def pressed_mm(wedge: Wedge) -> float:
    """Breadth of a wedge's end beside its clipped corner [mm]."""
    return wedge.inner_mm + wedge.outer_mm - wedge.clip_mm


def _pressed(build: Build, name: str, wedge: Key, what: Key, stock: str, area_mm2: float) -> Link:
    force, pins = pin_force_n(build), build.design.pitch.pin.count
    thick = build.design.pitch.fixed_cap.thickness
    strength, why = stands(build, stock, thick, Property.COMPRESSION)

    def of(count: int) -> Loaded:
        return Loaded(force * pins / count / area_mm2, strength)

    now = of(pins)
    more = Change(COUNT, f"{pins}", f"{pins + 1}", of(pins + 1))
    helped = helps(now, more, filled(build, stock, thick, now, Property.COMPRESSION))
    notes, r_mm = ("over the end's breadth beside its clipped corner",), build.root.fixed_mid_mm
    return root_link(build, name, Fails.PRESSED, now, helped, stock=stock, r_mm=r_mm, why=why, notes=notes,
                     path=what.path, between=(wedge, FIXED_CAP))  # fmt: skip

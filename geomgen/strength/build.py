"""All that links are made from: one blade and hub as drawn, their loads, and what their stocks stand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from geomgen.design.schema import Design
from geomgen.materials.strength import Strength
from geomgen.model.joint import Joint, Key
from geomgen.model.layout import Layout
from geomgen.model.made import Made
from geomgen.model.part import Part
from geomgen.root.hub_spec import HubSpec
from geomgen.root.pattern import PitchPattern
from geomgen.root.root import Root
from geomgen.strength.blade_loads import BladeLoads
from geomgen.strength.cross_section import CrossSection
from geomgen.strength.load_path import chain
from geomgen.structure.ribs.blank import Blank


@dataclass(frozen=True, eq=False)
class Build:
    """What links are made from.

    design    : all of it that strength may read
    layout    : one blade laid out
    blanks    : its ribs before lightening, root first
    flying    : all that turns, and where it touches
    held      : what each part hangs on
    root      : caps, seat and pattern
    hub       : the hub in figures
    loads     : on one blade
    sections  : cross-sections along r, rising
    strengths : by stock's name
    """

    design: Design
    layout: Layout
    blanks: tuple[Blank, ...]
    flying: Made
    held: Mapping[Key, Key]
    root: Root
    hub: HubSpec
    loads: BladeLoads
    sections: tuple[CrossSection, ...]
    strengths: Mapping[str, Strength]

    @property
    def pattern(self) -> PitchPattern:
        """How pitch is locked."""
        return self.root.pattern

    def part(self, key: Key) -> Part:
        """The part of a key. raises : KeyError"""
        return self.parts[key]

    @cached_property
    def parts(self) -> Mapping[Key, Part]:
        """Every part by its key."""
        return {part.key: part for part in self.flying}

    def joints(self, *keys: Key) -> Iterator[Joint]:
        """Joints in which all of these parts meet."""
        some = self._meeting.get(keys[0], ()) if keys else self.flying.joints
        return (each for each in some if all(key in (each.a, each.b) for key in keys))

    def hanging_on(self, key: Key) -> Sequence[Key]:
        """All that hangs on a part, itself left out."""
        return self._hanging.get(key, ())

    @cached_property
    def _meeting(self) -> Mapping[Key, Sequence[Joint]]:
        """Every joint by each part that meets in it."""
        found = dict[Key, list[Joint]]()
        for joint in self.flying.joints:
            for key in dict.fromkeys((joint.a, joint.b)):
                found.setdefault(key, []).append(joint)
        return found

    @cached_property
    def _hanging(self) -> Mapping[Key, Sequence[Key]]:
        """What hangs on each part."""
        found = dict[Key, list[Key]]()
        for part in self.flying:
            for beneath in chain(part.key, self.held):
                found.setdefault(beneath, []).append(part.key)
        return found

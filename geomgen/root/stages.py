"""The root's stages: caps, hub, and what holds a blade to it."""

from __future__ import annotations

from geomgen.blade.stages import PLACES
from geomgen.design.schema import Design
from geomgen.errors import MakeError
from geomgen.model.layout import Layout
from geomgen.model.made import Made
from geomgen.plane.path import Circle
from geomgen.root import fan_tilt, hub, pitch_caps, pitch_error, pitch_pattern, root_face, small_parts
from geomgen.root import seat as seating
from geomgen.root import wedges as wedge_parts
from geomgen.root.fan_tilt import FanTilt
from geomgen.root.fixing_holes import fixing_holes
from geomgen.root.hub_spec import HubSpec
from geomgen.root.pattern import PitchPattern
from geomgen.root.pitch_error import PitchError
from geomgen.root.root import Root
from geomgen.root.root_face import RootFace
from geomgen.root.seat import Seat
from geomgen.stages import Outcome, reads
from geomgen.structure.fitting import fittings
from geomgen.structure.ribs.blank import Blank
from geomgen.structure.ribs.ties import Tie

ROOT = (
    *PLACES, "rotor.blades", "rotor.turn", "rotor.coning", "pitch", "hub", "printer", "blade.spar", "blade.channel",
    "blade.ribs", "blade.construction.web", "laser.bed", "stock.*.kind", "stock.*.of", "stock.*.thickness",
    "stock.*.size", "stock.*.outside", "stock.*.inside", "stock.*.length",
)  # fmt: skip


@reads(*ROOT)
def face(design: Design, layout: Layout, bare: tuple[Blank, ...]) -> RootFace:
    """What caps and hub need to know of the blade's inner end."""
    return root_face.root_face(design, layout, bare[0])


@reads(*ROOT)
def fixing(design: Design, face: RootFace) -> Outcome[tuple[Circle, ...]]:
    """Holes of the turning cap's screws in the root rib; none where they have no room."""
    try:
        return Outcome(fixing_holes(design, face))
    except MakeError as error:
        return Outcome((), error.faults)


@reads(*ROOT)
def seated(design: Design, face: RootFace) -> Seat:
    """Where the fixed cap meets the hub."""
    return seating.seat(design, face)


@reads(*ROOT)
def pattern(design: Design, face: RootFace, seat: Seat) -> PitchPattern:
    """The index holes."""
    return pitch_pattern.pitch_pattern(design, face, seat=seat)


@reads(*ROOT)
def root(design: Design, face: RootFace, seat: Seat, holes: PitchPattern) -> Root:
    """All of these: what caps, pins and screws are drawn from."""
    return Root(design, face, seat, holes)


def caps(root: Root, ties: tuple[Tie, ...]) -> Made:
    """Turning cap and fixed cap."""
    return pitch_caps.caps(root, ties)


def wedges(root: Root) -> Made:
    """Wedges of the pitch to fly at, in the fixed cap."""
    return wedge_parts.wedges(root)


def spare_wedges(root: Root) -> Made:
    """Wedges of all other pitches."""
    return wedge_parts.spare_wedges(root)


@reads(*ROOT)
def figures(design: Design, face: RootFace, seat: Seat) -> HubSpec:
    """The hub in figures."""
    return hub.hub_spec(design, face, seat=seat)


def hub_part(root: Root, spec: HubSpec) -> Made:
    """The hub itself."""
    return hub.hub_part(root, spec)


def held_by(root: Root, spec: HubSpec) -> Made:
    """Collar, pins and the caps' screws."""
    return small_parts.small_parts(root, spec)


@reads(*PLACES, "fitting", "rotor.turn", "blade.feather")
def bought(design: Design, layout: Layout, spec: HubSpec) -> Made:
    """Bought things, on blades and on the hub."""
    return fittings(design, layout, floor_z_mm=spec.floor - spec.axis_height)


@reads(*ROOT)
def error(
    design: Design, face: RootFace, fixing: tuple[Circle, ...], holes: PitchPattern, ribs: tuple[Blank, ...]
) -> PitchError:
    """How far a blade's pitch may be off."""
    return pitch_error.pitch_error(design, face=face, fixing=fixing, pattern=holes, ribs=ribs)


@reads("rotor.coning", "pitch.set", "fitting.*.mount", "fitting.*.level_at")
def tilts(design: Design, layout: Layout, holes: PitchPattern) -> tuple[FanTilt, ...]:
    """Which way what is fixed to ribs points."""
    return fan_tilt.fan_tilts(design, layout, settings_deg=holes.settings_deg)

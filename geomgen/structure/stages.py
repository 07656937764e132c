"""The structure's stages: the blade laid out, its ribs drawn, and all that is made round them."""

from __future__ import annotations

from geomgen.blade.blade import Blade
from geomgen.blade.doubler_places import DoublerPlace, doubler_places
from geomgen.blade.rib_places import RibPlace
from geomgen.blade.route import channel_routes, spar_routes
from geomgen.blade.stages import PLACES
from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.model.layout import Layout
from geomgen.model.made import Made
from geomgen.plane.path import Circle
from geomgen.stages import Outcome, reads
from geomgen.structure.constructions import construction
from geomgen.structure.fitting import stuck_on
from geomgen.structure.glue import glue
from geomgen.structure.openings import Opening
from geomgen.structure.ribs import doubler, mount, rib, ties
from geomgen.structure.ribs.blank import Blank, blanks, with_holes
from geomgen.structure.ribs.ties import Tie
from geomgen.structure.spars.all import spar_faults, spars
from geomgen.structure.spars.straying import straying
from geomgen.structure.tip import tips
from geomgen.structure.wire import wires
from geomgen.tolerances import Tolerances

BUILT = (
    "blade.feather", "blade.along", "blade.construction", "blade.ribs", "blade.doubler", "blade.skin", "blade.spar",
    "blade.channel", "blade.tip",
)  # fmt: skip
SHEETS = tuple(
    f"stock.*.{key}"
    for key in ("kind", "of", "thickness", "size", "grain", "neutral", "outside", "inside", "width", "height", "length")
)
FIXED = tuple(
    f"fitting.*.{key}"
    for key in ("on", "at", "chord", "height", "rib", "rib_stock", "mount", "level_at", "stuck", "count")
)
WIRED = tuple(f"wire.*.{key}" for key in ("outside", "count", "bend", "spare"))


@reads(*PLACES, *BUILT, *SHEETS, *FIXED, *WIRED, "rotor.turn", "units", "laser.edge")
def laid_out(design: Design, blade: Blade, ribs: tuple[RibPlace, ...], *, tol: Tolerances) -> Outcome[Layout]:
    """The blade laid out: what nearly all its parts are drawn from. Doublers that don't fit are left out of it."""
    doublers: tuple[DoublerPlace, ...] = ()
    faults: tuple[Fault, ...] = ()
    try:
        doublers = doubler_places(design, ribs)
    except MakeError as error:
        faults = error.faults
    built = construction(design)
    layout = Layout(
        design=design,
        blade=blade,
        ribs=ribs,
        doublers=doublers,
        spars=spar_routes(design, blade),
        channels=channel_routes(design, blade),
        cover=built.cover,
        sheet_over=built.sheet_over,
        tol=tol,
    )
    return Outcome(layout, faults)


def inside(layout: Layout) -> Outcome[Layout]:
    """The layout, and where spars and channels leave the inside of the cover between ribs."""
    return Outcome(layout, tuple(straying(layout)))


def misfits(layout: Layout) -> Outcome[tuple[Fault, ...]]:
    """Which spars don't fit into the blade, or run into something."""
    faults = spar_faults(layout)
    return Outcome(faults, faults)


def fitted(layout: Layout, misfits: tuple[Fault, ...]) -> Layout:
    """The layout, once all that runs along the blade fits into it."""
    return layout


def bare_ribs(layout: Layout) -> tuple[Blank, ...]:
    """Every rib's edge with the holes of spars and channels, before the caps' screws are known."""
    return blanks(layout, layout.ribs)


def screwed(layout: Layout, bare: tuple[Blank, ...], fixing: tuple[Circle, ...]) -> tuple[Blank, ...]:
    """Every rib's edge and holes, the screws of cap and fittings included; ties go where these leave room.

    fixing : holes of the turning cap's screws in the root rib
    """
    root, *others = bare
    drilled = with_holes(root, [Opening("pitch.fixing", loop) for loop in fixing]), *others
    return tuple(
        with_holes(blank, mount.mount_openings(layout, blank), mount.mount_notes(layout, blank)) for blank in drilled
    )


def tied(layout: Layout, screwed: tuple[Blank, ...]) -> tuple[Tie, ...]:
    """Where wires are tied to ribs."""
    return ties.ties(layout, screwed)


def drilled(screwed: tuple[Blank, ...], tied: tuple[Tie, ...]) -> tuple[Blank, ...]:
    """Every rib's edge and all its holes but those that lighten it."""
    return ties.with_ties(screwed, tied)


def ribs(layout: Layout, drawn: tuple[Blank, ...]) -> Made:
    """Ribs, lightened."""
    return rib.ribs(layout, drawn)


def doublers(layout: Layout, drawn: tuple[Blank, ...]) -> Made:
    """Second ribs glued to some."""
    return doubler.doublers(layout, doubler.doubler_blanks(layout, drawn))


def mounts(layout: Layout, drawn: tuple[Blank, ...]) -> Made:
    """Screws that hold fittings to ribs."""
    return mount.mounts(layout, drawn)


def covering(layout: Layout, drawn: tuple[Blank, ...]) -> Made:
    """What the construction makes of sheet, strips, film and foam, and what it is joined to."""
    return construction(layout.design).made(layout, drawn)


def stuck(layout: Layout, covering: Made) -> Made:
    """Fittings that stick to the cover."""
    return stuck_on(layout, covering)


def all_spars(layout: Layout, misfits: tuple[Fault, ...]) -> Made:
    """Spars, their webs and what joins them."""
    return spars(layout, faults=misfits)


def tip(layout: Layout) -> Made:
    """The tip's piece."""
    return tips(layout)


def all_wires(layout: Layout, tied: tuple[Tie, ...]) -> Made:
    """Wires in their channels, tied at both ends."""
    return wires(layout, tied)


@reads(*PLACES, *BUILT, *SHEETS, "glue")
def glued(design: Design, frame: Made) -> Made:
    """Glue, by joint."""
    return glue(design, frame.parts, frame.joints)

"""The order of work: what is cut, stood up, glued and closed when, for the construction and the parts there are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from geomgen.design.schema import (
    BoxSpar,
    CapSpar,
    Core,
    Covered,
    Design,
    Folded,
    Ribbed,
    Sheeted,
    Spar,
    UprightSpar,
)
from geomgen.model.part import Part


@dataclass(frozen=True)
class Step:
    """One step.

    does    : what to do
    parts   : names of the parts it takes
    caution : what may hurt, or spoil the work; "" where nothing may
    """

    does: str
    parts: tuple[str, ...] = ()
    caution: str = ""


@dataclass(frozen=True)
class _Stock:
    """The parts of one blade and its aids, by kind."""

    parts: tuple[Part, ...]

    def of(self, *kinds: str) -> tuple[str, ...]:
        """Names of the parts of some kinds."""
        return tuple(part.name for part in self.parts if part.role in kinds)

    @property
    def joined(self) -> tuple[str, ...]:
        """Names of the skins that are made up of more sheets than one."""
        return tuple(part.name for part in self.parts if part.facts.get("sheets", 0.0) > 1)

    @property
    def with_nuts(self) -> tuple[str, ...]:
        """Names of the screws that take a nut in the blade."""
        return tuple(
            part.name
            for part in self.parts
            if part.assembly == "blade" and any("with a nut" in note for note in part.notes)
        )

    def spars(self, design: Design, *kinds: type) -> tuple[str, ...]:
        """Names of the parts of spars of some kinds, webs and sleeves left out."""
        names = tuple(name for name, spar in design.blade.spar.items() if isinstance(spar, kinds))
        paths = {f"blade.spar.{name}" for name in names}
        return tuple(part.name for part in self.parts if part.role == "spar" and part.path in paths)


def order_of_work(design: Design, parts: Sequence[Part]) -> tuple[Step, ...]:
    """The steps of one blade, first to last: common practice of building in balsa, foam and board."""
    have = _Stock(tuple(parts))
    match design.blade.construction:
        case Folded() as folded:
            middle = _folded(design, folded, have)
        case Core() as core:
            middle = _core(design, core, have)
        case _:
            middle = _framed(design, have)
    return (*_before(design, have), *middle, *_after(design, have))


def _before(design: Design, have: _Stock) -> Iterator[Step]:
    yield Step(
        "Weigh every sheet and length before it is cut and write it down; choose alike ones for parts alike in all "
        f"{design.rotor.blades} blades."
    )
    yield Step(
        "Cut the flat parts. Inside cuts come before outside cuts.",
        caution="What a laser may cut stands with each part: foam and film take a knife. Fumes, fire, dust: "
        "extraction, somebody watching, a mask.",
    )
    if doublers := have.of("doubler"):
        yield Step("Glue each doubler to its rib, holes in line on a rod.", doublers)
    if nuts := have.with_nuts:
        yield Step(
            "Glue the nuts behind their ribs, threads in line: nothing gets in there once they are closed.", nuts
        )


def _framed(design: Design, have: _Stock) -> Iterator[Step]:
    """Ribbed, sheeted and covered blades: a frame first, then what covers it."""
    jig = design.blade.jig
    feet = jig is not None and jig.foot is not None
    ribs, through, built = have.of("rib"), have.spars(design, Spar), design.blade.construction
    if have.joined:
        yield Step(
            "Join the sheets of each skin on a flat board, along the lines that are drawn to look at.", have.joined
        )
    if boxes := have.spars(design, BoxSpar):
        yield Step("Glue up each box over a straight edge.", boxes)
    if feet and jig is not None:
        down = "upside down, " if jig.side == "upper" else ""
        board = have.of("jig board")
        yield Step("Lay the jig board on a flat table and fix it; paper or wax over its lines keeps glue off.", board)
        yield Step(
            f"Stand the ribs {down}with their feet in the slots, root side to the root; thread the round spar, and "
            "what else goes through holes, before any glue.",
            (*ribs, *through),
        )
    else:
        yield Step("Thread the ribs on the round spar over a flat table, each to its place.", (*ribs, *through))
    if sheets := have.spars(design, UprightSpar):
        yield Step("Slot the upright sheets, laid between the ribs first, up into them.", sheets)
    if boxes:
        yield Step("Let the boxes into the ribs from below.", boxes)
    yield Step("Glue ribs and spars; let it set before anything is lifted.", (*ribs, *through))
    if caps := have.spars(design, CapSpar):
        yield Step("Lay the caps into their notches, lower ones first, scarfs of upper and lower apart.", caps)
    if webs := have.of("web"):
        yield Step("Glue a web into each bay, grain upright, from the root outwards.", webs)
    if edges := have.of("nose strip", "tail strip"):
        plane = (
            "plane them to the section, ribs as the guide"
            if isinstance(built, Covered)
            else "leave them proud of the ribs: they are planed when the sheet lies beside them"
        )
        yield Step(f"Glue the strips along nose and tail; {plane}.", edges)
    if have.of("wire"):
        yield Step("Draw a cord through every channel, and try the largest plug, while the ribs are still open.")
    yield from _closed(design, have, feet)


def _closed(design: Design, have: _Stock, feet: bool) -> Iterator[Step]:
    built = design.blade.construction
    off = "Lift the blade off the board and turn it; cut the feet off along their lines and sand the edge true."
    if isinstance(built, Covered):
        if feet:
            yield Step(off, caution="Dust of wood and ply: a mask.")
        yield from _filmed(have, built.overlap)
        return
    assert isinstance(built, Ribbed | Sheeted)
    skins, other = have.of("skin", "sheeting"), "lower" if built.first == "upper" else "upper"
    if skins:
        one = all(not name.endswith(("upper", "lower")) for name in skins)
        first = [name for name in skins if one or name.endswith(built.first)]
        yield Step(
            f"Glue the {built.first} half of the skin on while the ribs stand{' on the board' if feet else ''}, rib "
            f"lines on the ribs, from the {'nose' if one else 'strip'} {_reach(built)}; weights until it has set."
            + (" The other half hangs free ahead of the nose." if one else ""),
            tuple(first),
        )
    if feet:
        yield Step(off, caution="Dust of wood and ply: a mask.")
    if skins:
        lay = f"Lay the blade on its {built.first} side"
        where = "in its gauges, which set the twist while the other half is closed" if have.of("gauge") else "on foam"
        yield Step(f"{lay} {where}.", have.of("gauge"))
        glued = f"Bend the {other} half round the nose and glue it" if one else f"Glue the {other} panel"
        yield Step(f"{glued}{_closing(built)}.", tuple(name for name in skins if one or name.endswith(other)))
    if strips := have.of("cap strip"):
        yield Step("Glue the cap strips behind the sheet, flush with it.", strips)
    if edges := have.of("nose strip", "tail strip"):
        yield Step("Plane the strips along nose and tail to the section, flush with what lies beside them.", edges)
    if have.of("film"):
        yield from _filmed(have, getattr(built, "overlap", 0.0))


def _reach(built: Ribbed | Sheeted) -> str:
    if isinstance(built, Sheeted) and built.to is not None:
        return "to its end"
    return "to the tail strip" if built.tail is not None else "to the tail"


def _closing(built: Ribbed | Sheeted) -> str:
    """What is done at the tail when the second half goes on; nothing where no sheet reaches it."""
    if _reach(built) != "to the tail":
        return ""
    return ", then bevel and close the tail" + ("; trim the first half's seam" if built.seam > 0 else "")


def _filmed(have: _Stock, overlap_mm: float) -> Iterator[Step]:
    held = "in its gauges" if have.of("gauge") else "flat"
    yield Step(
        f"Cover the lower side, then the upper, {overlap_mm:g} mm of overlap at nose and tail.",
        have.of("film"),
        "A hot iron burns, and film gives off fumes: air the room. Polystyrene sinks away under heat: try a scrap.",
    )
    yield Step(
        f"Shrink it a little at a time, upper and lower in turn, the blade held {held}: film that is shrunk on one "
        "side first twists the blade.",
        have.of("gauge"),
    )


def _folded(design: Design, built: Folded, have: _Stock) -> Iterator[Step]:
    other = "outside" if built.score == "inside" else "inside"
    yield Step(
        f"Score the fold lines on the {built.score}; the paper {other} stays whole. Peel the inside paper between the "
        "nose's lines and roll the foam over a rod; bevel the tail inside. Fold it dry once.",
        have.of("folded skin"),
        "A sharp blade slips off foam board: cut away from the hand.",
    )
    if boxes := have.spars(design, BoxSpar):
        yield Step("Fold and glue the box spar over a straight edge.", boxes)
    where = "in its gauges on a flat table" if have.of("gauge") else "on a flat table"
    yield Step(
        f"Lay the board open, lower side down, {where}; glue formers and spars on their lines on the lower side.",
        (*have.of("rib"), *have.spars(design, Spar, BoxSpar)),
    )
    if have.of("wire"):
        yield Step("Draw a cord through every channel: nothing gets in once the board is closed.")
    yield Step(
        "Fold the upper side over formers and spar, glue the tail, lap the paper round it; check the twist in the "
        "gauges and leave it there until it has set.",
        (*have.of("folded skin"), *have.of("gauge")),
    )


def _core(design: Design, built: Core, have: _Stock) -> Iterator[Step]:
    yield Step(
        "Pin both templates to the ends of each block, their level lines along its flat underside, as high above it as "
        "its note says; cut with the wire held to equal numbers on both.",
        (*have.of("core"), *have.of("wire template")),
        "Hot wire gives off styrene: outdoors or with strong extraction, gloves, nobody alone.",
    )
    ribs, through = have.of("rib"), have.spars(design, Spar)
    yield Step("Slit each piece of foam from below as far as the rings on its templates, for spars and wires.")
    yield Step("Thread the ribs on the round spar, each to its place.", (*ribs, *through))
    yield Step(
        "Set the foam between the ribs, its slit over the spar; glue foam, ribs and spar on a flat table, each piece "
        "in its offcuts, which lie level; close the slits with what came out.",
        (*have.of("core"), *ribs, *through),
    )
    if have.of("wire"):
        yield Step("Try the largest plug through every channel before the slits are closed for good.")
    if built.cover is not None:
        yield from _filmed(have, built.overlap)


def _after(design: Design, have: _Stock) -> Iterator[Step]:
    if tips := have.of("tip"):
        yield Step("Glue the tip on and shape it to the section.", tips)
    yield Step("Screw the turning cap to the root rib.", have.of("turning cap", "fixed cap"))
    if wires := have.of("wire"):
        yield Step("Draw the wires in; bend none tighter than its note says.", wires)
    if fittings := tuple(
        name for name in have.of("fitting") if design.fitting[name.removeprefix("fitting ")].on == "blade"
    ):
        yield Step("Fix what is bought for the blade, threads secured.", fittings)
    yield Step(
        "Weigh the blade and find where it balances, along and across. Match all blades before anything turns.",
        caution="A blade that comes off flies far: nothing turns before somebody who knows rotors has looked at it.",
    )

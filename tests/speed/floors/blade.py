"""Tables of the reading floor: [blade] and all in it."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from floors.values import ROOT, TIP, At, Figure, Height, Heights, Shares, Table
from pydantic import BeforeValidator, Discriminator, Field, Tag


class Feather(Table):
    chord: Figure = 0.25
    height: Height = "camber"


class Section(Table):
    naca: str | None = None
    file: str | None = None
    profile: str | None = None
    tail: str = "open"
    flat_from: Figure | None = None
    thickness_times: Figure = 1.0
    camber_times: Figure = 1.0
    polar: str | None = None


class Entry(Table):
    at: At
    chord: Figure | None = None
    twist: Figure | None = None
    section: Annotated[Section, BeforeValidator(lambda text: {"naca": text.removeprefix("naca ")})] | None = None
    offset: Figure | None = None


class EdgeStock(Table):
    stock: str
    width: Figure


class Frame(Table):
    web: Figure = 2.0
    least_tail: Figure = 2.5


class Ribbed(Frame):
    kind: Literal["ribbed"]
    pattern: Literal["wrap", "panels"] = "wrap"
    strip: EdgeStock | None = None
    tail: EdgeStock | None = None
    first: Literal["upper", "lower"] = "upper"
    seam: Figure = 0.0


class CapStrips(Table):
    stock: str
    width: Figure


class Sheeted(Frame):
    kind: Literal["sheeted"]
    stock: str
    to: Figure | None = None
    caps: CapStrips | None = None
    cover: str | None = None
    overlap: Figure = 10.0
    nose: EdgeStock | None = None
    tail: EdgeStock | None = None
    first: Literal["upper", "lower"] = "upper"
    seam: Figure = 2.0


class Covered(Frame):
    kind: Literal["covered"]
    stock: str
    overlap: Figure = 10.0
    scallop: Figure = 5.0
    nose: EdgeStock | None = None
    tail: EdgeStock | None = None


class FoldLines(Table):
    upper: tuple[Figure, ...] = (0.25, 0.6)
    lower: tuple[Figure, ...] = ()


class Folded(Frame):
    kind: Literal["folded"]
    stock: str
    folds: FoldLines = FoldLines()
    nose_radius: Figure
    score: Literal["inside", "outside"] = "inside"
    flap: Figure = 12.0
    stagger: Figure = 100.0


class Core(Frame):
    kind: Literal["core"]
    stock: str
    cover: str | None = None
    overlap: Figure = 10.0
    template: str
    wire: Figure = 1.0


class Lighten(Table):
    by: Literal["holes", "truss"] = "holes"
    web: Figure
    least: Figure = 8.0


class Ribs(Table):
    from_: At = Field(ROOT, alias="from")
    to: At = TIP
    every: Figure
    stock: str
    lighten: Lighten | None = None


class Doubler(Table):
    at: At
    stock: str


class Skin(Table):
    from_: At = Field(ROOT, alias="from")
    to: At = TIP
    stock: str


class Joint(Table):
    kind: Literal["scarf", "sleeve"]
    slope: Figure = 12.0
    stock: str | None = None
    length: Figure | None = None


class Run(Table):
    stock: str
    from_: At = Field(ROOT, alias="from")
    to: At = TIP
    fit: Figure = 0.1
    joint: Joint | None = None


class Spar(Run):
    kind: Literal["single"] = "single"
    on: Literal["feather axis"] | None = None
    chord: Shares | None = None
    height: Heights = ("camber", "camber")


class Webs(Table):
    stock: str
    from_: At = Field(ROOT, alias="from")
    to: At = TIP
    side: Literal["ahead", "behind"] = "behind"


class CapSpar(Run):
    kind: Literal["caps"]
    chord: Shares
    layers: tuple[At, ...] = (TIP,)
    web: Webs | None = None


class BoxSpar(Run):
    kind: Literal["box"]
    chord: Shares
    width: Figure


class SheetSpar(Run):
    kind: Literal["sheet"]
    chord: Shares


class Passes(Table):
    largest: Figure
    wires: tuple[str, ...] = ()


class Exit(Table):
    side: Literal["upper", "lower"] = "lower"
    length: Figure


class Channel(Table):
    chord: Shares
    height: Heights = ("camber", "camber")
    diameter: Figure
    from_: At = Field(ROOT, alias="from")
    to: At = TIP
    passes: Passes
    exit: Exit | None = None
    tie: Figure = 2.5


class Tip(Table):
    kind: Literal["square", "rounded", "raked"]
    depth: Figure | None = None
    stock: str | None = None


class Jig(Table):
    foot: Figure | None = None
    side: Literal["lower", "upper"] = "lower"
    clear: Figure = 12.0
    board: str | None = None
    gauge: str | None = None


class BladePocket(Table):
    at: At
    chord: Figure | None = None
    height: Height = "camber"
    most: Figure


def spar_kind(table: Any) -> str:
    """A spar that names no kind is a single one."""
    kind: str = table.get("kind", "single")
    return kind


AnyConstruction = Annotated[Ribbed | Sheeted | Covered | Folded | Core, Field(discriminator="kind")]
AnySpar = Annotated[
    Annotated[Spar, Tag("single")]
    | Annotated[CapSpar, Tag("caps")]
    | Annotated[BoxSpar, Tag("box")]
    | Annotated[SheetSpar, Tag("sheet")],
    Discriminator(spar_kind),
]


class Blade(Table):
    feather: Feather = Feather()
    along: tuple[Entry, ...]
    construction: AnyConstruction
    ribs: dict[str, Ribs]
    doubler: dict[str, Doubler] = Field(default_factory=dict)
    skin: dict[str, Skin] = Field(default_factory=dict)
    spar: dict[str, AnySpar]
    channel: dict[str, Channel] = Field(default_factory=dict)
    tip: Tip | None = None
    jig: Jig | None = None
    trim: dict[str, BladePocket] = Field(default_factory=dict)

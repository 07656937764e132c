"""[blade.construction]: how the blade is built, one model for each kind; each has keys of its own."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Discriminator, Field, Tag, WrapValidator

from geomgen.design.schema.kinds import TAG, told_by_kind
from geomgen.design.schema.table import Table, leave_gap
from geomgen.design.schema.values import Distance, Share, Size, Words

Stock = Words
Half = Literal["upper", "lower"]


class EdgeStock(Table):
    """A strip along the nose or the tail, planed to the section. [mm]."""

    stock: Stock = Field(description="length of stock it is planed from", examples=["balsa_8x20"])
    width: Size = Field(description="how much of the chord it takes", examples=["8 mm"])


class Frame(Table):
    """What every construction with ribs has. [mm]."""

    web: Size = Field(2.0, description="least wood left between holes, and from a hole to the edge")
    least_tail: Size = Field(2.5, description="a rib ends at the tail where it gets thinner than this")


class Ribbed(Frame):
    """Ribs under a thin skin, [blade.skin.*]. [mm]."""

    kind: Literal["ribbed"] = Field(description="how the blade is built", examples=["ribbed"])
    pattern: Literal["wrap", "panels"] = Field(
        "wrap", description="the skin in one piece round the nose, or an upper and a lower panel with a strip between"
    )
    strip: EdgeStock | None = Field(None, description="with panels: the strip round the nose that they meet on")
    tail: EdgeStock | None = Field(None, description="a strip along the tail, planed to the section")
    first: Half = Field("upper", description="the half of the skin that is glued on first, while the ribs are held")
    seam: Distance = Field(0.0, description="the first half's edge stands so far beyond the tail, to be trimmed")


class CapStrips(Table):
    """Strips on the ribs' edges where no sheet lies. [mm]."""

    stock: Stock = Field(description="sheet they are stripped from", examples=["balsa_1_5"])
    width: Size = Field(description="width of a strip, the rib under its middle", examples=["8 mm"])


class Sheeted(Frame):
    """Balsa sheet over ribs, all round or as a box round the nose. [mm]."""

    kind: Literal["sheeted"]
    stock: Stock = Field(description="sheet it is covered with", examples=["balsa_1_5"])
    to: Share | None = Field(None, description="the sheet ends at this share of the chord; left out: it goes all round")
    caps: CapStrips | None = Field(None, description="strips on the ribs behind the sheet")
    cover: Stock | None = Field(None, description="film over all of it, as where the ribs are open")
    overlap: Size = Field(10.0, description="overlap of the film at its seams")
    nose: EdgeStock | None = Field(None, description="a strip along the nose, planed to the section")
    tail: EdgeStock | None = Field(None, description="a strip along the tail, planed to the section")
    first: Half = Field("upper", description="the half of the sheet that is glued on first, while the ribs are held")
    seam: Distance = Field(2.0, description="the first half's edge stands so far beyond the tail, to be trimmed")


class Covered(Frame):
    """An open frame under film; spars and webs carry. [mm]."""

    kind: Literal["covered"]
    stock: Stock = Field(description="film it is covered with", examples=["film"])
    overlap: Size = Field(10.0, description="overlap of the film at its seams")
    scallop: Distance = Field(5.0, description="film beyond the tail, for what it draws in between the ribs")
    nose: EdgeStock | None = Field(None, description="a strip along the nose, planed to the section")
    tail: EdgeStock | None = Field(None, description="a strip along the tail, planed to the section")


class FoldLines(Table):
    """Where the board is scored: shares of the chord, from the nose."""

    upper: tuple[Share, ...] = Field((0.25, 0.6), description="score lines above", examples=[[0.25, 0.6]])
    lower: tuple[Share, ...] = Field((), description="score lines below")


class Folded(Frame):
    """One foam board folded round formers and a spar. [mm]."""

    kind: Literal["folded"]
    stock: Stock = Field(description="foam board it is folded from", examples=["foam_board_5"])
    folds: FoldLines = Field(default_factory=FoldLines, description="score lines")
    nose_radius: Size = Field(description="outer radius the nose is rolled to", examples=["8 mm"])
    score: Literal["inside", "outside"] = Field(
        "inside", description="the face that is scored; the paper stays on the other one"
    )
    flap: Distance = Field(12.0, description="paper of the upper face that is lapped round the tail and glued below")
    stagger: Size = Field(100.0, description="joints of the board above and below stand at least so far apart")


class Core(Frame):
    """A solid foam core cut by hot wire between two templates, under film or tape. [mm]."""

    kind: Literal["core"]
    stock: Stock = Field(description="block of foam, kind volume", examples=["foam_block"])
    cover: Stock | None = Field(None, description="film or tape over it")
    overlap: Size = Field(10.0, description="overlap of the film at its seams")
    template: Stock = Field(description="sheet the two templates are cut from", examples=["ply_3"])
    wire: Distance = Field(1.0, description="width the hot wire melts away")


Construction = Annotated[
    Annotated[Ribbed, Tag(f"{TAG}ribbed")]
    | Annotated[Sheeted, Tag(f"{TAG}sheeted")]
    | Annotated[Covered, Tag(f"{TAG}covered")]
    | Annotated[Folded, Tag(f"{TAG}folded")]
    | Annotated[Core, Tag(f"{TAG}core")],
    Discriminator(told_by_kind()),
    WrapValidator(leave_gap),
]

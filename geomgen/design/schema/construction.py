"""[blade.construction]: how the blade is built, one model for each kind; each has keys of its own."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, ClassVar, Literal

from pydantic import Discriminator, Field, Tag, WrapValidator

from geomgen.design.schema.kinds import TAG, told_by_kind
from geomgen.design.schema.spar import MadeOf, Stock, Wrong
from geomgen.design.schema.table import Table, leave_gap
from geomgen.design.schema.values import Half, Margin, Play, Share, Size, Small, Thin

MOST_FOLDS = 20  # on one face


class EdgeStock(Table):
    """A strip along the nose or the tail, planed to the section. [mm]."""

    stock: Stock = Field(description="length of stock it is planed from", examples=["balsa_8x20"])
    width: Small = Field(description="how much of the chord it takes", examples=["8 mm"])


class Frame(Table):
    """What every construction with ribs has. [mm].

    made_of     : kind of stock that it is built of, and how to say so; none where [blade.skin.*] say it
    takes_skins : whether [blade.skin.*] lie on it
    carries     : whether its ribs carry spars that are built up
    encloses    : what closes round its ribs' feet for good; "" where they come off again
    """

    made_of: ClassVar[tuple[Literal["sheet", "volume"], str] | None] = None
    takes_skins: ClassVar[bool] = False
    carries: ClassVar[bool] = True
    encloses: ClassVar[str] = ""

    web: Thin = Field(2.0, description="least wood left between holes, and from a hole to the edge")
    least_tail: Thin = Field(2.5, description="a rib ends at the tail where it gets thinner than this")

    def stocks(self) -> Iterator[MadeOf]:
        """Every stock that it names."""
        if self.made_of is not None:
            yield MadeOf(("stock",), getattr(self, "stock"), *self.made_of)  # noqa: B009
        if (template := getattr(self, "template", None)) is not None:
            yield MadeOf(("template",), template, "sheet", "a template is")
        if (caps := getattr(self, "caps", None)) is not None:
            yield MadeOf(("caps", "stock"), caps.stock, "sheet", "cap strips are")
        if (cover := getattr(self, "cover", None)) is not None:
            yield MadeOf(("cover",), cover, "sheet", "film is")
        for key in ("nose", "tail", "strip"):
            if (edge := getattr(self, key, None)) is not None:
                along = "tail" if key == "tail" else "nose"
                yield MadeOf((key, "stock"), edge.stock, "length", f"a {along} strip is", flat=True)

    def wrongs(self, skinned: bool) -> Iterator[Wrong]:
        """What is wrong between values of its own. skinned : whether there are [blade.skin.*]"""
        return iter(())

    def closed_first(self, skinned: bool) -> Half | None:
        """The half that is closed first, while the ribs are held; None where it leaves the choice."""
        return None


class Ribbed(Frame):
    """Ribs under a thin skin, [blade.skin.*]. [mm]."""

    takes_skins = True

    kind: Literal["ribbed"] = Field(description="how the blade is built", examples=["ribbed"])
    pattern: Literal["wrap", "panels"] = Field(
        "wrap", description="the skin in one piece round the nose, or an upper and a lower panel with a strip between"
    )
    strip: EdgeStock | None = Field(None, description="with panels: the strip round the nose that they meet on")
    tail: EdgeStock | None = Field(None, description="a strip along the tail, planed to the section")
    first: Half = Field("upper", description="the half of the skin that is glued on first, while the ribs are held")
    seam: Margin = Field(0.0, description="the first half's edge stands so far beyond the tail, to be trimmed")

    def wrongs(self, skinned: bool) -> Iterator[Wrong]:
        """Panels meet on a strip; a skin in one piece has none."""
        if self.pattern == "panels" and self.strip is None and skinned:
            remedy = 'give strip = { stock = ..., width = ... }, or pattern = "wrap"'
            yield Wrong(("pattern",), "panels have nothing to meet on along the nose", remedy=remedy)
        if self.pattern == "wrap" and self.strip is not None:
            remedy = 'leave it out, or pattern = "panels"'
            yield Wrong(("strip",), "a skin in one piece goes round the nose itself", remedy=remedy)

    def closed_first(self, skinned: bool) -> Half | None:
        """That of the skin."""
        return self.first if skinned else None


class CapStrips(Table):
    """Strips on the ribs' edges where no sheet lies. [mm]."""

    stock: Stock = Field(description="sheet they are stripped from", examples=["balsa_1_5"])
    width: Small = Field(description="width of a strip, the rib under its middle", examples=["8 mm"])


class Sheeted(Frame):
    """Balsa sheet over ribs, all round or as a box round the nose. [mm]."""

    made_of = "sheet", "a sheeted blade is"

    kind: Literal["sheeted"]
    stock: Stock = Field(description="sheet it is covered with", examples=["balsa_1_5"])
    to: Share | None = Field(None, description="the sheet ends at this share of the chord; left out: it goes all round")
    caps: CapStrips | None = Field(None, description="strips on the ribs behind the sheet")
    cover: Stock | None = Field(None, description="film over all of it, as where the ribs are open")
    overlap: Small = Field(10.0, description="overlap of the film at its seams")
    nose: EdgeStock | None = Field(None, description="a strip along the nose, planed to the section")
    tail: EdgeStock | None = Field(None, description="a strip along the tail, planed to the section")
    first: Half = Field("upper", description="the half of the sheet that is glued on first, while the ribs are held")
    seam: Margin = Field(2.0, description="the first half's edge stands so far beyond the tail, to be trimmed")

    def wrongs(self, skinned: bool) -> Iterator[Wrong]:
        """Cap strips lie where no sheet does."""
        if self.to is None and self.caps is not None:
            remedy = "say where the sheet ends, to = 0.3, or leave the strips out"
            yield Wrong(("caps",), "the sheet goes all round: there is no bare rib for a strip", remedy=remedy)

    def closed_first(self, skinned: bool) -> Half | None:
        """That of the sheet."""
        return self.first


class Covered(Frame):
    """An open frame under film; spars and webs carry. [mm]."""

    made_of = "sheet", "a covered blade is"

    kind: Literal["covered"]
    stock: Stock = Field(description="film it is covered with", examples=["film"])
    overlap: Small = Field(10.0, description="overlap of the film at its seams")
    scallop: Margin = Field(5.0, description="film beyond the tail, for what it draws in between the ribs")
    nose: EdgeStock | None = Field(None, description="a strip along the nose, planed to the section")
    tail: EdgeStock | None = Field(None, description="a strip along the tail, planed to the section")


class FoldLines(Table):
    """Where the board is scored: shares of the chord, from the nose."""

    upper: tuple[Share, ...] = Field(
        (0.25, 0.6), max_length=MOST_FOLDS, description="score lines above", examples=[[0.25, 0.6]]
    )
    lower: tuple[Share, ...] = Field((), max_length=MOST_FOLDS, description="score lines below")


class Folded(Frame):
    """One foam board folded round formers and a spar. [mm]."""

    made_of = "sheet", "a folded blade is"
    encloses = "the board is folded round them"

    kind: Literal["folded"]
    stock: Stock = Field(description="foam board it is folded from", examples=["foam_board_5"])
    folds: FoldLines = Field(default_factory=FoldLines, description="score lines")
    nose_radius: Small = Field(description="outer radius the nose is rolled to", examples=["8 mm"])
    score: Literal["inside", "outside"] = Field(
        "inside", description="the face that is scored; the paper stays on the other one"
    )
    flap: Margin = Field(12.0, description="paper of the upper face that is lapped round the tail and glued below")
    stagger: Size = Field(100.0, description="joints of the board above and below stand at least so far apart")


class Core(Frame):
    """A solid foam core cut by hot wire between two templates, under film or tape. [mm]."""

    made_of = "volume", "a core is"
    carries = False
    encloses = "the ribs of a core stand between blocks of foam"

    kind: Literal["core"]
    stock: Stock = Field(description="block of foam, kind volume", examples=["foam_block"])
    cover: Stock | None = Field(None, description="film or tape over it")
    overlap: Small = Field(10.0, description="overlap of the film at its seams")
    template: Stock = Field(description="sheet the two templates are cut from", examples=["ply_3"])
    wire: Play = Field(1.0, description="width the hot wire melts away")


Construction = Annotated[
    Annotated[Ribbed, Tag(f"{TAG}ribbed")]
    | Annotated[Sheeted, Tag(f"{TAG}sheeted")]
    | Annotated[Covered, Tag(f"{TAG}covered")]
    | Annotated[Folded, Tag(f"{TAG}folded")]
    | Annotated[Core, Tag(f"{TAG}core")],
    Discriminator(told_by_kind()),
    WrapValidator(leave_gap),
]

"""Starters edited into blades with skins of every kind, and the same blades and pieces from equations."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from wing import Sheet, Wing

from geomgen.craft import Craft
from geomgen.marking.finish import finished
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role

CraftOf = Callable[..., Craft]
Edit = tuple[str, str]

STOCKS = """
[stock.foam_board_5]
kind = "sheet"
of = "foam board"
thickness = 5
size = [1000, 700]
[stock.balsa_1]
kind = "sheet"
of = "balsa"
thickness = 1
size = [1000, 100]
grain = "long"
[stock.balsa_8x20]
kind = "length"
of = "balsa"
width = 8
height = 20
[stock.spruce_3x6]
kind = "length"
of = "spruce"
width = 3
height = 6
[option.stiffer]"""
REAR = """[blade.spar.rear]
stock  = "spruce_3x6"
chord  = 0.62
from   = "root"
to     = "92 %"
[blade.channel.power] """
ALL: tuple[Edit, ...] = (
    ("[option.stiffer]", STOCKS),
    ('diameter = 9\nfrom     = "root"', 'diameter = 9\nexit     = { length = 30 }\nfrom     = "root"'),
    ("[blade.channel.power] ", REAR),
)
BARE = ('[blade.skin.all]\nstock = "foam_sheet_2"\n', "")
CLOCKWISE = ('turn   = "anticlockwise"', 'turn   = "clockwise"')
STRIPS = 'nose = { stock = "balsa_8x20", width = 8 }\ntail = { stock = "balsa_8x20", width = 12 }'


def shape(chord: tuple[float, float], twist: tuple[float, float], section: str = "naca 4415") -> tuple[Edit, Edit]:
    return (
        (
            'chord = 180, twist = "4 deg", section = "naca 4415"',
            f'chord = {chord[0]:g}, twist = "{twist[0]:g} deg", section = "{section}"',
        ),
        (
            'chord = 150, twist = "0 deg", section = "naca 4415"',
            f'chord = {chord[1]:g}, twist = "{twist[1]:g} deg", section = "{section}"',
        ),
    )


def built(text: str) -> Edit:
    return 'kind       = "ribbed"', text


def folded(text: str = "") -> Edit:
    folds = "folds = { upper = [0.15, 0.4, 0.7], lower = [0.12, 0.5] }"
    return built(f'kind = "folded"\nstock = "foam_board_5"\n{folds}\nnose_radius = 7\n{text}')


def neutral(share: float) -> Edit:
    return 'of   = "extruded polystyrene"', f'of   = "extruded polystyrene"\nneutral = {share:g}'


STRONG, LEVEL = Wing(chord=(210.0, 130.0), twist=(8.0, 0.0)), Wing(chord=(180.0, 180.0), twist=(0.0, 0.0))
TAPER, THICK = Wing(chord=(210.0, 130.0), twist=(0.0, 0.0)), Wing(m=0.0, t=0.3)
DESIGNS: dict[str, tuple[Wing, tuple[Edit, ...]]] = {
    "wrap": (STRONG, (*shape((210, 130), (8, 0)), built('kind = "ribbed"\nseam = 4'))),
    "wrap, clockwise": (STRONG, (*shape((210, 130), (8, 0)), built('kind = "ribbed"\nseam = 4'), CLOCKWISE)),
    "wrap, lower first": (Wing(), (built('kind = "ribbed"\nseam = 4\nfirst = "lower"'),)),
    "panels": (
        STRONG,
        (
            *shape((210, 130), (8, 0)),
            built('kind = "ribbed"\npattern = "panels"\n' + STRIPS.replace("nose =", "strip =")),
        ),
    ),
    "halves": (
        STRONG,
        (
            *shape((210, 130), (8, 0)),
            BARE,
            built('kind = "sheeted"\nstock = "balsa_1"\n' + STRIPS.split("\n")[0]),
        ),
    ),
    "nose box": (
        STRONG,
        (*shape((210, 130), (8, 0)), BARE, built('kind = "sheeted"\nstock = "balsa_1"\nto = 0.3\n' + STRIPS)),
    ),
    "all round": (
        THICK,
        (
            *shape((180, 150), (4, 0), "naca 0030"),
            BARE,
            built('kind = "sheeted"\nstock = "balsa_1"'),
            ("thickness = 1\nsize = [1000, 100]", "thickness = 1\nsize = [250, 100]"),
        ),
    ),
    "level": (LEVEL, shape((180, 180), (0, 0))),
    "cone": (TAPER, (*shape((210, 130), (0, 0)), neutral(0.0))),
    "folded": (Wing(), (BARE, folded())),
    "folded, clockwise": (Wing(), (BARE, folded("flap = 0"), CLOCKWISE)),
    "folded, scored outside": (Wing(), (BARE, folded('score = "outside"\nflap = 0'))),
    "folded, short board": (
        Wing(),
        (BARE, folded("stagger = 80"), ("thickness = 5\nsize = [1000, 700]", "thickness = 5\nsize = [420, 400]")),
    ),
}
PIECES: dict[str, tuple[str, int, Sheet]] = {
    "wrap": ("wrap", 0, Sheet(depth=1.0)),
    "wrap, clockwise": ("wrap, clockwise", 0, Sheet(depth=1.0)),
    "panel above": ("panels", 0, Sheet(("upper",), 1.0, nose=8.0, tail=12.0)),
    "panel below": ("panels", 1, Sheet(("lower",), 1.0, nose=8.0, tail=12.0)),
    "half above": ("halves", 0, Sheet(("upper",), 0.5, nose=8.0)),
    "half below": ("halves", 1, Sheet(("lower",), 0.5, nose=8.0)),
    "nose box above": ("nose box", 0, Sheet(("upper",), 0.5, nose=8.0, share=0.3)),
    "nose box below": ("nose box", 1, Sheet(("lower",), 0.5, nose=8.0, share=0.3)),
    "all round": ("all round", 0, Sheet(depth=0.5)),
    "level": ("level", 0, Sheet(depth=1.0)),
    "cone": ("cone", 0, Sheet(depth=0.0)),
}


@dataclass(frozen=True, eq=False)
class Made:
    """A piece of skin, its craft, and the same from equations."""

    craft: Craft
    part: Part
    wing: Wing
    sheet: Sheet

    @property
    def flat(self) -> Flat:
        assert isinstance(self.part.shape, Flat)
        return self.part.shape

    @property
    def ribs(self) -> list[float]:
        """r of each rib [mm]."""
        return [place.r_mm for place in self.craft.rib_places]


def sheets(craft: Craft) -> tuple[Part, ...]:
    """Its skin, sheeting or board as it is cut, whatever else is wrong with the blade."""
    roles, clockwise = (Role.SKIN, Role.SHEETING, Role.FOLDED_SKIN), craft.design.rotor.turn == "clockwise"
    parts = [part for part in craft.outcome(Craft.covering).value if part.role in roles]
    return finished(parts, clockwise=clockwise, units=craft.design.units, cache=craft.cache)

"""What things weigh and how they can be worked: the catalogue's records and how to look one up.

The figures stand in catalogue.toml.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple, TypeVar

from geomgen.errors import DesignError, Fault
from geomgen.materials.doubt import Split, read_splits
from geomgen.materials.figure import Figure, Rows, at_thickness, read
from geomgen.materials.working import Grain, Laser, Working, read_workings

__all__ = ["Figure", "Glue", "Grain", "Laser", "Material", "find", "find_glue", "glue_names", "names"]

DENSITY, AREAL, SHARE = "kg/m3", "g/m2", "-"
_Entry = TypeVar("_Entry")


@dataclass(frozen=True)
class Material:
    """One material of the catalogue.

    name         : generic name, "birch ply"
    kind         : "wood" | "ply" | "board" | "foam" | "film" | "fibre" | "metal" | "print" | "plate"
    figure       : density [kg/m3] of the material itself, or mass per area [g/m2] of what is known by area
    working      : what can be done with it
    by_thickness : (thickness [mm], figure of that unit) by rising thickness; empty where thickness changes nothing
    """

    name: str
    kind: str
    figure: Figure
    working: Working
    by_thickness: Rows = ()

    @property
    def density(self) -> Figure | None:
        """Density [kg/m3]; None for what is known by area only."""
        return self.figure if self.figure.unit == DENSITY else None

    def at_thickness(self, thickness_mm: float) -> Figure:
        """The figure for a sheet of this thickness: its row, straight between rows, held beyond the ends.

        thickness_mm : sheet thickness [mm]
        returns      : [kg/m3] or [g/m2], as `unit` says
        """
        return at_thickness(self.by_thickness, thickness_mm) if self.by_thickness else self.figure

    def bend(self, thickness_mm: float, grain: Grain | None, soaked: bool = False) -> Figure | None:
        """Least radius a sheet can be bent to, at the inside of the bend.

        thickness_mm : sheet thickness [mm], > 0
        grain        : how the (face) grain runs: "round" the bend, at 90 deg to its axis, the stiff way, or "along" its
                       axis, as with the grain along the span and a skin wrapped round the nose; None where it isn't
                       known, which takes the greater radius. No matter where the material has no grain.
        soaked       : bent after a thorough soaking in hot water, not dry
        returns      : radius [mm]: typical is the least to design to, low and high are the spread it is met with;
                       None where no figure is published or known, see `bend_note`
        """
        return self.working.bend.radius(thickness_mm, grain, soaked)

    @property
    def bend_note(self) -> str:
        """What is known about bending it, in words; says "unpublished" where there is no figure to be had."""
        return self.working.bend.note

    @property
    def stretch(self) -> Figure | None:
        """Greatest strain in the sheet's own plane as a pattern is wrapped, before it buckles or gapes [%].

        None where no figure is known.
        """
        return self.working.stretch

    @property
    def laser(self) -> Laser:
        """What laser shops say to it, and why."""
        return self.working.laser

    @property
    def scarf(self) -> Figure | None:
        """n of a scarf joint of slope 1 in n [-]; low is the steepest in use; None where it isn't scarfed."""
        return self.working.scarf


@dataclass(frozen=True)
class Glue:
    """One kind of glue.

    name        : "wood glue"
    wet         : as spread on a joint, both faces together [g/m2]
    dry_share   : what stays when it has set [-]
    melts_foam  : whether it eats polystyrene foam
    foam_source : why, and where that is from, in words
    """

    name: str
    wet: Figure
    dry_share: Figure
    melts_foam: bool
    foam_source: str

    @property
    def dry(self) -> Figure:
        """What a joint weighs when the glue has set [g/m2]."""
        return self.wet if self.dry_share.low == 1.0 else self.wet.times(self.dry_share, self.wet.unit)


def names() -> tuple[str, ...]:
    """Names of all materials, in the order of the catalogue."""
    return tuple(_catalogue().materials)


def glue_names() -> tuple[str, ...]:
    """Names of all kinds of glue, in the order of the catalogue."""
    return tuple(_catalogue().glues)


def meant(name: str) -> tuple[str, ...]:
    """Names of the materials that a word of the trade may mean, "petg" or "piano wire".

    returns : one where it is known; several where it is ambiguous; none where the catalogue doesn't have it
    """
    return _meant()[0].get(plain(name), ())


def meant_glue(name: str) -> tuple[str, ...]:
    """Names of the kinds of glue that a word may mean, as `meant`."""
    return _meant()[1].get(plain(name), ())


def words() -> tuple[str, ...]:
    """Every word for a material that is understood."""
    return _catalogue().words


def glue_words() -> tuple[str, ...]:
    """Every word for a kind of glue that is understood."""
    return _catalogue().glue_words


def plain(name: str) -> str:
    """A name as it is compared: small letters, no commas, hyphens or doubled blanks."""
    return " ".join(name.casefold().replace("-", " ").replace("_", " ").replace(",", " ").split())


def known(name: str | None) -> Material | None:
    """The one material that a name means; None where the catalogue has none or several, or there is no name."""
    found = meant(name or "")
    return _catalogue().materials[found[0]] if len(found) == 1 else None


def split(kind: str) -> Split:
    """What the band of a mass is made of, by kind of material, or "glue", "wire", "bought"."""
    return _splits()[kind]


def find(name: str, path: str = "") -> Material:
    """The material of this name.

    name   : as `names()` has it, or another word of the trade
    path   : key path of the design that asks, for the fault
    raises : DesignError with the near miss where the catalogue has no such name, with the choice where it has several
    """
    return _pick(_catalogue().materials, meant(name), name, path, "material")


def find_glue(name: str, path: str = "") -> Glue:
    """The kind of glue of this name; raises DesignError like `find`."""
    return _pick(_catalogue().glues, meant_glue(name), name, path, "glue")


def _pick(table: Mapping[str, _Entry], found: tuple[str, ...], name: str, path: str, sort: str) -> _Entry:
    if len(found) == 1:
        return table[found[0]]
    if found:
        choice = f"one of {', '.join(json.dumps(one) for one in found)}"
        raise DesignError(Fault(path, f'"{name}"', f"is the name of more than one {sort}", choice))
    folded = {known.casefold(): known for known in table}
    near = get_close_matches(name.casefold(), folded, n=1, cutoff=0.6)
    if near:
        allowed, remedy = "", f'do you mean "{folded[near[0]]}"?'
    else:
        allowed, remedy = "the catalogue has " + "; ".join(table), "or state its mass in the design file"
    raise DesignError(Fault(path, f'"{name}"', f"no {sort} of this name in the catalogue", allowed, remedy))


class _Catalogue(NamedTuple):
    """All of it, by name; and every word that is understood, the names themselves first."""

    materials: dict[str, Material]
    glues: dict[str, Glue]
    words: tuple[str, ...]
    glue_words: tuple[str, ...]


@cache
def _catalogue() -> _Catalogue:
    table = _table()
    workings = read_workings(table["working"], table["bend_table"])
    materials = {name: _material(name, entry, workings) for name, entry in table["material"].items()}
    glues = {name: _glue(name, entry) for name, entry in table["glue"].items()}
    return _Catalogue(materials, glues, _words(table["material"]), _words(table["glue"]))


@cache
def _splits() -> dict[str, Split]:
    return read_splits(_table()["doubt"])


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(files(__package__).joinpath("catalogue.toml").read_text(encoding="utf-8"))


@cache
def _meant() -> tuple[dict[str, tuple[str, ...]], dict[str, tuple[str, ...]]]:
    """Plain word -> names, of materials and of glues."""
    return _named(_table()["material"]), _named(_table()["glue"])


def _named(table: Mapping[str, Any]) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for name, entry in table.items():
        for word in dict.fromkeys(map(plain, entry.get("also", ()))):
            found[word] = (*found.get(word, ()), name)
    return found | {plain(name): (name,) for name in table}


def _words(table: Mapping[str, Any]) -> tuple[str, ...]:
    return tuple(dict.fromkeys([*table, *(word for entry in table.values() for word in entry.get("also", ()))]))


def _glue(name: str, entry: Mapping[str, Any]) -> Glue:
    foam = entry["foam"]
    return Glue(
        name,
        wet=read(entry["wet"], AREAL),
        dry_share=read(entry["dry_share"], SHARE),
        melts_foam=bool(foam["melts"]),
        foam_source=str(foam["source"]),
    )


def _material(name: str, entry: Mapping[str, Any], workings: Mapping[str, Working]) -> Material:
    rows = [(float(row["thickness_mm"]), _of(row)) for row in entry.get("by_thickness", ())]
    by_thickness = tuple(sorted(rows, key=lambda row: row[0]))
    return Material(name, str(entry["kind"]), _of(entry), workings[entry["working"]], by_thickness)


def _of(entry: Mapping[str, Any]) -> Figure:
    return read(entry["density"], DENSITY) if "density" in entry else read(entry["areal"], AREAL)

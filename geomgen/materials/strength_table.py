"""Reads strength.toml: how strong and how stiff a material is, at a stock's density and thickness."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from geomgen.materials.catalogue import AREAL, DENSITY, Material, known
from geomgen.materials.figure import Figure
from geomgen.materials.ply import ply_figures
from geomgen.materials.strength import Property, Strength, unit_of
from geomgen.materials.strength_law import Law, read_law

NONE: Mapping[Property, Figure] = MappingProxyType({})
_OF_WIDTH = {Property.WIDTH_TENSION: Property.TENSION, Property.WIDTH_STIFFNESS: Property.MODULUS}


@dataclass(frozen=True, eq=False)
class _Entry:
    """One material of strength.toml: laws by property, why others aren't there, and what else it says."""

    laws: Mapping[Property, Law]
    notes: Mapping[Property, str]
    plies: bool
    by_width: bool


def strength_of(
    material: str | None,
    *,
    density: Figure | None,
    thickness_mm: float | None = None,
    own: Mapping[Property, Figure] = NONE,
) -> Strength:
    """How strong a stock of a material is.

    material     : its name, or another word of the trade; None, or one that the catalogue hasn't or has several of, is
                   known by what is stated of it only
    density      : of the stock [kg/m3], or its mass per area [g/m2]; None takes the catalogue's
    thickness_mm : of a sheet [mm]
    own          : figures that its maker states, which go before all else
    returns      : figures in MPa, by width in N/mm; what isn't known is left out, see `Strength.why_not`
    """
    found = known(material)
    if found is None:
        return Strength(material or "what nothing is said of", dict(own), {})
    entry = _entries()[found.name]
    rho = _in_its_unit(found, density, thickness_mm)
    figures = {one: law(rho) for one, law in entry.laws.items()}
    if entry.plies and thickness_mm is not None:
        figures |= ply_figures(strength_table()["ply_rule"], thickness_mm)
    if entry.by_width and thickness_mm is not None:
        wide = {one: _times(figures[of], thickness_mm, "N/mm") for one, of in _OF_WIDTH.items()}
        figures |= {
            one: replace(each, source=f"worked out over its thickness: {each.source}") for one, each in wide.items()
        }
    return Strength(found.name, {**figures, **own}, entry.notes)


@cache
def strength_table() -> dict[str, Any]:
    """All of strength.toml, as it stands there."""
    return tomllib.loads(files(__package__).joinpath("strength.toml").read_text(encoding="utf-8"))


@cache
def _entries() -> dict[str, _Entry]:
    table = strength_table()["material"]
    return {name: _entry(_with_like(table, name)) for name in table}


def _with_like(table: Mapping[str, Any], name: str) -> dict[str, Any]:
    entry = dict(table[name])
    like = entry.pop("like", None)
    return entry if like is None else _with_like(table, like) | entry


def _entry(entry: dict[str, Any]) -> _Entry:
    plies, by_width = bool(entry.pop("plies", False)), bool(entry.pop("by_width", False))
    notes = {Property(word): str(note) for word, note in entry.pop("unpublished", {}).items()}
    laws = {Property(word): read_law(law, unit_of(Property(word))) for word, law in entry.items()}
    return _Entry(laws, notes, plies, by_width)


def _in_its_unit(material: Material, density: Figure | None, thickness_mm: float | None) -> Figure:
    """What a stock weighs, in the unit that the catalogue knows its material by."""
    figure = material.figure if thickness_mm is None else material.at_thickness(thickness_mm)
    if density is None or (density.unit != figure.unit and thickness_mm is None):
        return figure
    if density.unit == figure.unit:
        return density
    if (density.unit, figure.unit) == (AREAL, DENSITY):
        return _times(density, 1.0 / (thickness_mm or 1.0), DENSITY)
    return _times(density, thickness_mm or 1.0, AREAL)


def _times(figure: Figure, factor: float, unit: str) -> Figure:
    return Figure(figure.low * factor, figure.typical * factor, figure.high * factor, unit, figure.source)

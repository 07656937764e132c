"""The profiles that ship, made from published equations.

To write them anew: python tests/section/make_profiles.py
"""

from __future__ import annotations

from pathlib import Path

from geomgen.section.coordinates import text
from geomgen.section.families import naca
from geomgen.section.reshape import flattened
from geomgen.section.section import Section

FOLDER = Path(__file__).parents[2] / "profiles"

FOUR = "NACA Report 460 (1933)"
MODIFIED = "NACA Report 492 (1934)"
FIVE = "NACA Report 537 (1935)"

# file -> designation, where it is made flat below (None: nowhere), report with its equations
RECIPES: dict[str, tuple[str, float | None, str]] = {
    "naca-0009": ("0009", None, FOUR),
    "naca-0012": ("0012", None, FOUR),
    "naca-0015": ("0015", None, FOUR),
    "naca-0012-64": ("0012-64", None, MODIFIED),
    "naca-2412": ("2412", None, FOUR),
    "naca-4412": ("4412", None, FOUR),
    "naca-23012": ("23012", None, FIVE),
    "naca-23112": ("23112", None, FIVE),
    # straight below, from where the line to the lower tail point touches the published lower surface
    "flat-4409": ("4409", 0.1003, FOUR),
    "flat-4412": ("4412", 0.1812, FOUR),
    "flat-4415": ("4415", 0.3284, FOUR),
}


def made(name: str) -> tuple[Section, str]:
    """A profile by its recipe: the section and the text of its file."""
    digits, flat_from, report = RECIPES[name]
    section = naca(digits)
    shape = f"NACA {digits}"
    if flat_from is not None:
        section = flattened(section, flat_from)
        shape += f" made straight below aft of {flat_from:.2%} of the chord"
    origin = f"computed by the geomgen authors from the equations of {report}, open tail; MIT licence"
    return section, text(section, f"{shape}. Origin: {origin}.")


if __name__ == "__main__":
    for name in RECIPES:
        (FOLDER / f"{name}.dat").write_text(made(name)[1], encoding="utf-8", newline="\n")
